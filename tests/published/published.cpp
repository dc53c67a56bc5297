#include "published/published.h"

#include <fmt/format.h>

#include <iostream>
#include <set>
#include <span>

namespace trivet::published {

namespace {

constexpr int promised = 300;

std::string name_of(std::string_view table, std::span<const TableKey> keys) {
    std::string name(table);
    for (const TableKey& key : keys) {
        if (const auto* text = std::get_if<std::string>(&key))
            name += ", " + *text;
        else
            name += fmt::format(", {:.6g}", std::get<AnyQuantity>(key).si);
    }
    return name;
}

// Rows that are arithmetic or habit have no publication to compare with.
bool is_published(const PublishedTable& table, const TableRow& row) {
    const std::string& source = row.source.empty() ? table.confirmed : row.source;
    return source.find("computed") == std::string::npos && source.find("common practice") == std::string::npos;
}

// One count per program: googletest keeps its environments the same way.
class Count : public testing::Environment {
public:
    void add() { ++count_; }
    void add(std::string row) { looked_up_.insert(std::move(row)); }

    void TearDown() override {
        std::cout << count_ << " published values compared\n";
        if (testing::GTEST_FLAG(filter) != "*") return;
        EXPECT_GE(count_, promised);
        for (const auto& [name, table] : test::shipped_handbook().tables)
            for (const TableRow& row : table.rows)
                EXPECT_TRUE(!is_published(table, row) || looked_up_.contains(name_of(name, row.keys)))
                    << "no test compares " << name_of(name, row.keys);
    }

private:
    int count_ = 0;
    std::set<std::string> looked_up_;
};

Count* const count = static_cast<Count*>(testing::AddGlobalTestEnvironment(new Count));

} // namespace

void expect_printed(double found, double printed, double within, const std::string& what) {
    count->add();
    EXPECT_NEAR(found, printed, within) << what;
}

void note_look_up(const char* table, std::initializer_list<TableKey> keys) {
    count->add(name_of(table, {keys.begin(), keys.size()}));
}

void expect_remembered(double found, double remembered, double within, const std::string& what) {
    EXPECT_NEAR(found, remembered, within) << what;
}

} // namespace trivet::published
