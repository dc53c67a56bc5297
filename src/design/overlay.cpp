#include "design/overlay.h"

#include "catalog/bounds.h"
#include "source/suggest.h"
#include "source/toml_reader.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace trivet {

namespace {

constexpr double version = 1.0;

template <Dimension D> std::string range_text(const Range<D>& range, std::string_view unit) {
    const double width = range.hi.si - range.lo.si;
    return fmt::format("\"{}..{} {}\"", rounded_outward(range.lo.si, width, false),
                       rounded_outward(range.hi.si, width, true), unit);
}

// Goes through an overlay and completes a copy of the design.
class OverlayReader {
public:
    OverlayReader(Design& design, Errors& errors)
        : design_(design)
        , errors_(errors) {}

    void read(const Document& document) {
        TableReader root(document, document.root(), errors_);
        if (!root.has("fit")) {
            root.error(ErrorKind::missing_key, root.place(), "this is not a file of fitted numbers: it lacks fit = 1",
                       "make one with trivet fit DESIGN LOG -o FILE");
            return;
        }
        if (const auto fit = root.required_number("fit"); fit && fit->value != version)
            root.error(ErrorKind::unsupported_version, fit->place,
                       fmt::format("this file has the format fit = {}, but only 1 is known", fit->value),
                       "make it again with trivet fit");
        for (TableReader& table : root.tables("body")) read_body(table);
        for (TableReader& table : root.tables("heat_path")) read_path(table);
        root.finish();
    }

private:
    void read_body(TableReader& table) {
        const auto name = table.required_text("name");
        const auto capacity = required_range<dim::heat_capacity>(table, "capacity");
        table.finish();
        if (!name) return;
        const auto body = std::ranges::find(design_.bodies, name->value, &Body::name);
        if (body == design_.bodies.end()) {
            std::vector<std::string_view> known;
            for (const Body& candidate : design_.bodies) known.push_back(candidate.name);
            table.error(ErrorKind::unknown_name, name->place, fmt::format("the design has no body '{}'", name->value),
                        did_you_mean(name->value, known));
            return;
        }
        if (is_open(*body)) {
            if (capacity) body->capacity = *capacity;
            return;
        }
        const Place stated = body->capacity ? body->capacity->place : body->mass->place;
        stated_twice(fmt::format("the capacity of '{}'", name->value), name->place, stated);
    }

    void read_path(TableReader& table) {
        const auto from = table.required_text("from");
        const auto to = table.required_text("to");
        const auto conductance = required_range<dim::thermal_conductance>(table, "conductance");
        table.finish();
        if (!from || !to) return;
        std::vector<HeatPath*> between;
        for (HeatPath& path : design_.heat_paths)
            if (!path.without && ((path.from == from->value && path.to == to->value) ||
                                  (path.from == to->value && path.to == from->value)))
                between.push_back(&path);
        const std::string name = fmt::format("from '{}' to '{}'", from->value, to->value);
        if (between.empty()) {
            table.error(ErrorKind::unknown_name, from->place, fmt::format("the design has no heat path {}", name),
                        "make this file again with trivet fit, or take the entry out");
            return;
        }
        const auto open = std::ranges::count_if(between, [](const HeatPath* path) { return is_open(*path); });
        if (open > 1) {
            table.error(ErrorKind::ambiguous, from->place,
                        fmt::format("the design leaves {} heat paths {} open", open, name),
                        "a log shows only their sum: keep one of them in the design");
            return;
        }
        if (open == 0) {
            const HeatPath& path = *between.front();
            const Place stated = path.conductance ? path.conductance->place : path.area ? path.area->place : path.place;
            stated_twice(fmt::format("the heat path {}", name), from->place, stated);
            return;
        }
        HeatPath& path = **std::ranges::find_if(between, [](const HeatPath* candidate) { return is_open(*candidate); });
        if (conductance) path.conductance = *conductance;
    }

    template <Dimension D> std::optional<Stated<Range<D>>> required_range(TableReader& table, std::string_view key) {
        const auto stated = table.required_range(key, D);
        if (!stated || !within(table, key, *stated, Bounds::positive)) return std::nullopt;
        return Stated<Range<D>>{{{stated->value.lo}, {stated->value.hi}}, stated->place};
    }

    void stated_twice(const std::string& what, Place here, Place there) {
        const std::string message = fmt::format("{} is stated by the design and by the fitted file", what);
        const std::string hint = "take it out of one of the two";
        errors_.push_back({ErrorKind::duplicate_name, here, message, hint});
        errors_.push_back({ErrorKind::duplicate_name, there, message, hint});
    }

    Design& design_;
    Errors& errors_;
};

} // namespace

bool is_open(const Body& body) { return !body.capacity && !body.mass; }

bool is_open(const HeatPath& path) { return !path.conductance && !path.area && !path.without; }

bool is_overlay(std::string_view text) { return text.starts_with(overlay_mark); }

std::string rounded_outward(double value, double width, bool up) {
    const double finest = std::floor(std::log10(std::abs(value))) - 4.0;
    const double wanted = width > 0.0 ? std::floor(std::log10(width)) - 1.0 : finest;
    const double decimals = -std::max(wanted, finest);
    const double unit = std::pow(10.0, -decimals);
    const double steps = up ? std::ceil(value / unit - 1e-6) : std::floor(value / unit + 1e-6);
    return fmt::format("{:.{}f}", steps * unit, std::max(0, static_cast<int>(decimals)));
}

std::string overlay_text(const Overlay& overlay, const std::vector<std::string>& remarks) {
    std::string text = fmt::format("{}\n", overlay_mark);
    for (const std::string& remark : remarks) text += fmt::format("# {}\n", remark);
    text += fmt::format("fit = {}\n", version);
    for (const Overlay::OfBody& body : overlay.bodies)
        text += fmt::format("\n[[body]]\nname = \"{}\"\ncapacity = {}\n", body.name, range_text(body.capacity, "J/K"));
    for (const Overlay::OfPath& path : overlay.paths)
        text += fmt::format("\n[[heat_path]]\nfrom = \"{}\"\nto = \"{}\"\nconductance = {}\n", path.from, path.to,
                            range_text(path.conductance, "W/K"));
    return text;
}

Errors apply_overlay(Design& design, const SourceFile& file) {
    Loaded<Document> document = parse_document(file);
    Errors errors = std::move(document.errors);
    if (!document.value) return errors;
    Design completed = design;
    OverlayReader(completed, errors).read(*document.value);
    if (errors.empty()) design = std::move(completed);
    return errors;
}

} // namespace trivet
