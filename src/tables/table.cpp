#include "tables/table.h"

#include "units/format.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>

namespace trivet {

namespace {

constexpr double same_within = 1e-9; // far below any printed digit, far above the rounding of unit factors

bool same(double a, double b) { return std::abs(a - b) <= same_within * std::max(std::abs(a), std::abs(b)); }

// A look-up in progress: which columns are settled, and to which row's key.
class LookUp {
public:
    LookUp(const PublishedTable& table, std::span<const TableKey> keys)
        : table_(table)
        , keys_(keys) {
        for (std::size_t i = 0; i < keys.size(); ++i) {
            if (table.keys[i].is_text) order_[columns_++] = i;
        }
        for (std::size_t i = keys.size(); i-- > 0;) {
            if (!table.keys[i].is_text) order_[columns_++] = i;
        }
    }

    // The value once the first `settled` columns of the order are settled; empty leaves the reason in `problem`.
    std::optional<double> value(std::size_t settled) {
        if (settled == columns_) return row_value();
        const std::size_t column = order_[settled];
        if (table_.keys[column].is_text) return text_value(column, settled);
        const double wanted = std::get<AnyQuantity>(keys_[column]).si;
        const double* below = nullptr;
        const double* above = nullptr;
        for (const TableRow& row : table_.rows) {
            if (!matches(row, settled)) continue;
            const double& key = std::get<AnyQuantity>(row.keys[column]).si;
            if (same(key, wanted)) return with(column, key, settled);
            if (key < wanted && (below == nullptr || key > *below)) below = &key;
            if (key > wanted && (above == nullptr || key < *above)) above = &key;
        }
        const Match match = table_.keys[column].match;
        if (match == Match::down && below != nullptr) return with(column, *below, settled);
        if (match == Match::up && above != nullptr) return with(column, *above, settled);
        if (match == Match::interpolate && below != nullptr && above != nullptr) {
            const std::optional<double> lower = with(column, *below, settled);
            const std::optional<double> upper = lower ? with(column, *above, settled) : std::nullopt;
            if (!upper) return std::nullopt;
            return *lower + (*upper - *lower) * (wanted - *below) / (*above - *below);
        }
        problem = outside(column, settled, below == nullptr, above == nullptr);
        return std::nullopt;
    }

    std::string problem;

private:
    bool matches(const TableRow& row, std::size_t settled) const {
        for (std::size_t i = 0; i < settled; ++i) {
            const std::size_t column = order_[i];
            if (table_.keys[column].is_text) {
                if (std::get<std::string>(row.keys[column]) != std::get<std::string>(keys_[column])) return false;
            } else if (!same(std::get<AnyQuantity>(row.keys[column]).si, chosen_[column])) {
                return false;
            }
        }
        return true;
    }

    std::optional<double> with(std::size_t column, double key, std::size_t settled) {
        chosen_[column] = key;
        return value(settled + 1);
    }

    std::optional<double> text_value(std::size_t column, std::size_t settled) {
        const auto fits = [&](const TableRow& row) { return matches(row, settled + 1); };
        if (std::ranges::any_of(table_.rows, fits)) return value(settled + 1);
        problem = unknown_text(column, settled);
        return std::nullopt;
    }

    // Rows with equal keys are refused at loading, so the first that matches is the only one.
    std::optional<double> row_value() const {
        const auto fits = [&](const TableRow& row) { return matches(row, columns_); };
        const auto row = std::ranges::find_if(table_.rows, fits);
        return row != table_.rows.end() ? std::optional(row->value) : std::nullopt;
    }

    std::string unknown_text(std::size_t column, std::size_t settled) const {
        std::vector<std::string> known;
        for (const TableRow& row : table_.rows) {
            if (!matches(row, settled)) continue;
            const std::string& text = std::get<std::string>(row.keys[column]);
            if (std::ranges::find(known, text) == known.end()) known.push_back(text);
        }
        return fmt::format("no row for {} in '{}': it has {}", to_text(keys_[column]), table_.name,
                           fmt::join(known, ", "));
    }

    std::string outside(std::size_t column, std::size_t settled, bool nothing_below, bool nothing_above) const {
        const std::string key = to_text(keys_[column]);
        const TableRow* lowest = nullptr;
        const TableRow* highest = nullptr;
        const auto at = [&](const TableRow* row) { return std::get<AnyQuantity>(row->keys[column]).si; };
        for (const TableRow& row : table_.rows) {
            if (!matches(row, settled)) continue;
            if (lowest == nullptr || at(&row) < at(lowest)) lowest = &row;
            if (highest == nullptr || at(&row) > at(highest)) highest = &row;
        }
        if (lowest == nullptr) return fmt::format("no row for {} in '{}': it is empty", key, table_.name);
        if (nothing_below) {
            return fmt::format("no row for {} in '{}': it starts at {}", key, table_.name,
                               to_text(lowest->keys[column]));
        }
        if (nothing_above) {
            return fmt::format("no row for {} in '{}': it ends at {}", key, table_.name,
                               to_text(highest->keys[column]));
        }
        return fmt::format("no row for {} in '{}', which is read only at its printed values", key, table_.name);
    }

    const PublishedTable& table_;
    std::span<const TableKey> keys_;
    std::array<std::size_t, most_key_columns> order_{};
    std::size_t columns_ = 0;
    std::array<double, most_key_columns> chosen_{};
};

std::optional<std::string> misfit(const PublishedTable& table, std::span<const TableKey> keys) {
    if (keys.size() != table.keys.size() || keys.size() > most_key_columns) {
        return fmt::format("'{}' is read with {} keys, but {} were given", table.name, table.keys.size(), keys.size());
    }
    for (std::size_t i = 0; i < keys.size(); ++i) {
        const Column& column = table.keys[i];
        const AnyQuantity* number = std::get_if<AnyQuantity>(&keys[i]);
        if (column.is_text != (number == nullptr) || (number != nullptr && number->dimension != column.dimension)) {
            return fmt::format("{} does not fit the key '{}' of '{}', which is {}", to_text(keys[i]), column.name,
                               table.name, column.is_text ? "a text" : dimension_name(column.dimension));
        }
        if (number != nullptr && !std::isfinite(number->si)) {
            return fmt::format("the key '{}' of '{}' is not a finite number", column.name, table.name);
        }
    }
    return std::nullopt;
}

} // namespace

std::string to_text(const TableKey& key) {
    if (const std::string* text = std::get_if<std::string>(&key)) return fmt::format("'{}'", *text);
    return to_text(std::get<AnyQuantity>(key));
}

tl::expected<AnyQuantity, NotInTable> look_up(const PublishedTable& table, std::span<const TableKey> keys) {
    if (std::optional<std::string> reason = misfit(table, keys)) return tl::unexpected(NotInTable{std::move(*reason)});
    LookUp look_up(table, keys);
    const std::optional<double> value = look_up.value(0);
    if (!value) return tl::unexpected(NotInTable{std::move(look_up.problem)});
    return AnyQuantity{*value, table.value.dimension};
}

const PublishedTable* Handbook::find(std::string_view name) const {
    const auto at = tables.find(name);
    return at != tables.end() ? &at->second : nullptr;
}

} // namespace trivet
