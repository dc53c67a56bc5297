#pragma once

#include "catalog/part.h"

#include <filesystem>
#include <string>
#include <string_view>
#include <vector>

namespace trivet::testing {

// The shipped library as it stands in parts/, read from the disk so that no rebuild is needed.
struct PartsLibrary {
    std::vector<Part> parts;                                // in file order
    std::vector<std::string> errors;                        // of files and of parts: "parts/fuses.toml:12: message"
    std::vector<std::string> repeated;                      // names that stand in two files
    std::vector<std::pair<std::string, std::string>> texts; // [part]: name and its lines
};
const PartsLibrary& parts_library();

// True when exceptions.txt lets this pass. `subject` is the part, or part and detail with a space.
bool is_excepted(std::string_view check, std::string_view subject);

// Exceptions that nobody asked for in this run.
std::vector<std::string> idle_exceptions();

// Calls `judge(part, element body)` for every element of one kind.
template <class E, class Judge> std::size_t for_each_of(Judge judge) {
    std::size_t count = 0;
    for (const Part& part : parts_library().parts) {
        for (const Element& element : part.elements) {
            const auto* body = std::get_if<E>(&element.body);
            if (body == nullptr) continue;
            ++count;
            judge(part, *body);
        }
    }
    return count;
}

} // namespace trivet::testing
