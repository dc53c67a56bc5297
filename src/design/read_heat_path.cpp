#include "catalog/bounds.h"
#include "design/reading.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <utility>

namespace trivet {
namespace {

constexpr std::string_view ways =
    "state a conductance; or area, thickness and material; or area and facing; or none of them";

// Goes through the keys of one [[heat_path]].
class HeatPathReader {
public:
    HeatPathReader(Reading& reading, TableReader& table)
        : reading_(reading)
        , table_(table) {}

    HeatPath read() {
        path_.place = table_.place();
        read_ends();
        path_.conductance = bounded_range<dim::thermal_conductance>(table_, "conductance", Bounds::positive);
        path_.area = bounded_range<dim::area>(table_, "area", Bounds::positive);
        path_.thickness = bounded_range<dim::length>(table_, "thickness", Bounds::positive);
        NamedMaterial material = reading_.find_material(table_);
        path_.material = std::move(material.name);
        path_.made_of = std::move(material.made_of);
        if (const auto word = table_.word("facing", facing_names)) path_.facing = facing_names.at(word->value);
        path_.height = bounded_range<dim::length>(table_, "height", Bounds::positive);
        path_.width = bounded_range<dim::length>(table_, "width", Bounds::positive);
        read_emissivity();
        if (const auto fan = table_.text("fan")) path_.fan = reading_.find_part(*fan);
        path_.air_speed = bounded_range<dim::speed>(table_, "air_speed", Bounds::positive);
        read_without();
        check_description();
        table_.finish();
        return std::move(path_);
    }

private:
    void read_ends() {
        const auto from = read_end("from", path_.from);
        const auto to = read_end("to", path_.to);
        if (!path_.from.empty() && path_.from == path_.to) {
            reading_.error(ErrorKind::wire_to_itself, path_.place,
                           fmt::format("this heat path leads from '{}' back to '{}'", path_.from, path_.to),
                           "name the other body, or \"ambient\"");
            reading_.heat_paths_complete = false;
        }
        if (from) {
            path_.from_body = *from;
            path_.to_body = to;
        } else if (to) {
            path_.from_body = *to;
            std::swap(path_.from, path_.to);
        }
    }

    std::optional<BodyId> read_end(std::string_view key, std::string& into) {
        const auto name = table_.required_text(key);
        if (name) into = name->value;
        if (name && name->value == ambient_name) return std::nullopt;
        if (name) {
            const auto found = reading_.body_ids.find(name->value);
            if (found != reading_.body_ids.end()) return found->second;
            std::vector<std::string_view> known = body_names();
            known.push_back(ambient_name);
            reading_.error(ErrorKind::unknown_name, name->place, fmt::format("there is no body '{}'", name->value),
                           reading_.hint(name->value, known));
        }
        reading_.heat_paths_complete = false;
        return std::nullopt;
    }

    void read_without() {
        const auto name = table_.text("without");
        if (!name) return;
        const auto found = reading_.body_ids.find(name->value);
        if (found != reading_.body_ids.end() && reading_.design.body(found->second).may_be_empty) {
            path_.without = found->second;
            return;
        }
        reading_.heat_paths_complete = false;
        if (found != reading_.body_ids.end())
            reading_.error(ErrorKind::ambiguous, name->place,
                           fmt::format("'{}' is always there, so this heat path would never exist", name->value),
                           fmt::format("add may_be = [\"empty\"] to the body {}, or take 'without' out", name->value));
        else
            reading_.error(ErrorKind::unknown_name, name->place, fmt::format("there is no body '{}'", name->value),
                           reading_.hint(name->value, body_names()));
    }

    std::vector<std::string_view> body_names() const {
        std::vector<std::string_view> known;
        for (const Body& body : reading_.design.bodies) known.push_back(body.name);
        return known;
    }

    void read_emissivity() {
        const auto stated = table_.number("emissivity");
        if (!stated || (stated->value > 0.0 && stated->value <= 1.0)) {
            path_.emissivity = stated;
            return;
        }
        reading_.error(ErrorKind::out_of_range, stated->place,
                       fmt::format("the emissivity {} lies outside 0 to 1", stated->value),
                       "bare metal has about 0.1, painted or oxidised surfaces about 0.9");
    }

    // Exactly one way of describing how the heat passes, and all that this way asks for.
    void check_description() {
        const std::string_view layer = first_of(std::array<std::string_view, 2>{"thickness", "material"});
        const std::string_view surface =
            first_of(std::array<std::string_view, 6>{"facing", "height", "width", "emissivity", "fan", "air_speed"});
        const std::string_view any = first_of(std::array<std::string_view, 3>{"area", layer.empty() ? "area" : layer,
                                                                              surface.empty() ? "area" : surface});
        if (table_.has("conductance")) {
            if (!any.empty()) described_twice("conductance", any);
        } else if (!layer.empty() && !surface.empty()) {
            described_twice(layer, surface);
        } else if (!layer.empty()) {
            for (const std::string_view due : {"area", "thickness", "material"}) must_have(due, layer);
        } else if (!surface.empty()) {
            check_surface(surface);
        } else if (table_.has("area")) {
            reading_.error(ErrorKind::missing_key, *table_.place_of("area"),
                           "an area alone does not say how the heat passes", "add facing, or thickness and material");
        }
    }

    void check_surface(std::string_view stated) {
        must_have("facing", stated);
        must_have("area", stated);
        if (table_.has("fan")) must_have("air_speed", "fan");
        if (table_.has("air_speed")) must_have("fan", "air_speed");
        if (path_.facing.empty()) return;
        const bool horizontal = path_.facing == "up" || path_.facing == "down";
        if (path_.facing == "round") must_have("height", "facing");
        misfit(horizontal ? "height" : "width", horizontal ? "write width, one of its sides" : "write height");
    }

    template <std::size_t N> std::string_view first_of(const std::array<std::string_view, N>& keys) const {
        const auto found = std::ranges::find_if(keys, [&](std::string_view key) { return table_.has(key); });
        return found == keys.end() ? std::string_view() : *found;
    }

    void described_twice(std::string_view one, std::string_view other) {
        reading_.error(ErrorKind::ambiguous, *table_.place_of(other),
                       fmt::format("this heat path is described twice: by '{}' and by '{}'", one, other),
                       std::string(ways));
    }

    void must_have(std::string_view due, std::string_view stated) {
        if (table_.has(due)) return;
        reading_.error(ErrorKind::missing_key, *table_.place_of(stated),
                       fmt::format("'{}' says nothing here without '{}'", stated, due),
                       fmt::format("add {}, or take '{}' out", example_of(due), stated));
    }

    static std::string_view example_of(std::string_view key) {
        struct Example {
            std::string_view key;
            std::string_view text;
        };
        constexpr std::array<Example, 7> examples{{{"area", "area = \"400 cm2\""},
                                                   {"thickness", "thickness = \"2 mm\""},
                                                   {"material", "material = \"cork\""},
                                                   {"facing", "facing = \"up\", \"down\", \"vertical\" or \"round\""},
                                                   {"height", "height, the diameter"},
                                                   {"fan", "fan, the part that blows"},
                                                   {"air_speed", "air_speed = \"1..2 m/s\""}}};
        return std::ranges::find(examples, key, &Example::key)->text;
    }

    void misfit(std::string_view key, std::string_view way_out) {
        if (!table_.has(key)) return;
        reading_.error(ErrorKind::ambiguous, *table_.place_of(key),
                       fmt::format("a surface with facing = \"{}\" has no '{}' that matters", path_.facing, key),
                       fmt::format("take it out, or {}", way_out));
    }

    Reading& reading_;
    TableReader& table_;
    HeatPath path_;
};

} // namespace

void read_heat_paths(Reading& reading, TableReader& root) {
    for (TableReader& table : root.tables("heat_path")) {
        reading.design.heat_paths.push_back(HeatPathReader(reading, table).read());
    }
}

} // namespace trivet
