#pragma once

#include <algorithm>
#include <vector>

namespace trivet {

// For the short lists of an analysis, where the order in which things were found is kept.
template <class T> bool contains(const std::vector<T>& list, const T& item) {
    return std::ranges::find(list, item) != list.end();
}

template <class T> void add_once(std::vector<T>& list, const T& item) {
    if (!contains(list, item)) list.push_back(item);
}

} // namespace trivet
