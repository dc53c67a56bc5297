#include "source/document.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <functional>
#include <string>
#include <vector>

namespace trivet {
namespace {

// One line per node: indent, key, kind or value.
std::string to_text(const Document& document) {
    std::string result;
    const std::function<void(const Node&, int)> write = [&](const Node& node, int depth) {
        for (std::uint32_t i = node.first_child; i != Node::none; i = document.nodes[i].next) {
            const Node& child = document.nodes[i];
            result +=
                std::string(static_cast<std::size_t>(depth), ' ') + std::string(child.key.empty() ? "-" : child.key);
            if (child.kind == NodeKind::text) result += "=" + std::string(child.text);
            if (child.kind == NodeKind::integer) result += "=" + std::to_string(std::lround(child.number));
            if (child.kind == NodeKind::unreadable) result += "=?";
            result += "\n";
            write(child, depth + 1);
        }
    };
    write(document.root(), 0);
    return result;
}

Loaded<Document> read(Sources& sources, std::string text) {
    return parse_document(sources.add("a.toml", std::move(text)));
}

const Node& child(const Document& document, const Node& parent, std::string_view key) {
    for (std::uint32_t i = parent.first_child; i != Node::none; i = document.nodes[i].next) {
        if (document.nodes[i].key == key) return document.nodes[i];
    }
    ADD_FAILURE() << "no key " << key;
    return parent;
}

void expect_tree(std::string text, std::string_view tree) {
    Sources sources;
    const Loaded<Document> loaded = read(sources, std::move(text));
    ASSERT_TRUE(loaded) << loaded.errors.front().message;
    EXPECT_EQ(to_text(*loaded.value), tree);
}

TEST(Document, KeepsTheOrderOfTheFile) {
    expect_tree("z = 1\na = 2\n[m]\ny = 3\nb = { d = 4, c = 5 }\n[[w]]\nq = 1\n[f.x]\n[f.a]\n[[w]]\nq = 2\n",
                "z=1\na=2\nm\n y=3\n b\n  d=4\n  c=5\nw\n -\n  q=1\n -\n  q=2\nf\n x\n a\n");
}

TEST(Document, KeepsTheOrderOfDottedKeysAndLaterParents) {
    expect_tree("z.b = 1\ny = 2\nz.a = 3\n[q.r]\nv = 1\n[q]\nu = 2\n", "z\n b=1\n a=3\ny=2\nq\n r\n  v=1\n u=2\n");
}

TEST(Document, AttachesSubsectionsToTheLastOfAList) {
    expect_tree("[[p]]\n[[p.e]]\na = 1\n[[p.e]]\na = 2\n[[p]]\n[p.x]\nb = 3\n",
                "p\n -\n  e\n   -\n    a=1\n   -\n    a=2\n -\n  x\n   b=3\n");
}

TEST(Document, AcceptsEmptyFilesMarksAndLineEnds) {
    expect_tree("", "");
    expect_tree("\xEF\xBB\xBF", "");
    expect_tree("# only a comment", "");
    expect_tree("\xEF\xBB\xBF"
                "a = 1\r\nb = [\r\n 2,\r\n]\r\nc = \"\"\"\r\nx\"\"\"\r\n",
                "a=1\nb\n -=2\nc=x\n");
}

TEST(Document, StringsMayHoldWhatWouldBeWrongOutside) {
    expect_tree("a = \"5 Ω [ { # = ' \\\" x\"\nb = 'C:\\' # Ω\nc = '''it's\n[x]'''\nd = \"\"\"a\"\"b\"\"\"\"\n",
                "a=5 Ω [ { # = ' \" x\nb=C:\\\nc=it's\n[x]\nd=a\"\"b\"\n");
}

TEST(Document, ListsOfListsAreNotTakenForHeaders) {
    expect_tree("a = [\n [1],\n [2]\n]\nb = [\n  # [x]\n  \"y\",\n]\n", "a\n -\n  -=1\n -\n  -=2\nb\n -=y\n");
}

TEST(Document, PlacesCountCodePointsFromOne) {
    Sources sources;
    const Loaded<Document> loaded = read(sources, "\xEF\xBB\xBF[ part . \"größe\" ]\n'ö' = { x = \"°\", y = 2 }\n");
    ASSERT_TRUE(loaded);
    const Document& document = *loaded.value;
    EXPECT_EQ(document.root().place.line, 0U); // the file as a whole
    const Node& part = child(document, document.root(), "part");
    const Node& size = child(document, part, "größe");
    EXPECT_EQ(size.place, (Place{document.file, 1, 1}));
    EXPECT_EQ(size.key_place, (Place{document.file, 1, 10}));
    const Node& inner = child(document, size, "ö");
    EXPECT_EQ(inner.key_place, (Place{document.file, 2, 1}));
    EXPECT_EQ(inner.place, (Place{document.file, 2, 7}));
    EXPECT_EQ(child(document, inner, "y").key_place, (Place{document.file, 2, 18}));
    EXPECT_EQ(child(document, inner, "y").place, (Place{document.file, 2, 22}));
}

TEST(Document, ChunksCountLinesOfTheirFile) {
    Sources sources;
    const SourceFile chunk = sources.add_view("parts/wires.toml", "[wire]\na = 5 Ω\nb = 2\nc = \"x\" y\n", 101);
    const Loaded<Document> loaded = parse_document(chunk);
    ASSERT_EQ(loaded.errors.size(), 2U);
    EXPECT_EQ(loaded.errors[0].place, (Place{chunk.id, 102, 7}));
    EXPECT_EQ(loaded.errors[1].place, (Place{chunk.id, 104, 5}));
    const Node& wire = child(*loaded.value, loaded.value->root(), "wire");
    EXPECT_EQ(wire.place.line, 101U);
    EXPECT_EQ(child(*loaded.value, wire, "b").place.line, 103U);
    EXPECT_EQ(child(*loaded.value, wire, "a").kind, NodeKind::unreadable);
}

TEST(Document, HoldsWhatCouldBeRead) {
    Sources sources;
    const Loaded<Document> loaded =
        read(sources, "a = 1\nb = 5 V\n[c]\nd = [1, 2\ne = 3\n[f.ö]\ng = 1\n[h]\ni = 4\n[c]\nj = 5\n");
    EXPECT_EQ(to_text(*loaded.value), "a=1\nb=?\nc\n d=?\n e=3\nh\n i=4\n");
    EXPECT_EQ(loaded.errors.size(), 4U);
    EXPECT_TRUE(loaded.value->incomplete);
}

TEST(Document, KnowsAllKindsOfValues) {
    Sources sources;
    const Loaded<Document> loaded = read(sources, "a = 1.5\nb = true\nc = 1979-05-27\nd = 07:32:00\ne = -3\nf = []\n");
    ASSERT_TRUE(loaded);
    const Document& document = *loaded.value;
    EXPECT_DOUBLE_EQ(child(document, document.root(), "a").number, 1.5);
    EXPECT_TRUE(child(document, document.root(), "b").boolean);
    EXPECT_EQ(child(document, document.root(), "c").kind, NodeKind::moment);
    EXPECT_EQ(child(document, document.root(), "d").kind, NodeKind::moment);
    EXPECT_DOUBLE_EQ(child(document, document.root(), "e").number, -3.0);
    EXPECT_EQ(child(document, document.root(), "f").count, 0U);
}

TEST(Document, HostileMegabytesTakeBoundedTime) {
    const std::vector<std::string> lines{"a=1\n",  "[a]\n",         "a = \"\n", "[",  "{",    "a.",       "\"\"\"\n",
                                         "'''x",   "a = [\n",       "]\n",      "\n", "\\\n", "a=[{}]\n", "#",
                                         "x=\"\\", "[[a]]\n[a.b]\n"};
    for (const std::string& line : lines) {
        std::string text = "k = 1 V\n";
        while (text.size() < (1U << 20U)) text += line;
        Sources sources;
        const auto start = std::chrono::steady_clock::now();
        const Loaded<Document> loaded = read(sources, std::move(text));
        const std::chrono::duration<double> took = std::chrono::steady_clock::now() - start;
        EXPECT_FALSE(loaded.errors.empty()) << line;
        EXPECT_LT(took.count(), 10.0) << line; // a bound against quadratic behaviour, generous for sanitizers
    }
}

TEST(Document, NoPrefixOfAFileBreaksIt) {
    const std::string text = "\xEF\xBB\xBF"
                             "t = 1 # ü\r\n[a.\"b\"]\nc = 'd'\ne = { f = \"\\u00b0\", g = [1,\n 2] }\n"
                             "h = \"\"\"i\n\\\n\"\"\"\n[[w]]\nx = '''\ny'''\nz = 5 Ω\n[w]\nq 1\n";
    for (std::size_t size = 0; size <= text.size(); ++size) {
        Sources sources;
        const Loaded<Document> loaded = read(sources, text.substr(0, size));
        ASSERT_TRUE(loaded.value.has_value());
        const auto lines = static_cast<std::uint32_t>(
            std::count(text.begin(), text.begin() + static_cast<std::ptrdiff_t>(size), '\n'));
        for (const InputError& error : loaded.errors) EXPECT_LE(error.place.line, lines + 1) << error.message;
    }
}

} // namespace
} // namespace trivet
