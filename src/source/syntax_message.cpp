#include "source/syntax_message.h"

#include "source/key_path.h"
#include "source/utf8.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>

namespace trivet {
namespace {

bool is_digit(char c) { return c >= '0' && c <= '9'; }
bool is_letter(char c) { return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z'); }

std::string_view trimmed(std::string_view text) {
    const std::size_t first = text.find_first_not_of(" \t\r");
    if (first == std::string_view::npos) return {};
    return text.substr(first, text.find_last_not_of(" \t\r") - first + 1);
}

std::string quoted(std::string_view text) { return fmt::format("\"{}\"", shown(text)); }

std::string_view body_of(const SourceFile& file, const Statement& s) {
    const std::string_view body = file.text.substr(s.begin, s.end - s.begin);
    return trimmed(body.substr(0, body.find('\n')));
}

// The value around `offset` as the user meant it: inside a list or { } up to the commas, otherwise the rest of the
// line.
struct Value {
    std::string_view text;
    std::size_t at = 0;
    bool nested = false;
};
Value value_around(const SourceFile& file, const Statement& s, std::size_t offset) {
    std::size_t begin = s.equals == Statement::nowhere ? s.begin : s.equals + 1;
    char quote = 0;
    int depth = 0;
    for (std::size_t i = begin; i < std::min(offset, s.end); ++i) {
        const char c = file.text[i];
        if (quote != 0) {
            if (c == quote) quote = 0;
        } else if (c == '"' || c == '\'') {
            quote = c;
        } else if (c == '[' || c == '{') {
            ++depth;
            begin = i + 1;
        } else if (c == ']' || c == '}') {
            --depth;
        } else if (depth > 0 && (c == ',' || c == '=' || c == '\n')) {
            begin = i + 1;
        }
    }
    const std::string_view rest = file.text.substr(begin, s.end - begin);
    const std::string_view text = trimmed(rest.substr(0, rest.find_first_of(depth > 0 ? ",]}#\n" : "#\n")));
    return {text, text.empty() ? begin : static_cast<std::size_t>(text.data() - file.text.data()), depth > 0};
}

std::string without_quotes(std::string_view text) {
    constexpr std::array<std::string_view, 8> marks{"\"", "'", "“", "”", "„", "‘", "’", "‟"};
    std::string result(text);
    for (const std::string_view mark : marks) {
        for (std::size_t at = result.find(mark); at != std::string::npos; at = result.find(mark)) {
            result.erase(at, mark.size());
        }
    }
    return result;
}

bool is_invisible(std::uint32_t c) {
    return c == 0xA0 || (c >= 0x2000 && c <= 0x200F) || c == 0x2028 || c == 0x2029 || c == 0x202F || c == 0x205F ||
           c == 0x2060 || c == 0x3000 || c == 0xFEFF || c == 0xAD;
}

InputError symbol_outside_text(const SourceFile& file, const Statement& s) {
    const CodePoint symbol = code_point_at(file.text, s.problem_at);
    InputError error{ErrorKind::unit_outside_text, place_at(file, s.problem_at), {}, {}};
    if (is_invisible(symbol.value)) {
        error.message = fmt::format("an invisible character (U+{:04X}) stands outside quotes", symbol.value);
        error.hint = "delete it, or write an ordinary space";
        return error;
    }
    error.message = fmt::format("'{}' stands outside quotes", file.text.substr(s.problem_at, symbol.bytes));
    if (s.header || s.equals == Statement::nowhere || s.problem_at < s.equals) {
        error.hint = "a name without quotes has only letters a to z, digits, - and _";
        return error;
    }
    const Value value = value_around(file, s, s.problem_at);
    error.hint = fmt::format("write it in quotes: {}", quoted(without_quotes(value.text)));
    return error;
}

InputError no_equals(const SourceFile& file, const Statement& s) {
    const std::string_view body = body_of(file, s).substr(0, body_of(file, s).find('#'));
    const std::size_t gap = std::min(body.find_first_of(" \t:"), body.size());
    const std::string_view key = body.substr(0, gap);
    const std::string_view rest = trimmed(body.substr(gap));
    const Place place = place_at(file, s.begin);
    if (rest.empty()) {
        return {ErrorKind::syntax, place, fmt::format("'{}' is neither a [header] nor key = value", shown(key)), {}};
    }
    const std::string value = without_quotes(trimmed(rest.substr(rest.front() == ':' ? 1 : 0)));
    return {ErrorKind::syntax, place, fmt::format("there is no '=' between the key '{}' and its value", shown(key)),
            fmt::format("write {} = {}", shown(key), quoted(value))};
}

InputError open_text(const SourceFile& file, const Statement& s) {
    const std::string_view from = file.text.substr(s.problem_at);
    const bool is_long = from.starts_with("\"\"\"") || from.starts_with("'''");
    return {ErrorKind::syntax, place_at(file, s.problem_at), "the text that starts here has no closing quote",
            fmt::format("put {} at its end", from.substr(0, is_long ? 3 : 1))};
}

InputError open_bracket(const SourceFile& file, const Statement& s) {
    const bool is_table = file.text[s.problem_at] == '{';
    return {ErrorKind::syntax,
            place_at(file, s.problem_at),
            fmt::format("the {} that starts here has no closing {}", is_table ? "inline table" : "list",
                        is_table ? '}' : ']'),
            {}};
}

InputError open_header(const SourceFile& file, const Statement& s) {
    const std::string_view body = body_of(file, s);
    const std::size_t begin = std::min(body.find_first_not_of('['), body.size());
    const std::string_view name = trimmed(body.substr(begin, body.find_first_of("]#", begin) - begin));
    const bool is_list = body.starts_with("[[");
    return {
        ErrorKind::syntax, place_at(file, s.problem_at), "the header that starts here has no closing bracket",
        fmt::format("write {}{}{}", is_list ? "[[" : "[", name.empty() ? "name" : shown(name), is_list ? "]]" : "]")};
}

InputError line_too_long(const SourceFile& file, const Statement& s, const DocumentLimits& limits) {
    const std::size_t end = std::min(file.text.find('\n', s.problem_at), file.text.size());
    return {ErrorKind::too_large, place_at(file, s.problem_at),
            fmt::format("this line has {} bytes; a line may have {}", end - s.problem_at, limits.line_bytes),
            "break a long list over several lines"};
}

InputError used_twice(const SourceFile& file, const Statement& s, std::size_t offset, const DocumentLimits& limits) {
    if (!s.header && s.equals != Statement::nowhere) { // inside an inline table the library stops at the second value
        const std::size_t equals = file.text.rfind('=', offset > 0 ? offset - 1 : 0);
        if (equals != std::string_view::npos && equals > s.equals) {
            std::size_t begin = equals;
            while (begin > s.equals + 1 &&
                   std::string_view("{,").find(file.text[begin - 1]) == std::string_view::npos) {
                --begin;
            }
            const std::string_view name = trimmed(file.text.substr(begin, equals - begin));
            const auto at = static_cast<std::size_t>(name.data() - file.text.data());
            return {ErrorKind::duplicate_name, place_at(file, at),
                    fmt::format("'{}' stands twice between these braces", shown(name)), "keep one of the two"};
        }
    }
    const auto parts = key_path(file.text, s);
    const std::size_t at = parts.empty() ? s.begin : parts.back().at;
    const std::string_view name = parts.empty() ? std::string_view{} : parts.back().name;
    const auto first = first_definition(file.text, limits, s);
    const std::string where = first ? fmt::format("on line {}", place_at(file, *first).line) : "before";
    return {ErrorKind::duplicate_name, place_at(file, at),
            fmt::format("'{}' is already defined {}", shown(name), where),
            s.header ? "give it another name, or join the two sections" : "keep one of the two"};
}

InputError word_without_quotes(Place place, std::string_view word) {
    constexpr std::array<std::string_view, 4> yes{"true", "yes", "on", "y"};
    constexpr std::array<std::string_view, 4> no{"false", "no", "off", "n"};
    std::string lower(word);
    std::ranges::transform(lower, lower.begin(), [](char c) { return is_letter(c) ? static_cast<char>(c | 0x20) : c; });
    InputError error{ErrorKind::syntax, place, fmt::format("'{}' stands without quotes", shown(word)), {}};
    if (std::ranges::find(yes, lower) != yes.end()) {
        error.hint = "write true";
    } else if (std::ranges::find(no, lower) != no.end()) {
        error.hint = "write false";
    } else {
        error.hint = fmt::format("write {}", quoted(without_quotes(word)));
    }
    return error;
}

// The usual slips in a value; an empty message when it is none of them.
InputError value_slip(const SourceFile& file, const Value& value) {
    const std::string_view text = value.text;
    const Place place = place_at(file, value.at);
    if (text.empty()) return {};
    if (text.front() == '"' || text.front() == '\'') {
        const std::size_t closing = text.find(text.front(), 1);
        if (closing == std::string_view::npos || closing + 1 == text.size() || text[closing + 1] == text.front())
            return {};
        return {ErrorKind::syntax, place,
                fmt::format("something follows the closing quote: {}", shown(trimmed(text.substr(closing + 1)))),
                fmt::format("put all of it in one pair of quotes: {}", quoted(without_quotes(text)))};
    }
    if (is_letter(text.front())) return word_without_quotes(place, text);
    if (!is_digit(text.front()) && std::string_view("+-.").find(text.front()) == std::string_view::npos) return {};
    std::string number(text);
    const std::size_t comma = number.find(',');
    const bool decimal_comma =
        !value.nested && comma != std::string::npos && comma + 1 < number.size() && is_digit(number[comma + 1]);
    if (decimal_comma) number[comma] = '.';
    const bool has_unit =
        number.find_first_not_of("0123456789.+-_:") != std::string::npos || number.find("..") != std::string::npos;
    if (decimal_comma) {
        return {ErrorKind::syntax, place, fmt::format("'{}' has a decimal comma", shown(text)),
                fmt::format("write {}", has_unit ? quoted(number) : number)};
    }
    if (!has_unit || number.starts_with("0x") || number.starts_with("0b") || number.starts_with("0o")) return {};
    return {ErrorKind::unit_outside_text, place, fmt::format("'{}' stands without quotes", shown(text)),
            fmt::format("write it in quotes: {}", quoted(number))};
}

} // namespace

InputError describe_scan_problem(const SourceFile& file, const Statement& s, const DocumentLimits& limits) {
    const Place place = place_at(file, s.problem_at);
    switch (s.problem) {
    case ScanProblem::symbol_outside_text:
        return symbol_outside_text(file, s);
    case ScanProblem::dotted_too_deep:
        return {ErrorKind::too_deep, place, fmt::format("more than {} names are joined by dots", limits.dotted_depth),
                "use fewer levels"};
    case ScanProblem::nested_too_deep:
        return {ErrorKind::too_deep, place, "lists and braces are nested more than 32 deep", "use fewer levels"};
    case ScanProblem::line_too_long:
        return line_too_long(file, s, limits);
    case ScanProblem::lone_return:
        return {ErrorKind::syntax, place, "a carriage return stands without a line feed",
                "save the file with ordinary line ends"};
    case ScanProblem::open_text:
        return open_text(file, s);
    case ScanProblem::open_header:
        return open_header(file, s);
    case ScanProblem::open_list:
        return open_bracket(file, s);
    case ScanProblem::open_inline_table:
        return {ErrorKind::syntax, place, "what stands between { and } must stand on one line",
                "put it on one line, or make it a section with its own [header]"};
    case ScanProblem::no_equals:
        return no_equals(file, s);
    case ScanProblem::none:
        break;
    }
    return {};
}

InputError describe_refusal(const SourceFile& file, const Statement& s, std::size_t offset,
                            std::string_view library_message, const DocumentLimits& limits) {
    const auto says = [&](std::string_view part) { return library_message.find(part) != std::string_view::npos; };
    if (says("cannot redefine") || says("cannot insert")) return used_twice(file, s, offset, limits);
    if (says("unknown escape sequence")) {
        return {ErrorKind::syntax, place_at(file, offset), "a backslash has a special meaning between double quotes",
                "write \\\\ for a backslash, or use single quotes"};
    }
    if (!s.header && s.equals != Statement::nowhere && offset > s.equals) {
        const Value value = value_around(file, s, offset);
        if (value.text.empty() && !value.nested) {
            const auto key = trimmed(file.text.substr(s.begin, s.equals - s.begin));
            return {ErrorKind::syntax, place_at(file, s.equals), fmt::format("'{}' has no value", shown(key)), {}};
        }
        InputError slip = value_slip(file, value);
        if (!slip.message.empty()) return slip;
    }
    const std::size_t colon = library_message.find(": ");
    const std::string_view reason =
        colon == std::string_view::npos ? library_message : library_message.substr(colon + 2);
    return {ErrorKind::syntax,
            place_at(file, std::min(offset, s.end)),
            fmt::format("this is not valid TOML: {}", reason),
            {}};
}

} // namespace trivet
