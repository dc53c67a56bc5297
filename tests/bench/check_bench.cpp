#include "assess/assess.h"
#include "assess/fault_table.h"
#include "assess/gather.h"
#include "bench/many_builds.h"
#include "cli/library.h"
#include "design/read_design.h"
#include "rules/evaluate_rules.h"

#include <benchmark/benchmark.h>
#include <toml++/toml.h>

#include <stdexcept>

// How long each step of a check takes for designs of 20 to 100 000 wires, beside what toml++ alone needs to parse the
// same file.

namespace trivet::bench {

namespace {

struct Case {
    std::string text;
    Sources sources;
    Library library;
    Design design;

    explicit Case(std::string design_text)
        : text(std::move(design_text)) {
        auto loaded = load_library(sources, {}, {});
        if (!loaded) throw std::runtime_error("the library does not load");
        library = std::move(*loaded.value);
        auto read = read_design(sources.add_view("bench.toml", text), library.catalog);
        if (!read) throw std::runtime_error(read.errors.front().message);
        design = std::move(*read.value);
    }
};

const Case& of_size(std::size_t wires) {
    static std::map<std::size_t, Case> cases;
    const auto found = cases.find(wires);
    return found != cases.end() ? found->second : cases.emplace(wires, many_builds(wires)).first->second;
}

void library_loading(benchmark::State& state) {
    for (auto _ : state) {
        Sources sources;
        auto library = load_library(sources, {}, {});
        benchmark::DoNotOptimize(library);
    }
}

void toml_parse(benchmark::State& state) {
    const Case& sized = of_size(static_cast<std::size_t>(state.range(0)));
    for (auto _ : state) {
        auto table = toml::parse(std::string_view(sized.text), std::string_view("bench.toml"));
        benchmark::DoNotOptimize(table);
    }
}

void read_the_design(benchmark::State& state) {
    const Case& sized = of_size(static_cast<std::size_t>(state.range(0)));
    for (auto _ : state) {
        Sources sources;
        auto design = read_design(sources.add_view("bench.toml", sized.text), sized.library.catalog);
        benchmark::DoNotOptimize(design);
    }
}

void analyse_and_solve(benchmark::State& state) {
    const Case& sized = of_size(static_cast<std::size_t>(state.range(0)));
    std::size_t solutions = 0;
    for (auto _ : state) {
        const Analysis analysis = analyse(sized.design, sized.library.policy, sized.library.handbook);
        solutions = analysis.envelope.solutions;
    }
    state.counters["operating_points"] = static_cast<double>(solutions);
}

void judge_by_rules(benchmark::State& state) {
    const Case& sized = of_size(static_cast<std::size_t>(state.range(0)));
    const Analysis analysis = analyse(sized.design, sized.library.policy, sized.library.handbook);
    const FaultTable faults = fault_table(sized.design, analysis);
    for (auto _ : state) {
        const FactTable facts = gather_facts(sized.design, analysis, faults, sized.library.handbook);
        auto findings = evaluate_rules(sized.library.rules, facts, sized.library.policy, sized.library.handbook, false,
                                       EvidenceDepth::unless_passing);
        benchmark::DoNotOptimize(findings);
    }
}

// Every single fault with its heat: 840 wires are 504 parts.
void all_single_faults(benchmark::State& state) {
    const Case sized(many_warm_builds(static_cast<std::size_t>(state.range(0))));
    const Analysis analysis = analyse(sized.design, sized.library.policy, sized.library.handbook);
    std::size_t rows = 0;
    for (auto _ : state) {
        const FaultTable table = fault_table(sized.design, analysis);
        rows = table.rows.size();
    }
    state.counters["faults"] = static_cast<double>(rows);
}

void whole_check(benchmark::State& state) {
    const Case& sized = of_size(static_cast<std::size_t>(state.range(0)));
    for (auto _ : state) {
        Sources sources;
        const auto design = read_design(sources.add_view("bench.toml", sized.text), sized.library.catalog);
        const Assessment assessment =
            assess(*design.value, sized.library.rules, sized.library.policy, sized.library.handbook);
        benchmark::DoNotOptimize(assessment.fitness);
    }
    state.SetComplexityN(state.range(0));
}

#define TRIVET_SIZES Arg(20)->Arg(1'000)->Arg(10'000)->Arg(100'000)->Unit(benchmark::kMillisecond)
BENCHMARK(library_loading)->Unit(benchmark::kMillisecond);
BENCHMARK(toml_parse)->TRIVET_SIZES;
BENCHMARK(read_the_design)->TRIVET_SIZES;
BENCHMARK(analyse_and_solve)->TRIVET_SIZES;
BENCHMARK(judge_by_rules)->TRIVET_SIZES;
BENCHMARK(all_single_faults)->Arg(20)->Arg(840)->Unit(benchmark::kMillisecond);
BENCHMARK(whole_check)->TRIVET_SIZES->Complexity(benchmark::oN);

} // namespace

} // namespace trivet::bench
