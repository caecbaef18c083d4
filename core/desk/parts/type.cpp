#include "core/desk/parts/type.h"

#include <cmath>

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
      if (end > at) word_.push_back(Bit{std::string(text.substr(at, end - at)), strong});
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
    if (!line->pieces.empty() && line->width + space_ + run > width_ + 0.01) {
      out_.lines.emplace_back();
      line = &out_.lines.back();
      space_ = 0.0;
    }
    if (line->pieces.empty()) space_ = 0.0;
    if (run > width_ + 0.01) {
      place_by_letter();
    } else {
      for (const Bit& bit : word_)
        put(bit.text, bit.strong, canvas_.width(bit.text, out_.style.font(bit.strong)));
    }
    word_.clear();
    space_ = 0.0;
  }

  void put(const std::string& text, bool strong, double run) {
    Setting::Line& line = out_.lines.back();
    // A run of one weight is one piece with its spaces: fewer pieces, and a word is found whole.
    if (!line.pieces.empty() && line.pieces.back().strong == strong &&
        (space_ == 0.0 || space_strong_ == strong)) {
      if (space_ > 0.0) line.pieces.back().text += ' ';
      line.pieces.back().text += text;
    } else {
      line.pieces.push_back(Setting::Piece{line.width + space_, text, strong});
    }
    line.width += space_ + run;
    space_ = 0.0;
  }

  void place_by_letter() {
    for (const Bit& bit : word_) {
      const Font font = out_.style.font(bit.strong);
      std::string_view rest = bit.text;
      while (!rest.empty()) {
        std::size_t n = 1;
        while (n < rest.size() && (static_cast<unsigned char>(rest[n]) & 0xC0) == 0x80) ++n;
        const std::string letter(rest.substr(0, n));
        const double run = canvas_.width(letter, font);
        if (!out_.lines.back().pieces.empty() && out_.lines.back().width + space_ + run > width_) {
          out_.lines.emplace_back();
          space_ = 0.0;
        }
        put(letter, bit.strong, run);
        rest.remove_prefix(n);
      }
    }
  }

  const Canvas& canvas_;
  double width_;
  Setting out_;
  std::vector<Bit> word_;
  double space_ = 0.0;
  bool space_strong_ = false;
};

}  // namespace

double Style::line() const { return std::floor(size * leading + 0.5); }

Style Style::in(Ink other) const {
  Style style = *this;
  style.ink = other;
  return style;
}

Setting set(const Canvas& canvas, const words::Text& text, const Style& style, double width) {
  Breaker breaker(canvas, style, width);
  for (const words::Text::Span& span : text.spans()) breaker.add(span.text, span.strong);
  Setting setting = breaker.take();
  if (text.empty()) setting.lines.clear();
  return setting;
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

}  // namespace saltrafter::parts
