#include "design/colour.h"
#include "design/wire_statement.h"
#include "units/parse.h"

#include <fmt/format.h>

#include <algorithm>

namespace trivet {
namespace {

constexpr std::string_view shape =
    "write \"FROM -> TO : words\", for example \"supply.+ -> fuse.in : 1.0mm2 pvc 25 cm RD\"";

bool is_space(char c) { return c == ' ' || c == '\t'; }

bool begins_number(std::string_view word) { return word[0] >= '0' && word[0] <= '9'; }

// Digits, dots and signs only: the unit is the next word.
bool lacks_unit(std::string_view word) { return word.find_first_not_of("0123456789.+-") == std::string_view::npos; }

bool is_area_unit(std::string_view quantity) {
    return quantity.ends_with("2") || quantity.ends_with("²") || quantity.ends_with("AWG") || quantity.ends_with("awg");
}

// Goes through the words of one line; offsets count bytes of the line.
class LineReader {
public:
    LineReader(Reading& reading, const Stated<std::string_view>& line)
        : reading_(reading)
        , line_(line) {
        statement_.place = line.place;
    }

    std::optional<WireStatement> read() {
        const std::string_view text = line_.value;
        const std::size_t arrow = text.find("->");
        if (arrow == std::string_view::npos) {
            reading_.error(ErrorKind::missing_key, line_.place, "this wire has no '->' between its two ends",
                           std::string(shape));
            return std::nullopt;
        }
        const std::size_t colon = std::min(text.find(':', arrow), text.size());
        const auto from = one_word(0, arrow);
        const auto to = one_word(arrow + 2, colon);
        if (!from || !to) return std::nullopt;
        statement_.from = from;
        statement_.to = to;
        at_ = std::min(colon + 1, text.size());
        for (std::string_view word = next_word(); !word.empty(); word = next_word()) read_word(word);
        return statement_;
    }

private:
    std::size_t offset_of(std::string_view part) const {
        return static_cast<std::size_t>(part.data() - line_.value.data());
    }
    Place place_of(std::string_view part) const { return place_within(line_.place, line_.value, offset_of(part)); }
    Stated<std::string_view> stated(std::string_view part) const { return {part, place_of(part)}; }

    std::optional<Stated<std::string_view>> one_word(std::size_t begin, std::size_t end) {
        while (begin < end && is_space(line_.value[begin])) ++begin;
        while (end > begin && is_space(line_.value[end - 1])) --end;
        const std::string_view found = line_.value.substr(begin, end - begin);
        const std::size_t gap = found.find_first_of(" \t");
        if (found.empty()) {
            reading_.error(ErrorKind::missing_key, place_of(found), "one end of this wire is missing",
                           std::string(shape));
        } else if (gap != std::string_view::npos) {
            reading_.error(ErrorKind::bad_quantity, place_of(found.substr(gap + 1)),
                           fmt::format("'{}' is more than one terminal", found),
                           "put ':' between the terminal and the words about the wire");
        } else {
            return stated(found);
        }
        return std::nullopt;
    }

    std::string_view next_word() {
        const std::string_view text = line_.value;
        while (at_ < text.size() && is_space(text[at_])) ++at_;
        const std::size_t begin = at_;
        while (at_ < text.size() && !is_space(text[at_])) ++at_;
        return text.substr(begin, at_ - begin);
    }

    void read_word(std::string_view word) {
        if (word.find('=') != std::string_view::npos) return setting(word);
        if (begins_number(word)) return quantity(word);
        const auto insulation = std::ranges::find(insulation_names, word);
        if (insulation != insulation_names.end()) {
            const auto index = static_cast<std::size_t>(insulation - insulation_names.begin());
            return once(statement_.insulation, Stated<std::size_t>{index, place_of(word)}, word, "insulation");
        }
        if (is_colour(word)) return once(statement_.colour, stated(word), word, "colour");
        if (reading_.catalog.knows(word)) return once(statement_.use, stated(word), word, "wire part");
        reading_.error(ErrorKind::unknown_name, place_of(word),
                       fmt::format("'{}' is no insulation, colour or wire part", word), word_hint(word));
    }

    std::string word_hint(std::string_view word) {
        std::vector<std::string_view> known(insulation_names.begin(), insulation_names.end());
        for (const ColourName& colour : colour_names) known.push_back(colour.letters);
        if (word.size() == 4 || std::ranges::find(colour_names, word, &ColourName::name) != colour_names.end()) {
            return colour_hint(word);
        }
        if (word.find('-') != std::string_view::npos) return reading_.library_hint(word, "wire-");
        return reading_.hint(word, known);
    }

    void setting(std::string_view word) {
        constexpr std::array<std::string_view, 4> keys{"bundle", "ends", "beside", "name"};
        const std::size_t sign = word.find('=');
        const std::string_view key = word.substr(0, sign);
        const std::string_view value = word.substr(sign + 1);
        if (key == "bundle") return once(statement_.bundle, stated(value), word, "bundle");
        if (key == "ends") return once(statement_.ends, stated(value), word, "pair of ends");
        if (key == "beside") return once(statement_.beside, stated(value), word, "neighbour");
        if (key == "name") return once(statement_.name, stated(value), word, "name");
        reading_.error(ErrorKind::unknown_key, place_of(word), fmt::format("'{}=' is not known in a wire", key),
                       reading_.hint(key, keys));
    }

    void quantity(std::string_view word) {
        std::string_view whole = word;
        if (lacks_unit(word)) {
            const std::string_view unit = next_word();
            if (!unit.empty())
                whole = line_.value.substr(offset_of(word), offset_of(unit) + unit.size() - offset_of(word));
        }
        if (is_area_unit(whole)) return measure<dim::area>(whole, statement_.area, "area");
        measure<dim::length>(whole, statement_.length, "length");
    }

    template <Dimension D>
    void measure(std::string_view whole, std::optional<Stated<Range<D>>>& into, std::string_view what) {
        const auto parsed = parse_range(whole, D);
        if (!parsed) {
            const Place place = place_within(line_.place, line_.value, offset_of(whole) + parsed.error().offset);
            reading_.error(ErrorKind::bad_quantity, place, parsed.error().message, parsed.error().hint);
        } else if (parsed->lo <= 0.0) {
            reading_.error(ErrorKind::out_of_range, place_of(whole),
                           fmt::format("the {} '{}' is not more than zero", what, whole),
                           "check the number and its unit");
        } else {
            once(into, Stated<Range<D>>{{{parsed->lo}, {parsed->hi}}, place_of(whole)}, whole, what);
        }
    }

    template <class T> void once(std::optional<T>& into, const T& value, std::string_view word, std::string_view what) {
        if (into) {
            reading_.error(ErrorKind::ambiguous, place_of(word), fmt::format("this wire already has its {}", what),
                           fmt::format("take '{}' or the other one out", word));
        } else {
            into = value;
        }
    }

    Reading& reading_;
    Stated<std::string_view> line_;
    WireStatement statement_;
    std::size_t at_ = 0;
};

} // namespace

std::optional<WireStatement> read_wire_line(Reading& reading, const Stated<std::string_view>& line) {
    return LineReader(reading, line).read();
}

} // namespace trivet
