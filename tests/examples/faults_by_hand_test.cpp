#include "support/check_text.h"

#include <gtest/gtest.h>

#include <cmath>
#include <fstream>
#include <map>

namespace trivet::testing {
namespace {

// The page holds every single fault of three examples, worked out by hand; here its tables are read and compared with
// what the program says. Where the page notes that the program differs, the program must still do so.
constexpr const char* page = TRIVET_SOURCE_DIR "/docs/single-faults-by-hand.md";
constexpr double tolerance = 2.0; // K, as the page says

// A cell "stays safe (program: hazard)": what the hand says, and what the program says if it differs.
struct Cell {
    std::string hand;
    std::string program;
};

Cell cell(const std::string& text) {
    constexpr std::string_view mark = " (program: ";
    const auto note = text.find(mark);
    if (note == std::string::npos) return {text, text};
    const auto start = note + mark.size();
    return {text.substr(0, note), text.substr(start, text.find(')', start) - start)};
}

struct HandRow {
    Cell outcome;
    Cell hottest; // "slab 95.2 °C", "none", or empty
};
using HandTable = std::map<std::string, HandRow>; // by fault

std::vector<std::string> split(const std::string& text, std::string_view by) {
    std::vector<std::string> parts;
    std::size_t start = 0;
    for (auto at = text.find(by); at != std::string::npos; at = text.find(by, start)) {
        parts.push_back(text.substr(start, at - start));
        start = at + by.size();
    }
    parts.push_back(text.substr(start));
    return parts;
}

std::string trimmed(const std::string& text) {
    const auto first = text.find_first_not_of(' ');
    return first == std::string::npos ? "" : text.substr(first, text.find_last_not_of(' ') - first + 1);
}

std::map<std::string, HandTable> tables_of_the_page() {
    std::map<std::string, HandTable> tables;
    std::ifstream file(page);
    std::string section;
    for (std::string line; std::getline(file, line);) {
        if (line.starts_with("## ")) section = line.substr(3);
        if (!line.starts_with("| ") || line.starts_with("| fault ")) continue;
        const std::vector<std::string> cells = split(line, "|");
        if (cells.size() != 6) {
            ADD_FAILURE() << "not four cells: " << line;
            continue;
        }
        const HandRow row{cell(trimmed(cells[3])), cell(trimmed(cells[4]))};
        for (const std::string& fault : split(trimmed(cells[1]), "; "))
            EXPECT_TRUE(tables[section].emplace(fault, row).second) << section << ": twice: " << fault;
    }
    return tables;
}

// The number before "°C"; NaN without one.
double degrees(const std::string& text) {
    const auto unit = text.find(" °C");
    if (unit == std::string::npos) return std::nan("");
    const auto space = text.rfind(' ', unit - 1);
    return std::stod(text.substr(space == std::string::npos ? 0 : space + 1));
}

void compare(const HandRow& hand, const FaultRow& row) {
    EXPECT_EQ(fault_class_names[static_cast<std::size_t>(row.outcome)], hand.outcome.program);
    const double expected = degrees(hand.hottest.program);
    EXPECT_EQ(row.heat.has_value(), !std::isnan(expected));
    if (!row.heat || std::isnan(expected)) return;
    EXPECT_NEAR(in_celsius(row.heat->hottest_at), expected, tolerance);
    EXPECT_TRUE(hand.hottest.hand.starts_with(row.heat->hottest + " ")) << row.heat->hottest;
}

class FaultsByHand : public ::testing::TestWithParam<std::string> {};

TEST_P(FaultsByHand, AreWhatTheProgramFinds) {
    const auto tables = tables_of_the_page();
    ASSERT_TRUE(tables.contains(GetParam()));
    HandTable hand = tables.at(GetParam());
    Checked checked;
    check_file(checked, TRIVET_SOURCE_DIR "/examples/" + GetParam() + ".toml");
    const FaultTable found = fault_table(checked.design, *checked.assessment.analysis);
    EXPECT_FALSE(found.sound);
    EXPECT_FALSE(found.running);
    for (const FaultRow& row : found.rows) {
        SCOPED_TRACE(row.fault);
        const auto by_hand = hand.find(row.fault);
        EXPECT_NE(by_hand, hand.end()) << "not on the page";
        if (by_hand == hand.end()) continue;
        compare(by_hand->second, row);
        hand.erase(by_hand);
    }
    for (const auto& [fault, row] : hand) ADD_FAILURE() << "only on the page: " << fault;
}

INSTANTIATE_TEST_SUITE_P(Examples, FaultsByHand,
                         ::testing::Values("guarded-dry-box", "coil-thermostat", "propagation-mat", "bonded-plate",
                                           "cutoff-on-the-wrong-body"),
                         [](const ::testing::TestParamInfo<std::string>& example) {
                             std::string name = example.param;
                             std::erase(name, '-');
                             return name;
                         });

} // namespace
} // namespace trivet::testing
