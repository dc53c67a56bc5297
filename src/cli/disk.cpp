#include "cli/disk.h"

#include <fmt/format.h>

#include <algorithm>
#include <cerrno>
#include <cstdio>
#include <cstring>
#include <filesystem>
#include <memory>
#include <system_error>
#include <unistd.h>

namespace trivet {

namespace {

namespace fs = std::filesystem;

InputError unreadable(Sources& sources, const std::string& path, std::string message, std::string hint) {
    const FileId file = sources.add(path, {}).id;
    return {ErrorKind::unreadable_file, {file, 0, 0}, std::move(message), std::move(hint)};
}

Loaded<SourceFile> refused(Sources& sources, const std::string& path, std::string message, std::string hint) {
    return {{}, {unreadable(sources, path, std::move(message), std::move(hint))}};
}

} // namespace

std::string write_file(const std::string& path, std::string_view text) {
    const std::string beside = fmt::format("{}.{}.part", path, ::getpid());
    const auto close = [](std::FILE* stream) { std::fclose(stream); };
    std::unique_ptr<std::FILE, decltype(close)> stream(std::fopen(beside.c_str(), "wbx"), close);
    if (!stream) return std::strerror(errno);
    bool written = std::fwrite(text.data(), 1, text.size(), stream.get()) == text.size();
    written = std::fclose(stream.release()) == 0 && written;
    std::string problem = written ? std::string{} : std::strerror(errno);
    std::error_code renamed;
    if (problem.empty()) fs::rename(beside, path, renamed);
    if (renamed) problem = renamed.message();
    std::error_code ignored;
    if (!problem.empty()) fs::remove(beside, ignored);
    return problem;
}

bool is_same_file(const std::string& one, const std::string& other) {
    std::error_code ignored;
    return fs::equivalent(one, other, ignored);
}

bool exists(const std::string& path) {
    std::error_code ignored;
    return fs::exists(fs::symlink_status(path, ignored));
}

bool is_folder(const std::string& path) {
    std::error_code ignored;
    return fs::is_directory(path, ignored);
}

std::string folder_of(const std::string& path) {
    const fs::path parent = fs::path(path).parent_path();
    return parent.empty() ? "." : parent.string();
}

Loaded<SourceFile> read_file(Sources& sources, const std::string& path) {
    std::error_code problem;
    const fs::file_status status = fs::status(path, problem);
    if (status.type() == fs::file_type::not_found)
        return refused(sources, path, "there is no file of this name", "check the spelling and the folder you are in");
    if (status.type() == fs::file_type::directory)
        return refused(sources, path, "this is a folder, not a design file",
                       "name a file in it, for example " + path + "/build.toml");
    if (status.type() == fs::file_type::none)
        return refused(sources, path, "the file cannot be reached: " + problem.message(), {});
    const auto close = [](std::FILE* stream) { std::fclose(stream); };
    const std::unique_ptr<std::FILE, decltype(close)> stream(std::fopen(path.c_str(), "rb"), close);
    if (!stream)
        return refused(sources, path, fmt::format("the file cannot be opened: {}", std::strerror(errno)),
                       "check its permissions");
    std::string text;
    constexpr std::size_t block = 1U << 16U;
    std::size_t got = block;
    while (got == block && text.size() <= largest_file) {
        const std::size_t before = text.size();
        text.resize(before + block);
        got = std::fread(text.data() + before, 1, block, stream.get());
        text.resize(before + got);
    }
    if (std::ferror(stream.get()) != 0)
        return refused(sources, path, "reading the file stopped with an error", "check the disk it is on");
    if (text.size() > largest_file)
        return refused(sources, path,
                       fmt::format("the file is larger than {} MiB, which no design needs", largest_file >> 20U),
                       "check that this is the file you meant");
    return {sources.add(path, std::move(text)), {}};
}

Loaded<std::vector<std::string>> toml_files(Sources& sources, const std::string& folder) {
    std::vector<std::string> found;
    std::error_code problem;
    if (!fs::is_directory(folder, problem))
        return {{},
                {unreadable(sources, folder, "there is no folder of this name",
                            "check the spelling and the folder you are in")}};
    fs::recursive_directory_iterator at(folder, problem);
    const fs::recursive_directory_iterator end;
    while (!problem && at != end) {
        if (at->path().extension() == ".toml") found.push_back(at->path().string());
        at.increment(problem);
    }
    if (problem)
        return {
            {},
            {unreadable(sources, folder, "the folder cannot be read: " + problem.message(), "check its permissions")}};
    std::ranges::sort(found);
    return {std::move(found), {}};
}

} // namespace trivet
