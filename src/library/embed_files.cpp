// Runs during the build: writes a C++ file that holds rules/ and parts/ as texts. Arguments: the project's folder, a
// file that lists the files to embed, the file to write.

#include "catalog/split.h"
#include "source/input_error.h"

#include <fmt/format.h>
#include <fmt/ostream.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iostream>
#include <iterator>
#include <string>
#include <vector>

namespace {

struct ShippedFile {
    std::string path;
    std::string text;
};

struct ShippedPart {
    std::string name;
    std::size_t file = 0;
    trivet::Chunk chunk;
};

std::string read_all(const std::filesystem::path& path) {
    std::ifstream in(path, std::ios::binary);
    return {std::istreambuf_iterator<char>(in), {}};
}

// One literal per line of the text, so that no literal is longer than compilers promise to take.
std::string as_literal(std::string_view text) {
    std::string out = "\"";
    for (const char c : text) {
        if (c == '\n') {
            out += "\\n\"\n\"";
        } else if (c == '"' || c == '\\') {
            (out += '\\') += c;
        } else if (static_cast<unsigned char>(c) < 0x20 || static_cast<unsigned char>(c) >= 0x7f) {
            out += fmt::format("\\{:03o}", static_cast<unsigned char>(c));
        } else {
            out += c;
        }
    }
    return out + '"';
}

bool is_part(const ShippedFile& file) { return file.path.starts_with("parts/"); }
bool is_table(const ShippedFile& file) { return file.path.starts_with("rules/tables/"); }
bool is_policy(const ShippedFile& file) { return file.path == "rules/policy.toml"; }
bool is_rule(const ShippedFile& file) { return !is_part(file) && !is_table(file) && !is_policy(file); }

void write_files(std::ostream& out, const std::vector<ShippedFile>& files, std::string_view function,
                 bool (*belongs)(const ShippedFile&)) {
    const auto count = std::ranges::count_if(files, belongs);
    fmt::print(out, "\nstd::span<const EmbeddedFile> {}() {{\n", function);
    fmt::print(out, "    static constexpr std::array<EmbeddedFile, {}> files{{\n", count);
    for (std::size_t i = 0; i < files.size(); ++i) {
        if (belongs(files[i])) fmt::print(out, "        EmbeddedFile{{{}, text_{}}},\n", as_literal(files[i].path), i);
    }
    out << "    };\n    return files;\n}\n";
}

void write_part_index(std::ostream& out, const std::vector<ShippedFile>& files, const std::vector<ShippedPart>& parts) {
    out << "\nstd::span<const EmbeddedPart> embedded_part_index() {\n";
    fmt::print(out, "    static constexpr std::array<EmbeddedPart, {}> parts{{\n", parts.size());
    for (const ShippedPart& part : parts) {
        const std::string& path = files[part.file].path;
        fmt::print(out, "        EmbeddedPart{{{}, {}, {}, text_{}.substr({}, {}), {}}},\n", as_literal(part.name),
                   as_literal(std::filesystem::path(path).stem().string()), as_literal(path), part.file,
                   part.chunk.text.data() - files[part.file].text.data(), part.chunk.text.size(),
                   part.chunk.first_line);
    }
    out << "    };\n    return parts;\n}\n";
}

void write_all(std::ostream& out, const std::vector<ShippedFile>& files, const std::vector<ShippedPart>& parts) {
    out << "#include \"library/embedded.h\"\n\n#include <array>\n\nnamespace trivet {\nnamespace {\n\n";
    for (std::size_t i = 0; i < files.size(); ++i) {
        fmt::print(out, "constexpr std::string_view text_{}{{\n{}, {}}};\n\n", i, as_literal(files[i].text),
                   files[i].text.size());
    }
    out << "} // namespace\n";
    write_files(out, files, "embedded_parts", is_part);
    write_files(out, files, "embedded_rules", is_rule);
    write_files(out, files, "embedded_tables", is_table);
    write_part_index(out, files, parts);
    const auto policy = std::ranges::find_if(files, is_policy);
    const std::string found = policy == files.end()
                                  ? std::string()
                                  : fmt::format("{}, text_{}", as_literal(policy->path), policy - files.begin());
    fmt::print(out, "\nEmbeddedFile embedded_policy() {{ return {{{}}}; }}\n\n}} // namespace trivet\n", found);
}

// The parts of all files by name; says on the error stream what keeps them from being shipped.
bool collect_parts(const std::vector<ShippedFile>& files, std::vector<ShippedPart>& parts) {
    bool sound = true;
    for (std::size_t i = 0; i < files.size(); ++i) {
        if (!is_part(files[i])) continue;
        const trivet::SplitText split = trivet::split_parts(files[i].text, {});
        for (const trivet::InputError& error : split.errors) {
            fmt::print(std::cerr, "{}:{}: {}; {}\n", files[i].path, error.place.line, error.message, error.hint);
            sound = false;
        }
        for (const trivet::Chunk& chunk : split.chunks) parts.push_back({std::string(chunk.name), i, chunk});
    }
    std::ranges::stable_sort(parts, {}, &ShippedPart::name);
    for (std::size_t i = 1; i < parts.size(); ++i) {
        if (parts[i].name != parts[i - 1].name) continue;
        fmt::print(std::cerr, "{}:{}: the part '{}' stands already in {}:{}\n", files[parts[i].file].path,
                   parts[i].chunk.first_line, parts[i].name, files[parts[i - 1].file].path,
                   parts[i - 1].chunk.first_line);
        sound = false;
    }
    return sound;
}

} // namespace

int main(int argument_count, char** arguments) {
    if (argument_count != 4) return 2;
    const std::filesystem::path root = arguments[1];
    std::ifstream list(arguments[2]);
    std::vector<ShippedFile> files;
    for (std::string path; std::getline(list, path);) {
        if (!path.empty()) files.push_back({path, read_all(root / path)});
    }
    std::vector<ShippedPart> parts;
    if (!collect_parts(files, parts)) return 1;
    std::ofstream out(arguments[3], std::ios::binary);
    write_all(out, files, parts);
    return out.flush() ? 0 : 1;
}
