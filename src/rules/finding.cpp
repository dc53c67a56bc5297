#include "rules/finding.h"

#include <algorithm>
#include <limits>
#include <tuple>

namespace trivet {
namespace {

struct SortKey {
    Consequence consequence{};
    int verdict = 0;
    double margin = 0.0;
    Place place;
    std::size_t index = 0;
};

int rank(Verdict verdict) {
    switch (verdict) {
    case Verdict::fail:
        return 0;
    case Verdict::cannot_tell:
        return 1;
    case Verdict::pass:
        break;
    }
    return 2;
}

// A failure without a number has nothing to spare; a pass without one is not thin.
double sort_margin(const Finding& finding) {
    if (finding.margin) return *finding.margin;
    return finding.verdict == Verdict::fail ? 0.0 : std::numeric_limits<double>::infinity();
}

} // namespace

void sort_findings(std::vector<Finding>& findings, const FactTable& facts) {
    std::vector<SortKey> keys;
    keys.reserve(findings.size());
    for (std::size_t i = 0; i < findings.size(); ++i) {
        const Finding& finding = findings[i];
        keys.push_back({finding.rule->consequence, rank(finding.verdict), sort_margin(finding),
                        facts.subject(finding.subject).place, i});
    }
    std::ranges::sort(keys, [&](const SortKey& a, const SortKey& b) {
        const auto plain = [](const SortKey& key) {
            return std::tie(key.consequence, key.verdict, key.margin, key.place);
        };
        if (plain(a) != plain(b)) return plain(a) < plain(b);
        const Finding& x = findings[a.index];
        const Finding& y = findings[b.index];
        if (x.rule != y.rule && x.rule->name != y.rule->name) return x.rule->name < y.rule->name;
        return std::tie(x.subject, a.index) < std::tie(y.subject, b.index);
    });
    std::vector<Finding> sorted;
    sorted.reserve(findings.size());
    for (const SortKey& key : keys) sorted.push_back(std::move(findings[key.index]));
    findings = std::move(sorted);
}

} // namespace trivet
