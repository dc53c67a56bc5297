#include "design/reading.h"
#include "units/format.h"

#include <fmt/format.h>

#include <algorithm>

namespace trivet {
namespace {

// Bodies joined by heat paths, each group by one of its own; the room counts as one more body.
class Groups {
public:
    explicit Groups(std::size_t bodies)
        : parent_(bodies + 1) {
        for (std::size_t i = 0; i < parent_.size(); ++i) parent_[i] = i;
    }

    std::size_t find(std::size_t body) {
        while (parent_[body] != body) {
            parent_[body] = parent_[parent_[body]];
            body = parent_[body];
        }
        return body;
    }
    void join(std::size_t a, std::size_t b) { parent_[find(a)] = find(b); }

private:
    std::vector<std::size_t> parent_;
};

void no_way(Reading& reading, const Body& body, bool heated, bool joined) {
    const std::string hint = fmt::format("add [[heat_path]] with from = \"{}\" and to = \"ambient\", and how the heat "
                                         "passes if you know: conductance, or area and facing",
                                         body.name);
    if (heated) {
        reading.error(
            ErrorKind::missing_key, body.place,
            fmt::format("no heat path leads from '{}' to the ambient air; it would get hotter for ever", body.name),
            hint);
    } else if (joined) {
        reading.error(ErrorKind::missing_key, body.place,
                      fmt::format("no heat path leads from '{}' to the ambient air", body.name), hint);
    } else {
        reading.error(ErrorKind::missing_key, body.place,
                      fmt::format("nothing heats '{}' and no heat path leads to it", body.name),
                      "add heated_by or a [[heat_path]], or take the body out");
    }
}

void check_limit(Reading& reading, const Body& body) {
    const Range<dim::temperature> ambient = reading.design.ambient.value;
    if (!body.limit || body.limit->value.lo >= ambient.hi) return;
    reading.error(ErrorKind::out_of_range, body.limit->place,
                  fmt::format("'{}' bears {}, but the air around the build may have {}", body.name,
                              to_text(body.limit->value.lo), to_text(ambient.hi)),
                  "check its limit and the ambient of [build]");
}

struct Upper {
    Temperature highest; // to which the control lets its sensor go
    std::string text;
};

std::optional<Upper> upper_end(const Control& control) {
    if (!control.setpoint) return std::nullopt;
    Upper upper{control.setpoint->value.hi, to_text(control.setpoint->value)};
    if (control.band) {
        upper.highest = upper.highest + control.band->value.hi / 2.0;
        upper.text += fmt::format(" and half the band of {}", to_text(control.band->value));
    }
    return upper;
}

void check_control(Reading& reading, const Control& control) {
    const auto upper = upper_end(control);
    if (!upper) return;
    if (control.firmware_limit && upper->highest >= control.firmware_limit->value.lo) {
        reading.error(ErrorKind::out_of_range, control.firmware_limit->place,
                      fmt::format("the firmware stops at {}, but it regulates up to {} (setpoint {})",
                                  to_text(control.firmware_limit->value), to_text(upper->highest), upper->text),
                      "a firmware limit lies above the setpoint and half the band");
    }
    for (const PartId sensor : control.senses) {
        const PartUse& use = reading.design.part(sensor);
        const auto id = use.sees_body ? use.sees_body : use.on_body;
        if (!id) continue;
        const Body& body = reading.design.body(*id);
        if (!body.limit || control.setpoint->value.hi <= body.limit->value.hi) continue;
        reading.error(ErrorKind::out_of_range, control.setpoint->place,
                      fmt::format("'{}' is to hold {}, but '{}' bears only {}", control.name,
                                  to_text(control.setpoint->value), body.name, to_text(body.limit->value)),
                      "lower the setpoint, or check the limit of the body");
    }
}

} // namespace

void check_ways_to_room(Reading& reading) {
    if (!reading.heat_paths_complete) return;
    const Design& design = reading.design;
    const std::size_t air = design.bodies.size();
    Groups groups(air);
    std::vector<bool> joined(air, false);
    for (const HeatPath& path : design.heat_paths) {
        if (path.without) continue; // it is not there in normal running
        groups.join(path.from_body.value, path.to_body ? path.to_body->value : air);
        joined[path.from_body.value] = true;
        if (path.to_body) joined[path.to_body->value] = true;
    }
    std::vector<bool> heated(air + 1, false);
    for (std::size_t i = 0; i < air; ++i)
        if (!design.bodies[i].heated_by.empty()) heated[groups.find(i)] = true;
    for (std::size_t i = 0; i < air; ++i) {
        if (groups.find(i) == groups.find(air)) continue;
        no_way(reading, design.bodies[i], heated[groups.find(i)], joined[i]);
    }
}

void check_settings(Reading& reading) {
    for (const Body& body : reading.design.bodies) check_limit(reading, body);
    for (const Control& control : reading.design.controls) check_control(reading, control);
}

} // namespace trivet
