#include "core/figure/hatch.h"

#include <algorithm>
#include <cmath>

namespace saltrafter::figure {

std::vector<Line> hatch(const std::vector<Point>& outline, double pitch_mm, double width_mm,
                        const Paint& paint) {
  std::vector<Line> lines;
  if (outline.size() < 3 || !(pitch_mm > 0.01)) return lines;
  // Along a hatch line x + y is constant; c runs over these constants.
  double low = outline[0].x_mm + outline[0].y_mm;
  double high = low;
  for (const Point& p : outline) {
    low = std::fmin(low, p.x_mm + p.y_mm);
    high = std::fmax(high, p.x_mm + p.y_mm);
  }
  const double step = pitch_mm * std::sqrt(2.0);
  for (double c = low + step / 2.0; c < high; c += step) {
    std::vector<double> crossings_x;
    for (std::size_t i = 0; i < outline.size(); ++i) {
      const Point& a = outline[i];
      const Point& b = outline[(i + 1) % outline.size()];
      const double ca = a.x_mm + a.y_mm - c;
      const double cb = b.x_mm + b.y_mm - c;
      if ((ca < 0.0) == (cb < 0.0)) continue;
      const double t = ca / (ca - cb);
      crossings_x.push_back(a.x_mm + t * (b.x_mm - a.x_mm));
    }
    std::sort(crossings_x.begin(), crossings_x.end());
    for (std::size_t i = 0; i + 1 < crossings_x.size(); i += 2) {
      Line line;
      line.points = {Point{crossings_x[i], c - crossings_x[i]},
                     Point{crossings_x[i + 1], c - crossings_x[i + 1]}};
      line.width_mm = width_mm;
      line.paint = paint;
      lines.push_back(line);
    }
  }
  return lines;
}

}  // namespace saltrafter::figure
