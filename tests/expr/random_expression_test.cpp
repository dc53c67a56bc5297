#include "expr/expr_support.h"

#include <fmt/format.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <optional>
#include <random>

namespace trivet {
namespace {

// The reference: values are worked out while the text is written, with Kleene's logic as minimum and maximum of
// 0 (false), 1 (unknown) and 2 (true), and numbers as optional doubles. It shares nothing with the evaluator.
struct Phrase {
    std::string text;
    std::optional<double> number; // of numbers
    int truth = 1;                // of truth values
};

std::optional<double> clean(double result, bool from_finite) {
    if (std::isnan(result) || (std::isinf(result) && from_finite)) return std::nullopt;
    return result;
}

class Writer {
public:
    explicit Writer(unsigned seed)
        : random_(seed) {}

    Phrase truth(int depth) {
        const int kind = depth <= 0 ? pick(2) : pick(7);
        if (kind == 0) return pick_truth_name();
        if (kind == 1) return pick(2) == 0 ? Phrase{"true", {}, 2} : Phrase{"false", {}, 0};
        if (kind == 2) {
            const Phrase inner = truth(depth - 1);
            return {fmt::format("not ({})", inner.text), {}, 2 - inner.truth};
        }
        if (kind == 3 || kind == 4) {
            const Phrase a = truth(depth - 1);
            const Phrase b = truth(depth - 1);
            const bool both = kind == 3;
            return {fmt::format("({}) {} ({})", a.text, both ? "and" : "or", b.text),
                    {},
                    both ? std::min(a.truth, b.truth) : std::max(a.truth, b.truth)};
        }
        if (kind == 5) return comparison(depth);
        const Phrase condition = truth(depth - 1);
        const Phrase a = truth(depth - 1);
        const Phrase b = truth(depth - 1);
        const int chosen = condition.truth == 1 ? 1 : condition.truth == 2 ? a.truth : b.truth;
        return {fmt::format("if({}, {}, {})", condition.text, a.text, b.text), {}, chosen};
    }

    Phrase number(int depth) {
        const int kind = depth <= 0 ? pick(2) : pick(8);
        if (kind == 0) return names[static_cast<std::size_t>(pick(names.size()))];
        if (kind == 1) {
            const double value = pick(9) - 1.0;
            return value < 0 ? Phrase{"(-1)", -1.0, 1} : Phrase{fmt::format("{}", value), value, 1};
        }
        if (kind == 2) {
            const Phrase inner = number(depth - 1);
            const std::optional<double> root =
                inner.number && *inner.number >= 0.0 ? std::optional(std::sqrt(*inner.number)) : std::nullopt;
            return {fmt::format("sqrt({})", inner.text), root, 1};
        }
        if (kind == 3) {
            const Phrase inner = number(depth - 1);
            return {fmt::format("abs({})", inner.text),
                    inner.number ? std::optional(std::fabs(*inner.number)) : inner.number, 1};
        }
        if (kind == 4) return extreme(depth);
        return arithmetic(depth);
    }

    static void fill(testing::Scope& scope) {
        for (const Phrase& name : names) {
            if (name.number)
                scope.add(name.text, AnyQuantity{*name.number, dim::number});
            else
                scope.add_unknown(name.text, dim::number);
        }
        for (const Phrase& name : truth_names) {
            if (name.truth == 1)
                scope.add_unknown(name.text, TruthType{});
            else
                scope.add(name.text, name.truth == 2);
        }
    }

private:
    int pick(std::size_t choices) { return static_cast<int>(random_() % choices); }

    Phrase pick_truth_name() { return truth_names[static_cast<std::size_t>(pick(truth_names.size()))]; }

    Phrase comparison(int depth) {
        const Phrase a = number(depth - 1);
        const Phrase b = number(depth - 1);
        constexpr std::array<const char*, 6> ops{"<", "<=", ">", ">=", "==", "!="};
        const auto op = static_cast<std::size_t>(pick(ops.size()));
        Phrase result{fmt::format("({}) {} ({})", a.text, ops[op], b.text), {}, 1};
        if (!a.number || !b.number) return result;
        const double x = *a.number;
        const double y = *b.number;
        const std::array<bool, 6> answers{x<y, x <= y, x> y, x >= y, x == y, x != y};
        result.truth = answers[op] ? 2 : 0;
        return result;
    }

    Phrase extreme(int depth) {
        const Phrase a = number(depth - 1);
        const Phrase b = number(depth - 1);
        const bool least = pick(2) == 0;
        Phrase result{fmt::format("{}({}, {})", least ? "min" : "max", a.text, b.text), {}, 1};
        if (a.number && b.number)
            result.number = least ? std::fmin(*a.number, *b.number) : std::fmax(*a.number, *b.number);
        return result;
    }

    Phrase arithmetic(int depth) {
        const Phrase a = number(depth - 1);
        const Phrase b = number(depth - 1);
        constexpr std::array<const char*, 4> ops{"+", "-", "*", "/"};
        const auto op = static_cast<std::size_t>(pick(ops.size()));
        Phrase result{fmt::format("({}) {} ({})", a.text, ops[op], b.text), {}, 1};
        if (!a.number || !b.number || (op == 3 && *b.number == 0.0)) return result;
        const double x = *a.number;
        const double y = *b.number;
        const std::array<double, 4> answers{x + y, x - y, x * y, x / y};
        result.number = clean(answers[op], std::isfinite(x) && std::isfinite(y));
        return result;
    }

    static const std::array<Phrase, 6> names;
    static const std::array<Phrase, 3> truth_names;
    std::mt19937 random_;
};

const std::array<Phrase, 6> Writer::names{{{"one", 1.0, 1},
                                           {"small", 1e-3, 1},
                                           {"large", 1e300, 1},
                                           {"negative", -7.5, 1},
                                           {"endless", std::numeric_limits<double>::infinity(), 1},
                                           {"unstated", std::nullopt, 1}}};
const std::array<Phrase, 3> Writer::truth_names{{{"yes", {}, 2}, {"no", {}, 0}, {"open", {}, 1}}};

TEST(RandomExpressions, AgreeWithTheReference) {
    constexpr unsigned seed = 20240611; // fixed, so that a failure can be repeated
    Writer writer(seed);
    testing::Scope scope;
    Writer::fill(scope);
    std::array<int, 3> seen{};
    int compared = 0;
    for (int i = 0; i < 6000; ++i) {
        const Phrase phrase = i % 3 == 0 ? Phrase{} : writer.truth(4);
        const Phrase number = i % 3 == 0 ? writer.number(4) : Phrase{};
        const std::string& text = i % 3 == 0 ? number.text : phrase.text;
        if (text.size() > 2000) continue;
        const auto compiled = scope.compile(text);
        ASSERT_TRUE(compiled) << text << ": " << compiled.error().message;
        const ValueRef value = scope.run(*compiled).value;
        ++compared;
        if (i % 3 == 0) {
            ASSERT_EQ(value.is_known(), number.number.has_value()) << text;
            if (number.number) {
                ASSERT_EQ(value.si, *number.number) << text;
            }
            continue;
        }
        const int answer = !value.is_known() ? 1 : value.truth ? 2 : 0;
        ASSERT_EQ(answer, phrase.truth) << text;
        ++seen[static_cast<std::size_t>(answer)];
    }
    EXPECT_GT(compared, 5000);
    for (const int count : seen) EXPECT_GT(count, 300);
}

TEST(RandomExpressions, NeitherCrashNorHangOnShuffledText) {
    constexpr unsigned seed = 977;
    Writer writer(seed);
    std::mt19937 random(seed);
    testing::Scope scope;
    Writer::fill(scope);
    int accepted = 0;
    for (int i = 0; i < 3000; ++i) {
        std::string text = writer.truth(3).text;
        for (int change = 0; change < 3; ++change) {
            const std::size_t at = random() % text.size();
            constexpr std::string_view spice = "()+-*/<>=!,'\"a1. \xC2";
            if (random() % 2 == 0)
                text.erase(at, 1 + random() % 3);
            else
                text[at] = spice[random() % (spice.size() - 1)];
            if (text.empty()) text = "x";
        }
        const auto compiled = scope.compile(text);
        if (compiled) {
            scope.run(*compiled);
            ++accepted;
        } else {
            EXPECT_LE(compiled.error().offset, text.size()) << text;
            EXPECT_FALSE(compiled.error().message.empty()) << text;
        }
    }
    EXPECT_GT(accepted, 0);
}

} // namespace
} // namespace trivet
