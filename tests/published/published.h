#pragma once

#include "tables/handbook.h"
#include "units/parse.h"

#include <gtest/gtest.h>

#include <initializer_list>
#include <string>

namespace trivet::published {

// Compare what the project answers with a printed value and count it; `within` is absolute. At its end the program says
// how many published values it has compared, and fails below the number the project promises.
void expect_printed(double found, double printed, double within, const std::string& what);
inline void expect_same(double found, double printed, const std::string& what) {
    expect_printed(found, printed, 1e-9 * printed, what);
}

// Notes that a test asked a table for these keys: a row that no test asks for fails the program.
void note_look_up(const char* table, std::initializer_list<TableKey> keys);

// For values that nobody could look up: compared but not counted, only in tests whose name says FromMemory.
void expect_remembered(double found, double remembered, double within, const std::string& what);

constexpr Area mm2(double area) { return {area * 1e-6}; }
inline Area awg(int gauge) { return {parse_quantity(std::to_string(gauge) + " AWG", dim::area)->si}; }
inline std::string label(const char* what, double number) { return std::string(what) + " " + std::to_string(number); }

// The shipped tables as the rules see them.
class PublishedTables : public ::testing::Test {
protected:
    double value(const char* table, std::initializer_list<TableKey> keys) const {
        const PublishedTable* found = handbook_.find(table);
        EXPECT_NE(found, nullptr) << table;
        if (found == nullptr) return 0.0;
        note_look_up(table, keys);
        const auto answer = test::look_up(*found, keys);
        EXPECT_TRUE(answer.has_value()) << table << ": " << (answer ? "" : answer.error().reason);
        return answer ? answer->si : 0.0;
    }

    const Handbook handbook_ = test::shipped_handbook();
};

} // namespace trivet::published
