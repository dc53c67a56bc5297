#include "structure/house.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <array>

namespace trivet::house {
namespace {

// A third-party header by how its path starts, and the only places that may include it.
struct ThirdParty {
    std::string_view starts;
    std::vector<std::string_view> places; // how the including file's path starts
    bool in_headers = false;              // may stand in a header other modules include
};

const std::array<ThirdParty, 8> third_parties{{
    {"fmt/", {"src/"}, true},
    {"tl/", {"src/"}, true},
    {"toml++/", {"src/source/document.cpp"}},
    {"boost/", {"src/circuit/", "src/thermal/"}},
    {"suitesparse/", {"src/electrical/"}},
    {"nlohmann/", {"src/report/", "src/cli/"}},
    {"CLI/", {"src/cli/"}},
    {"Eigen/", {"src/thermal/"}}, // and the independent reference of tests
}};

const ThirdParty* third_party(const Include& include) {
    if (include.quoted) return nullptr;
    const auto found =
        std::ranges::find_if(third_parties, [&](const ThirdParty& t) { return include.path.starts_with(t.starts); });
    return found == third_parties.end() ? nullptr : &*found;
}

std::string module_of(const Include& include) { return include.path.substr(0, include.path.find('/')); }

TEST(Modules, AreDeclaredInOrderAndUseOnlyWhatStandsBefore) {
    std::set<std::string> before;
    for (const Module& module : declared_modules()) {
        for (const std::string& used : module.uses) {
            EXPECT_TRUE(before.contains(used))
                << module.name << " uses " << used << ", which is not declared before it "
                << "in TRIVET_MODULES (src/CMakeLists.txt)";
        }
        before.insert(module.name);
    }
    EXPECT_GE(before.size(), 10U) << "too few modules configured; was TRIVET_ONLY set?";
}

TEST(Modules, IncludeOnlyWhatTheyDeclareInUses) {
    std::map<std::string, std::set<std::string>> uses;
    for (const Module& module : declared_modules()) uses[module.name] = module.uses;
    for (const TextFile& file : cpp_files("src")) {
        const std::string module = file.module();
        ASSERT_TRUE(uses.contains(module)) << file.path << ": its module is not declared in src/CMakeLists.txt";
        for (const Include& include : file.includes) {
            if (!include.quoted || module_of(include) == module) continue;
            EXPECT_TRUE(uses[module].contains(module_of(include)))
                << place(file, include.line) << ": " << module << " does not name " << module_of(include) << " in USES";
        }
    }
}

TEST(Modules, NeedEveryModuleTheyDeclare) {
    std::map<std::string, std::set<std::string>> included;
    for (const TextFile& file : cpp_files("src")) {
        for (const Include& include : file.includes) {
            if (include.quoted) included[file.module()].insert(module_of(include));
        }
    }
    for (const Module& module : declared_modules()) {
        for (const std::string& used : module.uses) {
            EXPECT_TRUE(included[module.name].contains(used))
                << module.name << " includes nothing of " << used << ": take it out of USES";
        }
    }
}

TEST(Modules, CompileEverySourceFileTheyHold) {
    for (const TextFile& file : cpp_files("src")) {
        if (file.header()) continue;
        const std::string name = file.path.substr(file.path.rfind('/') + 1);
        const std::string cmake = whole_text("src/" + file.module() + "/CMakeLists.txt");
        EXPECT_NE(cmake.find(name), std::string::npos) << file.path << " is compiled by nobody";
    }
}

TEST(ThirdParties, AreIncludedOnlyWhereTheyBelong) {
    for (const TextFile& file : cpp_files("src")) {
        for (const Include& include : file.includes) {
            const ThirdParty* party = third_party(include);
            if (party == nullptr) {
                const bool known =
                    include.quoted || include.path.find('/') == std::string::npos || include.path.starts_with("sys/");
                EXPECT_TRUE(known) << place(file, include.line) << ": add <" << include.path << "> to third_parties";
                continue;
            }
            const bool allowed =
                std::ranges::any_of(party->places, [&](std::string_view p) { return file.path.starts_with(p); });
            EXPECT_TRUE(allowed) << place(file, include.line) << ": <" << include.path << "> does not belong here";
        }
    }
}

// A library that a header of one module shows to another would be part of everybody's compile time and interface.
TEST(ThirdParties, StayOutOfHeadersThatOtherModulesInclude) {
    std::map<std::string, TextFile> headers;
    for (TextFile& file : cpp_files("src")) {
        if (file.header()) headers.emplace(file.path.substr(4), file);
    }
    std::set<std::string> reached; // by an include from another module, directly or through headers
    std::vector<std::string> open;
    const auto reach = [&](const Include& include) {
        if (include.quoted && reached.insert(include.path).second) open.push_back(include.path);
    };
    for (const TextFile& file : cpp_files("src")) {
        for (const Include& include : file.includes) {
            if (module_of(include) != file.module()) reach(include);
        }
    }
    while (!open.empty()) {
        const auto header = headers.find(open.back());
        open.pop_back();
        if (header == headers.end()) continue;
        for (const Include& include : header->second.includes) {
            reach(include);
            const ThirdParty* party = third_party(include);
            EXPECT_TRUE(party == nullptr || party->in_headers)
                << place(header->second, include.line) << ": other modules include this header";
        }
    }
}

} // namespace
} // namespace trivet::house
