#pragma once

#include <cstddef>
#include <string_view>

namespace trivet {

// A position in a quantity's text. Letters outside ASCII are compared as UTF-8 bytes.
class Scanner {
public:
    explicit Scanner(std::string_view text)
        : text_(text) {}

    std::string_view text() const { return text_; }
    std::size_t position() const { return position_; }
    void move_to(std::size_t position) { position_ = position; }
    bool at_end() const { return position_ >= text_.size(); }
    char peek(std::size_t ahead = 0) const {
        return position_ + ahead < text_.size() ? text_[position_ + ahead] : '\0';
    }
    bool sees(std::string_view words) const { return text_.substr(position_, words.size()) == words; }
    void advance(std::size_t bytes = 1) { position_ += bytes; }

    bool take(char c) {
        if (at_end() || text_[position_] != c) return false;
        ++position_;
        return true;
    }
    bool take(std::string_view words) {
        if (!sees(words)) return false;
        position_ += words.size();
        return true;
    }
    bool take_minus() { return take('-') || take("\u2212"); }

    // Also the no-break and thin spaces that word processors put between number and unit.
    void skip_spaces() {
        for (;;) {
            const char c = peek();
            if (c == ' ' || c == '\t') {
                ++position_;
            } else if (static_cast<unsigned char>(c) < 0x80 || !(take("\u00a0") || take("\u2009") || take("\u202f"))) {
                return;
            }
        }
    }

private:
    std::string_view text_;
    std::size_t position_ = 0;
};

constexpr bool is_digit(char c) { return c >= '0' && c <= '9'; }
constexpr bool is_letter(char c) { return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z'); }

} // namespace trivet
