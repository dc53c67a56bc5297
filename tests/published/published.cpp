#include "published/published.h"

#include <cmath>
#include <iostream>

namespace trivet::published {

namespace {

constexpr int promised = 300;

// One count per program: googletest keeps its environments the same way.
class Count : public testing::Environment {
public:
    void add() { ++count_; }

    void TearDown() override {
        std::cout << count_ << " published values compared\n";
        if (testing::GTEST_FLAG(filter) == "*") {
            EXPECT_GE(count_, promised);
        }
    }

private:
    int count_ = 0;
};

Count* const count = static_cast<Count*>(testing::AddGlobalTestEnvironment(new Count));

} // namespace

void expect_printed(double found, double printed, double within, const std::string& what) {
    count->add();
    EXPECT_NEAR(found, printed, within) << what;
}

void expect_remembered(double found, double remembered, double within, const std::string& what) {
    EXPECT_NEAR(found, remembered, within) << what;
}

} // namespace trivet::published
