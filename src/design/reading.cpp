#include "design/reading.h"

#include "catalog/names.h"
#include "source/suggest.h"

#include <fmt/format.h>

#include <algorithm>

namespace trivet {

Place place_within(Place text_place, std::string_view text, std::size_t offset) {
    const std::string_view before = text.substr(0, offset);
    const auto starts_character = [](char c) { return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U; };
    text_place.column += 1 + static_cast<std::uint32_t>(std::ranges::count_if(before, starts_character));
    return text_place;
}

void Reading::error(ErrorKind kind, Place place, std::string message, std::string hint) {
    errors.push_back({kind, place, std::move(message), std::move(hint)});
}

bool Reading::good_name(std::string_view name, Place place) {
    if (name.size() > limits.name_length) {
        error(ErrorKind::too_large, place,
              fmt::format("the name '{}...' has {} characters, but {} are the most", name.substr(0, 16), name.size(),
                          limits.name_length),
              "choose a shorter name");
        return false;
    }
    if (is_plain_name(name)) return true;
    error(ErrorKind::out_of_range, place, fmt::format("'{}' cannot be a name", name), "use letters, digits, _ and -");
    return false;
}

std::optional<PartId> Reading::find_part(const Stated<std::string_view>& name) {
    if (const auto found = part_ids.find(name.value); found != part_ids.end()) return found->second;
    error(ErrorKind::unknown_name, name.place, fmt::format("there is no part '{}' in this design", name.value),
          part_hint(name.value));
    return std::nullopt;
}

std::optional<TerminalRef> Reading::find_terminal(const Stated<std::string_view>& reference) {
    const std::size_t dot = reference.value.find('.');
    if (dot == std::string_view::npos || dot + 1 == reference.value.size() || dot == 0) {
        error(ErrorKind::unknown_name, reference.place, fmt::format("'{}' does not name a terminal", reference.value),
              "write part and terminal with a dot between them, for example \"supply.+\"");
        return std::nullopt;
    }
    const auto part = find_part({reference.value.substr(0, dot), reference.place});
    if (!part || !design.part(*part).part) return std::nullopt;
    const Part& made = *design.part(*part).part;
    const std::string_view wanted = reference.value.substr(dot + 1);
    const int index = made.terminal(wanted);
    if (index >= 0) return TerminalRef{*part, {static_cast<std::uint16_t>(index)}};
    Place place = place_within(reference.place, reference.value, dot + 1);
    place.column -= 1; // the place is that of the first letter already
    std::vector<std::string_view> known;
    for (const TerminalSpec& spec : made.terminals) known.push_back(spec.name);
    error(ErrorKind::unknown_name, place,
          fmt::format("the part '{}' has no terminal '{}'", design.part(*part).name, wanted), hint(wanted, known));
    return std::nullopt;
}

std::vector<PartId> Reading::find_parts(const std::vector<Stated<std::string_view>>& names) {
    std::vector<PartId> parts;
    for (const auto& name : names) {
        if (const auto part = find_part(name)) parts.push_back(*part);
    }
    return parts;
}

std::string Reading::hint(std::string_view name, std::span<const std::string_view> candidates) {
    if (candidates.size() > comparisons_left_) return {};
    comparisons_left_ -= candidates.size();
    return did_you_mean(name, candidates);
}

std::string Reading::part_hint(std::string_view name) {
    if (part_ids.size() > comparisons_left_) return {};
    std::vector<std::string_view> names;
    names.reserve(part_ids.size());
    for (const PartUse& part : design.parts) names.push_back(part.name);
    return hint(name, names);
}

std::string Reading::part_or_body_hint(std::string_view name) {
    if (part_ids.size() + body_ids.size() > comparisons_left_) return {};
    std::vector<std::string_view> names;
    for (const PartUse& part : design.parts) names.push_back(part.name);
    for (const Body& body : design.bodies) {
        if (!part_ids.contains(body.name)) names.push_back(body.name);
    }
    return hint(name, names);
}

std::string Reading::library_hint(std::string_view name, std::string_view prefix) {
    std::vector<std::string_view> names = catalog.names();
    std::erase_if(names, [&](std::string_view known) { return !known.starts_with(prefix); });
    if (const std::string_view near = nearest(name, names); !near.empty()) return hint(name, names);
    return prefix.empty() ? "trivet parts lists all parts; your own stand in parts/ beside the design"
                          : hint(name, names);
}

} // namespace trivet
