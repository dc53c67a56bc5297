#pragma once

#include "source/input_error.h"

#include <optional>

namespace trivet {

// What every loader returns: the value if nothing stood in its way, and all errors of the input in any case.
template <class T> struct Loaded {
    std::optional<T> value;
    Errors errors;

    explicit operator bool() const { return value.has_value() && errors.empty(); }
};

// A value and where the user or the library stated it.
template <class T> struct Stated {
    T value{};
    Place place;
};

} // namespace trivet
