#include "thermal/heat_log.h"

#include <gtest/gtest.h>

#include <cmath>

namespace trivet {
namespace {

LogNames plate_and_pot() {
    LogNames names;
    names.bodies = {"plate", "pot"};
    names.sources = {"heater", "lamp"};
    names.switches = {{"heater", {0}}, {"lamp", {1}}, {"heat_switch", {0, 1}}};
    return names;
}

Loaded<HeatLog> read(const std::string& text, const LogNames& names = plate_and_pot()) {
    Sources sources;
    return read_heat_log(sources.add("log.csv", text), names);
}

std::string all_errors(const Errors& errors) {
    std::string text;
    for (const InputError& error : errors)
        text += std::to_string(error.place.line) + ":" + std::to_string(error.place.column) + ": " + error.message +
                " (" + error.hint + ")\n";
    return text;
}

TEST(HeatLog, ReadsBodiesRoomAndSwitches) {
    const auto log = read("time_min,plate_C,pot,ambient,heater_on,lamp\n"
                          "0,20.5,20,21,1,0\n"
                          "1,25,,,0.5,1\n"
                          "2,30,21,22,0,1\n");
    ASSERT_TRUE(log) << all_errors(log.errors);
    ASSERT_EQ(log.value->times.size(), 3U);
    EXPECT_DOUBLE_EQ(log.value->times[2].si, 120.0);
    EXPECT_EQ(log.value->bodies, (std::vector<std::uint32_t>{0, 1}));
    EXPECT_DOUBLE_EQ(in_celsius(log.value->temperatures[0]), 20.5);
    EXPECT_TRUE(std::isnan(log.value->temperatures[3].si));
    EXPECT_NEAR(in_celsius(log.value->ambient[1]), 21.0, 1e-9); // repeats the one before
    EXPECT_EQ(log.value->on, (std::vector<std::vector<double>>{{1.0, 0.5, 0.0}, {0.0, 1.0, 1.0}}));
}

TEST(HeatLog, MultipliesAHeaterAndItsSwitch) {
    const auto log = read("time_s,plate,heat_switch_on,heater_on\n0,20,1,1\n1,20,1,0\n2,20,0,1\n");
    ASSERT_TRUE(log) << all_errors(log.errors);
    EXPECT_EQ(log.value->on, (std::vector<std::vector<double>>{{1.0, 0.0, 0.0}, {1.0, 1.0, 0.0}}));
}

struct Good {
    const char* why;
    const char* text;
};

TEST(HeatLog, AcceptsWhatSpreadsheetsWrite) {
    const Good rows[] = {
        {"decimal commas", "time_s;plate;heat_switch\n0;20,5;1\n1;21,5;1\n2,0;22;0\n"},
        {"tabs", "time_s\tplate\theat_switch\n0\t20.5\t1\n1\t21.5\t1\n2\t22\t0\n"},
        {"byte order mark and CRLF", "\xEF\xBB\xBFtime_s,plate,heat_switch\r\n0,20.5,1\r\n1,21.5,1\r\n2,22,0\r\n"},
        {"comments and empty lines", "# a log\ntime_s,plate,heat_switch\n\n0,20.5,1\n# lid on\n1,21.5,1\n2,22,0"},
        {"quotes", "\"time_s\",\"plate\",\"heat_switch\"\n0,\"20.5\",1\n1,\"21.5\",1\n2,22,0\n"},
        {"blanks, units in brackets", "time (s), plate [°C], heat_switch\n0, 20.5, 1\n 1, 21.5, 1\n2, 22, 0\n"},
        {"separators at the end", "time_s,plate,heat_switch,\n0,20.5,1,,\n1,21.5,1,\n2,22,0,\n"},
        {"columns to ignore", "time_s,ignore_clock,plate,heat_switch\n0,x,20.5,1\n1,,21.5,1\n2,y,22,0\n"},
    };
    for (const Good& row : rows) {
        const auto log = read(row.text);
        ASSERT_TRUE(log) << row.why << "\n" << all_errors(log.errors);
        EXPECT_DOUBLE_EQ(in_celsius(log.value->temperatures[1]), 21.5) << row.why;
        EXPECT_DOUBLE_EQ(log.value->times[2].si, 2.0) << row.why;
        EXPECT_DOUBLE_EQ(log.value->on[1][2], 0.0) << row.why;
    }
}

// A gap hides what the heater did, unless it was off all along.
TEST(HeatLog, AllowsAGapWhileEverythingIsOff) {
    const std::string head = "time_s,plate,heat_switch\n0,20,1\n10,22,1\n20,24,0\n30,25,0\n";
    EXPECT_TRUE(read(head + "400,22,0\n410,22,0\n420,22,0\n"));
    const auto hidden = read(head + "400,22,1\n410,22,0\n420,22,0\n");
    ASSERT_EQ(hidden.errors.size(), 1U);
    EXPECT_EQ(hidden.errors[0].place.line, 6U);
    EXPECT_NE(hidden.errors[0].message.find("line 5"), std::string::npos);
}

struct Bad {
    std::string text;
    std::uint32_t line;
    std::uint32_t column;
    const char* fragment;
};

const std::string head = "time_s,plate,heat_switch\n";

TEST(HeatLog, RefusesWhatItCannotUnderstand) {
    const Bad rows[] = {
        {"", 0, 0, "the log is empty"},
        {"# nothing\n", 0, 0, "the log is empty"},
        {"0,20,1\n1,20,1\n2,20,1\n", 1, 1, "numbers instead of the columns' names"},
        {"time_s;plate,heat_switch\n0;20;1\n", 1, 1, "more than one kind"},
        {"time_s,plat,heat_switch\n0,1,1\n", 1, 8, "called 'plat' (did you mean 'plate'"},
        {"time_s,plate,humidity,heat_switch\n0,1,1,1\n", 1, 14, "ignore_humidity"},
        {"time,plate,heat_switch\n0,1,1\n", 1, 1, "states no known unit (call it time_s"},
        {"time_ms,plate,heat_switch\n0,1,1\n", 1, 1, "states no known unit"},
        {"time_s,plate_F,heat_switch\n0,1,1\n", 1, 8, "read in °C (convert it and call it plate_C"},
        {"time_s,plate,plate_C,heat_switch\n0,1,1,1\n", 1, 14, "says the same"},
        {"plate,heat_switch\n20,1\n", 1, 1, "no column says the time"},
        {"time_s,ambient,heat_switch\n0,20,1\n", 1, 1, "no column holds the temperature of a body"},
        {"time_s,plate,heater\n0,20,1\n", 1, 1, "no column says when lamp was on (add a column lamp_on"},
        {head + "0,20,1\n0,20,1\n2,20,1\n", 3, 1, "does not come after 0 in line 2"},
        {head + "5,20,1\n4,20,1\n6,20,1\n", 3, 1, "does not come after 5 in line 2"},
        {head + ",20,1\n1,20,1\n2,20,1\n", 2, 1, "states no time"},
        {head + "noon,20,1\n1,20,1\n2,20,1\n", 2, 1, "'noon' is not a time"},
        {head + "nan,20,1\n1,20,1\n2,20,1\n", 2, 1, "'nan' is not a time"},
        {head + "0,warm,1\n1,20,1\n2,20,1\n", 2, 3, "'warm' in the column plate is not a temperature"},
        {head + "0,inf,1\n1,20,1\n2,20,1\n", 2, 3, "'inf' in the column plate"},
        {head + "0,20 °C,1\n1,20,1\n2,20,1\n", 2, 3, "write a plain number"},
        {head + "0,-127,1\n1,20,1\n2,20,1\n", 2, 3, "leave the cell empty where the sensor failed"},
        {head + "0,701,1\n1,20,1\n2,20,1\n", 2, 3, "outside -90 to 700 °C"},
        {head + "0,20,2\n1,20,1\n2,20,1\n", 2, 6, "is not a number from 0 to 1"},
        {head + "0,20,\n1,20,1\n2,20,1\n", 2, 6, "is empty here"},
        {head + "0,20,on\n1,20,1\n2,20,1\n", 2, 6, "0 is off, 1 is on"},
        {head + "0,20\n1,20,1\n2,20,1\n", 2, 1, "2 cells, but the first row names 3 columns"},
        {head + "0,20,5,1\n1,20,1\n2,20,1\n", 2, 1, "decimal commas, separate the cells by semicolons"},
        {head + "0;20;1\n1,20,1\n2,20,1\n", 2, 1, "the same separator in every row"},
        {"time_s;plate;heat_switch\n0;1.234,5;1\n1;20;1\n2;20;1\n", 2, 3, "'1.234,5'"},
        {head + "0,20,1\n1,20,1\n", 1, 1, "has 2 rows, but what is to be found needs at least 3"},
        {"time_s,plate,heat_switch,ambient\n0,20,1,\n1,20,1,\n2,20,1,\n", 1, 1, "empty in every row"},
        {head + "0,20,1\n1,2\xFF,1\n", 3, 4, "not UTF-8"},
        {std::string(largest_log + 1, ' '), 0, 0, "larger than 8 MiB"},
    };
    for (const Bad& row : rows) {
        const auto log = read(row.text);
        EXPECT_FALSE(log.value) << row.fragment;
        const std::string text = all_errors(log.errors);
        EXPECT_NE(text.find(row.fragment), std::string::npos) << row.fragment << " in\n" << text;
        const std::string place = std::to_string(row.line) + ":" + std::to_string(row.column) + ": ";
        EXPECT_TRUE(text.starts_with(place) || text.find("\n" + place) != std::string::npos) << place << " in\n"
                                                                                             << text;
        for (const InputError& error : log.errors) EXPECT_FALSE(error.hint.empty()) << error.message;
    }
}

TEST(HeatLog, AsksForTheRoomWhereOnlyTheLogKnowsIt) {
    LogNames names = plate_and_pot();
    names.needs_ambient = true;
    const std::string text = all_errors(read(head + "0,20,1\n1,20,1\n2,20,1\n", names).errors);
    EXPECT_NE(text.find("add a column ambient_C"), std::string::npos) << text;
}

TEST(HeatLog, SaysEverythingThatIsWrongInOneRun) {
    const auto log = read("time_s,plate,pott,heat_switch\n0,x,1,1\n1,20,1,2\n1,-100,1,1\n");
    EXPECT_EQ(log.errors.size(), 5U) << all_errors(log.errors);
}

} // namespace
} // namespace trivet
