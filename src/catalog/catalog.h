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
    Errors add_file(Sources& sources, const std::string& category, const std::string& name, std::string_view text,
                    bool users_own);

    // Adds a part of the embedded library, known to be sound and split beforehand; cheap in the order of the names.
    void add_split(PartText text);

    // The part as its file states it. Errors of its text are returned every time it is asked for.
    // nullptr if the name is not known.
    const Loaded<Part>* find(std::string_view name) const;

    // The same part for keeping: nullptr if the name is not known or its text has errors.
    std::shared_ptr<const Part> share(std::string_view name) const;

    std::vector<std::string_view> names() const; // sorted
    // Those whose text speaks of a kind of element, "material" for one; found without reading them.
    std::vector<std::string_view> names_with(std::string_view kind) const;
    bool knows(std::string_view name) const { return entry(name) != nullptr; }
    bool is_users_own(std::string_view name) const;
    const std::vector<std::string>& replaced() const { return replaced_; } // library parts a user's own part hides

    // The part with values replaced by what a design states in [part.x]. Call it when the design's own keys were asked
    // for: every key that is left must be a value of exactly one kind of element of the part ("resistance", "output"),
    // a table named like one of its elements with values for that one only, or the table `terminal`. Needs `basis`,
    // except for `output`, which is a setting. Mistakes in `use` are filed with its reader; those of the part's own
    // text are in the result. Without such keys the library's part itself is shared.
    std::shared_ptr<const Part> with_overrides(std::string_view name, TableReader& use) const;

private:
    struct Entry {
        PartText text;
        bool users_own = false;
        mutable std::shared_ptr<const Loaded<Part>> loaded;
    };
    const Entry* entry(std::string_view name) const;
    void add(std::vector<Entry> fresh);

    std::vector<Entry> entries_; // sorted by name
    std::vector<std::string> replaced_;
};

} // namespace trivet
