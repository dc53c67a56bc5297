#pragma once

#include "design/design.h"
#include "source/file.h"

#include <string>
#include <string_view>
#include <vector>

namespace trivet {

// Numbers that a design leaves open, found from a measured log and kept in a file of their own: `fit = 1`, then
// [[body]] with name and capacity, [[heat_path]] with from, to and conductance.
struct Overlay {
    struct OfBody {
        std::string name;
        Range<dim::heat_capacity> capacity;
    };
    struct OfPath {
        std::string from;
        std::string to; // a body or "ambient"
        Range<dim::thermal_conductance> conductance;
    };
    std::vector<OfBody> bodies;
    std::vector<OfPath> paths;
};

// The file's text: first line overlay_mark, then `remarks` as comments, then the values, rounded outward to about a
// tenth of their width.
std::string overlay_text(const Overlay& overlay, const std::vector<std::string>& remarks);

inline constexpr std::string_view overlay_mark = "# Fitted by trivet fit; delete or fit again rather than edit.";
bool is_overlay(std::string_view text); // begins with that line

// The end of a range, rounded outward to a tenth of the width (at least to five digits); as text without unit.
std::string rounded_outward(double value, double width, bool up);

// Whether the design leaves it open. A path that is there only without a body cannot be seen in a log.
bool is_open(const Body& body);
bool is_open(const HeatPath& path);

// Completes what the design leaves open. A number that both state is an error at both places; a path is found by its
// ends, either way round. With errors the design is unchanged.
Errors apply_overlay(Design& design, const SourceFile& file);

} // namespace trivet
