#pragma once

#include "catalog/bounds.h"
#include "catalog/part.h"
#include "source/toml_reader.h"
#include "units/format.h"

#include <array>
#include <span>
#include <string>
#include <string_view>
#include <type_traits>
#include <vector>

namespace trivet {

// Why an element's keys are gone through. The same list of keys per kind of element serves all four.
enum class Purpose : std::uint8_t {
    define,  // a part file: everything is read, what is required must be there
    restate, // a design: only numbers, words and flags that the table states are replaced; the wiring inside is fixed
    list,    // nothing is read: which keys of the table does this kind of element know?
    show,    // nothing is read: what does the element hold, under which key?
};

// One value of an element as people read it.
struct ShownValue {
    std::string_view key;
    std::string text;
    std::optional<Basis> basis; // nothing for words, names and terminals
};

std::string to_text(const CurrentAtVoltage& rating); // "10.0 A at 30.0 V DC"

// Gives the keys of one table to the members of one element.
class PropertySource {
public:
    PropertySource(TableReader& reader, const Part& part, Basis basis, Purpose purpose)
        : reader_(&reader)
        , part_(&part)
        , basis_(basis)
        , purpose_(purpose) {}

    // For Purpose::show alone: no table is read.
    explicit PropertySource(const Part& part)
        : part_(&part)
        , purpose_(Purpose::show) {}

    template <Dimension D> void range(std::string_view key, Perhaps<D>& into, Bounds bounds = Bounds::not_negative) {
        if (shows()) return show_range(key, into);
        const auto stated = read_range(key, D, bounds);
        if (stated) into = Given<D>{{{stated->value.lo}, {stated->value.hi}}, stated->place, basis_of(key)};
    }

    // A word of a closed set; `required` only when a part is defined.
    template <class Enum, std::size_t N>
    requires std::is_enum_v<Enum>
    void word(std::string_view key, Enum& into, const std::array<std::string_view, N>& words, bool required = false) {
        if (shows()) return show(key, words[static_cast<std::size_t>(into)]);
        if (const auto index = read_word(key, words, required)) into = static_cast<Enum>(*index);
    }
    void word(std::string_view key, std::string& into, std::span<const std::string_view> words, bool required = false);
    void choice(std::string_view key, bool& into, const std::array<std::string_view, 2>& false_true, bool required);

    void flag(std::string_view key, PerhapsFlag& into);
    void flag(std::string_view key, bool& into);
    // A number, or a table of two of which one is kept: endurance = { electrical = 1e5, mechanical = 1e7 }.
    void count(std::string_view key, std::string_view used_key, std::string_view ignored_key,
               Perhaps<dim::number>& into);
    void ratings(std::string_view key, std::vector<ContactRating>& into);

    // The wiring inside a part: read only when it is defined.
    void between(std::string_view key, Between& into);
    void terminal(std::string_view key, TerminalIndex& into);
    void optional_terminal(std::string_view key, TerminalIndex& into); // unset_terminal when absent
    void hand(std::string_view key, bool& by_hand);
    void name(std::string_view key, std::string& into);
    void words(std::string_view key, std::vector<std::string>& into, std::span<const std::string_view> allowed);

    // For a table that stands for several pins: `terminal` is then given by its list `terminals`.
    void many_terminals(bool many) { many_terminals_ = many; }

    // Keys of the element whose values are only typical, although its others are known better: typical =
    // ["resistance"].
    void typical_keys(std::vector<Stated<std::string_view>> keys) { typical_ = std::move(keys); }
    void check_typical_keys(); // when all was read: each names a key of the element that is there

    Purpose purpose() const { return purpose_; }
    TableReader& reader() { return *reader_; }                      // none for Purpose::show
    std::vector<std::string_view>& listed() { return listed_; }     // after Purpose::list: known keys that are present
    const std::vector<ShownValue>& shown() const { return shown_; } // after Purpose::show: what is stated

private:
    bool take(std::string_view key); // true when the key is to be read
    Basis basis_of(std::string_view key) const;
    bool shows() const { return purpose_ == Purpose::show; }
    void show(std::string_view key, std::string_view text, std::optional<Basis> basis = std::nullopt);
    std::string_view terminal_name(TerminalIndex index) const;
    template <Dimension D> void show_range(std::string_view key, const Perhaps<D>& stated) {
        if (stated) show(key, to_text(stated->range), stated->basis);
    }
    std::optional<Stated<AnyRange>> read_range(std::string_view key, Dimension dimension, Bounds bounds);
    std::optional<std::size_t> read_word(std::string_view key, std::span<const std::string_view> words, bool required);
    std::optional<TerminalIndex> find_terminal(Stated<std::string_view> name);
    void rating(const Stated<std::string_view>& text, LoadCategory category, std::vector<ContactRating>& into);

    TableReader* reader_ = nullptr;
    const Part* part_;
    Basis basis_{};
    Purpose purpose_;
    bool many_terminals_ = false;
    std::vector<std::string_view> listed_;
    std::vector<ShownValue> shown_;
    std::vector<Stated<std::string_view>> typical_;
};

// The names of a part's terminals, for "did you mean".
std::vector<std::string_view> terminal_names(const Part& part);

} // namespace trivet
