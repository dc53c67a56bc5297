#pragma once

#include "tables/table.h"

#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <initializer_list>
#include <sstream>
#include <string>

namespace trivet::test {

inline std::string describe(const Errors& errors) {
    std::string text;
    for (const InputError& error : errors) {
        text += std::to_string(error.place.line) + ":" + std::to_string(error.place.column) + ": " + error.message +
                " [" + error.hint + "]\n";
    }
    return text;
}

inline Loaded<PublishedTable> table_from(std::string text, std::string name = "rules/tables/sample.toml") {
    Sources sources;
    return read_table(sources.add(std::move(name), std::move(text)));
}

// Every table in rules/tables, read from disk at run time so that a new file is tested without a rebuild.
inline Handbook shipped_handbook() {
    Handbook handbook;
    for (const auto& entry : std::filesystem::directory_iterator(TRIVET_SOURCE_DIR "/rules/tables")) {
        std::ostringstream text;
        text << std::ifstream(entry.path()).rdbuf();
        Loaded<PublishedTable> table = table_from(text.str(), entry.path().generic_string());
        EXPECT_TRUE(table) << entry.path() << "\n" << describe(table.errors);
        if (table.value) handbook.tables.emplace(table.value->name, std::move(*table.value));
    }
    return handbook;
}

inline TableKey key(const char* text) { return std::string(text); }
template <Dimension D> TableKey key(Quantity<D> quantity) { return any(quantity); }
inline TableKey key(double number) { return AnyQuantity{number, dim::number}; }

inline tl::expected<AnyQuantity, NotInTable> look_up(const PublishedTable& table,
                                                     std::initializer_list<TableKey> keys) {
    return trivet::look_up(table, std::span<const TableKey>(keys.begin(), keys.size()));
}

} // namespace trivet::test
