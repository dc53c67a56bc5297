#pragma once

#include "electrical/fault_tree.h"

#include <vector>

namespace trivet {

// How much a short says about a branch: one over a parallel way or behind a limiting resistor decides only where there
// is no plainer one.
enum class Rank : std::uint8_t { plain, parallel, limited };

// All shorts of one source that pass a place, reduced to what is asked about them.
struct Loops {
    double least = std::numeric_limits<double>::infinity(); // ohm, of all
    double most = 0.0;                                      // ohm and V, of the weakest short that `stop` must stop
    double drop = 0.0;
    Stop stop;     // of the worst short: the one whose tightest fuse opens latest
    Stop outgoing; // the same without the fuses of the returning side
    Rank rank = Rank::limited;

    bool empty() const { return least == std::numeric_limits<double>::infinity(); }
};

// A supply or converter output by itself.
struct Feed {
    NodeId plus;
    NodeId minus;
    Parameter voltage;
    Parameter internal; // ohm
};

double highest_current(const Feed& feed, const Loops& loops); // A, before the source's own limit
double lowest_current(const Feed& feed, const Loops& loops);
bool is_worse(const Stop& a, const Stop& b); // opens later, or not at all

// Finds the shorts of one source after another and sums them up branch by branch.
class LoopFinder {
public:
    LoopFinder(const Circuit& circuit, const FaultNetwork& network);

    void find(const Feed& feed);
    const std::vector<BranchId>& passed() const { return passed_; }
    const Loops& at(BranchId branch) const { return at_[branch.value]; }
    const Loops& at_source() const { return at_plus_.front(); }

private:
    void short_at_nodes();
    void short_across_loads();
    void add_up_outgoing();
    void add_up_returning();
    void try_other_ways_out(std::uint32_t far);
    void try_other_ways_back(std::uint32_t far);
    void merge(Loops& into, const Loops& more) const;
    void pass(BranchId branch, const Loops& loops);

    const Circuit& circuit_;
    const FaultNetwork& network_;
    Feed feed_;
    FaultTree from_plus_;
    FaultTree to_minus_;
    std::vector<Loops> at_plus_;  // by place in from_plus_
    std::vector<Loops> at_minus_; // by place in to_minus_
    std::vector<Loops> at_;       // [branch]
    std::vector<BranchId> passed_;
};

} // namespace trivet
