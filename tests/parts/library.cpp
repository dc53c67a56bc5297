#include "parts/library.h"

#include "catalog/catalog.h"

#include <algorithm>
#include <deque>
#include <fstream>
#include <iterator>
#include <set>

namespace trivet::testing {
namespace {

namespace fs = std::filesystem;

const fs::path root(TRIVET_SOURCE_DIR);

std::string text_of(const fs::path& path) {
    std::ifstream stream(path, std::ios::binary);
    return {std::istreambuf_iterator<char>(stream), {}};
}

void note(std::vector<std::string>& into, const Errors& errors, const Sources& sources) {
    for (const InputError& error : errors)
        into.push_back(std::string(sources.name(error.place.file)) + ":" + std::to_string(error.place.line) + ": " +
                       error.message + " (" + error.hint + ")");
}

PartsLibrary read_library() {
    PartsLibrary library;
    Sources sources;
    Catalog catalog;
    std::vector<fs::path> files;
    for (const auto& entry : fs::directory_iterator(root / "parts"))
        if (entry.path().extension() == ".toml") files.push_back(entry.path());
    std::ranges::sort(files);
    std::deque<std::string> texts; // the catalog keeps views of them
    for (const fs::path& file : files) {
        const std::string name = "parts/" + file.filename().string();
        note(library.errors,
             catalog.add_file(sources, file.stem().string(), name, texts.emplace_back(text_of(file)), false), sources);
    }
    library.repeated = catalog.replaced();
    for (const std::string_view name : catalog.names()) {
        const Loaded<Part>* part = catalog.find(name);
        note(library.errors, part->errors, sources);
        if (!part->value) continue;
        library.parts.push_back(*part->value);
        library.texts.emplace_back(name, sources.text(part->value->place.file));
    }
    return library;
}

struct Exception {
    std::string check;
    std::string subject;
    bool used = false;
};

std::string trimmed(std::string_view text) {
    const std::size_t from = text.find_first_not_of(' ');
    const std::size_t to = text.find_last_not_of(' ');
    return from == std::string_view::npos ? std::string() : std::string(text.substr(from, to - from + 1));
}

std::vector<Exception>& exceptions() {
    static std::vector<Exception> list = [] {
        std::vector<Exception> read;
        std::ifstream stream(root / "tests" / "parts" / "exceptions.txt");
        for (std::string line; std::getline(stream, line);) {
            const std::size_t first = line.find('|');
            const std::size_t second = line.find('|', first + 1);
            if (line.starts_with('#') || second == std::string::npos) continue;
            read.push_back(
                {trimmed(line.substr(0, first)), trimmed(line.substr(first + 1, second - first - 1)), false});
        }
        return read;
    }();
    return list;
}

} // namespace

const PartsLibrary& parts_library() {
    static const PartsLibrary library = read_library();
    return library;
}

bool is_excepted(std::string_view check, std::string_view subject) {
    for (Exception& exception : exceptions()) {
        if (exception.check != check || exception.subject != subject) continue;
        exception.used = true;
        return true;
    }
    return false;
}

std::vector<std::string> idle_exceptions() {
    std::vector<std::string> idle;
    for (const Exception& exception : exceptions())
        if (!exception.used) idle.push_back(exception.check + " | " + exception.subject);
    return idle;
}

} // namespace trivet::testing
