// Where a label may stand: beside what it names, clear of everything else where that can be had.
#pragma once

#include <vector>

#include "core/figure/picture.h"

namespace saltrafter::figure {

class Placing {
 public:
  Placing(double width_mm, double height_mm, const Advance& advance);

  // What labels keep clear of, the dearest first: other labels and the picture's edge (never, if it can be
  // helped), marks, uprights, lines.
  void keep_clear_of(const Label& label) { labels_.push_back(box_of(label, advance_)); }
  void keep_clear_of(const Mark& mark);
  void keep_clear_of_line(const std::vector<Point>& points, double width_mm, double cost = 20.0);
  void keep_clear_of_upright(double x_mm, double top_mm, double bottom_mm) {
    keep_clear_of_line({Point{x_mm, top_mm}, Point{x_mm, bottom_mm}}, 0.0, 50.0);
  }

  // The first of the cheapest places for a label; remembers it for those that follow. `places` are in order
  // of preference and not empty. Always the same for the same input.
  Label place(const Label& label, const std::vector<std::pair<Point, Align>>& places);

  // What a box there would cost; 0 is clear.
  double cost(const Box& box) const;

 private:
  struct Obstacle {
    std::vector<Point> points;
    double half_mm = 0.0;
    double cost = 0.0;
  };
  const Advance& advance_;
  double width_mm_;
  double height_mm_;
  std::vector<Box> labels_;
  std::vector<Box> marks_;
  std::vector<Obstacle> lines_;
};

// Whether a straight line from a to b has a point within the box.
bool crosses(const Point& a, const Point& b, const Box& box);

}  // namespace saltrafter::figure
