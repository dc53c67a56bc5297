#include "report/text.h"

#include "report/arithmetic.h"
#include "report/text_passes.h"
#include "report/wording.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <set>

namespace trivet {

namespace {

constexpr std::string_view reset = "\x1b[0m";
constexpr std::string_view bold = "\x1b[1m";
constexpr std::array<std::string_view, consequence_names.size()> shades{"\x1b[1;31m", "\x1b[1;35m", "\x1b[1;33m",
                                                                        "\x1b[1;36m"};

std::string painted(std::string_view text, std::string_view shade, bool colour) {
    return colour ? fmt::format("{}{}{}", shade, text, reset) : std::string(text);
}

std::string place_text(Place place, const Sources& sources) {
    return fmt::format("{}:{}:{}", sources.name(place.file), place.line, place.column);
}

std::string verdict_line(const Design& design, const Assessment& assessment, bool colour) {
    constexpr std::string_view green = "\x1b[1;32m";
    const Tally counts = tally(assessment);
    std::string head;
    switch (assessment.fitness) {
    case Fitness::fit:
        head = painted("FIT TO POWER UP", green, colour);
        if (counts.failed[static_cast<std::size_t>(Consequence::malfunction)] > 0)
            head += ", but not everything will work";
        break;
    case Fitness::not_fit:
        head = painted("NOT FIT TO POWER UP", shades[0], colour);
        break;
    case Fitness::refused:
        head = painted("REFUSED: outside what Trivet judges", shades[0], colour);
        break;
    }
    std::string line = fmt::format("{}: {}", design.title, head);
    if (assessment.fitness != Fitness::refused)
        line += fmt::format(" - {}, {} checks pass", in_words(counts), counts.passed);
    return line + ".\n";
}

struct Writer {
    const Assessment& assessment;
    const Sources& sources;
    const TextStyle& style;

    std::set<const Rule*> explained = {}; // why a rule matters is said once

    std::string finding_group(const FindingGroup& entry) {
        const Finding& worst = assessment.findings[entry.members.front()];
        const Subject& subject = assessment.facts.subject(worst.subject);
        const auto consequence = static_cast<std::size_t>(entry.consequence);
        std::string names;
        for (const std::string_view rule : entry.rules) names += (names.empty() ? "" : ", ") + std::string(rule);
        std::string out = fmt::format(
            "{}: {}: {} [{}]\n", painted(place_text(subject.place, sources), bold, style.colour),
            painted(consequence_names[consequence], shades[consequence], style.colour), entry.sentence, names);
        if (worst.verdict == Verdict::fail) {
            out += arithmetic(worst, style.width, Depth::essential);
            if (explained.insert(worst.rule).second) out += wrapped("why    ", worst.rule->why, 4, style.width);
            out += wrapped("do     ", remedy(worst, assessment.facts), 4, style.width);
        }
        return out + others(entry) + "\n";
    }

    // Where else the same sentence holds: the first few places.
    std::string others(const FindingGroup& entry) const {
        constexpr std::size_t shown = 4;
        std::set<Place> places;
        for (const std::size_t member : entry.members)
            places.insert(assessment.facts.subject(assessment.findings[member].subject).place);
        places.erase(assessment.facts.subject(assessment.findings[entry.members.front()].subject).place);
        if (places.empty()) return {};
        std::string list;
        std::size_t count = 0;
        for (const Place place : places) {
            if (count++ == shown) break;
            list += (list.empty() ? "" : ", ") + fmt::format("{}:{}", place.line, place.column);
        }
        if (places.size() > shown) list += fmt::format(" and {} more", places.size() - shown);
        return wrapped("also   ", "at " + list, 4, style.width);
    }
};

std::string confirm_list(const std::vector<std::string>& values) {
    if (values.empty()) return {};
    std::string out = "Typical values these verdicts rest on; confirm them on your parts' datasheets:\n";
    for (const std::string& value : values) out += "  " + value + "\n";
    return out + "\n";
}

// What a short report says instead of the list.
std::string confirm_count(std::size_t values, const TextStyle& style) {
    if (values == 0) return {};
    return wrapped(
        "Confirm: ",
        fmt::format("{} values come from the library as typical of their kind of part. Compare them with your "
                    "parts' datasheets; trivet check --all lists them.",
                    values),
        0, style.width);
}

std::string footer(const Assessment& assessment, const Sources& sources, const TextStyle& style) {
    std::string out;
    if (!style.everything && assessment.fitness != Fitness::refused)
        out += confirm_count(values_to_confirm(assessment, sources).size(), style);
    for (const std::string& assumption : assessment.analysis->states.assumptions)
        out += wrapped("Assumed: ", assumption, 0, style.width);
    for (const PolicyItem& item : assessment.policy.items)
        if (item.changed)
            out += wrapped("Changed margin: ",
                           fmt::format("{} is {} in this design; Trivet ships {}.", item.name, to_text(item.value),
                                       to_text(item.shipped)),
                           0, style.width);
    if (assessment.analysis->states.is_bound || assessment.analysis->envelope.is_bound)
        out += wrapped(
            "Note: ",
            "the build is too large to try every state and corner; the numbers come from the sets that bound them.", 0,
            style.width);
    return out + wrapped("Caution: ", caution, 0, style.width);
}

} // namespace

std::string text_report(const Design& design, const Assessment& assessment, const RuleSet& rules,
                        const Sources& sources, const TextStyle& style) {
    std::string out = verdict_line(design, assessment, style.colour) + "\n";
    Writer writer{assessment, sources, style};
    for (const FindingGroup& entry : group(assessment.findings, assessment.facts))
        if (entry.verdict != Verdict::pass) out += writer.finding_group(entry);
    if (style.everything && assessment.fitness != Fitness::refused) {
        out += passes_by_rule(assessment, rules);
        out += confirm_list(values_to_confirm(assessment, sources));
    }
    return out + footer(assessment, sources, style);
}

} // namespace trivet
