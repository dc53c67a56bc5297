#include "report/fault_words.h"

#include "report/csv_cell.h"
#include "report/fault_csv.h"
#include "report/fault_json.h"
#include "report/fault_markdown.h"
#include "report/fault_text.h"
#include "source/utf8.h"

#include <gtest/gtest.h>

#include <sstream>

namespace trivet {
namespace {

// Sentences only: all values are made up.

FaultRow row(std::string fault, FaultClass outcome) {
    FaultRow made;
    made.fault = std::move(fault);
    made.outcome = outcome;
    return made;
}

FaultRow stuck(FaultClass outcome, std::string opens) {
    FaultRow made = row("heat_switch shorted", outcome);
    made.stuck_on = {"mat"};
    made.heat = FaultHeat{std::move(opens), Time{840.0}, "pad", celsius(52.3), {}};
    return made;
}

FaultRow too_hot(std::string opens, std::string limit = "the limit of tray") {
    FaultRow made = stuck(FaultClass::hazard, std::move(opens));
    made.heat->passed = FaultHeat::Passed{"tray", std::move(limit), celsius(50.0), celsius(180.0)};
    return made;
}

FaultRow excess(Excess kind, std::string of, AnyQuantity value, AnyQuantity limit) {
    FaultRow made = row("buck passes its input through", FaultClass::damages);
    made.exceeded.push_back({kind, std::move(of), value, limit});
    return made;
}

FaultTable table_of(std::vector<FaultRow> rows) {
    FaultTable table;
    table.rows = std::move(rows);
    for (const FaultRow& of : table.rows) ++table.count.at(static_cast<std::size_t>(of.outcome));
    return table;
}

TEST(FaultWords, SayWhatEndsTheHeat) {
    EXPECT_EQ(fault_sentence(stuck(FaultClass::safe, "over_temp")),
              "heat_switch shorted: mat stays on; over_temp opens after 14 min; the hottest is pad with 52.3 °C.");
    EXPECT_EQ(
        fault_sentence(stuck(FaultClass::safe, "")),
        "heat_switch shorted: mat stays on; everything stays within its limits: the hottest is pad with 52.3 °C.");
    EXPECT_EQ(fault_sentence(too_hot("")),
              "heat_switch shorted: mat stays on; nothing stops it: tray gets 180 °C, its limit is 50.0 °C.");
    EXPECT_EQ(fault_consequence(too_hot("over_temp", "the insulation of W3")),
              "mat stays on; over_temp opens after 14 min, but tray gets 180 °C, and at most 50.0 °C is allowed there "
              "(the insulation of W3).");
}

TEST(FaultWords, SayWhoCanEndItByHand) {
    FaultRow of = too_hot("");
    of.hand_switches = {"main"};
    EXPECT_NE(fault_sentence(of).find("By hand main still turns it off."), std::string::npos) << fault_sentence(of);
    of.while_hand_switch_on = true;
    EXPECT_NE(fault_sentence(of).find("mat stays on whenever the hand switch is on;"), std::string::npos);
}

TEST(FaultWords, GiveNoFigureThatMeansNothing) {
    FaultRow of = too_hot("");
    of.heat->passed->reached = celsius(1500.0);
    EXPECT_NE(fault_sentence(of).find("tray gets more than 400 °C, its limit is 50.0 °C."), std::string::npos);
}

TEST(FaultWords, NameWhatToDescribe) {
    FaultRow of = row("relay stuck closed", FaultClass::cannot_tell);
    of.stuck_on = {"plate", "mat"};
    of.cutoffs = {"link"};
    of.missing = {"a", "b", "c", "d", "e"};
    EXPECT_EQ(fault_sentence(of), "relay stuck closed: plate and mat stay on; link can still end it, but how hot it "
                                  "gets before is not known. Describe a; b; c; and 2 more.");
    of.cutoffs.clear();
    EXPECT_NE(fault_sentence(of).find("nothing stops it, and how hot it gets is not known."), std::string::npos);
}

TEST(FaultWords, SayWhatAPartGets) {
    const AnyQuantity volts{25.1, dim::voltage};
    const AnyQuantity amperes{12.0, dim::current};
    const AnyQuantity watts{2.0, dim::power};
    EXPECT_EQ(fault_consequence(excess(Excess::voltage, "board", volts, {6.0, dim::voltage})),
              "board would get 25.1 V, it is made for 6.00 V at most.");
    EXPECT_EQ(fault_consequence(excess(Excess::pin_voltage, "board.IO16", volts, {3.6, dim::voltage})),
              "board.IO16 would get 25.1 V, it is made for 3.60 V at most.");
    EXPECT_EQ(fault_consequence(excess(Excess::current, "relay", amperes, {10.0, dim::current})),
              "relay would carry 12.0 A, it is made for 10.0 A at most.");
    EXPECT_EQ(fault_consequence(excess(Excess::output_current, "buck", amperes, {3.0, dim::current})),
              "buck would have to give 12.0 A, it is made for 3.00 A at most.");
    EXPECT_EQ(fault_consequence(excess(Excess::power, "divider", watts, {0.25, dim::power})),
              "divider would turn 2.00 W into heat, it is made for 250 mW at most.");
}

TEST(FaultWords, SayWhatNoLongerWorks) {
    FaultRow of = row("wire W1 broken", FaultClass::stops);
    of.unfed = {"mat"};
    EXPECT_EQ(fault_consequence(of), "mat gets no current any more.");
    of.unfed = {"a", "b", "c", "d", "e", "f"};
    EXPECT_EQ(fault_consequence(of), "a, b, c, d and 2 others get no current any more.");
    EXPECT_EQ(fault_consequence(row("divider shorted", FaultClass::safe)), "nothing gets worse by it.");
}

TEST(FaultWords, SayWhatEndsAShortCircuit) {
    FaultRow of = row("fan shorted", FaultClass::stops);
    of.overloaded = {"supply"};
    EXPECT_EQ(fault_consequence(of), "supply has to give more than it can and shuts down.");
    of.in_the_way = {"main_fuse"};
    EXPECT_EQ(fault_consequence(of),
              "supply has to give more than it can and shuts down, unless main_fuse blows first.");
    of.unlimited = true;
    EXPECT_EQ(fault_consequence(of), "supply drives all the current it can until main_fuse blows.");
    of.in_the_way.clear();
    of.outcome = FaultClass::hazard;
    EXPECT_EQ(fault_consequence(of), "supply drives all the current it can, and no fuse ends it: wires burn.");
}

// At 1.15 times its rating a fuse holds for hours, at 2.1 times it opens (IEC 60127-2, ISO 8820-3; from memory).
TEST(FaultWords, AFuseBlowsSoonerOrLater) {
    FaultRow of = row("mat half shorted", FaultClass::stops);
    of.fuses.push_back({Excess::current, "fuse", {4.6, dim::current}, {4.0, dim::current}});
    EXPECT_EQ(fault_consequence(of), "fuse carries 4.60 A, more than its 4.00 A, and blows sooner or later.");
    of.fuses[0].value.si = 8.5;
    EXPECT_EQ(fault_consequence(of), "fuse blows.");
}

TEST(FaultWords, SayThatNothingShowsALatentFault) {
    FaultRow of = row("over_temp never opens", FaultClass::latent);
    EXPECT_EQ(fault_consequence(of),
              "it would not end too much heat, and nothing shows that: found only by the test in "
              "the checklist.");
    of.mode = "bridged";
    EXPECT_EQ(fault_consequence(of).find("it would not end a short circuit"), 0U);
}

TEST(FaultWords, SayWhenTheWorstIsAssumed) {
    FaultRow of = stuck(FaultClass::safe, "over_temp");
    of.assumed = true;
    EXPECT_NE(fault_sentence(of).find("Worst assumed:"), std::string::npos);
}

TEST(FaultWords, CountTheClasses) {
    FaultTable table;
    table.count = {1, 0, 2, 3, 40, 12};
    EXPECT_EQ(fault_tally(table),
              "1 hazard, 2 damages, 3 latent, 40 stop working and 12 stay safe, of 58 single faults.");
    EXPECT_EQ(fault_tally({}), "nothing in it can fail.");
    FaultTable pairs;
    pairs.pairs = true;
    pairs.no_worse = 7;
    EXPECT_EQ(fault_tally(pairs), "none of 7 pairs of faults is worse than one of the two alone.");
    pairs.count[0] = 2;
    EXPECT_EQ(fault_tally(pairs),
              "2 hazards, of 9 pairs of faults; the others are no worse than one of the two alone.");
}

TEST(FaultWords, SayWhatHeatsWithNothingBroken) {
    FaultTable table;
    EXPECT_EQ(sound_words(table), "");
    table.sound = too_hot("");
    EXPECT_EQ(sound_words(table),
              "With nothing broken, nothing ever turns mat off; nothing stops it: tray gets 180 °C, "
              "its limit is 50.0 °C.");
    table.sound.reset();
    table.running = FaultHeat::Passed{"tray", "the limit of tray", celsius(50.0), celsius(61.0)};
    EXPECT_EQ(sound_words(table),
              "With everything working, tray gets 61.0 °C, its limit is 50.0 °C: see trivet check.");
}

FaultTable mixed() {
    FaultRow first = row("wire W1 broken", FaultClass::stops);
    first.wire = "W1";
    first.unfed = {"mat"};
    FaultRow second = row("wire W2 broken", FaultClass::stops);
    second.wire = "W2";
    second.unfed = {"mat"};
    FaultRow third = row("mat broken inside", FaultClass::stops);
    third.unfed = {"mat"};
    return table_of({too_hot(""), first, second, third});
}

TEST(FaultText, GathersFaultsOfOneConsequence) {
    const std::string text = fault_text(mixed(), "Mat", {});
    EXPECT_NE(text.find("Mat: 1 hazard and 3 stop working, of 4 single faults.\n"), std::string::npos) << text;
    EXPECT_NE(text.find("\n  mat gets no current any more.\n      mat broken inside; one of the wires W1, W2 broken\n"),
              std::string::npos)
        << text;
    const std::string all = fault_text(mixed(), "Mat", {.everything = true});
    EXPECT_NE(all.find("\n  wire W2 broken: mat gets no current any more.\n"), std::string::npos) << all;
}

TEST(FaultText, ShowsOnlyWhatIsAskedFor) {
    const std::string text = fault_text(mixed(), "Mat", {.only = {FaultClass::hazard}});
    EXPECT_NE(text.find("HAZARD"), std::string::npos);
    EXPECT_EQ(text.find("STOPS"), std::string::npos);
    EXPECT_NE(text.find("3 stop working"), std::string::npos) << "the count stays whole";
}

TEST(FaultText, KeepsToTheWidthAndColoursOnDemand) {
    for (const std::size_t width : {60U, 80U, 120U}) {
        std::istringstream lines(fault_text(mixed(), "A mat with a long title that goes on and on", {.width = width}));
        for (std::string line; std::getline(lines, line);) EXPECT_LE(code_points(line), width) << line;
    }
    EXPECT_EQ(fault_text(mixed(), "Mat", {}).find('\x1b'), std::string::npos);
    EXPECT_NE(fault_text(mixed(), "Mat", {.colour = true}).find('\x1b'), std::string::npos);
}

TEST(FaultFormats, CsvHasOneWidthAndQuotesWhatItMust) {
    FaultTable table = mixed();
    table.rows[0].fault = "control 'a, \"b\"' always on";
    const std::string csv = fault_csv(table, Sources{}, {});
    EXPECT_EQ(csv.find("outcome,fault,with,mode,file,line,worst_assumed,"), 0U);
    EXPECT_NE(csv.find("\nhazard,\"control 'a, \"\"b\"\"' always on\",,"), std::string::npos) << csv;
    EXPECT_NE(csv.find(",tray,180.0,the limit of tray,50.0,"), std::string::npos) << csv;
    EXPECT_EQ(csv_cell("a\nb"), "\"a\nb\"");
    const std::string only = fault_csv(table, Sources{}, {FaultClass::stops});
    EXPECT_EQ(std::count(only.begin(), only.end(), '\n'), 4);
}

TEST(FaultFormats, MarkdownSparesNamesFromMarkup) {
    FaultTable table = mixed();
    table.rows[0].fault = "over_temp|x never opens";
    const std::string page = fault_markdown(table, "Mat *1*", {});
    EXPECT_EQ(page.find("# Mat \\*1\\*: what one failure leads to\n"), 0U) << page;
    EXPECT_NE(page.find("| over\\_temp\\|x never opens | mat stays on;"), std::string::npos) << page;
    EXPECT_NE(page.find("## Stops working (3)\n\n| what fails | what happens |\n|---|---|\n"), std::string::npos);
}

TEST(FaultFormats, JsonHasUnitsInItsNames) {
    const std::string json = fault_json(mixed(), "Mat", Sources{}, {});
    for (const auto* part : {"\"counts\":{\"hazard\":1,", "\"stays_on\":[\"mat\"]", "\"reached_C\":180.0",
                             "\"no_current\":[\"mat\"]", "\"caution\":"})
        EXPECT_NE(json.find(part), std::string::npos) << part;
}

} // namespace
} // namespace trivet
