#include "source/toml_reader.h"

#include "source/document.h"
#include "units/format.h"

#include <gtest/gtest.h>

#include <array>
#include <functional>
#include <string>
#include <vector>

namespace trivet {
namespace {

// Reads a text and hands its root to `ask`; collects what the reader files.
struct Reading {
    Sources sources;
    Loaded<Document> loaded;
    Errors errors;

    explicit Reading(std::string text) { loaded = parse_document(sources.add("a.toml", std::move(text))); }
    TableReader root() { return TableReader(*loaded.value, loaded.value->root(), errors); }
};

struct Expected {
    std::uint32_t line;
    std::uint32_t column;
    ErrorKind kind;
    std::string message;
    std::string hint = {};
};

void expect_errors(const Errors& errors, const std::vector<Expected>& expected) {
    ASSERT_EQ(errors.size(), expected.size());
    for (std::size_t i = 0; i < expected.size(); ++i) {
        EXPECT_EQ(errors[i].place.line, expected[i].line) << errors[i].message;
        EXPECT_EQ(errors[i].place.column, expected[i].column) << errors[i].message;
        EXPECT_EQ(errors[i].kind, expected[i].kind) << errors[i].message;
        EXPECT_NE(errors[i].message.find(expected[i].message), std::string::npos) << errors[i].message;
        EXPECT_NE(errors[i].hint.find(expected[i].hint), std::string::npos) << errors[i].hint;
    }
}

TEST(TableReader, GivesValuesWithTheirPlaces) {
    Reading run(
        "t = \"x\"\nf = true\nn = 3\nq = \"5 V\"\nr = \"4..6 V\"\nw = \"b\"\nl = [\"x\", \"y\"]\ns = \"one\"\nk = "
        "0.8\n");
    TableReader root = run.root();
    EXPECT_EQ(root.required_text("t")->value, "x");
    EXPECT_EQ(root.text("t")->place, (Place{run.loaded.value->file, 1, 5}));
    EXPECT_TRUE(root.flag("f")->value);
    EXPECT_DOUBLE_EQ(root.number("n")->value, 3.0);
    EXPECT_DOUBLE_EQ(root.quantity<dim::voltage>("q")->value.si, 5.0);
    EXPECT_DOUBLE_EQ(root.range<dim::voltage>("r")->value.lo.si, 4.0);
    EXPECT_DOUBLE_EQ(root.range<dim::voltage>("r")->value.hi.si, 6.0);
    EXPECT_DOUBLE_EQ(root.quantity<dim::number>("k")->value.si, 0.8); // a bare number is a number without unit
    EXPECT_DOUBLE_EQ(root.range<dim::number>("k")->value.hi.si, 0.8);
    constexpr std::array<std::string_view, 2> words{"a", "b"};
    EXPECT_EQ(root.word("w", words)->value, 1U);
    ASSERT_EQ(root.texts("l").size(), 2U);
    EXPECT_EQ(root.texts("l")[1].value, "y");
    EXPECT_EQ(root.texts("l")[1].place.column, 11U);
    EXPECT_EQ(root.texts("s").front().value, "one");
    root.finish();
    expect_errors(run.errors, {});
}

TEST(TableReader, AbsentKeysAreNoErrorUnlessRequired) {
    Reading run("[part]\nx = 1\n");
    TableReader part = *run.root().table("part");
    EXPECT_FALSE(part.text("t"));
    EXPECT_FALSE(part.flag("t"));
    EXPECT_FALSE(part.number("t"));
    EXPECT_FALSE(part.quantity("t", dim::voltage));
    EXPECT_FALSE(part.range("t", dim::voltage));
    EXPECT_FALSE(part.table("t"));
    EXPECT_TRUE(part.texts("t").empty());
    EXPECT_TRUE(part.tables("t").empty());
    expect_errors(run.errors, {});
    constexpr std::array<std::string_view, 1> words{"RD"};
    EXPECT_FALSE(part.required_text("from"));
    EXPECT_FALSE(part.required_range("length", dim::length));
    EXPECT_FALSE(part.required_quantity("current", dim::current));
    EXPECT_FALSE(part.required_number("count"));
    EXPECT_FALSE(part.required_word("colour", words));
    const std::string length(dimension_example(dim::length));
    expect_errors(run.errors, {{1, 1, ErrorKind::missing_key, "'from' is missing", "from = \"...\""},
                               {1, 1, ErrorKind::missing_key, "'length' is missing", "length = \"" + length + "\""},
                               {1, 1, ErrorKind::missing_key, "'current' is missing"},
                               {1, 1, ErrorKind::missing_key, "'count' is missing", "count = 3"},
                               {1, 1, ErrorKind::missing_key, "'colour' is missing", "colour = \"RD\""}});
}

struct Row {
    std::string text;
    std::function<void(TableReader&)> ask;
    Expected expected;
};

void expect_each(const std::vector<Row>& rows) {
    for (const Row& row : rows) {
        SCOPED_TRACE(row.text);
        Reading run(row.text);
        TableReader root = run.root();
        row.ask(root);
        root.finish();
        expect_errors(run.errors, {row.expected});
    }
}

TEST(TableReader, WrongTypesNameValueAndWayOut) {
    const std::string volt(dimension_example(dim::voltage));
    const std::vector<Row> rows{
        {"v = 5\n",
         [](TableReader& r) { r.quantity("v", dim::voltage); },
         {1, 5, ErrorKind::wrong_type, "'v' is the number 5, but a voltage", "write \"" + volt + "\""}},
        {"v = 0.5\n",
         [](TableReader& r) { r.range("v", dim::voltage); },
         {1, 5, ErrorKind::wrong_type, "the number 0.5", "write \"" + volt + "\""}},
        {"v = true\n", [](TableReader& r) { r.range("v", dim::number); }, {1, 5, ErrorKind::wrong_type, "'v' is true"}},
        {"v = 5\n",
         [](TableReader& r) { r.text("v"); },
         {1, 5, ErrorKind::wrong_type, "a text in quotes is due", "v = \"5\""}},
        {"v = \"yes\"\n",
         [](TableReader& r) { r.flag("v"); },
         {1, 5, ErrorKind::wrong_type, "the text \"yes\", but true or false", "v = true"}},
        {"v = \"5\"\n",
         [](TableReader& r) { r.number("v"); },
         {1, 5, ErrorKind::wrong_type, "the text \"5\", but a number", "without quotes"}},
        {"v = [1]\n", [](TableReader& r) { r.text("v"); }, {1, 5, ErrorKind::wrong_type, "'v' is a list"}},
        {"v = 1979-05-27\n", [](TableReader& r) { r.text("v"); }, {1, 5, ErrorKind::wrong_type, "a date or time"}},
        {"v = [\"a\", 2]\n",
         [](TableReader& r) { r.texts("v"); },
         {1, 11, ErrorKind::wrong_type, "this list entry is the number 2"}},
        {"v = 2\n", [](TableReader& r) { r.texts("v"); }, {1, 5, ErrorKind::wrong_type, "a list of texts"}},
        {"[v]\na = 1\n",
         [](TableReader& r) { EXPECT_EQ(r.tables("v").size(), 1U); },
         {1, 1, ErrorKind::wrong_type, "a section, but a list", "[[v]]"}},
        {"[[v]]\n",
         [](TableReader& r) { r.table("v"); },
         {1, 1, ErrorKind::wrong_type, "a list, but a section", "[v] once"}},
        {"v = [{}, 3]\n",
         [](TableReader& r) { EXPECT_EQ(r.tables("v").size(), 1U); },
         {1, 10, ErrorKind::wrong_type, "the number 3"}},
    };
    expect_each(rows);
}

TEST(TableReader, WordsOfAClosedSet) {
    constexpr std::array<std::string_view, 2> words{"red", "blue"};
    expect_each({
        {"v = \"bleu\"\n",
         [words](TableReader& r) { r.word("v", words); },
         {1, 5, ErrorKind::unknown_name, "\"bleu\"", "did you mean 'blue'?"}},
        {"v = \"pink\"\n",
         [words](TableReader& r) { r.word("v", words); },
         {1, 5, ErrorKind::unknown_name, "\"pink\"", "known here: red, blue"}},
        {"v = 7\n",
         [words](TableReader& r) { r.word("v", words); },
         {1, 5, ErrorKind::wrong_type, "a word in quotes", "v = \"red\""}},
    });
}

TEST(TableReader, PointsIntoTheTextOfAQuantity) {
    Reading run("a = \"24 Vx\"\nb = \"2 °Q\"\nc = \"\"\"\n5 X\"\"\"\nd = \"5 m\"\n");
    TableReader root = run.root();
    EXPECT_FALSE(root.range("a", dim::voltage));
    EXPECT_FALSE(root.range("b", dim::temperature));
    EXPECT_FALSE(root.quantity("c", dim::voltage));
    EXPECT_FALSE(root.quantity("d", dim::voltage));
    ASSERT_EQ(run.errors.size(), 4U);
    for (const InputError& error : run.errors) EXPECT_EQ(error.kind, ErrorKind::bad_quantity);
    EXPECT_EQ(run.errors[0].place, (Place{run.loaded.value->file, 1, 9})); // the unit
    EXPECT_EQ(run.errors[1].place, (Place{run.loaded.value->file, 2, 8}));
    EXPECT_EQ(run.errors[2].place, (Place{run.loaded.value->file, 3, 5})); // over several lines: where it starts
    EXPECT_EQ(run.errors[0].message.find("'a': "), 0U) << run.errors[0].message;
}

TEST(TableReader, UnknownKeysInFileOrderWithTheNearestName) {
    Reading run("zz_odd = 1\nlenght = 2\nlength = 3\n[extra]\na = 1\n[extra.sub]\n");
    TableReader root = run.root();
    root.number("length");
    root.text("colour");
    root.finish();
    root.finish();
    expect_errors(run.errors, {{1, 1, ErrorKind::unknown_key, "'zz_odd'", "known here: length, colour"},
                               {2, 1, ErrorKind::unknown_key, "'lenght'", "did you mean 'length'?"},
                               {4, 2, ErrorKind::unknown_key, "'extra'", "known here"}});
    EXPECT_EQ(run.errors[0].hint, "known here: length, colour");
}

TEST(TableReader, AskedInVainIsStillSuggested) {
    Reading run("fro = \"a\"\n");
    TableReader root = run.root();
    EXPECT_FALSE(root.text("from"));
    root.finish();
    expect_errors(run.errors, {{1, 1, ErrorKind::unknown_key, "'fro'", "did you mean 'from'?"}});
}

TEST(TableReader, StaysSilentAboutWhatIsAlreadyFiled) {
    Reading run("length = 25 cm\ncount = nan\ntitle = \"x\n");
    EXPECT_EQ(run.loaded.errors.size(), 3U);
    TableReader root = run.root();
    EXPECT_TRUE(root.has("length"));
    EXPECT_FALSE(root.required_range("length", dim::length));
    EXPECT_FALSE(root.required_number("count"));
    EXPECT_FALSE(root.range("count", dim::number));
    EXPECT_FALSE(root.required_text("title"));
    root.finish();
    expect_errors(run.errors, {});
}

TEST(TableReader, WalksSections) {
    Reading run(
        "[part.b]\nis = \"x\"\n[part.a]\nis = \"y\"\n[[wire]]\nfrom = \"b\"\n[[wire]]\nfrom = \"a\"\n[m]\nIO1 = "
        "\"out\"\nIO2 = 3\n");
    TableReader root = run.root();
    std::vector<TableReader> parts = root.table("part")->named_tables();
    ASSERT_EQ(parts.size(), 2U);
    EXPECT_EQ(parts[0].key(), "b");
    EXPECT_EQ(parts[1].key(), "a");
    EXPECT_EQ(parts[1].place().line, 3U);
    std::vector<TableReader> wires = root.tables("wire");
    ASSERT_EQ(wires.size(), 2U);
    EXPECT_EQ(wires[1].required_text("from")->value, "a");
    EXPECT_EQ(wires[1].place().line, 7U);
    TableReader map = *root.table("m");
    ASSERT_EQ(map.children().size(), 2U);
    EXPECT_EQ(map.children()[1]->kind, NodeKind::integer);
    map.finish();
    root.finish();
    EXPECT_EQ(map.place_of("IO2"), (Place{run.loaded.value->file, 11, 7}));
    EXPECT_FALSE(map.place_of("IO3"));
    expect_errors(run.errors, {});
}

TEST(TableReader, NamedTablesLeaveOtherKeysToFinish) {
    Reading run("odd = 1\n[relay]\nx = 1\n");
    TableReader root = run.root();
    EXPECT_EQ(root.named_tables().size(), 1U);
    root.finish();
    expect_errors(run.errors, {{1, 1, ErrorKind::unknown_key, "'odd'"}});
}

} // namespace
} // namespace trivet
