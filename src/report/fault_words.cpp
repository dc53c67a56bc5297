#include "report/fault_words.h"

#include "report/curve_text.h"
#include "units/format.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>

namespace trivet {

namespace {

constexpr double believable = 400.0; // °C: beyond it insulation burns and aluminium softens, so figures mean nothing

std::string degrees(Temperature t) {
    if (in_celsius(t) > believable) return fmt::format("more than {:.0f} °C", believable);
    return fmt::format("{:.{}f} °C", in_celsius(t), in_celsius(t) < 99.95 ? 1 : 0);
}

std::string verb(const std::vector<std::string>& names, std::string_view one, std::string_view many) {
    return fmt::format("{} {}", listed_names(names), names.size() == 1 ? one : many);
}

std::string passed_words(const FaultHeat::Passed& passed) {
    const std::string gets = fmt::format("{} gets {}", passed.body, degrees(passed.reached));
    if (passed.limit == "the limit of " + passed.body)
        return fmt::format("{}, its limit is {}", gets, degrees(passed.limit_at));
    return fmt::format("{}, and at most {} is allowed there ({})", gets, degrees(passed.limit_at), passed.limit);
}

std::string heat_words(const FaultRow& row) {
    const FaultHeat& heat = *row.heat;
    const bool runs_on = !row.stuck_on.empty() || !row.overdriven.empty();
    if (heat.passed && !heat.stopped_by.empty())
        return fmt::format("{} opens after {}, but {}", heat.stopped_by, clock_text(heat.stopped_after),
                           passed_words(*heat.passed));
    if (heat.passed) return (runs_on ? "nothing stops it: " : "it gets too hot: ") + passed_words(*heat.passed);
    const std::string hottest = fmt::format("the hottest is {} with {}", heat.hottest, degrees(heat.hottest_at));
    if (!heat.stopped_by.empty())
        return fmt::format("{} opens after {}; {}", heat.stopped_by, clock_text(heat.stopped_after), hottest);
    return "everything stays within its limits: " + hottest;
}

std::string unknown_words(const FaultRow& row) {
    if (row.cutoffs.empty()) return "nothing stops it, and how hot it gets is not known";
    return fmt::format("{} can still end it, but how hot it gets before is not known", listed_names(row.cutoffs));
}

std::string missing_words(const FaultRow& row) {
    constexpr std::size_t shown = 3;
    const auto end = row.missing.begin() + static_cast<std::ptrdiff_t>(std::min(shown, row.missing.size()));
    std::string out = fmt::format("Describe {}", fmt::join(row.missing.begin(), end, "; "));
    if (row.missing.size() > shown) out += fmt::format("; and {} more", row.missing.size() - shown);
    return out;
}

// Whom a person could still ask for help while nothing acts by itself.
std::string by_hand(const FaultRow& row) {
    if (row.stuck_on.empty() || row.hand_switches.empty()) return {};
    if (row.heat && !row.heat->passed) return {};
    return fmt::format("By hand {} it off", verb(row.hand_switches, "still turns", "still turn"));
}

std::string excess_words(const FaultRow::Excess& excess) {
    constexpr std::array<std::string_view, excess_names.size()> verbs{"would carry", "would get", "would have to give",
                                                                      "would turn", "would get"};
    return fmt::format("{} {} {}{}, it is made for {} at most", excess.of,
                       verbs.at(static_cast<std::size_t>(excess.kind)), to_text(excess.value),
                       excess.kind == Excess::power ? " into heat" : "", to_text(excess.limit));
}

// IEC 60127-2 and ISO 8820-3: at twice its rating and a little more a fuse opens within half an hour at most, at 1.1
// times it holds for days (from memory).
std::string fuse_words(const FaultRow::Excess& fuse) {
    constexpr double surely_opens = 2.1;
    if (fuse.value.si >= surely_opens * fuse.limit.si) return fmt::format("{} blows", fuse.of);
    return fmt::format("{} carries {}, more than its {}, and blows sooner or later", fuse.of, to_text(fuse.value),
                       to_text(fuse.limit));
}

std::string overload_words(const FaultRow& row) {
    const std::string all = verb(row.overloaded, "drives all the current it can", "drive all the current they can");
    if (row.unlimited && row.in_the_way.empty()) return all + ", and no fuse ends it: wires burn";
    const std::string fuses = verb(row.in_the_way, "blows", "blow");
    if (row.unlimited) return fmt::format("{} until {}", all, fuses);
    const std::string asked = verb(row.overloaded, "has to give more than it can", "have to give more than they can");
    const std::string ends = row.overloaded.size() == 1 ? "shuts down" : "shut down";
    return row.in_the_way.empty() ? fmt::format("{} and {}", asked, ends)
                                  : fmt::format("{} and {}, unless {} first", asked, ends, fuses);
}

std::string stuck_words(const FaultRow& row) {
    if (!row.overdriven.empty())
        return fmt::format("{} {:.1f} times the power", verb(row.overdriven, "gets", "get"), row.overdrive);
    std::string out = verb(row.stuck_on, "stays on", "stay on");
    if (row.while_hand_switch_on) out += " whenever the hand switch is on";
    return out;
}

std::string_view unnoticed_words(const FaultRow& row) {
    const bool is_fuse = row.mode == fault_mode_names[static_cast<std::size_t>(FaultMode::bridged)];
    return is_fuse ? "it would not end a short circuit, and nothing shows that: found only by the test in the checklist"
                   : "it would not end too much heat, and nothing shows that: found only by the test in the checklist";
}

std::string_view harmless_words(const FaultRow& row) {
    const bool is_half = row.mode == fault_mode_names[static_cast<std::size_t>(FaultMode::half_shorted)];
    return is_half ? "it takes twice its power while it is on, and is turned off as before"
                   : "nothing gets worse by it";
}

// What no longer works; of no interest beside heat or damage.
void add_losses(const FaultRow& row, std::vector<std::string>& parts) {
    for (const FaultRow::Excess& fuse : row.fuses) parts.push_back(fuse_words(fuse));
    if (!row.unfed.empty()) parts.push_back(verb(row.unfed, "gets", "get") + " no current any more");
    if (!row.starved.empty()) parts.push_back(verb(row.starved, "gets", "get") + " too little to run");
}

} // namespace

std::string listed_names(const std::vector<std::string>& names) {
    constexpr std::size_t shown = 5;
    if (names.empty()) return {};
    if (names.size() == 1) return names.front();
    const std::size_t count = names.size() > shown ? shown - 1 : names.size() - 1;
    std::string out =
        fmt::format("{}", fmt::join(names.begin(), names.begin() + static_cast<std::ptrdiff_t>(count), ", "));
    return names.size() > shown ? fmt::format("{} and {} others", out, names.size() - count)
                                : out + " and " + names.back();
}

std::string fault_consequence(const FaultRow& row) {
    std::vector<std::string> parts;
    if (!row.stuck_on.empty() || !row.overdriven.empty()) parts.push_back(stuck_words(row));
    if (row.heat) parts.push_back(heat_words(row));
    if (!row.missing.empty()) parts.push_back(unknown_words(row));
    if (!row.overloaded.empty() && (row.outcome == FaultClass::hazard ? row.unlimited && row.in_the_way.empty()
                                                                      : row.outcome >= FaultClass::latent))
        parts.push_back(overload_words(row));
    for (const FaultRow::Excess& excess : row.exceeded) parts.push_back(excess_words(excess));
    if (row.outcome >= FaultClass::latent) add_losses(row, parts);
    if (row.outcome == FaultClass::latent) parts.emplace_back(unnoticed_words(row));
    if (parts.empty()) parts.emplace_back(harmless_words(row));
    std::string out = fmt::format("{}.", fmt::join(parts, "; "));
    if (const std::string hand = by_hand(row); !hand.empty()) out += fmt::format(" {}.", hand);
    if (row.assumed) out += " Worst assumed: what the switch does then is not stated.";
    if (!row.missing.empty()) out += fmt::format(" {}.", missing_words(row));
    return out;
}

std::string fault_title(const FaultRow& row) {
    return row.with.empty() ? row.fault : fmt::format("{} while {}", row.fault, row.with);
}

std::string fault_sentence(const FaultRow& row) {
    return fmt::format("{}: {}", fault_title(row), fault_consequence(row));
}

std::string sound_words(const FaultTable& table) {
    std::string out;
    if (table.sound) {
        const FaultRow& row = *table.sound;
        const std::string_view who =
            row.while_hand_switch_on ? "only the hand switch ever turns" : "nothing ever turns";
        out = fmt::format("With nothing broken, {} {} off", who, listed_names(row.stuck_on));
        if (row.heat) out += "; " + heat_words(row);
        if (!row.missing.empty()) out += fmt::format("; {}. {}", unknown_words(row), missing_words(row));
        out += ".";
        if (row.heat && row.heat->passed) return out;
    }
    if (!table.running) return out;
    return out + fmt::format("{}With everything working, {}: see trivet check.", out.empty() ? "" : " ",
                             passed_words(*table.running));
}

std::string fault_count(FaultClass outcome, std::size_t count) {
    constexpr std::array<std::string_view, fault_class_names.size()> many{"hazards", "cannot be told", "damages",
                                                                          "latent",  "stop working",   "stay safe"};
    constexpr std::array<std::string_view, fault_class_names.size()> one{"hazard", "cannot be told", "damage",
                                                                         "latent", "stops working",  "stays safe"};
    const auto which = static_cast<std::size_t>(outcome);
    return fmt::format("{} {}", count, count == 1 ? one[which] : many[which]);
}

namespace {

std::string pairs_tally(const std::string& items, std::size_t worse, std::size_t no_worse) {
    if (worse + no_worse == 0) return "no fault stays unnoticed, so there are no pairs to consider.";
    if (worse == 0) return fmt::format("none of {} pairs of faults is worse than one of the two alone.", no_worse);
    return fmt::format("{}, of {} pairs of faults; the others are no worse than one of the two alone.", items,
                       worse + no_worse);
}

} // namespace

std::string fault_tally(const FaultTable& table) {
    std::vector<std::string> items;
    std::size_t total = 0;
    for (std::size_t i = 0; i < table.count.size(); ++i) {
        total += table.count[i];
        if (table.count[i] > 0) items.push_back(fault_count(static_cast<FaultClass>(i), table.count[i]));
    }
    std::string out;
    for (std::size_t i = 0; i < items.size(); ++i)
        out += (i == 0 ? "" : i + 1 == items.size() ? " and " : ", ") + items[i];
    if (table.pairs) return pairs_tally(out, total, table.no_worse);
    if (items.empty()) return "nothing in it can fail.";
    return fmt::format("{}, of {} single faults.", out, total);
}

} // namespace trivet
