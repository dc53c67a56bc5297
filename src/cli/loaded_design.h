#pragma once

#include "cli/arguments.h"
#include "cli/commands.h"
#include "cli/library.h"
#include "design/design.h"

#include <string>

namespace trivet {

// A design with everything it is judged with. Later files of the same run go into `sources`, too.
struct LoadedDesign {
    Sources sources;
    Library library;
    Design design;
    Errors errors; // not empty: the rest is incomplete
};

// `with` names a file of fitted numbers and may be empty.
LoadedDesign load_design(const std::string& path, const std::string& with, const Folders& folders);

// The two ways in which a command ends without an answer: an input with its errors, or one sentence.
CommandResult not_read(Errors errors, const Sources& sources);
CommandResult refused(const std::string& sentence, int status);

} // namespace trivet
