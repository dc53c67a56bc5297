#include "thermal/cycle.h"
#include "thermal/hand_network.h"
#include "thermal/steady.h"

#include <benchmark/benchmark.h>

// How long it takes to follow heat: a small build from cold to its periodic state, one with two controls, a sensor's
// bead that makes the network stiff, and rows of up to a thousand bodies.

namespace trivet::bench {

namespace {

using testing::HandNetwork;
using testing::run_for;
using testing::two_point;

HandNetwork six_bodies() {
    HandNetwork network(20.0);
    for (const double capacity : {15.0, 350.0, 400.0, 2100.0, 60.0, 500.0}) network.body(capacity);
    network.path(0, 1, 4.0);
    network.path(1, 2, 6.0);
    network.path(2, 3, 12.0);
    network.path(3, 4, 1.5);
    network.path(1, 5, 0.4);
    network.faces(2, room, 0.03, 0.1, Facing::vertical, 0.9);
    network.faces(4, room, 0.01, 0.03, Facing::up, 0.9);
    network.faces(5, room, 0.08, 0.1, Facing::vertical, 0.9);
    network.heat(0, 60.0).control = 0;
    return network;
}

RunSetup six_bodies_setup() {
    RunSetup setup = run_for(3.0 * 86400.0);
    setup.controls = {two_point(1, 59.5, 60.5, 2.0, 15.0)};
    setup.most_switchings = 2;
    return setup;
}

void warm_up_and_periodic_state(benchmark::State& state) {
    const HandNetwork network = six_bodies();
    const RunSetup setup = six_bodies_setup();
    for (auto _ : state) {
        auto run = simulate(network, setup);
        auto cycles = periodic_running(network, setup);
        benchmark::DoNotOptimize(run);
        benchmark::DoNotOptimize(cycles);
    }
}

void two_controls(benchmark::State& state) {
    HandNetwork network = six_bodies();
    network.heat(5, 40.0).control = 1;
    RunSetup setup = six_bodies_setup();
    setup.controls.push_back(two_point(5, 49.0, 51.0, 0.0, 5.0));
    for (auto _ : state) {
        auto cycles = periodic_running(network, setup);
        benchmark::DoNotOptimize(cycles);
    }
}

void average_running(benchmark::State& state) {
    const HandNetwork network = six_bodies();
    const RunSetup setup = six_bodies_setup();
    for (auto _ : state) {
        auto mean = mean_running(network, setup);
        benchmark::DoNotOptimize(mean);
    }
}

void stiff_day(benchmark::State& state) {
    HandNetwork network = six_bodies();
    network.body(0.05);
    network.path(6, 1, 0.5);
    network.sources[0].control.reset();
    for (auto _ : state) {
        auto run = simulate(network, run_for(86400.0));
        benchmark::DoNotOptimize(run);
    }
}

void hour_of_a_row(benchmark::State& state) {
    HandNetwork network(20.0);
    const auto bodies = static_cast<std::uint32_t>(state.range(0));
    for (std::uint32_t i = 0; i < bodies; ++i) {
        network.body(50.0);
        network.path(i, room, 0.02);
        if (i > 0) network.path(i - 1, i, 1.0);
    }
    network.heat(0, 10.0);
    for (auto _ : state) {
        auto run = simulate(network, run_for(3600.0));
        benchmark::DoNotOptimize(run);
    }
    state.SetComplexityN(state.range(0));
}

BENCHMARK(warm_up_and_periodic_state)->Unit(benchmark::kMillisecond);
BENCHMARK(two_controls)->Unit(benchmark::kMillisecond);
BENCHMARK(average_running)->Unit(benchmark::kMillisecond);
BENCHMARK(stiff_day)->Unit(benchmark::kMillisecond);
BENCHMARK(hour_of_a_row)->Arg(10)->Arg(100)->Arg(1000)->Unit(benchmark::kMillisecond)->Complexity(benchmark::oN);

} // namespace

} // namespace trivet::bench
