#include "design/colour.h"

#include "source/suggest.h"

#include <fmt/format.h>

#include <algorithm>
#include <vector>

namespace trivet {
namespace {

constexpr std::string_view earth_colours = "GNYE"; // the one combination that does not follow the order of the table

std::size_t index_of(std::string_view letters) {
    const auto found = std::ranges::find(colour_names, letters, &ColourName::letters);
    return static_cast<std::size_t>(found - colour_names.begin());
}

bool is_swapped_pair(std::string_view letters) {
    return letters.size() == 4 && is_colour(fmt::format("{}{}", letters.substr(2), letters.substr(0, 2)));
}

std::string lower(std::string_view text) {
    std::string result(text);
    for (char& c : result) {
        if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
    }
    return result;
}

} // namespace

bool is_colour(std::string_view letters) {
    if (letters.size() == 2) return index_of(letters) < colour_names.size();
    if (letters == earth_colours) return true;
    if (letters.size() != 4 || letters == "YEGN") return false;
    const std::size_t first = index_of(letters.substr(0, 2));
    const std::size_t second = index_of(letters.substr(2));
    return first < second && second < colour_names.size();
}

std::string colour_hint(std::string_view text) {
    if (is_swapped_pair(text))
        return fmt::format("write '{}{}', the order of IEC 60757", text.substr(2), text.substr(0, 2));
    const std::string name = lower(text);
    const auto named = std::ranges::find(colour_names, name, &ColourName::name);
    if (named != colour_names.end()) return fmt::format("write '{}' for {}", named->letters, named->name);
    std::vector<std::string_view> letters;
    for (const ColourName& colour : colour_names) letters.push_back(colour.letters);
    letters.push_back(earth_colours);
    if (const std::string_view near = nearest(text, letters); !near.empty()) return did_you_mean(text, letters);
    return fmt::format("IEC 60757 letters are {}", fmt::join(letters, " "));
}

} // namespace trivet
