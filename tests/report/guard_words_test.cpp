#include "report/guard_words.h"

#include <gtest/gtest.h>

namespace trivet {
namespace {

HeatGuard told(std::string device) {
    HeatGuard guard;
    guard.device = std::move(device);
    guard.by = ActuatedBy::pin;
    guard.pins = {"board.IO16"};
    guard.controls = {"hold the tray"};
    guard.sensors = {"probe"};
    return guard;
}

HeatGuard of_kind(std::string device, ActuatedBy by, bool independent = false) {
    HeatGuard guard;
    guard.device = std::move(device);
    guard.by = by;
    guard.independent = independent;
    return guard;
}

TEST(GuardWords, SayWhatActsOnEachDevice) {
    EXPECT_EQ(
        guard_sentence({"mat", {told("heat_switch"), of_kind("over_temp", ActuatedBy::heat, true)}}),
        "mat: heat_switch, told by board.IO16 (control 'hold the tray', sensor probe); over_temp, by its own heat "
        "and independent of everything else.");
}

TEST(GuardWords, NameWhatIsNoGuard) {
    EXPECT_EQ(guard_sentence({"plate", {}}), "plate: nothing but pulling the plug.");
    EXPECT_EQ(guard_sentence({"plate", {of_kind("relay", ActuatedBy::nothing)}}),
              "plate: relay, on which nothing acts.");
    EXPECT_EQ(guard_sentence({"plate", {of_kind("relay", ActuatedBy::fixed), of_kind("link", ActuatedBy::heat)}}),
              "plate: relay, wired so that it never changes; link, by its own heat.");
    EXPECT_EQ(guard_sentence({"strap", {of_kind("switch", ActuatedBy::hand)}}), "strap: switch, by hand.");
}

TEST(GuardWords, NameWhatPassesACommandOn) {
    HeatGuard relay = of_kind("relay", ActuatedBy::switches);
    relay.through = {"thermostat"};
    HeatGuard eye = of_kind("eye_switch", ActuatedBy::signal);
    EXPECT_EQ(guard_sentence({"plate", {relay, eye}}),
              "plate: relay, told through thermostat; eye_switch, told by a sensor.");
    eye.sensors = {"eye"};
    EXPECT_EQ(guard_sentence({"plate", {eye}}), "plate: eye_switch, told by eye.");
}

} // namespace
} // namespace trivet
