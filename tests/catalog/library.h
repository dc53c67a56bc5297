#pragma once

#include "catalog/catalog.h"

#include <fmt/format.h>

#include <string>

namespace trivet {

// A catalogue of the parts in one text, as if it were the file "parts.toml" of the library.
struct Library {
    explicit Library(std::string text) {
        const SourceFile file = sources.add("parts.toml", std::move(text));
        errors = catalog.add_file(sources, "test", file.name, file.text, false);
    }

    Sources sources;
    Catalog catalog;
    Errors errors;
};

// "12:3 message [hint]" per line: what a failing test should show.
inline std::string to_text(const Errors& errors) {
    std::string text;
    for (const InputError& error : errors) {
        text += fmt::format("{}:{} {} [{}]\n", error.place.line, error.place.column, error.message, error.hint);
    }
    return text;
}

template <class E> const E& element_of(const Part& part, std::string_view name) {
    for (const Element& element : part.elements) {
        if (element.name == name) return std::get<E>(element.body);
    }
    throw std::out_of_range(std::string(name));
}

} // namespace trivet
