#include "cli/part_search.h"
#include "units/parse.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cctype>
#include <sstream>

namespace trivet {

namespace {

// A unit as people type it on a keyboard.
struct TypedUnit {
    std::string_view typed; // lower case
    std::string_view unit;
    Dimension dimension;
};

constexpr std::array typed_units{
    TypedUnit{"v", "V", dim::voltage},           TypedUnit{"mv", "mV", dim::voltage},
    TypedUnit{"volt", "V", dim::voltage},        TypedUnit{"vdc", "V", dim::voltage},
    TypedUnit{"a", "A", dim::current},           TypedUnit{"ma", "mA", dim::current},
    TypedUnit{"amp", "A", dim::current},         TypedUnit{"w", "W", dim::power},
    TypedUnit{"watt", "W", dim::power},          TypedUnit{"ohm", "ohm", dim::resistance},
    TypedUnit{"\u03a9", "ohm", dim::resistance}, TypedUnit{"r", "ohm", dim::resistance},
    TypedUnit{"k", "kohm", dim::resistance},     TypedUnit{"kohm", "kohm", dim::resistance},
    TypedUnit{"mohm", "mohm", dim::resistance},  TypedUnit{"mm2", "mm2", dim::area},
    TypedUnit{"mm\u00b2", "mm2", dim::area},     TypedUnit{"awg", "AWG", dim::area},
    TypedUnit{"c", "\u00b0C", dim::temperature}, TypedUnit{"\u00b0c", "\u00b0C", dim::temperature},
    TypedUnit{"uf", "uF", dim::capacitance},     TypedUnit{"nf", "nF", dim::capacitance},
};

std::optional<AnyQuantity> quantity_of(std::string_view number, std::string_view unit) {
    if (unit == "M" || unit == "Mohm") unit = "Mohm"; // the one unit that its case decides
    const std::string small = lower_case(unit);
    const auto known = std::ranges::find(typed_units, small, &TypedUnit::typed);
    const bool mega = unit == "Mohm";
    if (!mega && known == typed_units.end()) return std::nullopt;
    const auto read = parse_quantity(fmt::format("{} {}", number, mega ? unit : known->unit),
                                     mega ? dim::resistance : known->dimension);
    if (!read || read->si <= 0.0) return std::nullopt;
    return *read;
}

// "24 V" may come as one argument or as two.
std::vector<std::string> split_at_spaces(const std::vector<std::string>& arguments) {
    std::vector<std::string> words;
    for (const std::string& argument : arguments) {
        std::istringstream text(argument);
        for (std::string word; text >> word;) words.push_back(word);
    }
    return words;
}

std::size_t digits_at_start(std::string_view word) {
    const std::size_t end = word.find_first_not_of("0123456789.");
    return end == std::string_view::npos ? word.size() : end;
}

} // namespace

std::string lower_case(std::string_view text) {
    std::string out(text);
    for (char& c : out) c = static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
    return out;
}

PartQuery read_query(const std::vector<std::string>& arguments) {
    const std::vector<std::string> words = split_at_spaces(arguments);
    PartQuery query;
    for (std::size_t i = 0; i < words.size(); ++i) {
        const std::string& word = words[i];
        const std::size_t digits = digits_at_start(word);
        const std::string_view number = std::string_view(word).substr(0, digits);
        std::optional<AnyQuantity> found;
        if (digits > 0 && digits < word.size()) {
            found = quantity_of(number, std::string_view(word).substr(digits));
        } else if (digits > 0 && i + 1 < words.size()) {
            found = quantity_of(number, words[i + 1]);
            if (found) ++i;
        }
        if (found) {
            query.asked.push_back(*found);
        } else {
            query.words.push_back(lower_case(word));
        }
    }
    if (query.asked.empty()) return query;
    query.alternating = std::ranges::find(query.words, "ac") != query.words.end();
    std::erase_if(query.words, [](const std::string& word) { return word == "ac" || word == "dc"; });
    return query;
}

} // namespace trivet
