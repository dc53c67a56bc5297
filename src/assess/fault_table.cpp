#include "assess/fault_table.h"

#include "assess/divider_faults.h"
#include "assess/fault_name.h"
#include "assess/fault_row.h"

#include <algorithm>
#include <utility>

namespace trivet {

namespace {

FaultCase together(const FaultCase& latent, const FaultCase& other) {
    FaultCase both = other;
    both.assumed = latent.assumed || other.assumed;
    both.latent = latent.latent && other.latent;
    both.changes.insert(both.changes.end(), latent.changes.begin(), latent.changes.end());
    both.joins.insert(both.joins.end(), latent.joins.begin(), latent.joins.end());
    both.forced.insert(both.forced.end(), latent.forced.begin(), latent.forced.end());
    return both;
}

constexpr double most_of_any_wire = 100.0; // A, common practice, no source: 16 mm², the thickest in such a build

struct Pair {
    std::size_t latent = 0;
    std::size_t other = 0;
};

std::vector<Pair> pairs_of(const std::vector<FaultCase>& cases) {
    std::vector<Pair> pairs;
    for (std::size_t i = 0; i < cases.size(); ++i)
        for (std::size_t j = 0; cases[i].latent && j < cases.size(); ++j) {
            const bool same = cases[i].part == cases[j].part && cases[i].element == cases[j].element &&
                              cases[i].wire == cases[j].wire && cases[i].control == cases[j].control;
            if (!same && (!cases[j].latent || j > i)) pairs.push_back({i, j});
        }
    return pairs;
}

// Contacts that nobody wired: no fault of theirs can matter.
bool is_idle(const FaultCase& fault, const Circuit& circuit, const std::vector<std::uint32_t>& degree) {
    if (fault.changes.empty() || !fault.forced.empty() || !fault.joins.empty()) return false;
    return std::ranges::all_of(fault.changes, [&](const BranchChange& change) {
        const Branch& branch = circuit.branches[change.branch.value];
        return degree[branch.from.value] < 2 || degree[branch.to.value] < 2;
    });
}

std::vector<FaultCase> cases_that_matter(const Design& design, const Analysis& analysis) {
    const Circuit& circuit = analysis.circuit;
    std::vector<FaultCase> cases = fault_cases(circuit, analysis.nets, design, analysis.actuations, analysis.off);
    follow_dividers(design, analysis, cases);
    std::vector<std::uint32_t> degree(circuit.node_count);
    for (const Branch& branch : circuit.branches) {
        ++degree[branch.from.value];
        ++degree[branch.to.value];
        if (branch.kind != BranchKind::converter) continue;
        ++degree[branch.output_from.value];
        ++degree[branch.output_to.value];
    }
    std::erase_if(cases, [&](const FaultCase& fault) { return is_idle(fault, circuit, degree); });
    return cases;
}

// Writes the rows of single faults or of pairs.
class Table {
public:
    Table(const Design& design, const Analysis& analysis)
        : design_(design)
        , analysis_(analysis)
        , single_(cases_that_matter(design, analysis))
        , names_(design, single_) {}

    FaultTable singles() {
        const FaultStudy study = study_of(single_);
        FaultRows writer(design_, analysis_, study.sound);
        FaultTable table;
        table.sound = writer.sound();
        table.running = writer.running();
        for (std::size_t i = 0; i < single_.size(); ++i) {
            table.rows.push_back(writer.row(single_[i], study.outcomes[i]));
            table.rows.back().fault = names_(single_[i]);
        }
        return table;
    }

    FaultTable pairs() {
        FaultTable table = singles();
        const std::vector<FaultRow> alone = std::exchange(table.rows, {});
        const std::vector<Pair> of = pairs_of(single_);
        std::vector<FaultCase> cases;
        for (const Pair& pair : of) cases.push_back(together(single_[pair.latent], single_[pair.other]));
        const FaultStudy study = study_of(cases);
        FaultRows writer(design_, analysis_, study.sound);
        for (std::size_t i = 0; i < cases.size(); ++i) {
            FaultRow row = writer.row(cases[i], study.outcomes[i]);
            if (row.outcome >= std::min(alone[of[i].latent].outcome, alone[of[i].other].outcome)) {
                ++table.no_worse;
                continue;
            }
            row.fault = alone[of[i].other].fault;
            row.with = alone[of[i].latent].fault;
            table.rows.push_back(std::move(row));
        }
        table.pairs = true;
        return table;
    }

private:
    FaultStudy study_of(const std::vector<FaultCase>& cases) const {
        return study_faults(analysis_.circuit, analysis_.nets, design_, analysis_.actuations, analysis_.off, cases,
                            [](WireId) { return most_of_any_wire; });
    }

    const Design& design_;
    const Analysis& analysis_;
    std::vector<FaultCase> single_;
    FaultNames names_;
};

} // namespace

FaultTable fault_table(const Design& design, const Analysis& analysis, bool pairs) {
    Table writer(design, analysis);
    FaultTable table = pairs ? writer.pairs() : writer.singles();
    table.heaters = guarded_heaters(design, analysis);
    std::ranges::stable_sort(table.rows, {}, &FaultRow::outcome);
    for (const FaultRow& row : table.rows) ++table.count.at(static_cast<std::size_t>(row.outcome));
    return table;
}

bool FaultTable::has_hazard() const {
    const auto bad = [](const FaultRow& row) { return row.outcome <= FaultClass::cannot_tell; };
    return running || (sound && bad(*sound)) || std::ranges::any_of(rows, bad);
}

} // namespace trivet
