#pragma once

#include <cstdint>
#include <numeric>
#include <vector>

namespace trivet {

// Disjoint sets of 0..n-1 with path halving (Tarjan and van Leeuwen 1984). The smaller number represents a set, so that
// numbering does not depend on the order of joins.
class UnionFind {
public:
    explicit UnionFind(std::size_t count)
        : parent_(count) {
        std::iota(parent_.begin(), parent_.end(), 0U);
    }

    std::uint32_t find(std::uint32_t item) {
        while (parent_[item] != item) item = parent_[item] = parent_[parent_[item]];
        return item;
    }

    void join(std::uint32_t a, std::uint32_t b) {
        a = find(a);
        b = find(b);
        if (a < b) parent_[b] = a;
        if (b < a) parent_[a] = b;
    }

    // A dense number per set, in the order of each set's smallest item; `count` becomes the number of sets.
    std::vector<std::uint32_t> numbered(std::uint32_t& count) {
        std::vector<std::uint32_t> number(parent_.size());
        count = 0;
        for (std::uint32_t item = 0; item < parent_.size(); ++item) {
            const std::uint32_t root = find(item);
            number[item] = root == item ? count++ : number[root];
        }
        return number;
    }

private:
    std::vector<std::uint32_t> parent_;
};

} // namespace trivet
