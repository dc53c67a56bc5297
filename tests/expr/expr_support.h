#pragma once

#include "expr/evaluate.h"
#include "expr/typecheck.h"

#include <map>
#include <string>
#include <string_view>
#include <vector>

namespace trivet::testing {

// Names with types and values, bound to slots in order; what a rule would do with facts.
struct Scope {
    struct Entry {
        std::string name;
        ExprType type;
        ExprValue value;
    };
    std::vector<Entry> entries;
    Handbook handbook;

    void add(std::string name, AnyQuantity value) { entries.push_back({std::move(name), value.dimension, value}); }
    void add(std::string name, bool value) { entries.push_back({std::move(name), TruthType{}, value}); }
    void add_text(std::string name, std::string value) {
        entries.push_back({std::move(name), TextType{}, std::move(value)});
    }
    void add_unknown(std::string name, ExprType type) {
        const Unknown why{{name + " of it"}, {}};
        entries.push_back({std::move(name), type, why});
    }

    tl::expected<Expression, ExprProblem> compile(std::string_view text) const {
        auto parsed = parse_expression(text);
        if (!parsed) return parsed;
        std::vector<std::string_view> reach;
        for (const Entry& entry : entries) reach.emplace_back(entry.name);
        const NameTypes names = [this](std::string_view name) -> std::optional<NamedType> {
            for (std::uint32_t i = 0; i < entries.size(); ++i) {
                if (entries[i].name == name) return NamedType{entries[i].type, i};
            }
            return std::nullopt;
        };
        const auto type = check_types(*parsed, names, handbook, reach);
        if (!type) return tl::unexpected(type.error());
        return parsed;
    }

    Outcome run(const Expression& expression, Trace* trace = nullptr) const {
        LookupCache tables(handbook);
        const SlotValues slots = [this](std::uint32_t slot) { return Outcome{refer_to(entries[slot].value), {}}; };
        return evaluate(expression, slots, tables, trace);
    }

    std::vector<std::string> names_of(const Trace& trace) const {
        std::vector<std::string> names;
        for (const std::uint32_t slot : trace.slots) names.push_back(entries[slot].name);
        return names;
    }
};

// Copper wires as in IEC 60204-1 table 6, method E, PVC at 40 °C (read on a stored copy): enough rows to look up.
inline PublishedTable small_table() {
    PublishedTable table;
    table.name = "wire-current";
    table.title = "Current of a wire";
    table.source = "IEC 60204-1 table 6";
    table.confirmed = "read on a stored copy";
    table.keys = {{"area", false, dim::area, Match::down}, {"insulation", true, {}, Match::exact}};
    table.value = {"current", false, dim::current, Match::exact};
    table.rows = {{{AnyQuantity{0.75e-6, dim::area}, "pvc"}, 10.4, ""},
                  {{AnyQuantity{1.0e-6, dim::area}, "pvc"}, 12.4, ""},
                  {{AnyQuantity{1.5e-6, dim::area}, "pvc"}, 16.1, ""}};
    return table;
}

} // namespace trivet::testing
