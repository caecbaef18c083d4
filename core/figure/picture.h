// What a picture is made of. Millimetres, x to the right, y down, origin at the top left.
#pragma once

#include <functional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

namespace saltrafter::figure {

// Roles of ink; a theme or a print sheet gives them colours.
enum class Ink { ground, sheet, ink, soft, rule, accent, on_accent, wash, near, not_met, edge };
inline constexpr int kInkCount = 11;

struct Paint {
  Ink ink = Ink::ink;
  double share = 1.0;  // mixed into the ground, 1 = pure; everything stays opaque
  double ramp = -1.0;  // 0..1: a place on the meat's ramp instead of `ink`
};
Paint of(Ink ink, double share = 1.0);
Paint meat(double loss_over_wanted);  // held to 0..1; not finite: 0

struct Point {
  double x_mm = 0.0;
  double y_mm = 0.0;
};

struct Line {
  std::vector<Point> points;
  double width_mm = 0.25;
  Paint paint;
  double dash_mm = 0.0;  // length of a dash, 0 for a full line
  double gap_mm = 0.0;
  bool closed = false;
};

struct Area {
  std::vector<Point> points;  // a simple outline, convex or not
  Paint paint;
};

// A ring: a measured point.
struct Mark {
  Point at;
  double radius_mm = 0.0;
  double width_mm = 0.25;
  Paint line;
  Paint fill;
};

enum class Face { label, label_bold };
enum class Align { left, centre, right };

struct Label {
  Point at;  // on the baseline
  std::string text;
  double size_mm = 0.0;  // of the em
  Face face = Face::label;
  Align align = Align::left;
  Paint paint;
  double halo_mm = 0.0;  // of the ground, round the letters
};

using Item = std::variant<Line, Area, Mark, Label>;

struct Figure {
  double width_mm = 0.0;
  double height_mm = 0.0;
  std::vector<Item> items;  // the first lies undermost
};

// How far a text runs, in em.
using Advance = std::function<double(std::string_view text, Face face)>;

// The box that a label's letters may touch: ascent 0.75 em, descent 0.25 em.
struct Box {
  double left_mm = 0.0;
  double top_mm = 0.0;
  double right_mm = 0.0;
  double bottom_mm = 0.0;

  bool overlaps(const Box& other) const;
};
Box box_of(const Label& label, const Advance& advance);

// Sizes on the screen are thought in CSS pixels: 96 to the inch.
inline constexpr double kMmPerPx = 25.4 / 96.0;

}  // namespace saltrafter::figure
