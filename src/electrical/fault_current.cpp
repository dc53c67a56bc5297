#include "electrical/fault_current.h"

#include "electrical/fault_loops.h"
#include "electrical/fuse.h"

#include <algorithm>
#include <variant>

namespace trivet {

namespace {

// What a source does to the currents that its loops would allow.
struct Limit {
    double lo = std::numeric_limits<double>::infinity();
    double hi = std::numeric_limits<double>::infinity();
    bool is_unstated = false;
    bool is_none = false;
};

struct Total {
    BranchFault fault;
    bool is_any = false;
    bool is_limited = false; // only shorts behind a limiting resistor so far
};

template <class Body> const Body& body_of(const Branch& branch, const Design& design) {
    return std::get<Body>(design.part(branch.part).part->elements[branch.element].body);
}

Limit stated_limit(const Perhaps<dim::current>& current) {
    if (!current) return {.is_unstated = true};
    return {.lo = current->range.lo.si, .hi = current->range.hi.si};
}

Limit limit_of(const SourceElement& source, const Feed& feed) {
    if (source.limit_mode == LimitMode::none || (source.is_battery && !source.limit_current))
        return {.is_unstated = !feed.internal.stated, .is_none = true};
    return stated_limit(source.limit_current);
}

void add(Total& total, const Loops& loops, const Feed& feed, const Limit& limit) {
    const bool is_limited = loops.rank == Rank::limited;
    if (total.is_any && is_limited && !total.is_limited) return;
    if (total.is_limited && !is_limited) total = {};
    const double lowest = std::min(lowest_current(feed, loops), limit.lo);
    BranchFault& fault = total.fault;
    const Stop so_far{fault.operating_current, fault.fuse};
    if (!total.is_any || is_worse(loops.stop, so_far)) {
        fault.operating_current = loops.stop.operates_at;
        fault.fuse = loops.stop.fuse;
        fault.lowest = lowest;
    } else if (!is_worse(so_far, loops.stop)) {
        fault.lowest = std::min(fault.lowest, lowest);
    }
    fault.highest += std::min(highest_current(feed, loops), limit.hi);
    fault.limit_unstated = fault.limit_unstated || limit.is_unstated;
    fault.unlimited = fault.unlimited || limit.is_none;
    total.is_any = true;
    total.is_limited = is_limited;
}

void add_passed(std::vector<Total>& totals, const LoopFinder& finder, const Feed& feed, Limit limit) {
    limit.is_unstated = limit.is_unstated || !feed.voltage.stated;
    for (const BranchId branch : finder.passed()) add(totals[branch.value], finder.at(branch), feed, limit);
}

} // namespace

FaultCurrents prospective_faults(const Circuit& circuit, const Design& design, const Handbook& handbook) {
    const FaultNetwork network = fault_network(circuit, design, handbook);
    LoopFinder finder(circuit, network);
    std::vector<Total> totals(circuit.branches.size());
    for (std::uint32_t i = 0; i < circuit.branches.size(); ++i) {
        const Branch& branch = circuit.branches[i];
        const auto parameter = [&](std::uint32_t which) { return circuit.parameters[branch.first_parameter + which]; };
        if (branch.kind == BranchKind::source) {
            const Feed feed{branch.from, branch.to, parameter(0), parameter(1)};
            finder.find(feed);
            Limit limit = limit_of(body_of<SourceElement>(branch, design), feed);
            add_passed(totals, finder, feed, limit);
            limit.is_unstated = limit.is_unstated || !feed.voltage.stated;
            add(totals[i], finder.at_source(), feed, limit);
        } else if (branch.kind == BranchKind::converter) {
            const Feed feed{branch.output_from, branch.output_to, parameter(0), {}};
            finder.find(feed);
            add_passed(totals, finder, feed, stated_limit(body_of<ConverterElement>(branch, design).limit_current));
        }
    }
    FaultCurrents faults;
    faults.branch.reserve(totals.size());
    for (const Total& total : totals) {
        BranchFault fault = total.fault;
        if (fault.fuse) {
            const auto& fuse = body_of<FuseElement>(circuit.branches[fault.fuse->value], design);
            const auto most = let_through(fuse, Current{fault.lowest}, Current{fault.highest}, handbook);
            fault.let_through = most ? most->si : 0.0;
        }
        faults.branch.push_back(fault);
    }
    return faults;
}

} // namespace trivet
