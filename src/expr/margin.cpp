#include "expr/evaluate.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace trivet {

double margin_ratio(double load, double rating, bool on_temperature_scale) {
    constexpr double infinite = std::numeric_limits<double>::infinity();
    if (load == rating) return 1.0;
    if (std::isinf(load) || std::isinf(rating)) return load < rating ? infinite : 0.0;
    if (on_temperature_scale) {
        constexpr double kelvins_per_whole = 100.0;
        return std::max(0.0, 1.0 + (rating - load) / kelvins_per_whole);
    }
    if (load > 0.0) return std::max(0.0, rating / load);
    if (rating >= 0.0) return infinite;
    return load == 0.0 ? 0.0 : load / rating;
}

} // namespace trivet
