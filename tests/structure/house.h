#pragma once

#include <map>
#include <set>
#include <string>
#include <string_view>
#include <vector>

namespace trivet::house {

struct Include {
    std::string path; // without quotes or brackets
    bool quoted = false;
    int line = 0;
};

struct TextFile {
    std::string path; // relative to the project's folder, "src/units/parse.h"
    std::vector<std::string> lines;
    std::vector<Include> includes;

    std::string module() const; // "units"; empty outside src/
    bool header() const { return path.ends_with(".h"); }
};

// C++ files below `folder`, by path.
std::vector<TextFile> cpp_files(std::string_view folder);

// Every text file that is committed: sources, tests, data, pages and scripts. Not build folders.
std::vector<TextFile> all_files();

// What CMake declared with trivet_module(... USES ...), in the order of declaration.
struct Module {
    std::string name;
    std::set<std::string> uses;
};
std::vector<Module> declared_modules();

std::string whole_text(const std::string& path); // relative to the project's folder; empty if it is not there

// "src/a.cpp:12", the way compilers name a place.
std::string place(const TextFile& file, int line);

// True when `word` stands in `line` with neither a letter nor a digit nor an underscore beside it.
bool has_word(std::string_view line, std::string_view word);

} // namespace trivet::house
