#include "catalog/property_source.h"

#include "source/suggest.h"
#include "units/parse.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>

namespace trivet {
namespace {

constexpr std::array<std::string_view, load_category_names.size()> rating_keys{
    "resistive", "electronics", "motor", "inductive", "lamp", "capacitive"};

std::string_view yes_or_no(bool flag) { return flag ? "yes" : "no"; }

} // namespace

std::vector<std::string_view> terminal_names(const Part& part) {
    std::vector<std::string_view> names;
    names.reserve(part.terminals.size());
    for (const TerminalSpec& terminal : part.terminals) names.push_back(terminal.name);
    return names;
}

std::string to_text(const CurrentAtVoltage& rating) {
    return fmt::format("{} at {} {}", to_text(rating.current), to_text(rating.voltage),
                       rating.alternating ? "AC" : "DC");
}

bool PropertySource::take(std::string_view key) {
    if (purpose_ == Purpose::list) {
        if (reader_->has(key)) listed_.push_back(key);
        return false;
    }
    return true;
}

Basis PropertySource::basis_of(std::string_view key) const {
    const bool only_typical = std::ranges::find(typical_, key, &Stated<std::string_view>::value) != typical_.end();
    return only_typical ? Basis::typical : basis_;
}

void PropertySource::check_typical_keys() {
    for (const auto& key : typical_) {
        if (reader_->has(key.value)) continue;
        std::vector<std::string_view> present;
        for (const Node* child : reader_->children()) present.push_back(child->key);
        reader_->error(ErrorKind::unknown_name, key.place,
                       fmt::format("'{}' is said to be typical, but it is not stated here", key.value),
                       did_you_mean(key.value, present));
    }
}

void PropertySource::show(std::string_view key, std::string_view text, std::optional<Basis> basis) {
    if (!text.empty() && text != "unstated") shown_.push_back({key, std::string(text), basis});
}

std::string_view PropertySource::terminal_name(TerminalIndex index) const {
    return index.value < part_->terminals.size() ? std::string_view(part_->terminals[index.value].name)
                                                 : std::string_view();
}

std::optional<Stated<AnyRange>> PropertySource::read_range(std::string_view key, Dimension dimension, Bounds bounds) {
    if (!take(key)) return std::nullopt;
    const auto stated = reader_->range(key, dimension);
    if (!stated || !within(*reader_, key, *stated, bounds)) return std::nullopt;
    return stated;
}

std::optional<std::size_t> PropertySource::read_word(std::string_view key, std::span<const std::string_view> words,
                                                     bool required) {
    if (!take(key)) return std::nullopt;
    const bool must = required && purpose_ == Purpose::define;
    const auto stated = must ? reader_->required_word(key, words) : reader_->word(key, words);
    if (!stated) return std::nullopt;
    return stated->value;
}

void PropertySource::word(std::string_view key, std::string& into, std::span<const std::string_view> words,
                          bool required) {
    if (shows()) return show(key, into);
    if (const auto index = read_word(key, words, required)) into = words[*index];
}

void PropertySource::choice(std::string_view key, bool& into, const std::array<std::string_view, 2>& false_true,
                            bool required) {
    if (shows()) return show(key, false_true.at(into ? 1 : 0));
    if (const auto index = read_word(key, false_true, required)) into = *index == 1;
}

void PropertySource::flag(std::string_view key, PerhapsFlag& into) {
    if (shows()) {
        if (into) show(key, yes_or_no(into->value), into->basis);
        return;
    }
    if (!take(key)) return;
    if (const auto stated = reader_->flag(key)) into = GivenFlag{stated->value, stated->place, basis_of(key)};
}

void PropertySource::flag(std::string_view key, bool& into) {
    if (shows()) return show(key, yes_or_no(into));
    if (!take(key)) return;
    if (const auto stated = reader_->flag(key)) into = stated->value;
}

void PropertySource::count(std::string_view key, std::string_view used_key, std::string_view ignored_key,
                           Perhaps<dim::number>& into) {
    if (shows()) return show_range(key, into);
    if (!take(key)) return;
    const auto keep = [&](TableReader& reader, std::string_view name) {
        const auto stated = reader.range(name, dim::number);
        if (!stated || !within(reader, name, *stated, Bounds::positive)) return;
        into = Given<dim::number>{{{stated->value.lo}, {stated->value.hi}}, stated->place, basis_of(key)};
    };
    if (reader_->kind_of(key) != NodeKind::table) return keep(*reader_, key);
    auto table = reader_->table(key);
    if (!table) return;
    keep(*table, used_key);
    table->range(ignored_key, dim::number);
    table->finish();
}

void PropertySource::rating(const Stated<std::string_view>& text, LoadCategory category,
                            std::vector<ContactRating>& into) {
    const auto parsed = parse_rating(text.value);
    if (parsed && parsed->current.si > 0.0 && parsed->voltage.si > 0.0) {
        into.push_back({category, *parsed, text.place, basis_of("rated")});
    } else if (parsed) {
        reader_->error(ErrorKind::out_of_range, text.place,
                       fmt::format("the rating '{}' is not more than zero", text.value),
                       "write for example \"10 A at 30 V\"");
    } else {
        reader_->error(ErrorKind::bad_quantity, text.place, parsed.error().message, parsed.error().hint);
    }
}

void PropertySource::ratings(std::string_view key, std::vector<ContactRating>& into) {
    if (shows()) {
        for (const ContactRating& stated : into)
            show(rating_keys.at(static_cast<std::size_t>(stated.category)), to_text(stated.rating), stated.basis);
        return;
    }
    if (!take(key) || !reader_->has(key)) return;
    auto table = reader_->table(key);
    if (!table) return;
    into.clear();
    for (std::size_t i = 0; i < rating_keys.size(); ++i) {
        for (const auto& text : table->texts(rating_keys.at(i))) rating(text, static_cast<LoadCategory>(i), into);
    }
    table->finish();
}

std::optional<TerminalIndex> PropertySource::find_terminal(Stated<std::string_view> name) {
    const int index = part_->terminal(name.value);
    if (index >= 0) return TerminalIndex{static_cast<std::uint16_t>(index)};
    reader_->error(ErrorKind::unknown_name, name.place,
                   fmt::format("the part '{}' has no terminal '{}'", part_->name, name.value),
                   did_you_mean(name.value, terminal_names(*part_)));
    return std::nullopt;
}

void PropertySource::between(std::string_view key, Between& into) {
    if (shows()) return show(key, fmt::format("{} and {}", terminal_name(into.first), terminal_name(into.second)));
    if (purpose_ != Purpose::define) return;
    if (!reader_->has(key)) {
        reader_->error(ErrorKind::missing_key, reader_->place(), fmt::format("the key '{}' is missing here", key),
                       fmt::format("add {} = [\"+\", \"-\"] with the two terminals", key));
        return;
    }
    const std::size_t errors_before = reader_->errors().size();
    const auto ends = reader_->texts(key);
    if (reader_->errors().size() != errors_before) return;
    const Place place = reader_->place_of(key).value_or(reader_->place());
    if (ends.size() != 2) {
        reader_->error(ErrorKind::wrong_type, place,
                       fmt::format("'{}' names {} terminals, but an element has two ends", key, ends.size()),
                       fmt::format("write for example {} = [\"+\", \"-\"]", key));
        return;
    }
    const auto first = find_terminal(ends[0]);
    const auto second = find_terminal(ends[1]);
    if (first && second && *first == *second) {
        reader_->error(ErrorKind::wire_to_itself, place,
                       fmt::format("'{}' names the terminal '{}' twice", key, ends[0].value),
                       "an element lies between two different terminals");
    } else if (first && second) {
        into = {*first, *second};
    }
}

void PropertySource::terminal(std::string_view key, TerminalIndex& into) {
    if (shows()) return show(key, terminal_name(into));
    if (purpose_ != Purpose::define) return;
    if (many_terminals_ && key == "terminal") return;
    const auto name = reader_->required_text(key);
    if (!name) return;
    if (const auto index = find_terminal(*name)) into = *index;
}

void PropertySource::optional_terminal(std::string_view key, TerminalIndex& into) {
    if (shows()) return show(key, terminal_name(into));
    if (purpose_ != Purpose::define) return;
    into = unset_terminal;
    const auto name = reader_->text(key);
    if (!name) return;
    if (const auto index = find_terminal(*name)) into = *index;
}

void PropertySource::hand(std::string_view key, bool& by_hand) {
    constexpr std::array<std::string_view, 1> words{"hand"};
    if (shows()) return show(key, by_hand ? words.front() : std::string_view());
    if (purpose_ != Purpose::define) return;
    reader_->word(key, words);
    by_hand = reader_->has(key);
}

void PropertySource::name(std::string_view key, std::string& into) {
    if (shows()) return show(key, into);
    if (purpose_ != Purpose::define) return;
    if (const auto text = reader_->text(key)) into = text->value;
}

void PropertySource::words(std::string_view key, std::vector<std::string>& into,
                           std::span<const std::string_view> allowed) {
    if (shows()) return show(key, fmt::format("{}", fmt::join(into, ", ")));
    if (purpose_ != Purpose::define) return;
    for (const auto& text : reader_->texts(key)) {
        if (std::ranges::find(allowed, text.value) != allowed.end()) {
            into.emplace_back(text.value);
        } else {
            reader_->error(ErrorKind::unknown_name, text.place,
                           fmt::format("'{}' is not a word that '{}' knows", text.value, key),
                           did_you_mean(text.value, allowed));
        }
    }
}

} // namespace trivet
