#include "source/document.h"

#include <fmt/format.h>
#include <gtest/gtest.h>

#include <array>
#include <random>
#include <string>

// A file that is parsed in pieces gives the same document, places and errors as the same file parsed at once.

namespace trivet {
namespace {

void write(std::string& out, const Document& document, std::uint32_t index, std::size_t depth) {
    const Node& node = document.nodes[index];
    out += fmt::format("{}{} kind {} at {}:{}, key at {}:{}, '{}' {} {} {}\n", std::string(depth, ' '), node.key,
                       static_cast<int>(node.kind), node.place.line, node.place.column, node.key_place.line,
                       node.key_place.column, node.text, node.number, node.boolean, node.count);
    for (std::uint32_t i = node.first_child; i != Node::none; i = document.nodes[i].next) {
        write(out, document, i, depth + 1);
    }
}

std::string outcome(const std::string& text, std::size_t piece_bytes) {
    Sources sources;
    const Loaded<Document> loaded = parse_document(sources.add("a.toml", text), {.piece_bytes = piece_bytes});
    std::string out;
    write(out, *loaded.value, 0, 0);
    for (const InputError& error : loaded.errors) {
        out += fmt::format("{}:{} {} {}\n", error.place.line, error.place.column, error.message, error.hint);
    }
    return out;
}

void expect_same(const std::string& text) {
    const std::string whole = outcome(text, text.size() + 1);
    ASSERT_EQ(outcome(text, 0), whole) << text;
    ASSERT_EQ(outcome(text, 12), whole) << text;
}

TEST(Pieces, GiveTheSameDocument) {
    expect_same("\xEF\xBB\xBF[a]\r\nb = 1\r\n  [c] # x\r\nd = \"\"\"\r\n[e]\r\n\"\"\"\r\n[a.f]\r\ng = nan\r\n");
    expect_same("[[w]]\nx = 1\n[[w]]\n[w.y]\nz = 2\n[[w]]\nx = 3\n[[w.v]]\n[[w.v]]\n");
    expect_same("[a.b]\n[a]\nc = 1\n[a.d]\n[a]\n");
    expect_same("a = { b = 1 }\n[a.c]\n");
    expect_same("[a]\nb.c = 1\n[d]\n[a.b]\n");
    expect_same("[a.b]\n[[a]]\n");
}

TEST(Pieces, GiveTheSameDocumentForRandomFiles) {
    constexpr std::array<std::string_view, 8> names{"a", "b", "c", "a.b", "a.c", "b.a", "a.b.c", "b.b"};
    constexpr std::array<std::string_view, 5> forms{"[{}]\n", "[[{}]]\n", "{} = 1\n", "{} = {{ {} = 1 }}\n",
                                                    "{} = [{{ {} = 1 }}]\n"};
    std::mt19937 random(1); // a fixed seed: a failure repeats
    const auto below = [&](std::size_t limit) { return random() % limit; };
    for (int round = 0; round < 3000; ++round) {
        std::string text;
        for (std::size_t line = 0; line < 2 + static_cast<std::size_t>(round % 6); ++line) {
            const std::string_view form = forms[below(forms.size())];
            text += fmt::format(fmt::runtime(form), names[below(names.size())], names[below(names.size())]);
        }
        expect_same(text);
    }
}

} // namespace
} // namespace trivet
