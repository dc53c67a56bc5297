#include "electrical/fuse.h"

#include <algorithm>
#include <limits>
#include <string_view>

namespace trivet {

namespace {

constexpr double longest_adiabatic = 5.0; // s

constexpr std::array<std::string_view, fuse_family_names.size()> gate_tables{
    "fuse-gates-blade", "fuse-gates-quick", "fuse-gates-time-lag", "fuse-gates-ul", "fuse-gates-resettable"};

const PublishedTable* gates_of(const FuseElement& fuse, const Handbook& handbook) {
    return handbook.find(gate_tables[static_cast<std::size_t>(fuse.family)]);
}

// The end of a stated rating at which the fuse opens latest.
std::optional<double> rating(const FuseElement& fuse) {
    if (!fuse.rated_current || fuse.rated_current->range.hi.si <= 0.0) return std::nullopt;
    return fuse.rated_current->range.hi.si;
}

double multiple_of(const TableRow& gate) { return std::get<AnyQuantity>(gate.keys.front()).si; }

// Where the gate after this one begins; infinite after the last.
double end_of(const TableRow& gate, const PublishedTable& gates) {
    double end = std::numeric_limits<double>::infinity();
    for (const TableRow& other : gates.rows)
        if (multiple_of(other) > multiple_of(gate)) end = std::min(end, multiple_of(other));
    return end;
}

} // namespace

std::optional<Current> operating_current(const FuseElement& fuse, const Handbook& handbook) {
    const auto rated = rating(fuse);
    const PublishedTable* factors = handbook.find("fuse-conventional-factor");
    if (!rated || factors == nullptr) return std::nullopt;
    const std::array<TableKey, 1> family{std::string(fuse_family_names[static_cast<std::size_t>(fuse.family)])};
    const auto factor = look_up(*factors, family);
    if (!factor) return std::nullopt;
    return Current{factor->si * *rated};
}

std::optional<Time> opens_within(const FuseElement& fuse, Current current, const Handbook& handbook) {
    const auto rated = rating(fuse);
    const PublishedTable* gates = gates_of(fuse, handbook);
    if (!rated || gates == nullptr) return std::nullopt;
    const std::array<TableKey, 1> multiple{any(Number{current.si / *rated})};
    const auto time = look_up(*gates, multiple);
    if (!time) return std::nullopt;
    return Time{time->si};
}

std::optional<JouleIntegral> let_through(const FuseElement& fuse, Current lo, Current hi, const Handbook& handbook) {
    const auto rated = rating(fuse);
    const PublishedTable* gates = gates_of(fuse, handbook);
    if (!rated || gates == nullptr) return std::nullopt;
    std::optional<JouleIntegral> most;
    for (const TableRow& gate : gates->rows) {
        const double begin = multiple_of(gate) * *rated;
        const double end = end_of(gate, *gates) * *rated;
        if (gate.value > longest_adiabatic || hi.si < begin || lo.si >= end) continue;
        const double current = std::min(hi.si, end);
        most = std::max(most.value_or(JouleIntegral{}), JouleIntegral{current * current * gate.value});
    }
    return most;
}

} // namespace trivet
