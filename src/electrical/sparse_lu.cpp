#include "electrical/sparse_lu.h"

#include <suitesparse/klu.h>

namespace trivet {

struct SparseLu::Factors {
    klu_common common{};
    klu_symbolic* symbolic = nullptr;
    klu_numeric* numeric = nullptr;
    std::vector<int> column_start;
    std::vector<int> row;

    Factors() { klu_defaults(&common); }
    ~Factors() { release(); }
    Factors(const Factors&) = delete;
    Factors& operator=(const Factors&) = delete;

    void release() {
        klu_free_numeric(&numeric, &common);
        klu_free_symbolic(&symbolic, &common);
    }
    int size() const { return static_cast<int>(column_start.size()) - 1; }
};

SparseLu::SparseLu()
    : factors_(std::make_unique<Factors>()) {}
SparseLu::~SparseLu() = default;
SparseLu::SparseLu(SparseLu&&) noexcept = default;
SparseLu& SparseLu::operator=(SparseLu&&) noexcept = default;

bool SparseLu::analyse(std::vector<int> column_start, std::vector<int> row) {
    Factors& own = *factors_;
    own.release();
    own.column_start = std::move(column_start);
    own.row = std::move(row);
    own.symbolic = klu_analyze(own.size(), own.column_start.data(), own.row.data(), &own.common);
    return own.symbolic != nullptr && own.common.status == KLU_OK;
}

bool SparseLu::factor(std::vector<double>& values, bool new_pivots) {
    Factors& own = *factors_;
    if (own.symbolic == nullptr) return false;
    if (own.numeric != nullptr && !new_pivots) {
        const bool kept = klu_refactor(own.column_start.data(), own.row.data(), values.data(), own.symbolic,
                                       own.numeric, &own.common) != 0 &&
                          own.common.status == KLU_OK;
        // Old pivots can be far too small for new values; the cheap estimate catches that.
        if (kept && klu_rcond(own.symbolic, own.numeric, &own.common) != 0 && own.common.rcond > 1e-13) return true;
    }
    klu_free_numeric(&own.numeric, &own.common);
    own.numeric = klu_factor(own.column_start.data(), own.row.data(), values.data(), own.symbolic, &own.common);
    return own.numeric != nullptr && own.common.status == KLU_OK;
}

bool SparseLu::solve(std::vector<double>& right_side) {
    Factors& own = *factors_;
    return own.numeric != nullptr &&
           klu_solve(own.symbolic, own.numeric, own.size(), 1, right_side.data(), &own.common) != 0;
}

bool SparseLu::solve_transposed(double* right_sides, std::size_t columns) {
    Factors& own = *factors_;
    return own.numeric != nullptr &&
           klu_tsolve(own.symbolic, own.numeric, own.size(), static_cast<int>(columns), right_sides, &own.common) != 0;
}

} // namespace trivet
