#include "report/wording.h"

#include <fmt/format.h>

#include <vector>

namespace trivet {

namespace {

constexpr std::array<std::string_view, consequence_names.size()> plurals{"hazards", "damages", "malfunctions",
                                                                         "advice"};

std::string listed(const std::array<std::size_t, consequence_names.size()>& counts) {
    std::vector<std::string> items;
    for (std::size_t i = 0; i < counts.size(); ++i)
        if (counts[i] > 0)
            items.push_back(fmt::format("{} {}", counts[i], counts[i] == 1 ? consequence_names[i] : plurals[i]));
    std::string text;
    for (std::size_t i = 0; i < items.size(); ++i) {
        if (i > 0) text += i + 1 == items.size() ? " and " : ", ";
        text += items[i];
    }
    return text;
}

std::size_t sum(const std::array<std::size_t, consequence_names.size()>& counts) {
    std::size_t total = 0;
    for (const std::size_t count : counts) total += count;
    return total;
}

} // namespace

Tally tally(const Assessment& assessment) {
    Tally result;
    for (const Finding& finding : assessment.findings) {
        const auto consequence = static_cast<std::size_t>(finding.rule->consequence);
        if (finding.verdict == Verdict::pass) ++result.passed;
        if (finding.verdict == Verdict::fail) ++result.failed[consequence];
        if (finding.verdict == Verdict::cannot_tell) ++result.untold[consequence];
    }
    return result;
}

std::string_view fitness_word(Fitness fitness) {
    switch (fitness) {
    case Fitness::fit:
        return "fit";
    case Fitness::not_fit:
        return "not fit";
    case Fitness::refused:
        break;
    }
    return "refused";
}

std::string in_words(const Tally& tally) {
    const std::string failed = listed(tally.failed);
    const std::string untold = listed(tally.untold);
    std::string text =
        failed.empty() ? "nothing fails" : fmt::format("{} {}", failed, sum(tally.failed) == 1 ? "fails" : "fail");
    if (!untold.empty()) text += fmt::format(", {} cannot be told", untold);
    return text;
}

std::string wrapped(std::string_view label, std::string_view text, std::size_t indent, std::size_t width) {
    std::string out(indent, ' ');
    out += label;
    const std::size_t hang = indent + label.size();
    std::size_t column = hang;
    std::size_t at = 0;
    while (at < text.size()) {
        const std::size_t end = std::min(text.find(' ', at), text.size());
        const std::size_t word = end - at;
        if (column > hang && column + word > width) {
            out += '\n';
            out.append(hang, ' ');
            column = hang;
        } else if (column > hang) {
            out += ' ';
            ++column;
        }
        out += text.substr(at, word);
        column += word;
        at = end + 1;
    }
    out += '\n';
    return out;
}

} // namespace trivet
