#include "design/reading.h"

#include <fmt/format.h>

#include <vector>

namespace trivet {
namespace {

void mount(Reading& reading, PartUse& part, PartId id, const Stated<std::string_view>& on) {
    part.mounted_on_name = on.value;
    const auto found = reading.part_ids.find(on.value);
    if (found != reading.part_ids.end()) part.mounted_on = found->second;
    const bool is_body = reading.body_ids.contains(on.value);
    if (part.mounted_on == id && is_body) {
        part.mounted_on.reset(); // a heater and its body share a name: it sits on the body
    } else if (part.mounted_on == id) {
        part.mounted_on.reset();
        reading.error(ErrorKind::out_of_range, on.place, fmt::format("'{}' is mounted on itself", part.name),
                      "name the part or body that it sits on");
    } else if (!part.mounted_on && !is_body) {
        reading.error(ErrorKind::unknown_name, on.place,
                      fmt::format("there is no part or body '{}' to mount on", on.value),
                      reading.part_or_body_hint(on.value));
    }
}

// Follows what is mounted on what down to the first body, every part once.
class BodiesBelow {
public:
    explicit BodiesBelow(Reading& reading)
        : reading_(reading)
        , visits_(reading.design.parts.size(), Visit::none)
        , below_(reading.design.parts.size()) {}

    std::optional<BodyId> find(const Sitting& sitting) {
        std::vector<PartId> path;
        std::optional<PartId> at = sitting.part;
        std::optional<BodyId> body;
        while (at && !body) {
            Visit& visit = visits_[at->value];
            if (visit == Visit::done) body = below_[at->value];
            if (visit == Visit::open) mounted_in_a_circle(sitting);
            if (visit != Visit::none) break;
            visit = Visit::open;
            path.push_back(*at);
            body = next_to(*at);
            at = reading_.design.part(*at).mounted_on;
        }
        for (const PartId part : path) {
            visits_[part.value] = Visit::done;
            below_[part.value] = body;
        }
        return below_[sitting.part.value];
    }

private:
    enum class Visit : std::uint8_t { none, open, done };

    // The body that the part is mounted on, by name or as a heater that heats it.
    std::optional<BodyId> next_to(PartId id) const {
        const PartUse& part = reading_.design.part(id);
        const auto named = reading_.body_ids.find(part.mounted_on_name);
        if (named != reading_.body_ids.end()) return named->second;
        if (!part.mounted_on) return std::nullopt;
        const auto heated = reading_.heated_bodies.find(*part.mounted_on);
        return heated == reading_.heated_bodies.end() ? std::nullopt : std::optional(heated->second);
    }

    void mounted_in_a_circle(const Sitting& sitting) {
        reading_.error(ErrorKind::out_of_range, sitting.mounted_on->place,
                       fmt::format("'{}' is mounted on '{}', and from there in a circle without end",
                                   reading_.design.part(sitting.part).name, sitting.mounted_on->value),
                       "name the body that they sit on");
    }

    Reading& reading_;
    std::vector<Visit> visits_;                // [part]
    std::vector<std::optional<BodyId>> below_; // [part]
};

} // namespace

std::optional<BodyId> Reading::body_of(PartId part) const {
    const auto heated = heated_bodies.find(part);
    return heated != heated_bodies.end() ? heated->second : design.part(part).on_body;
}

std::optional<BodyId> Reading::find_body_at(const Stated<std::string_view>& name) {
    if (const auto body = body_ids.find(name.value); body != body_ids.end()) return body->second;
    const auto part = part_ids.find(name.value);
    if (part == part_ids.end()) {
        error(ErrorKind::unknown_name, name.place,
              fmt::format("there is no part or body '{}' in this design", name.value), part_or_body_hint(name.value));
        return std::nullopt;
    }
    const auto body = body_of(part->second);
    if (!body && !design.bodies.empty()) {
        error(
            ErrorKind::unknown_name, name.place,
            fmt::format("'{}' neither heats a body nor is mounted on one, so nothing says how hot it gets", name.value),
            fmt::format("name a body, or write heated_by = \"{0}\" in one, or mounted_on in [part.{0}]", name.value));
    }
    return body;
}

void place_parts(Reading& reading) {
    for (const Sitting& sitting : reading.sittings) {
        if (sitting.mounted_on)
            mount(reading, reading.design.parts[sitting.part.value], sitting.part, *sitting.mounted_on);
    }
    for (const auto& [part, body] : reading.heated_bodies) reading.design.parts[part.value].on_body = body;
    BodiesBelow below(reading);
    for (const Sitting& sitting : reading.sittings) {
        if (const auto body = below.find(sitting)) reading.design.parts[sitting.part.value].on_body = body;
    }
    for (const Sitting& sitting : reading.sittings) {
        PartUse& part = reading.design.parts[sitting.part.value];
        if (sitting.beside) part.beside_body = reading.find_body_at(*sitting.beside);
        if (sitting.sees) part.sees_body = reading.find_body_at(*sitting.sees);
        if (sitting.bonded_to) part.bonded_to = reading.find_terminal(*sitting.bonded_to);
    }
}

} // namespace trivet
