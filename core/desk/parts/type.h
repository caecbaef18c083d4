// Setting a text: faces and sizes of the page, and the breaking of lines.
#pragma once

#include <cstddef>
#include <cstdint>
#include <string>
#include <unordered_map>
#include <vector>

#include "core/desk/parts/canvas.h"
#include "core/words/words.h"

namespace saltrafter::parts {

struct Style {
  Family family = Family::sans;
  bool bold = false;
  double size = 18.0;
  double leading = 1.4;
  Ink ink = Ink::ink;

  Font font(bool strong) const { return Font{family, bold || strong, size}; }
  double line() const;
  Style in(Ink other) const;

  friend bool operator==(const Style&, const Style&) = default;
};

namespace type {
inline constexpr Style weigh = {Family::serif, false, 68.0, 1.0, Ink::ink};  // the figure to weigh
inline constexpr Style typed = {Family::serif, false, 50.0, 1.1,
                                Ink::ink};  // a figure typed where hands are wet
inline constexpr Style value = {Family::serif, false, 30.0, 1.2, Ink::ink};  // a value in a form
inline constexpr Style heading = {Family::serif, false, 34.0, 1.2, Ink::ink};
inline constexpr Style second = {Family::serif, false, 25.0, 1.25,
                                 Ink::ink};  // second heading, lead sentence
inline constexpr Style task = {Family::serif, false, 22.0, 1.25,
                               Ink::ink};  // a row's name, a figure in a row
inline constexpr Style text = {Family::sans, false, 18.0, 1.4, Ink::ink};
inline constexpr Style soft = {Family::sans, false, 18.0, 1.4, Ink::soft};
inline constexpr Style strong = {Family::sans, true, 18.0, 1.4, Ink::ink};
inline constexpr Style act = {Family::sans, true, 18.0, 1.2, Ink::accent};
inline constexpr Style small = {Family::sans, false, 17.0, 1.3, Ink::soft};  // column heads, axis
}  // namespace type

// A text set in lines no wider than asked.
struct Setting {
  struct Piece {
    double x = 0.0;
    std::string text;
    bool strong = false;
  };
  struct Line {
    std::vector<Piece> pieces;
    double width = 0.0;
  };
  std::vector<Line> lines;
  Style style;
  double width = 0.0;  // of the widest line

  double height() const { return static_cast<double>(lines.size()) * style.line(); }
};

enum class Align { left, centre, right };

// What this frame and the one before have set: the same text is broken into lines once, not in every frame.
class Settings {
 public:
  // Null when it is not kept.
  const Setting* find(const words::Text& text, const Style& style, double width);
  const Setting& keep(const words::Text& text, double width, Setting setting);
  void begin_frame();  // what the frame before did not ask for is dropped
  void clear() { kept_.clear(); }
  std::size_t size() const { return kept_.size(); }

 private:
  struct Kept {
    words::Text text;
    double width = 0.0;
    Setting setting;
    std::uint64_t used = 0;  // frame
  };
  std::unordered_multimap<std::uint64_t, Kept> kept_;
  std::uint64_t frame_ = 0;
};

// Breaks at spaces and between Han, kana and Hangul, and within another word only when it alone is wider than
// `width`, between its clusters. A non-breaking or thin space holds. What comes back is good until the
// canvas begins its next frame.
const Setting& set(const Canvas& canvas, const words::Text& text, const Style& style, double width);

// Draws with the line box's top left at (x, y); lines are aligned within `width`.
void draw(Canvas& canvas, const Setting& setting, double x, double y, double width, Align align, Ink ink);
void draw(Canvas& canvas, const Setting& setting, double x, double y);

// The width of a text on one line.
double width_of(const Canvas& canvas, const words::Text& text, const Style& style);

// The width of its longest word: in less, set() cuts it.
double longest_word(const Canvas& canvas, const words::Text& text, const Style& style);

// The style, as much smaller as its longest word needs to stay whole in `width`; never under `least`.
Style fitting(const Canvas& canvas, const words::Text& text, Style style, double width, double least);

}  // namespace saltrafter::parts
