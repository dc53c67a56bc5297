#pragma once

#include <algorithm>
#include <cstddef>
#include <memory>
#include <string_view>
#include <vector>

namespace trivet {

// Keeps copies of texts in few large blocks instead of one allocation each; they stay at their address.
class TextStore {
public:
    std::string_view keep(std::string_view text) {
        if (text.empty()) return {};
        if (text.size() > free_) add_block(std::max(text.size(), block_bytes));
        std::ranges::copy(text, next_);
        const std::string_view kept(next_, text.size());
        next_ += text.size();
        free_ -= text.size();
        return kept;
    }

private:
    static constexpr std::size_t block_bytes = 64U << 10U;

    void add_block(std::size_t bytes) {
        blocks_.push_back(std::make_unique_for_overwrite<char[]>(bytes));
        next_ = blocks_.back().get();
        free_ = bytes;
    }

    std::vector<std::unique_ptr<char[]>> blocks_;
    char* next_ = nullptr;
    std::size_t free_ = 0;
};

} // namespace trivet
