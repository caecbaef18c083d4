#include "core/desk/parts/type.h"

#include <algorithm>
#include <cmath>
#include <functional>
#include <iterator>
#include <utility>

#include "core/desk/parts/script.h"

namespace saltrafter::parts {
namespace {

class Breaker {
 public:
  Breaker(const Canvas& canvas, const Style& style, double width) : canvas_(canvas), width_(width) {
    out_.style = style;
    out_.lines.emplace_back();
  }

  void add(std::string_view text, bool strong) {
    const Font font = out_.style.font(strong);
    std::size_t at = 0;
    while (at < text.size()) {
      std::size_t end = text.find(' ', at);
      if (end == std::string_view::npos) end = text.size();
      while (at < end) {
        // Before and after Han, kana and Hangul a line may break without a space.
        const std::size_t held = at + held_together(text.substr(at, end - at), 0);
        const std::string_view bit = text.substr(at, held - at);
        if (!word_.empty() && may_part(word_.back().text, bit)) place_word();
        word_.push_back(Bit{std::string(bit), strong});
        at = held;
      }
      if (end == text.size()) return;
      place_word();
      space_ += canvas_.width(" ", font);
      space_strong_ = strong;
      at = end + 1;
    }
  }

  Setting take() {
    place_word();
    for (Setting::Line& line : out_.lines) {
      out_.width = std::fmax(out_.width, line.width);
    }
    return std::move(out_);
  }

 private:
  struct Bit {
    std::string text;
    bool strong;
  };

  void place_word() {
    if (word_.empty()) return;
    double run = 0.0;
    for (const Bit& bit : word_) run += canvas_.width(bit.text, out_.style.font(bit.strong));
    Setting::Line* line = &out_.lines.back();
    double longer = space_ + run;
    if (runs_on(*line, word_.front())) {
      const Bit& first = word_.front();
      longer = longer_by(*line, first) + run - canvas_.width(first.text, out_.style.font(first.strong));
    }
    if (!line->pieces.empty() && line->width + longer > width_ + 0.01) {
      out_.lines.emplace_back();
      line = &out_.lines.back();
      space_ = 0.0;
    }
    if (line->pieces.empty()) space_ = 0.0;
    if (run > width_ + 0.01) {
      for (const Bit& bit : word_) place_in_parts(bit);
    } else {
      for (const Bit& bit : word_) put(bit);
    }
    word_.clear();
    space_ = 0.0;
  }

  bool same_piece(const Setting::Line& line, const Bit& bit) const {
    return !line.pieces.empty() && line.pieces.back().strong == bit.strong &&
           (space_ == 0.0 || space_strong_ == bit.strong);
  }

  // A shaped run goes on over a space: it is ordered and measured whole.
  bool runs_on(const Setting::Line& line, const Bit& bit) const {
    return same_piece(line, bit) && goes_on(line.pieces.back().text, bit.text);
  }

  double longer_by(const Setting::Line& line, const Bit& bit) const {
    const Setting::Piece& last = line.pieces.back();
    const std::string whole = last.text + (space_ > 0.0 ? " " : "") + bit.text;
    return last.x + canvas_.width(whole, out_.style.font(bit.strong)) - line.width;
  }

  void put(const Bit& bit) {
    Setting::Line& line = out_.lines.back();
    const double longer = runs_on(line, bit)
                              ? longer_by(line, bit)
                              : space_ + canvas_.width(bit.text, out_.style.font(bit.strong));
    // A run of one weight is one piece with its spaces: fewer pieces, and a word is found whole.
    if (same_piece(line, bit)) {
      if (space_ > 0.0) line.pieces.back().text += ' ';
      line.pieces.back().text += bit.text;
    } else {
      line.pieces.push_back(Setting::Piece{line.width + space_, bit.text, bit.strong});
    }
    line.width += longer;
    space_ = 0.0;
  }

  // A word wider than the line, cut between clusters where the line is full.
  void place_in_parts(const Bit& bit) {
    std::string_view rest = bit.text;
    while (!rest.empty()) {
      const Setting::Line& line = out_.lines.back();
      std::size_t n = fitting(rest, out_.style.font(bit.strong), width_ - line.width - space_);
      if (n == 0 && line.pieces.empty()) n = cluster_end(rest, 0);
      if (n > 0) put(Bit{std::string(rest.substr(0, n)), bit.strong});
      rest.remove_prefix(n);
      if (rest.empty()) break;
      out_.lines.emplace_back();
      space_ = 0.0;
    }
  }

  // The most bytes of whole clusters that are no wider than `room`. A run's width is not the sum of its
  // letters', so beginnings are measured, few of them and none much longer than the line.
  std::size_t fitting(std::string_view rest, const Font& font, double room) const {
    std::vector<std::size_t> ends = {0};
    const auto reach = [&](std::size_t n) {
      while (ends.size() <= n && ends.back() < rest.size()) ends.push_back(cluster_end(rest, ends.back()));
      return std::min(n, ends.size() - 1);
    };
    const auto fits = [&](std::size_t n) { return canvas_.width(rest.substr(0, ends[n]), font) <= room; };
    std::size_t low = 0;
    std::size_t high = reach(1);
    while (high > low && fits(high)) {
      low = high;
      high = reach(high * 2);
    }
    while (high > low + 1) {
      const std::size_t middle = (low + high) / 2;
      (fits(middle) ? low : high) = middle;
    }
    return ends[low];
  }

  const Canvas& canvas_;
  double width_;
  Setting out_;
  std::vector<Bit> word_;
  double space_ = 0.0;
  bool space_strong_ = false;
};

std::uint64_t key_of(const words::Text& text, const Style& style, double width) {
  // Asked for each text of each frame: a quick key, and what it finds is compared.
  std::uint64_t key = std::hash<double>()(width) ^ std::hash<double>()(style.size) * 31;
  for (const words::Text::Span& span : text.spans()) key = key * 31 + std::hash<std::string>()(span.text);
  return key;
}

}  // namespace

double Style::line() const { return std::floor(size * leading + 0.5); }

Style Style::in(Ink other) const {
  Style style = *this;
  style.ink = other;
  return style;
}

const Setting* Settings::find(const words::Text& text, const Style& style, double width) {
  const auto [from, to] = kept_.equal_range(key_of(text, style, width));
  for (auto at = from; at != to; ++at) {
    Kept& kept = at->second;
    if (kept.width != width || !(kept.setting.style == style) || !(kept.text == text)) continue;
    kept.used = frame_;
    return &kept.setting;
  }
  return nullptr;
}

const Setting& Settings::keep(const words::Text& text, double width, Setting setting) {
  const std::uint64_t key = key_of(text, setting.style, width);
  return kept_.emplace(key, Kept{text, width, std::move(setting), frame_})->second.setting;
}

void Settings::begin_frame() {
  for (auto at = kept_.begin(); at != kept_.end();) {
    at = at->second.used == frame_ ? std::next(at) : kept_.erase(at);
  }
  ++frame_;
}

const Setting& set(const Canvas& canvas, const words::Text& text, const Style& style, double width) {
  if (const Setting* kept = canvas.settings().find(text, style, width)) return *kept;
  Breaker breaker(canvas, style, width);
  for (const words::Text::Span& span : text.spans()) breaker.add(span.text, span.strong);
  Setting setting = breaker.take();
  if (text.empty()) setting.lines.clear();
  return canvas.settings().keep(text, width, std::move(setting));
}

void draw(Canvas& canvas, const Setting& s, double x, double y, double width, Align align, Ink ink) {
  const double line_height = s.style.line();
  for (const Setting::Line& line : s.lines) {
    double left = x;
    if (align == Align::right) left = x + width - line.width;
    if (align == Align::centre) left = x + (width - line.width) / 2.0;
    const double base = y + canvas.baseline(s.style.font(false), line_height);
    for (const Setting::Piece& piece : line.pieces) {
      canvas.letters(left + piece.x, base, piece.text, s.style.font(piece.strong), canvas.colour(ink));
    }
    y += line_height;
  }
}

void draw(Canvas& canvas, const Setting& s, double x, double y) {
  draw(canvas, s, x, y, s.width, Align::left, s.style.ink);
}

double width_of(const Canvas& canvas, const words::Text& text, const Style& style) {
  double run = 0.0;
  for (const words::Text::Span& span : text.spans()) run += canvas.width(span.text, style.font(span.strong));
  return run;
}

double longest_word(const Canvas& canvas, const words::Text& text, const Style& style) {
  double longest = 0.0;
  for (const words::Text::Span& span : text.spans()) {
    std::string_view rest = span.text;
    while (!rest.empty()) {
      const std::size_t end = std::min(rest.find(' '), rest.size());
      longest = std::fmax(longest, canvas.width(rest.substr(0, end), style.font(span.strong)));
      rest.remove_prefix(std::min(end + 1, rest.size()));
    }
  }
  return longest;
}

Style fitting(const Canvas& canvas, const words::Text& text, Style style, double width, double least) {
  const double longest = longest_word(canvas, text, style);
  if (longest > width && longest > 0.0) {
    style.size = std::fmax(least, std::floor(2.0 * style.size * width / longest) / 2.0);
  }
  return style;
}

}  // namespace saltrafter::parts
