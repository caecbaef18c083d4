#include "core/figure/placing.h"

#include <algorithm>
#include <cmath>

namespace saltrafter::figure {
namespace {

// Never, if it can be helped; then by what is harder to read past.
constexpr double kLabel = 10000.0;
constexpr double kEdge = 10000.0;
constexpr double kMark = 100.0;
constexpr double kClear_mm = 4.0 * kMmPerPx;  // between a label and what it keeps clear of

Box grown(const Box& box, double by) {
  return Box{box.left_mm - by, box.top_mm - by, box.right_mm + by, box.bottom_mm + by};
}

}  // namespace

bool crosses(const Point& a, const Point& b, const Box& box) {
  // The stretch of the line within the box's width, then within its height.
  double from = 0.0;
  double to = 1.0;
  const auto cut = [&from, &to](double start, double delta, double low, double high) {
    if (delta == 0.0) return start >= low && start <= high;
    const double t1 = (low - start) / delta;
    const double t2 = (high - start) / delta;
    from = std::fmax(from, std::fmin(t1, t2));
    to = std::fmin(to, std::fmax(t1, t2));
    return from <= to;
  };
  return cut(a.x_mm, b.x_mm - a.x_mm, box.left_mm, box.right_mm) &&
         cut(a.y_mm, b.y_mm - a.y_mm, box.top_mm, box.bottom_mm);
}

Placing::Placing(double width_mm, double height_mm, const Advance& advance)
    : advance_(advance), width_mm_(width_mm), height_mm_(height_mm) {}

void Placing::keep_clear_of(const Mark& mark) {
  const double r = mark.radius_mm + mark.width_mm / 2.0;
  marks_.push_back(Box{mark.at.x_mm - r, mark.at.y_mm - r, mark.at.x_mm + r, mark.at.y_mm + r});
}

void Placing::keep_clear_of_line(const std::vector<Point>& points, double width_mm, double cost) {
  lines_.push_back(Obstacle{points, width_mm / 2.0, cost});
}

double Placing::cost(const Box& box) const {
  double sum = 0.0;
  if (box.left_mm < -1e-9 || box.top_mm < -1e-9 || box.right_mm > width_mm_ + 1e-9 ||
      box.bottom_mm > height_mm_ + 1e-9) {
    sum += kEdge;
  }
  const Box clear = grown(box, kClear_mm);
  for (const Box& label : labels_) sum += clear.overlaps(label) ? kLabel : 0.0;
  for (const Box& mark : marks_) sum += clear.overlaps(mark) ? kMark : 0.0;
  for (const Obstacle& line : lines_) {
    const Box wide = grown(clear, line.half_mm);
    for (std::size_t i = 1; i < line.points.size(); ++i) {
      if (!crosses(line.points[i - 1], line.points[i], wide)) continue;
      sum += line.cost;
      break;
    }
  }
  return sum;
}

Label Placing::place(const Label& label, const std::vector<std::pair<Point, Align>>& places) {
  Label best = label;
  double least = -1.0;
  for (const auto& [at, align] : places) {
    Label there = label;
    there.at = at;
    there.align = align;
    const double there_costs = cost(box_of(there, advance_));
    if (least >= 0.0 && there_costs >= least) continue;
    least = there_costs;
    best = there;
    if (least == 0.0) break;
  }
  keep_clear_of(best);
  return best;
}

}  // namespace saltrafter::figure
