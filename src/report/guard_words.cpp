#include "report/guard_words.h"

#include "report/fault_words.h"

#include <fmt/format.h>

namespace trivet {

namespace {

std::string told_by(const HeatGuard& guard, std::string_view verb, const std::vector<std::string>& by) {
    std::string text = fmt::format("{} {}", verb, listed_names(by));
    std::string why;
    for (const std::string& control : guard.controls)
        why += fmt::format("{}control '{}'", why.empty() ? "" : ", ", control);
    if (!guard.sensors.empty())
        why += fmt::format("{}{} {}", why.empty() ? "" : ", ", guard.sensors.size() == 1 ? "sensor" : "sensors",
                           listed_names(guard.sensors));
    return why.empty() ? text : fmt::format("{} ({})", text, why);
}

std::string acts(const HeatGuard& guard) {
    switch (guard.by) {
    case ActuatedBy::nothing:
        return "on which nothing acts";
    case ActuatedBy::fixed:
        return "wired so that it never changes";
    case ActuatedBy::hand:
        return "by hand";
    case ActuatedBy::heat:
        return guard.independent ? "by its own heat and independent of everything else" : "by its own heat";
    case ActuatedBy::pin:
        return told_by(guard, "told by", guard.pins);
    case ActuatedBy::signal:
        return guard.sensors.empty() ? "told by a sensor" : "told by " + listed_names(guard.sensors);
    case ActuatedBy::switches:
        return told_by(guard, "told through", guard.through);
    }
    return {};
}

} // namespace

std::string guard_sentence(const GuardedHeater& heater) {
    if (heater.guards.empty()) return heater.heater + ": nothing but pulling the plug.";
    std::string text;
    for (const HeatGuard& guard : heater.guards)
        text += fmt::format("{}{}, {}", text.empty() ? "" : "; ", guard.device, acts(guard));
    return fmt::format("{}: {}.", heater.heater, text);
}

} // namespace trivet
