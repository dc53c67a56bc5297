#pragma once

#include "source/file.h"
#include "source/loaded.h"

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

namespace trivet {

inline constexpr std::size_t largest_file = 32U << 20U;

// Reads a regular file into `sources`. A folder, a missing or unreadable file, or one over the limit is an error with a
// way out.
Loaded<SourceFile> read_file(Sources& sources, const std::string& path);

// The *.toml files of a folder and its subfolders, sorted. An unreadable folder is an error.
Loaded<std::vector<std::string>> toml_files(Sources& sources, const std::string& folder);

// Writes a file whole or not at all: under another name beside it, then renamed. Returns what went wrong, or nothing.
std::string write_file(const std::string& path, std::string_view text);

bool is_same_file(const std::string& one, const std::string& other); // both exist and are the same
bool exists(const std::string& path);
bool is_folder(const std::string& path);
std::string folder_of(const std::string& path); // "." for a bare file name

} // namespace trivet
