#pragma once

#include "catalog/property_source.h"

namespace trivet {

// An empty element of the kind at `index` of element_kind_names.
ElementBody empty_element(std::size_t kind);

// Goes through the keys of the element's kind, with the purpose that `source` states.
void read_element(PropertySource& source, ElementBody& body);

} // namespace trivet
