#pragma once

#include "catalog/part.h"
#include "source/file.h"

#include <string>

namespace trivet {

// One part for people: title, how its values are known, terminals, every number with its basis, and its
// definition as the file states it.
std::string part_page(const Part& part, const Sources& sources);

} // namespace trivet
