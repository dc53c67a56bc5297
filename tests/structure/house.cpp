#include "structure/house.h"

#include <algorithm>
#include <cctype>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <optional>
#include <sstream>

namespace trivet::house {
namespace {

const std::filesystem::path root = TRIVET_SOURCE_DIR;

std::optional<Include> as_include(std::string_view line, int number) {
    constexpr std::string_view word = "#include ";
    if (!line.starts_with(word)) return std::nullopt;
    line.remove_prefix(word.size());
    const bool quoted = line.starts_with('"');
    const auto end = line.find(quoted ? '"' : '>', 1);
    if (end == std::string_view::npos) return std::nullopt;
    return Include{.path = std::string(line.substr(1, end - 1)), .quoted = quoted, .line = number};
}

TextFile read(const std::filesystem::path& path) {
    TextFile file{.path = std::filesystem::relative(path, root).generic_string(), .lines = {}, .includes = {}};
    std::ifstream in(path, std::ios::binary);
    for (std::string line; std::getline(in, line);) {
        file.lines.push_back(line);
        if (auto include = as_include(line, static_cast<int>(file.lines.size()))) file.includes.push_back(*include);
    }
    return file;
}

std::vector<TextFile> read_below(const std::filesystem::path& folder, bool (*wanted)(const std::filesystem::path&)) {
    std::vector<TextFile> files;
    if (!std::filesystem::exists(folder)) return files;
    for (const auto& entry : std::filesystem::recursive_directory_iterator(folder)) {
        if (entry.is_regular_file() && wanted(entry.path())) files.push_back(read(entry.path()));
    }
    std::ranges::sort(files, {}, &TextFile::path);
    return files;
}

bool is_cpp(const std::filesystem::path& path) { return path.extension() == ".cpp" || path.extension() == ".h"; }

// Inputs that a fuzzer found may hold anything.
bool is_written_by_people(const std::filesystem::path& path) {
    return path.generic_string().find("/corpus/") == std::string::npos;
}

} // namespace

std::string TextFile::module() const {
    if (!path.starts_with("src/")) return {};
    const std::string below = path.substr(4);
    const auto slash = below.find('/');
    return slash == std::string::npos ? std::string() : below.substr(0, slash);
}

std::vector<TextFile> cpp_files(std::string_view folder) { return read_below(root / folder, is_cpp); }

std::vector<TextFile> all_files() {
    std::vector<TextFile> files;
    for (const auto& entry : std::filesystem::directory_iterator(root)) {
        const std::string name = entry.path().filename().string();
        if (entry.is_regular_file() && name != ".git") files.push_back(read(entry.path()));
    }
    for (const std::string_view folder : {"src", "rules", "parts", "tests", "examples", "docs", ".ci"}) {
        std::ranges::move(read_below(root / folder, is_written_by_people), std::back_inserter(files));
    }
    return files;
}

std::vector<Module> declared_modules() {
    std::vector<Module> modules;
    std::ifstream in(TRIVET_MODULE_EDGES);
    for (std::string line; std::getline(in, line);) {
        const auto colon = line.find(':');
        std::istringstream uses(line.substr(colon + 1));
        modules.push_back({line.substr(0, colon), {std::istream_iterator<std::string>(uses), {}}});
    }
    return modules;
}

std::string whole_text(const std::string& path) {
    std::ifstream in(root / path, std::ios::binary);
    return {std::istreambuf_iterator<char>(in), {}};
}

std::string place(const TextFile& file, int line) { return file.path + ":" + std::to_string(line); }

bool has_word(std::string_view line, std::string_view word) {
    const auto beside = [](char c) { return std::isalnum(static_cast<unsigned char>(c)) != 0 || c == '_'; };
    for (auto at = line.find(word); at != std::string_view::npos; at = line.find(word, at + 1)) {
        const auto end = at + word.size();
        if ((at == 0 || !beside(line[at - 1])) && (end == line.size() || !beside(line[end]))) return true;
    }
    return false;
}

} // namespace trivet::house
