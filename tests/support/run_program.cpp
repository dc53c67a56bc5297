#include "support/run_program.h"

#include <array>
#include <cstdio>
#include <fcntl.h>
#include <memory>
#include <sys/wait.h>
#include <unistd.h>

namespace trivet::testing {
namespace {

struct Close {
    void operator()(std::FILE* file) const { std::fclose(file); }
};
using File = std::unique_ptr<std::FILE, Close>;

std::string text_of(std::FILE* file) {
    std::rewind(file);
    std::string text;
    std::array<char, 4096> block{};
    for (std::size_t got = 0; (got = std::fread(block.data(), 1, block.size(), file)) > 0;)
        text.append(block.data(), got);
    return text;
}

[[noreturn]] void become(const std::filesystem::path& program, const std::vector<std::string>& arguments,
                         const std::filesystem::path& folder, int output, int errors) {
    std::vector<std::string> words{program.string()};
    words.insert(words.end(), arguments.begin(), arguments.end());
    std::vector<char*> pointers;
    for (std::string& word : words) pointers.push_back(word.data());
    pointers.push_back(nullptr);
    const int nothing = open("/dev/null", O_RDONLY);
    const bool ready = nothing >= 0 && dup2(nothing, STDIN_FILENO) >= 0 && dup2(output, STDOUT_FILENO) >= 0 &&
                       dup2(errors, STDERR_FILENO) >= 0 && chdir(folder.c_str()) == 0;
    if (ready) execv(program.c_str(), pointers.data());
    _exit(127);
}

} // namespace

RunOutcome run_program(const std::filesystem::path& program, const std::vector<std::string>& arguments,
                       const std::filesystem::path& folder) {
    // Files instead of pipes: no output is too long and nobody has to read both at once.
    const File output(std::tmpfile());
    const File errors(std::tmpfile());
    if (!output || !errors) return {};
    const pid_t child = fork();
    if (child == 0) become(program, arguments, folder, fileno(output.get()), fileno(errors.get()));
    int status = 0;
    if (child < 0 || waitpid(child, &status, 0) != child) return {};
    const int exit_status = WIFEXITED(status) ? WEXITSTATUS(status) : 128 + WTERMSIG(status);
    return {exit_status, text_of(output.get()), text_of(errors.get())};
}

} // namespace trivet::testing
