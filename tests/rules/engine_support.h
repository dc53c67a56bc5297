#pragma once

#include "rules/evaluate_rules.h"
#include "rules/explain.h"
#include "rules/read_rules.h"

#include <gtest/gtest.h>

#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace trivet::testing {

// A rule file about a wire; pieces can be replaced to see what a mistake does.
inline std::string rule_text(std::string_view require, std::string_view more = "",
                             std::string_view message = "{subject} is wrong.") {
    std::string text = "subject = \"wire\"\nconsequence = \"hazard\"\ntitle = \"A wire is as it should be\"\n";
    text += "require = '" + std::string(require) + "'\n" + std::string(more);
    text += "message = \"" + std::string(message) + "\"\n";
    text += "why = \"Because.\"\nremedy = \"Take another wire.\"\nlimits = \"None.\"\nsource = \"common practice, no "
            "source\"\n";
    return text;
}

inline std::string error_text(const Sources& sources, const InputError& error) {
    std::string text(sources.name(error.place.file));
    text += ":" + std::to_string(error.place.line) + ":" + std::to_string(error.place.column) + ": " + error.message;
    return error.hint.empty() ? text : text + "; " + error.hint;
}

// Two tables of a rule's handbook: a current by area and a factor by number of circuits.
// Factors: IEC 60364-5-52 table B.52.17, bundled conductors (read on a stored copy).
inline Handbook small_handbook() {
    Handbook book;
    PublishedTable current{
        "wire-current", "Current of a wire", "IEC 60204-1 table 6", "read on a stored copy", {}, {}, {}, {}};
    current.keys = {{"area", false, dim::area, Match::down}};
    current.value = {"current", false, dim::current, Match::exact};
    current.rows = {{{AnyQuantity{0.75e-6, dim::area}}, 10.4, ""}, {{AnyQuantity{1.0e-6, dim::area}}, 12.4, ""}};
    PublishedTable grouping{
        "grouping", "Factor for bundles", "IEC 60364-5-52 table B.52.17", "read on a stored copy", {}, {}, {}, {}};
    grouping.keys = {{"circuits", false, dim::number, Match::up}};
    grouping.value = {"factor", false, dim::number, Match::exact};
    grouping.rows = {{{AnyQuantity{1, dim::number}}, 1.0, ""},
                     {{AnyQuantity{2, dim::number}}, 0.8, "first row of the table"}};
    book.tables.emplace(current.name, current);
    book.tables.emplace(grouping.name, grouping);
    return book;
}

// Rules, policy and facts of one test.
struct Bench {
    Sources sources;
    Handbook handbook = small_handbook();
    Policy policy = {{PolicyItem{
        "reserve", {0.8, dim::number}, {0.8, dim::number}, "Share.", "common practice, no source", {}, false}}};
    std::vector<SourceFile> files;
    RuleSet rules;
    FactTable facts;

    std::vector<std::string> read() {
        Loaded<RulesRead> loaded = read_rules(files, policy, handbook);
        std::vector<std::string> errors;
        for (const InputError& error : loaded.errors) errors.push_back(error_text(sources, error));
        EXPECT_EQ(loaded.value.has_value(), errors.empty());
        if (loaded.value) rules = std::move(loaded.value->set);
        return errors;
    }
    void add_rule(std::string name, std::string text) {
        files.push_back(sources.add(std::move(name), std::move(text)));
    }
    void load(std::string name, std::string text) {
        add_rule(std::move(name), std::move(text));
        for (const std::string& error : read()) ADD_FAILURE() << error;
    }

    SubjectId add(SubjectKind kind, std::string name, std::uint32_t line = 1) {
        return facts.add({kind, std::move(name), {{0}, line, 1}});
    }
    void set(SubjectId subject, std::string_view fact, ExprValue value) {
        const FactLookup found = find_fact(facts.subject(subject).kind, fact);
        ASSERT_TRUE(found.found) << fact;
        Fact stored;
        stored.value = std::move(value);
        facts.set(subject, found.id, stored);
    }
    SubjectId wire(std::string name, double amperes, double square_millimetres, std::uint32_t line = 1) {
        const SubjectId subject = add(SubjectKind::wire, std::move(name), line);
        set(subject, "current", AnyQuantity{amperes, dim::current});
        set(subject, "area", AnyQuantity{square_millimetres * 1e-6, dim::area});
        set(subject, "loaded_circuits", AnyQuantity{1, dim::number});
        return subject;
    }

    std::vector<Finding> evaluate(EvidenceDepth depth = EvidenceDepth::everything) const {
        return evaluate_rules(rules, facts, policy, handbook, false, depth);
    }
};

inline const char* const current_rule = R"rule(subject = "wire"
consequence = "hazard"
title = "A wire carries no more than its rated current"
require = 'current <= rated_current'
let.rated_current = "lookup('wire-current', area) * grouping * reserve"
let.grouping = "lookup('grouping', loaded_circuits)"
message = "{subject} carries {current} but may carry {rated_current} ({loaded_circuits} in its bundle)."
why = "A wire that carries too much gets so hot that its insulation softens, and it can set fire to what it touches."
remedy = "Take a wire thicker than {area}, or split the load."
limits = "It does not see how the wire is laid."
source = ["IEC 60204-1 table 6", "IEC 60364-5-52 table B.52.17"]
)rule";

} // namespace trivet::testing
