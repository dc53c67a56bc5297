#pragma once

#include <memory>
#include <vector>

namespace trivet {

// Sparse LU of a square matrix whose pattern stays while its values change (KLU: Davis and Palamadai Natarajan 2010,
// ACM TOMS algorithm 907). Compressed columns, rows sorted in each column. All functions return false when the matrix
// is singular; a later factor() with other values may succeed.
class SparseLu {
public:
    SparseLu();
    ~SparseLu();
    SparseLu(SparseLu&&) noexcept;
    SparseLu& operator=(SparseLu&&) noexcept;

    bool analyse(std::vector<int> column_start, std::vector<int> row);
    // Keeps the pivots of the last factorisation unless they fail or `new_pivots` asks for a fresh choice.
    bool factor(std::vector<double>& values, bool new_pivots = false);
    bool solve(std::vector<double>& right_side);                     // A x = b, in place
    bool solve_transposed(double* right_sides, std::size_t columns); // Aᵀ x = b, columns one after the other

private:
    struct Factors;
    std::unique_ptr<Factors> factors_;
};

} // namespace trivet
