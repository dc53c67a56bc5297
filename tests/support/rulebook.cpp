#include "support/rulebook.h"

#include "design/read_design.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <fstream>
#include <iterator>

namespace trivet::testing {
namespace {

namespace fs = std::filesystem;

constexpr std::array kinds{std::string_view("pass"), std::string_view("fail"), std::string_view("cannot-tell")};

std::vector<fs::path> toml_files(const fs::path& folder, bool recursive) {
    std::vector<fs::path> found;
    if (!fs::is_directory(folder)) return found;
    const auto take = [&](const fs::directory_entry& entry) {
        if (entry.is_regular_file() && entry.path().extension() == ".toml") found.push_back(entry.path());
    };
    if (recursive) {
        for (const auto& entry : fs::recursive_directory_iterator(folder)) take(entry);
    } else {
        for (const auto& entry : fs::directory_iterator(folder)) take(entry);
    }
    std::ranges::sort(found);
    return found;
}

bool is_of_kind(std::string_view name, std::string_view kind) {
    return name == kind || (name.starts_with(kind) && name.substr(kind.size()).starts_with('-'));
}

std::string_view first_word(std::string_view text) { return text.substr(0, text.find_first_of(" \t\"")); }

void add_markers(std::string_view line, std::uint32_t number, std::vector<Marker>& markers) {
    constexpr std::string_view sign = "#~";
    for (std::size_t at = line.find(sign); at != std::string_view::npos;) {
        std::string_view rest = line.substr(at + sign.size());
        const std::size_t next = line.find(sign, at + 1);
        if (next != std::string_view::npos) rest = line.substr(at + sign.size(), next - at - sign.size());
        Marker marker{.line = number, .rule = {}, .verdict = Verdict::fail, .fragment = {}};
        if (rest.starts_with('?')) {
            marker.verdict = Verdict::cannot_tell;
            rest.remove_prefix(1);
        }
        rest.remove_prefix(std::min(rest.find_first_not_of(" \t"), rest.size()));
        marker.rule = first_word(rest);
        const std::size_t quote = rest.find('"');
        if (quote != std::string_view::npos)
            marker.fragment = rest.substr(quote + 1, rest.find('"', quote + 1) - quote - 1);
        markers.push_back(std::move(marker));
        at = next;
    }
}

std::vector<std::string_view> lines_of(std::string_view text) {
    std::vector<std::string_view> lines;
    while (!text.empty()) {
        const std::size_t end = std::min(text.find('\n'), text.size());
        lines.push_back(text.substr(0, end));
        text.remove_prefix(std::min(end + 1, text.size()));
    }
    return lines;
}

// Quotes count, so that a '#' inside a text is none.
std::string_view without_comment(std::string_view line) {
    char quote = 0;
    for (std::size_t i = 0; i < line.size(); ++i) {
        const char c = line[i];
        if (quote != 0) {
            if (c == quote) quote = 0;
        } else if (c == '"' || c == '\'') {
            quote = c;
        } else if (c == '#') {
            line = line.substr(0, i);
        }
    }
    const std::size_t last = line.find_last_not_of(" \t\r");
    return last == std::string_view::npos ? std::string_view{} : line.substr(0, last + 1);
}

std::vector<std::string_view> statements_of(std::string_view text) {
    std::vector<std::string_view> statements;
    for (const std::string_view line : lines_of(text)) {
        const std::string_view statement = without_comment(line);
        if (!statement.empty()) statements.push_back(statement);
    }
    std::ranges::sort(statements);
    return statements;
}

} // namespace

Rulebook::Rulebook(fs::path root)
    : root_(std::move(root)) {
    load();
}

void Rulebook::load() {
    std::vector<SourceFile> rules;
    for (const fs::path& path : toml_files(root_ / "parts", true))
        errors_ += text_of(catalog_.add_file(sources_, path.stem().string(), shown(path),
                                             sources_.add("", whole_text(path)).text, false));
    for (const fs::path& path : toml_files(root_ / "rules", true)) {
        const SourceFile file = sources_.add(shown(path), whole_text(path));
        if (path.parent_path().filename() == "tables") {
            auto table = read_table(file);
            errors_ += text_of(table.errors);
            if (table.value) handbook_.tables.emplace(table.value->name, std::move(*table.value));
        } else if (path.parent_path().filename() == "rules") {
            auto policy = read_policy(file);
            errors_ += text_of(policy.errors);
            if (policy.value) policy_ = std::move(*policy.value);
        } else {
            rules.push_back(file);
        }
    }
    load_rules(std::move(rules));
}

// File by file with the lets they share, so that one broken rule does not hide the others.
void Rulebook::load_rules(std::vector<SourceFile> files) {
    const auto is_lets = [](const SourceFile& file) { return file.name.ends_with("/lets.toml"); };
    std::vector<SourceFile> with_lets;
    std::ranges::copy_if(files, std::back_inserter(with_lets), is_lets);
    rule_files_ = files.size() - with_lets.size();
    std::erase_if(files, [&](const SourceFile& file) {
        if (is_lets(file)) return false;
        with_lets.push_back(file);
        const auto alone = read_rules(with_lets, policy_, handbook_);
        with_lets.pop_back();
        errors_ += text_of(alone.errors);
        return !alone;
    });
    auto read = read_rules(files, policy_, handbook_);
    if (!read) return;
    rules_ = std::move(read.value->set);
    for (const std::string& name : read.value->replaced)
        errors_ += fmt::format("two rules are called {}: give one of them another name\n", name);
}

void Rulebook::judge(Fixture& fixture) {
    Catalog catalog = catalog_;
    Errors errors;
    for (const fs::path& path : toml_files(fixture.path.parent_path() / "parts", false)) {
        const std::string_view text = sources_.add("", whole_text(path)).text;
        Errors more = catalog.add_file(sources_, path.stem().string(), shown(path), text, true);
        errors.insert(errors.end(), more.begin(), more.end());
    }
    Loaded<Design> design = read_design(sources_.add(shown(fixture.path), fixture.text), catalog);
    errors.insert(errors.end(), design.errors.begin(), design.errors.end());
    if (design && errors.empty()) {
        fixture.assessment = assess(*design.value, rules_, policy_, handbook_, Detail::failures);
        errors = fixture.assessment.errors;
        fixture.design = std::move(design.value);
    }
    fixture.errors = text_of(errors);
}

fs::path Rulebook::fixture_folder(std::string_view rule) const { return root_ / "tests" / "rules" / rule; }

std::string Rulebook::shown(const fs::path& path) const { return path.lexically_relative(root_).generic_string(); }

const std::vector<Fixture>& Rulebook::of(std::string_view rule) {
    const auto known = fixtures_.find(rule);
    if (known != fixtures_.end()) return known->second;
    std::vector<Fixture>& list = fixtures_[std::string(rule)];
    for (const fs::path& path : toml_files(fixture_folder(rule), false)) {
        Fixture& fixture = list.emplace_back();
        fixture.name = path.stem().string();
        fixture.path = path;
        fixture.text = whole_text(path);
        std::uint32_t number = 0;
        for (const std::string_view line : lines_of(fixture.text)) add_markers(line, ++number, fixture.markers);
        judge(fixture);
    }
    return list;
}

std::vector<const Fixture*> Rulebook::fixtures(std::string_view rule, std::string_view kind) {
    std::vector<const Fixture*> found;
    for (const Fixture& fixture : of(rule))
        if (is_of_kind(fixture.name, kind)) found.push_back(&fixture);
    return found;
}

std::vector<const Fixture*> Rulebook::fixtures(std::string_view rule) {
    std::vector<const Fixture*> found;
    for (const Fixture& fixture : of(rule))
        if (std::ranges::any_of(kinds, [&](std::string_view kind) { return is_of_kind(fixture.name, kind); }))
            found.push_back(&fixture);
    return found;
}

const Fixture* Rulebook::counterpart(std::string_view rule, const Fixture& fixture) {
    std::string wanted = "pass";
    for (const std::string_view kind : kinds)
        if (is_of_kind(fixture.name, kind)) wanted += fixture.name.substr(kind.size());
    const Fixture* plain = nullptr;
    for (const Fixture& other : of(rule)) {
        if (other.name == wanted) return &other;
        if (other.name == "pass") plain = &other;
    }
    return plain;
}

std::string Rulebook::text_of(const Errors& errors) const {
    std::string text;
    for (const InputError& error : errors)
        text += fmt::format("{}:{}:{}: {} ({})\n", sources_.name(error.place.file), error.place.line,
                            error.place.column, error.message, error.hint);
    return text;
}

Rulebook& rulebook() {
    static Rulebook book(TRIVET_SOURCE_DIR);
    return book;
}

std::string whole_text(const fs::path& path) {
    std::ifstream in(path, std::ios::binary);
    return {std::istreambuf_iterator<char>(in), {}};
}

std::map<std::string, std::string> reasons_in(const fs::path& path) {
    constexpr std::string_view separator = " = ";
    std::map<std::string, std::string> found;
    std::string* last = nullptr;
    const std::string text = whole_text(path);
    for (const std::string_view line : lines_of(text)) {
        if (line.empty() || line.starts_with('#')) continue;
        const std::size_t begin = line.find_first_not_of(' ');
        if (begin == 0) {
            const std::size_t sign = line.find(separator);
            last = &found[std::string(line.substr(0, sign))];
            if (sign != std::string_view::npos) *last = line.substr(sign + separator.size());
        } else if (last != nullptr && begin != std::string_view::npos) {
            *last += line.substr(begin);
        }
    }
    return found;
}

std::size_t changed_lines(std::string_view one, std::string_view other) {
    const auto left = statements_of(one);
    const auto right = statements_of(other);
    std::vector<std::string_view> only_left;
    std::vector<std::string_view> only_right;
    std::ranges::set_difference(left, right, std::back_inserter(only_left));
    std::ranges::set_difference(right, left, std::back_inserter(only_right));
    return std::max(only_left.size(), only_right.size());
}

std::map<FindingKey, const Finding*> findings_by_key(const Assessment& assessment) {
    std::map<FindingKey, const Finding*> found;
    for (const Finding& finding : assessment.findings) {
        const Subject& subject = assessment.facts.subject(finding.subject);
        std::string name = subject.name;
        if (subject.kind == SubjectKind::wire) name = name.substr(std::min(name.find('('), name.size()));
        FindingKey key{finding.rule->name, name, 0};
        while (found.contains(key)) ++std::get<2>(key);
        found.emplace(std::move(key), &finding);
    }
    return found;
}

std::uint32_t line_of(const Finding& finding, const FactTable& facts) {
    return facts.subject(finding.subject).place.line;
}

} // namespace trivet::testing
