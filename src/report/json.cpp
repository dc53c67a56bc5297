#include "report/json.h"

#include "report/wording.h"

#include <nlohmann/json.hpp>

#include <cmath>

namespace trivet {

namespace {

using Json = nlohmann::ordered_json;

Json place_json(Place place, const Sources& sources) {
    if (place.line == 0) return nullptr;
    return {{"file", sources.name(place.file)}, {"line", place.line}, {"column", place.column}};
}

// JSON has no infinity: "no limit" stands for it, null for what is not a number.
Json number_json(double value) {
    if (std::isnan(value)) return nullptr;
    if (std::isinf(value)) return "no limit";
    return value;
}

Json evidence_json(const Evidence& evidence, const Sources& sources) {
    constexpr std::array<std::string_view, 3> certainties{"computed", "stated", "typical"};
    Json out{{"name", evidence.name}, {"value", evidence.value}};
    if (evidence.quantity) out["si"] = number_json(evidence.quantity->si);
    if (!evidence.formula.empty()) out["formula"] = evidence.formula;
    if (!evidence.circumstance.empty()) out["circumstance"] = evidence.circumstance;
    out["certainty"] = certainties[static_cast<std::size_t>(evidence.certainty)];
    if (evidence.place.line > 0) out["place"] = place_json(evidence.place, sources);
    return out;
}

Json finding_json(const Finding& finding, const Assessment& assessment, const Sources& sources) {
    const Subject& subject = assessment.facts.subject(finding.subject);
    Json out{
        {"rule", finding.rule->name},
        {"consequence", consequence_names[static_cast<std::size_t>(finding.rule->consequence)]},
        {"verdict", verdict_names[static_cast<std::size_t>(finding.verdict)]},
        {"subject", {{"kind", subject_kind_names[static_cast<std::size_t>(subject.kind)]}, {"name", subject.name}}},
        {"place", place_json(subject.place, sources)}};
    out["margin"] = finding.margin ? number_json(*finding.margin) : Json(nullptr);
    if (!finding.needs.empty()) out["needs"] = finding.needs;
    if (finding.verdict == Verdict::pass) {
        out["title"] = finding.rule->title;
    } else {
        out["message"] = message(finding, assessment.facts);
        out["why"] = finding.rule->why;
        out["remedy"] = remedy(finding, assessment.facts);
    }
    if (!finding.missing.empty()) out["missing"] = finding.missing;
    if (!finding.reasons.empty()) out["reasons"] = finding.reasons;
    Json evidence = Json::array();
    for (const Evidence& item : finding.evidence) evidence.push_back(evidence_json(item, sources));
    out["evidence"] = std::move(evidence);
    return out;
}

Json counts_json(const Tally& counts) {
    Json failed = Json::object();
    Json untold = Json::object();
    for (std::size_t i = 0; i < consequence_names.size(); ++i) {
        failed[std::string(consequence_names[i])] = counts.failed[i];
        untold[std::string(consequence_names[i])] = counts.untold[i];
    }
    return {{"fail", failed}, {"cannot tell", untold}, {"pass", counts.passed}};
}

Json policy_json(const Policy& policy) {
    Json changed = Json::array();
    for (const PolicyItem& item : policy.items)
        if (item.changed)
            changed.push_back(
                {{"name", item.name}, {"value", to_text(item.value)}, {"shipped", to_text(item.shipped)}});
    return changed;
}

} // namespace

std::string json_report(const Design& design, const Assessment& assessment, const Sources& sources) {
    Json out{{"trivet", 1},
             {"file", sources.name(design.file)},
             {"title", design.title},
             {"verdict", fitness_word(assessment.fitness)}};
    out["counts"] = counts_json(tally(assessment));
    Json findings = Json::array();
    for (const Finding& finding : assessment.findings) findings.push_back(finding_json(finding, assessment, sources));
    out["findings"] = std::move(findings);
    const Analysis& analysis = *assessment.analysis;
    out["assumptions"] = analysis.states.assumptions;
    out["changed_policy"] = policy_json(assessment.policy);
    out["solved"] = {{"states", analysis.states.states.size()},
                     {"operating_points", analysis.envelope.solutions},
                     {"bounded", analysis.states.is_bound || analysis.envelope.is_bound},
                     {"kirchhoff_residual", analysis.envelope.worst_kirchhoff_residual}};
    out["caution"] = caution;
    return out.dump(2) + "\n";
}

std::string json_errors(const Errors& errors, const Sources& sources, const std::string& file) {
    Json list = Json::array();
    for (const InputError& error : errors) {
        Json entry{{"kind", error_kind_texts[static_cast<std::size_t>(error.kind)]}, {"message", error.message}};
        entry["place"] = place_json(error.place, sources);
        if (!error.hint.empty()) entry["hint"] = error.hint;
        list.push_back(std::move(entry));
    }
    const Json out{{"trivet", 1}, {"file", file}, {"verdict", "not read"}, {"errors", list}, {"caution", caution}};
    return out.dump(2) + "\n";
}

} // namespace trivet
