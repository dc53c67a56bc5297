#include "report/curve_plot.h"

#include "report/plot_scale.h"
#include "source/utf8.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <string_view>

namespace trivet {

namespace {

constexpr int no_body = -1;

struct Glyphs {
    std::string_view high, middle, low, steep, swings; // of a line in its row
    std::array<std::string_view, 3> marks;             // by LevelMark::Kind
    std::array<std::string_view, 5> heat;              // off to on all the time
    std::string_view side, corner, level, number;
    std::string_view degrees;
};

constexpr Glyphs fine{"▔", "─", "▁", "│", "░", {"·", "╌", "×"}, {" ", "░", "▒", "▓", "█"}, "│", "└", "─", "┴", "°C"};
constexpr Glyphs plain{"", "", "", "", ":", {".", "-", "x"}, {" ", ".", "-", "=", "#"}, "|", "+", "-", "+", "C"};
constexpr std::array<std::size_t, 3> mark_spacing{2, 1, 4};

struct Cell {
    std::string text = " ";
    int body = no_body;
};

struct Column {
    double lowest = 0.0;
    double highest = 0.0;
    int crossings = 0; // of the middle between the two
};

class Picture {
public:
    Picture(const HeatCurve& curve, const CurveStyle& style);
    std::string text() const;

private:
    Cell& cell(int row, std::size_t column) { return cells_[static_cast<std::size_t>(row) * columns_ + column]; }
    const Cell& cell(int row, std::size_t column) const {
        return cells_[static_cast<std::size_t>(row) * columns_ + column];
    }
    std::pair<std::size_t, std::size_t> moments(std::size_t column) const;
    Column between(std::size_t body, std::size_t from, std::size_t to) const;
    Column reach(std::size_t body, std::size_t column) const;
    int row_of(double celsius) const;
    void draw_line(std::size_t body);
    void put_letters(std::size_t body, char letter);
    void draw_marks();
    bool draw_label(int row, const std::string& label);
    std::string row_text(int row) const;
    std::string margin(std::string_view text) const;
    std::string axis() const;
    std::string strip(const CurveHeater& heater) const;

    const HeatCurve& curve_;
    const CurveStyle& style_;
    const Glyphs& glyphs_;
    std::vector<LevelMark> marks_;
    TemperatureScale scale_;
    std::size_t margin_ = 5;
    std::size_t columns_ = 0;
    std::vector<Cell> cells_;
    std::vector<std::string> beside_; // marks that the picture has no room for
};

Picture::Picture(const HeatCurve& curve, const CurveStyle& style)
    : curve_(curve)
    , style_(style)
    , glyphs_(style.utf8 ? fine : plain)
    , marks_(level_marks(curve))
    , scale_(temperature_scale(curve, marks_)) {
    constexpr std::size_t widest_margin = 10;
    for (const CurveHeater& heater : curve.heaters)
        margin_ = std::max(margin_, std::min(widest_margin, code_points(heater.name)));
    columns_ = std::clamp<std::size_t>(style.width, 60, 120) - margin_ - 3;
    cells_.resize(static_cast<std::size_t>(scale_.rows) * columns_);
    const std::vector<char> letters = curve_letters(curve);
    for (std::size_t body = curve.bodies.size(); body-- > 0;) draw_line(body);
    for (std::size_t body = 0; body < curve.bodies.size(); ++body) put_letters(body, letters[body]);
    draw_marks();
}

std::pair<std::size_t, std::size_t> Picture::moments(std::size_t column) const {
    const double last = static_cast<double>(curve_.times.size() - 1);
    const double width = last / static_cast<double>(columns_ - 1);
    const double middle = static_cast<double>(column) * width;
    const double from = std::max(0.0, std::ceil(middle - 0.5 * width));
    const double to = std::min(last, std::floor(middle + 0.5 * width));
    return {static_cast<std::size_t>(std::min(from, to)), static_cast<std::size_t>(to)};
}

Column Picture::between(std::size_t body, std::size_t from, std::size_t to) const {
    const auto at = [&](std::size_t t) { return in_celsius(curve_.temperatures[t * curve_.bodies.size() + body]); };
    Column result{1e30, -1e30, 0};
    for (std::size_t t = from; t <= to; ++t) {
        result.lowest = std::min(result.lowest, at(t));
        result.highest = std::max(result.highest, at(t));
    }
    const double middle = 0.5 * (result.lowest + result.highest);
    for (std::size_t t = from; t < to; ++t) result.crossings += (at(t) < middle) != (at(t + 1) < middle) ? 1 : 0;
    return result;
}

// Where it goes up and down faster than columns can show, the neighbours count too: a band instead of a thicket.
Column Picture::reach(std::size_t body, std::size_t column) const {
    constexpr int too_fast = 3;
    const auto [from, to] = moments(column);
    const Column around = between(body, moments(column - std::min<std::size_t>(column, 1)).first,
                                  moments(std::min(column + 1, columns_ - 1)).second);
    if (around.crossings >= too_fast) return around;
    const Column alone = between(body, from, to);
    return {alone.lowest, alone.highest, 0};
}

int Picture::row_of(double celsius) const {
    return std::clamp(static_cast<int>(std::lround(scale_.row_of(celsius))), 0, scale_.rows - 1);
}

void Picture::draw_line(std::size_t body) {
    int below = scale_.rows; // the rows of the column before
    int above = -1;
    for (std::size_t column = 0; column < columns_; ++column) {
        const Column here = reach(body, column);
        int low = row_of(here.lowest);
        int high = row_of(here.highest);
        std::string_view glyph = here.crossings > 0 ? glyphs_.swings : glyphs_.steep;
        if (scale_.row_of(here.highest) - scale_.row_of(here.lowest) < 1.0) {
            const double middle = 0.5 * (here.lowest + here.highest);
            low = high = row_of(middle);
            const double over = scale_.row_of(middle) - low;
            glyph = over > 1.0 / 6 ? glyphs_.high : over < -1.0 / 6 ? glyphs_.low : glyphs_.middle;
        } else if (here.crossings == 0) {
            if (low == above && low < high) ++low; // a stair, not a double line
            if (high == below && low < high) --high;
        }
        for (int row = low; row <= high; ++row) cell(row, column) = {std::string(glyph), static_cast<int>(body)};
        below = low;
        above = high;
    }
}

// In ASCII the letters are the line. Otherwise they stand in it at intervals, so that lines on top of each other show.
void Picture::put_letters(std::size_t body, char letter) {
    constexpr std::size_t between = 16;
    constexpr std::size_t shift = 5;
    const std::string text(1, letter);
    if (!style_.utf8) {
        for (Cell& c : cells_)
            if (c.body == static_cast<int>(body) && c.text != glyphs_.swings) c.text = text;
    }
    for (std::size_t column = 4 + shift * body % between; column < columns_; column += between) {
        const Column here = reach(body, column);
        cell(row_of(0.5 * (here.lowest + here.highest)), column) = {text, static_cast<int>(body)};
    }
}

bool Picture::draw_label(int row, const std::string& label) {
    const std::size_t length = code_points(label) + 2;
    std::size_t free = 0;
    for (std::size_t column = 2; column < columns_; ++column) {
        free = cell(row, column).body == no_body ? free + 1 : 0;
        if (free < length) continue;
        std::size_t at = column + 1 - length;
        cell(row, at++).text = " ";
        for (const char c : label) {
            const bool continues = (static_cast<unsigned char>(c) & 0xC0U) == 0x80U;
            if (continues)
                cell(row, at - 1).text += c;
            else
                cell(row, at++).text = std::string(1, c);
        }
        cell(row, at).text = " ";
        return true;
    }
    return false;
}

void Picture::draw_marks() {
    std::vector<std::string> labels(static_cast<std::size_t>(scale_.rows));
    std::vector<std::string_view> glyph_of(labels.size());
    std::string above;
    std::string below;
    for (const LevelMark& mark : marks_) {
        const std::string label = fmt::format("{} {:.0f} {}", mark.text, mark.celsius, glyphs_.degrees);
        if (!scale_.shows(mark.celsius)) {
            std::string& list = scale_.row_of(mark.celsius) < 0.0 ? below : above;
            list += (list.empty() ? "" : ", ") + label;
            continue;
        }
        const int row = row_of(mark.celsius);
        const auto kind = static_cast<std::size_t>(mark.kind);
        for (std::size_t column = 0; column < columns_; column += mark_spacing[kind])
            if (cell(row, column).body == no_body) cell(row, column).text = glyphs_.marks[kind];
        std::string& there = labels[static_cast<std::size_t>(row)];
        glyph_of[static_cast<std::size_t>(row)] = glyphs_.marks[kind];
        there += (there.empty() ? "" : ", ") + label;
    }
    for (int row = 0; row < scale_.rows; ++row) {
        const std::string& label = labels[static_cast<std::size_t>(row)];
        if (!label.empty() && !draw_label(row, label))
            beside_.push_back(fmt::format("{} {}", glyph_of[static_cast<std::size_t>(row)], label));
    }
    if (!above.empty()) beside_.push_back("above: " + above);
    if (!below.empty()) beside_.push_back("below: " + below);
}

std::string Picture::margin(std::string_view text) const {
    std::string cut(text);
    while (code_points(cut) > margin_) cut.pop_back();
    return std::string(margin_ - code_points(cut), ' ') + cut + " ";
}

std::string Picture::row_text(int row) const {
    const auto number = scale_.number_at(row);
    std::string out = margin(number ? fmt::format("{:g}", *number) : "");
    out += glyphs_.side;
    int painted = no_body;
    for (std::size_t column = 0; column < columns_; ++column) {
        const Cell& here = cell(row, column);
        if (style_.colour && here.body != painted) {
            if (painted != no_body) out += unpainted(style_);
            if (here.body != no_body) out += paint_of(static_cast<std::size_t>(here.body), style_);
            painted = here.body;
        }
        out += here.text;
    }
    if (painted != no_body) out += unpainted(style_);
    out.erase(out.find_last_not_of(' ') + 1);
    return out + "\n";
}

std::string Picture::axis() const {
    const TimeScale time = time_scale(curve_.times.back().si, columns_);
    std::vector<std::string> line(columns_, std::string(glyphs_.level));
    std::string numbers(margin_ + 2 + columns_ + time.unit_name.size() + 8, ' ');
    const auto place = [&](std::string_view text, std::size_t at) {
        for (std::size_t i = 0; i < text.size(); ++i) numbers[at + i] = text[i];
    };
    for (std::size_t i = 0; i < time.numbers.size(); ++i) {
        const double share = time.end > 0.0 ? time.numbers[i] * time.unit / time.end : 0.0;
        const auto column = static_cast<std::size_t>(std::lround(share * static_cast<double>(columns_ - 1)));
        line[column] = std::string(glyphs_.number);
        std::string text = fmt::format("{:g}", time.numbers[i]);
        const std::size_t half = text.size() / 2;
        if (i + 1 == time.numbers.size()) text += " " + time.unit_name;
        const std::size_t most = margin_ + 2 + columns_ - text.size();
        place(text, std::min(margin_ + 2 + column - half, most));
    }
    std::string out = margin("") + std::string(glyphs_.corner);
    for (const std::string& piece : line) out += piece;
    numbers.erase(numbers.find_last_not_of(' ') + 1);
    return out + "\n" + numbers + "\n";
}

std::string Picture::strip(const CurveHeater& heater) const {
    std::string out = margin(heater.name);
    out += glyphs_.side;
    for (std::size_t column = 0; column < columns_; ++column) {
        const auto [from, to] = moments(column);
        double on = 0.0;
        for (std::size_t t = from; t <= to; ++t) on += heater.on[t];
        const double share = on / static_cast<double>(to - from + 1);
        const double shade = share <= 0.0 ? 0.0 : share >= 1.0 ? 4.0 : std::clamp(std::ceil(3.0 * share), 1.0, 3.0);
        out += glyphs_.heat[static_cast<std::size_t>(shade)];
    }
    out.erase(out.find_last_not_of(' ') + 1);
    return out + "\n";
}

std::string Picture::text() const {
    std::string out = margin(glyphs_.degrees);
    if (beside_.empty()) out.pop_back();
    std::string notes;
    for (const std::string& note : beside_) notes += (notes.empty() ? "" : "; ") + note;
    out += notes.empty() ? "\n" : paragraph("", notes, margin_ + 3, style_.width).substr(margin_ + 1);
    for (int row = scale_.rows; row-- > 0;) out += row_text(row);
    out += axis();
    for (const CurveHeater& heater : curve_.heaters) out += strip(heater);
    if (!curve_.heaters.empty())
        out += margin("") + fmt::format("  (heat: {} on, {} {} {} on for part of that time)\n", glyphs_.heat[4],
                                        glyphs_.heat[3], glyphs_.heat[2], glyphs_.heat[1]);
    return out;
}

} // namespace

std::string curve_plot(const HeatCurve& curve, const CurveStyle& style) { return Picture(curve, style).text(); }

} // namespace trivet
