#include "electrical/sensitivity.h"

#include <algorithm>

namespace trivet {

void Sensitivity::at(Solver& solver, const Conditions& conditions, const Iterate& iterate) {
    solver_ = &solver;
    iterate_ = &iterate;
    conditions_ = conditions;
    current_edge_ = nowhere;
    const Island& island = solver.island();
    rank_.assign(island.parameters.size(), nowhere);
    for (std::uint32_t i = 0; i < island.ranged.size(); ++i) rank_[island.ranged[i]] = i;
    own_.assign(island.ranged.size(), 0.0);
    list_effects();
}

void Sensitivity::list_effects() {
    const Island& island = solver_->island();
    const Network& network = solver_->network();
    const Equations& equations = solver_->equations();
    effects_.assign(island.ranged.size(), {});
    for (std::uint32_t i = 0; i < island.ranged.size(); ++i) {
        const std::uint32_t own = island.branch_of_parameter[island.ranged[i]];
        const IslandBranch& branch = island.branches[own];
        const std::uint32_t which = island.ranged[i] - branch.first_parameter;
        const Parameter& parameter = island.parameters[island.ranged[i]];
        const double width = parameter.hi - parameter.lo;
        Effect& effect = effects_[i];
        const std::uint32_t link = network.link_of[own];
        double partial[3] = {0.0, 0.0, 0.0};
        if (branch.kind == BranchKind::converter) {
            const std::uint32_t output = network.output_edge[own];
            const std::uint32_t input = link == nowhere ? nowhere : network.edge_of[link];
            const double volts = input == nowhere ? 0.0 : equations.across(*iterate_, input);
            const double delivered = output == nowhere ? 0.0 : iterate_->x[equations.current(output)];
            const bool collapsed = input != nowhere && iterate_->collapsed[input] != 0;
            const ConverterLaw law = convert(branch, conditions_.values, volts, delivered, collapsed);
            if (output != nowhere) effect.row[0] = equations.current(output);
            effect.partial[0] = -law.output_by_parameter[which] * width;
            if (input != nowhere && !network.edges[input].dead) effect.row[1] = equations.current(input);
            effect.partial[1] = -law.input_by_parameter[which] * width;
            continue;
        }
        if (link == nowhere) continue;
        const std::uint32_t edge = network.edge_of[link];
        const double amperes = iterate_->x[equations.current(edge)];
        if (network.edges[edge].law == EdgeLaw::series) {
            const double sign = network.links[link].sign;
            const double through = network.edges[edge].dead ? 0.0 : sign * amperes;
            drop_by_parameter(branch, conditions_.values, through, conditions_.starting, partial);
            partial[which] *= sign;
        } else if (!network.edges[edge].dead) {
            drawn_by_parameter(branch, conditions_.values, equations.across(*iterate_, edge), conditions_.starting,
                               iterate_->collapsed[edge] != 0, partial);
        }
        effect.row[0] = equations.current(edge);
        effect.partial[0] = -partial[which] * width;
    }
}

void Sensitivity::solve() {
    solver_->factors().solve_transposed(adjoint_.data(), 1);
    result_ = own_;
    for (std::size_t i = 0; i < effects_.size(); ++i)
        for (int k = 0; k < 2; ++k)
            if (effects_[i].row[k] != nowhere) result_[i] -= adjoint_[effects_[i].row[k]] * effects_[i].partial[k];
    std::ranges::fill(own_, 0.0);
}

const std::vector<double>& Sensitivity::of_current(std::uint32_t edge) {
    if (edge == current_edge_) return current_;
    adjoint_.assign(solver_->equations().size(), 0.0);
    adjoint_[solver_->equations().current(edge)] = 1.0;
    solve();
    current_edge_ = edge;
    current_ = result_;
    return current_;
}

const std::vector<double>& Sensitivity::of_voltage(std::uint32_t edge) {
    adjoint_.assign(solver_->equations().size(), 0.0);
    add_node(solver_->network().edges[edge].from, 1.0);
    add_node(solver_->network().edges[edge].to, -1.0);
    solve();
    return result_;
}

const std::vector<double>& Sensitivity::of_link(std::uint32_t number) {
    const Network& network = solver_->network();
    const Link& link = network.links[number];
    const std::uint32_t edge = network.edge_of[number];
    of_current(edge);
    const IslandBranch& branch = solver_->island().branches[link.branch];
    const double amperes = link.sign * iterate_->x[solver_->equations().current(edge)];
    const double factor = link.sign * drop(branch, conditions_.values, amperes, conditions_.starting).slope;
    double partial[3] = {0.0, 0.0, 0.0};
    drop_by_parameter(branch, conditions_.values, amperes, conditions_.starting, partial);
    result_.resize(current_.size());
    std::ranges::transform(current_, result_.begin(), [&](double moved) { return factor * moved; });
    std::swap(result_, own_);
    add_own(link.branch, partial, 1.0);
    std::swap(result_, own_);
    return result_;
}

void Sensitivity::add_own(std::uint32_t own, const double* partial, double factor) {
    const IslandBranch& branch = solver_->island().branches[own];
    for (std::uint32_t k = 0; k < branch.parameters; ++k) {
        const std::uint32_t rank = rank_[branch.first_parameter + k];
        if (rank == nowhere) continue;
        const Parameter& parameter = solver_->island().parameters[branch.first_parameter + k];
        own_[rank] += factor * partial[k] * (parameter.hi - parameter.lo);
    }
}

void Sensitivity::add_node(std::uint32_t node, double factor) {
    const Network& network = solver_->network();
    if (network.role[node] != NodeRole::interior) {
        if (network.junction[node] != nowhere) adjoint_[network.junction[node]] += factor;
        return;
    }
    const std::uint32_t last = network.link_before[node];
    const std::uint32_t edge = network.edge_of[last];
    const double amperes = network.edges[edge].dead ? 0.0 : iterate_->x[solver_->equations().current(edge)];
    add_node(network.edges[edge].from, factor);
    for (std::uint32_t i = network.edges[edge].first_link; i <= last; ++i) {
        const Link& link = network.links[i];
        const IslandBranch& branch = solver_->island().branches[link.branch];
        const double through = link.sign * amperes;
        double partial[3] = {0.0, 0.0, 0.0};
        drop_by_parameter(branch, conditions_.values, through, conditions_.starting, partial);
        adjoint_[solver_->equations().current(edge)] -=
            factor * drop(branch, conditions_.values, through, conditions_.starting).slope;
        add_own(link.branch, partial, -factor * link.sign);
    }
}

const std::vector<double>& Sensitivity::of_nodes(const std::vector<std::pair<std::uint32_t, double>>& terms) {
    adjoint_.assign(solver_->equations().size(), 0.0);
    for (const auto& [node, factor] : terms) add_node(node, factor);
    solve();
    return result_;
}

} // namespace trivet
