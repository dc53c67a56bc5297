#include "electrical/sample.h"

namespace trivet {

namespace {

void read_edge(const Solver& solver, const Conditions& conditions, const Iterate& iterate, std::uint32_t e,
               Sample& sample) {
    const Network& network = solver.network();
    const Edge& edge = network.edges[e];
    // What flows in a part without a loop is rounding.
    const double amperes = edge.dead ? 0.0 : iterate.x[solver.equations().current(e)];
    const Link& first = network.links[edge.first_link];
    if (edge.law == EdgeLaw::output) {
        sample.output_current[first.branch] = amperes;
        sample.output_voltage[first.branch] = -solver.equations().across(iterate, e);
        return;
    }
    if (edge.law != EdgeLaw::series) {
        sample.current[first.branch] = amperes;
        sample.voltage[first.branch] = edge.dead ? 0.0 : solver.equations().across(iterate, e);
        return;
    }
    double volts = solver.equations().voltage(iterate, edge.from);
    for (std::uint32_t i = 0; i < edge.links; ++i) {
        const Link& link = network.links[edge.first_link + i];
        const IslandBranch& branch = solver.island().branches[link.branch];
        const double lost = drop(branch, conditions.values, link.sign * amperes, conditions.starting).value;
        volts -= link.sign * lost;
        if (network.role[link.node_after] == NodeRole::interior) sample.node_voltage[link.node_after] = volts;
        sample.current[link.branch] = link.sign * amperes;
        sample.voltage[link.branch] = branch.kind == BranchKind::source ? -lost : lost;
    }
}

} // namespace

void read_sample(const Solver& solver, const Conditions& conditions, const Iterate& iterate, Sample& sample) {
    const Island& island = solver.island();
    const Network& network = solver.network();
    sample.node_voltage.assign(island.node_of.size(), 0.0);
    for (std::vector<double>* of_branch :
         {&sample.current, &sample.voltage, &sample.output_current, &sample.output_voltage})
        of_branch->assign(island.branches.size(), 0.0);
    for (std::uint32_t node = 0; node < island.node_of.size(); ++node)
        sample.node_voltage[node] = solver.equations().voltage(iterate, node);
    for (std::uint32_t e = 0; e < network.edges.size(); ++e) read_edge(solver, conditions, iterate, e, sample);
    for (std::uint32_t i = 0; i < island.branches.size(); ++i)
        if (network.link_of[i] == nowhere)
            sample.voltage[i] =
                sample.node_voltage[island.branches[i].from] - sample.node_voltage[island.branches[i].to];
}

} // namespace trivet
