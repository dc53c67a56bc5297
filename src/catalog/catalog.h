#pragma once

#include "catalog/part.h"
#include "source/file.h"
#include "source/loaded.h"
#include "source/toml_reader.h"

#include <memory>
#include <string>
#include <string_view>
#include <vector>

namespace trivet {

// One part definition as text, not yet read: cut out of its file so that a check parses only the parts it uses.
struct PartText {
    std::string name;
    std::string category;
    SourceFile file; // just this part's lines; first_line keeps places right
};

// All known parts by name. Library parts are read on first use; the user's own parts win over them.
class Catalog {
public:
    // Splits a library or user file into parts without parsing TOML values: headers [name], [[name.element]],
    // [name.terminal.X] at line starts. Errors: two parts of one name in one folder, text before the first part.
    Errors add_file(Sources& sources, std::string category, std::string name, std::string_view text, bool users_own);

    // Adds parts of a file known to be sound (the embedded library), split beforehand.
    void add_split(PartText text);

    // The part as its file states it. Errors of its text are returned every time it is asked for.
    // nullptr if the name is not known.
    const Loaded<Part>* find(std::string_view name) const;

    std::vector<std::string_view> names() const;             // sorted
    const std::vector<std::string>& replaced() const { return replaced_; } // library parts a user's own part hides

    // The part with properties replaced by what a design states in [part.x]: every key of `use` that is not one of the
    // design's own keys must fit exactly one kind of element of the part ("resistance", "output", ...).
    Loaded<Part> with_overrides(std::string_view name, TableReader& use) const;

private:
    struct Entry {
        PartText text;
        bool users_own = false;
        mutable std::shared_ptr<const Loaded<Part>> loaded;
    };
    const Entry* entry(std::string_view name) const;

    std::vector<Entry> entries_; // sorted by name
    std::vector<std::string> replaced_;
};

} // namespace trivet
