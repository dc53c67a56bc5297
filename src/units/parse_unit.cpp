#include "units/parse_unit.h"

#include "units/problems.h"

namespace trivet {

namespace {

constexpr int most_atoms = 8; // keeps the exponents far from overflow
constexpr int highest_exponent = 9;
constexpr int deepest_brackets = 3;

// Bytes of the letter at the scanner that can be part of a unit symbol, normalised to one spelling of micro and ohm.
struct SymbolLetter {
    std::size_t bytes = 0; // 0: none here
    std::string_view spelling;
};

SymbolLetter symbol_letter(const Scanner& scanner) {
    const char c = scanner.peek();
    if (is_letter(c) || c == '%') return {1, scanner.text().substr(scanner.position(), 1)};
    if (static_cast<unsigned char>(c) < 0x80) return {};
    if (scanner.sees("\u00b0")) return {2, "\u00b0"};
    if (scanner.sees("\u00b5") || scanner.sees("\u03bc")) return {2, "\u00b5"};
    if (scanner.sees("\u03a9")) return {2, "\u03a9"};
    if (scanner.sees("\u2126")) return {3, "\u03a9"};
    if (scanner.sees("\u2103")) return {3, "\u2103"};
    if (scanner.sees("\u2109")) return {3, "\u2109"};
    return {};
}

bool starts_factor(const Scanner& scanner) { return scanner.peek() == '(' || symbol_letter(scanner).bytes != 0; }

// "+5 K/-3 K": a stroke before a sign belongs to the tolerance, not to the unit.
bool sees_stroke(Scanner scanner) {
    if (!scanner.take('/')) return false;
    scanner.skip_spaces();
    return scanner.peek() != '+' && scanner.peek() != '-' && !scanner.sees("\u2212");
}

bool starts_unit(const Scanner& scanner) {
    return starts_factor(scanner) || sees_stroke(scanner) || scanner.sees("1/");
}

Unit power(const Unit& unit, int exponent) {
    if (exponent == 1) return unit;
    Unit result;
    for (int i = 0; i < (exponent < 0 ? -exponent : exponent); ++i) {
        result.multiply *= exponent < 0 ? unit.divide : unit.multiply;
        result.divide *= exponent < 0 ? unit.multiply : unit.divide;
        result.dimension = exponent < 0 ? result.dimension / unit.dimension : result.dimension * unit.dimension;
    }
    return result;
}

Unit product(const Unit& a, const Unit& b) {
    return {a.multiply * b.multiply, a.divide * b.divide, a.dimension * b.dimension, 0.0, false};
}

class UnitReader {
public:
    UnitReader(Scanner& scanner, Dimension expected, UnitReading& reading)
        : scanner_(scanner)
        , expected_(expected)
        , reading_(reading) {}

    std::optional<QuantityProblem> read() {
        const std::size_t begin = scanner_.position();
        if (!read_expression(reading_.unit, 0)) return std::move(problem_);
        if (has_gauge_ && !reading_.unit.gauge) {
            return QuantityProblem{begin, "AWG is a wire size and cannot be combined with other units",
                                   "write \"18 AWG\""};
        }
        return std::nullopt;
    }

private:
    bool refuse(QuantityProblem problem) {
        problem_ = std::move(problem);
        return false;
    }

    bool read_expression(Unit& total, int depth) {
        bool divided = scanner_.take("1/") || scanner_.take('/');
        bool divide = divided;
        if (divided) scanner_.skip_spaces();
        for (bool first = !divided;; first = false) {
            const std::size_t begin = scanner_.position();
            Unit factor;
            if (!read_factor(factor, depth)) return false;
            total = first ? factor : product(total, divide ? power(factor, -1) : factor);
            if (divided && !divide) {
                return refuse({begin, "it is not clear whether what follows the stroke is one unit or two",
                               "use brackets, such as \"J/(kg K)\" or \"W/(m K)\""});
            }
            const std::size_t end = scanner_.position();
            scanner_.skip_spaces();
            divide = takes_stroke();
            divided = divided || divide;
            if (divide || takes_product_sign()) {
                scanner_.skip_spaces();
            } else if (!starts_factor(scanner_)) {
                scanner_.move_to(end);
                return true;
            }
        }
    }

    bool takes_stroke() { return sees_stroke(scanner_) && scanner_.take('/'); }

    bool takes_product_sign() { return scanner_.take('*') || scanner_.take("\u00b7") || scanner_.take("\u22c5"); }

    bool read_factor(Unit& factor, int depth) {
        const std::size_t begin = scanner_.position();
        if (scanner_.take('(')) {
            if (depth >= deepest_brackets) return refuse({begin, "too many brackets in a unit", {}});
            scanner_.skip_spaces();
            if (!read_expression(factor, depth + 1)) return false;
            scanner_.skip_spaces();
            return scanner_.take(')') || refuse({begin, "the bracket is not closed", "add ')'"});
        }
        SymbolKey key = 0;
        std::size_t bytes = 0;
        for (SymbolLetter letter = symbol_letter(scanner_); letter.bytes != 0; letter = symbol_letter(scanner_)) {
            key = (key << (8U * letter.spelling.size())) | symbol_key(letter.spelling);
            bytes += letter.spelling.size();
            scanner_.advance(letter.bytes);
        }
        const Unit* unit = bytes != 0 && bytes <= longest_symbol ? find_unit(key) : nullptr;
        if (unit == nullptr) return refuse(unknown_unit(scanner_.text(), begin, scanner_.position(), expected_));
        if (++atoms_ > most_atoms) return refuse({begin, "this unit has too many factors", {}});
        if (key == 'C' || key == 'F') reading_.lone_letter = static_cast<char>(key);
        has_gauge_ = has_gauge_ || unit->gauge;
        int exponent = 1;
        if (!read_exponent(exponent)) return false;
        factor = power(*unit, exponent);
        return true;
    }

    bool read_exponent(int& exponent) {
        const std::size_t begin = scanner_.position();
        const bool caret = scanner_.take('^');
        const bool raised_minus = !caret && scanner_.take("\u207b");
        const bool negative = raised_minus || (caret && scanner_.take_minus());
        int digit = -1;
        if (is_digit(scanner_.peek()) && !raised_minus) {
            digit = scanner_.peek() - '0';
            scanner_.advance();
        } else if (static_cast<unsigned char>(scanner_.peek()) >= 0x80) {
            digit = raised_digit();
        }
        if (digit < 0 && (caret || negative)) return refuse({begin, "a number is missing after '^'", "write \"mm^2\""});
        if (digit == 0 || digit > highest_exponent || is_digit(scanner_.peek())) {
            return refuse({begin, "this exponent is not possible in a unit", {}});
        }
        if (digit > 0) exponent = negative ? -digit : digit;
        return true;
    }

    int raised_digit() {
        constexpr std::string_view raised[] = {"\u00b9", "\u00b2", "\u00b3", "\u2074", "\u2075", "\u2076"};
        int value = 0;
        for (const std::string_view digit : raised) {
            ++value;
            if (scanner_.take(digit)) return value;
        }
        return -1;
    }

    Scanner& scanner_;
    Dimension expected_;
    UnitReading& reading_;
    std::optional<QuantityProblem> problem_;
    int atoms_ = 0;
    bool has_gauge_ = false;
};

} // namespace

std::optional<QuantityProblem> read_unit(Scanner& scanner, Dimension expected, UnitReading& reading) {
    reading = {};
    if (!starts_unit(scanner)) return std::nullopt;
    reading.present = true;
    return UnitReader(scanner, expected, reading).read();
}

} // namespace trivet
