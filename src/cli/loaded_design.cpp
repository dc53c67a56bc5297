#include "cli/loaded_design.h"

#include "cli/disk.h"
#include "cli/exit_status.h"
#include "cli/terminal.h"
#include "design/overlay.h"
#include "design/read_design.h"
#include "report/errors.h"

#include <fmt/format.h>

namespace trivet {

namespace {

// Step by step, and no further than the first step with errors.
Errors load(LoadedDesign& into, const std::string& path, const std::string& with, const Folders& folders) {
    const Loaded<SourceFile> file = read_file(into.sources, path);
    if (!file) return file.errors;
    Loaded<Library> library = load_library(into.sources, folders, path);
    if (!library) return library.errors;
    into.library = std::move(*library.value);
    Loaded<Design> design = read_design(*file.value, into.library.catalog);
    if (!design) return design.errors;
    into.design = std::move(*design.value);
    if (with.empty()) return {};
    const Loaded<SourceFile> fitted = read_file(into.sources, with);
    if (!fitted) return fitted.errors;
    return apply_overlay(into.design, *fitted.value);
}

} // namespace

LoadedDesign load_design(const std::string& path, const std::string& with, const Folders& folders) {
    LoadedDesign loaded;
    loaded.errors = load(loaded, path, with, folders);
    return loaded;
}

CommandResult not_read(Errors errors, const Sources& sources) {
    tidy(errors);
    return {{}, text_of_errors(errors, sources, wants_colour()), exit_unreadable};
}

CommandResult refused(const std::string& sentence, int status) {
    return {{}, fmt::format("trivet: {}\n", sentence), status};
}

} // namespace trivet
