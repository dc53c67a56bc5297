#include "electrical/envelope.h"

#include <algorithm>

namespace trivet {

namespace {

constexpr std::size_t most_parameters = 3;
constexpr float least_weight = 1e-3F; // of the largest: less does not explain the value

} // namespace

std::string describe(const Extreme& extreme, const Envelope& envelope, const StateSet& states, const Circuit& circuit) {
    if (extreme.state >= states.states.size()) return {};
    std::string text = to_text(states.states[extreme.state], circuit);
    if (extreme.corner >= envelope.corners.size()) return text;
    const CornerChoice& corner = envelope.corners[extreme.corner];
    std::vector<std::size_t> order(corner.parameters.size());
    for (std::size_t i = 0; i < order.size(); ++i) order[i] = i;
    std::ranges::stable_sort(order, std::ranges::greater{}, [&](std::size_t i) { return corner.weight[i]; });
    std::size_t named = 0;
    for (const std::size_t i : order) {
        if (named == most_parameters || corner.weight[i] <= least_weight * corner.weight[order.front()]) break;
        text += named++ == 0 ? "; " : ", ";
        text += circuit.parameter_names[corner.parameters[i]];
        text += corner.high[i] ? " high" : " low";
    }
    return text;
}

} // namespace trivet
