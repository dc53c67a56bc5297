#include "source/input_error.h"

#include <fmt/format.h>

#include <algorithm>
#include <iterator>
#include <span>
#include <tuple>

namespace trivet {
namespace {

void keep_at_most(Errors& kept, std::span<InputError> of_one_file, std::size_t limit) {
    if (of_one_file.size() <= limit || limit == 0) {
        std::ranges::move(of_one_file, std::back_inserter(kept));
        return;
    }
    std::ranges::move(of_one_file.first(limit - 1), std::back_inserter(kept));
    InputError& first_left_out = of_one_file[limit - 1];
    first_left_out.message = fmt::format("{} more errors from here on are not shown", of_one_file.size() - limit + 1);
    first_left_out.hint = "correct the ones above and run again";
    kept.push_back(std::move(first_left_out));
}

} // namespace

void tidy(Errors& errors, std::size_t limit) {
    const auto in_file_order = [](const InputError& a, const InputError& b) {
        return std::tie(a.place, a.message) < std::tie(b.place, b.message);
    };
    const auto same = [](const InputError& a, const InputError& b) {
        return a.place == b.place && a.message == b.message;
    };
    std::ranges::stable_sort(errors, in_file_order);
    errors.erase(std::unique(errors.begin(), errors.end(), same), errors.end());

    Errors kept;
    kept.reserve(errors.size());
    for (auto first = errors.begin(); first != errors.end();) {
        const FileId file = first->place.file;
        const auto last = std::find_if(first, errors.end(), [&](const InputError& e) { return e.place.file != file; });
        keep_at_most(kept, {first, last}, limit);
        first = last;
    }
    errors = std::move(kept);
}

} // namespace trivet
