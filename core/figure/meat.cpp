#include "core/figure/meat.h"

#include <cmath>

#include "core/figure/hatch.h"

namespace saltrafter::figure {
namespace {

constexpr double kPx = kMmPerPx;
constexpr int kSlices = 64;
constexpr int kCircleCorners = 72;

double held(double v, double low, double high) {
  return std::isfinite(v) ? std::fmin(high, std::fmax(low, v)) : low;
}

StripMoment at(const std::vector<StripMoment>& moments, double place) {
  if (place <= moments.front().place) return moments.front();
  for (std::size_t i = 1; i < moments.size(); ++i) {
    const StripMoment& a = moments[i - 1];
    const StripMoment& b = moments[i];
    if (place > b.place) continue;
    const double span = b.place - a.place;
    const double t = span > 0.0 ? (place - a.place) / span : 1.0;
    return StripMoment{place, a.mass_share + t * (b.mass_share - a.mass_share),
                       a.loss_over_wanted + t * (b.loss_over_wanted - a.loss_over_wanted)};
  }
  return moments.back();
}

class Strip {
 public:
  explicit Strip(const MeatStripInput& input) : in_(input) {}

  double x(double place) const { return held(place, 0.0, 1.0) * in_.width_mm; }

  double half(double place) const {
    return held(at(in_.moments, place).mass_share, 0.05, 1.0) * in_.height_mm / 2.0;
  }

  std::vector<Point> slice(double from, double to) const {
    const double middle = in_.height_mm / 2.0;
    return {Point{x(from), middle - half(from)}, Point{x(to), middle - half(to)},
            Point{x(to), middle + half(to)}, Point{x(from), middle + half(from)}};
  }

  // The outline between two places, the upper edge first.
  std::vector<Point> outline(double from, double to) const {
    std::vector<Point> points;
    const double middle = in_.height_mm / 2.0;
    constexpr int kSteps = 12;
    for (int i = 0; i <= kSteps; ++i) {
      const double p = from + (to - from) * i / kSteps;
      points.push_back(Point{x(p), middle - half(p)});
    }
    for (int i = kSteps; i >= 0; --i) {
      const double p = from + (to - from) * i / kSteps;
      points.push_back(Point{x(p), middle + half(p)});
    }
    return points;
  }

 private:
  const MeatStripInput& in_;
};

std::vector<Point> circle(double centre_mm, double radius_mm) {
  std::vector<Point> points;
  for (int i = 0; i < kCircleCorners; ++i) {
    const double angle = 2.0 * 3.14159265358979323846 * i / kCircleCorners;
    points.push_back(Point{centre_mm + radius_mm * std::cos(angle), centre_mm + radius_mm * std::sin(angle)});
  }
  return points;
}

Line edge(std::vector<Point> points, double width_mm) {
  Line line;
  line.points = std::move(points);
  line.width_mm = width_mm;
  line.paint = of(Ink::edge);
  line.closed = true;
  return line;
}

std::vector<Point> rectangle(double left, double top, double right, double bottom) {
  return {Point{left, top}, Point{right, top}, Point{right, bottom}, Point{left, bottom}};
}

void add_slats(Figure& figure, const Strip& strip, const MeatStripInput& in) {
  const double from_mm = strip.x(in.window_from) + 3.0 * kPx;
  const double to_mm = strip.x(in.window_to);
  const double pitch_mm = 8.0 * kPx;
  const int n = static_cast<int>(std::fmin(40.0, std::floor((to_mm - from_mm) / pitch_mm + 0.5)));
  const double half = strip.half(in.window_from);
  const double middle = in.height_mm / 2.0;
  for (int i = 0; i < n; ++i) {
    const double width = (4.0 - 3.0 * i / (n > 1 ? n - 1 : 1)) * kPx;
    const double left = from_mm + i * pitch_mm;
    const std::vector<Point> slat = rectangle(left, middle - half, left + width, middle + half);
    figure.items.push_back(Area{slat, meat(1.0)});
    figure.items.push_back(edge(slat, 0.6 * kPx));
  }
}

}  // namespace

Figure meat_strip(const MeatStripInput& in) {
  Figure figure;
  figure.width_mm = in.width_mm;
  figure.height_mm = in.height_mm;
  if (in.moments.size() < 2 || !(in.width_mm > 0.0) || !(in.height_mm > 0.0)) return figure;
  const Strip strip(in);
  const double end = held(in.window_from, 0.0, 1.0);
  // Each slice reaches under the next two, which cover it: no seam shows between two.
  for (int i = 0; i < kSlices; ++i) {
    const double from = end * i / kSlices;
    const double to = end * std::fmin(1.0, (i + 3.0) / kSlices);
    const double loss = at(in.moments, end * (i + 0.5) / kSlices).loss_over_wanted;
    figure.items.push_back(Area{strip.slice(from, to), meat(loss)});
  }
  const double now = held(in.now, 0.0, end);
  if (now < end) {
    for (const Line& line : hatch(strip.outline(now, end), 6.0 * kPx, 2.0 * kPx, of(Ink::ground))) {
      figure.items.push_back(line);
    }
  }
  figure.items.push_back(edge(strip.outline(0.0, end), 1.0 * kPx));
  if (in.window_to > in.window_from) add_slats(figure, strip, in);
  return figure;
}

namespace {

// A slab: layers from its middle to both faces, or from the shut one upwards.
Figure slab_section(const SectionInput& in) {
  Figure figure;
  figure.width_mm = in.diameter_mm;
  figure.height_mm = in.diameter_mm / 2.0;
  const double left = kPx;
  const double right = in.diameter_mm - kPx;
  const double green = figure.height_mm - 2.0 * kPx;
  const double now = green * held(in.radius_share, 0.05, 1.0);
  const bool closed = in.form == SectionForm::slab_closed;
  Line before = edge(rectangle(left, kPx, right, kPx + green), 1.0 * kPx);
  before.dash_mm = 2.0 * kPx;
  before.gap_mm = 5.0 * kPx;
  before.paint = of(Ink::soft);
  figure.items.push_back(before);
  // It shrinks towards its middle, or onto its shut face.
  const double bottom = closed ? kPx + green : kPx + 0.5 * (green + now);
  const double top = bottom - now;
  const std::size_t n = in.loss_over_wanted.size();
  for (std::size_t i = n; i > 0; --i) {
    const double share = static_cast<double>(i) / static_cast<double>(n);
    const double half = 0.5 * now * share;
    const double middle = 0.5 * (top + bottom);
    figure.items.push_back(Area{closed ? rectangle(left, bottom - now * share, right, bottom)
                                       : rectangle(left, middle - half, right, middle + half),
                                meat(in.loss_over_wanted[i - 1])});
  }
  figure.items.push_back(edge(rectangle(left, top, right, bottom), 1.0 * kPx));
  if (closed) {
    Line shut;
    shut.points = {Point{left, bottom}, Point{right, bottom}};
    shut.width_mm = 3.0 * kPx;
    shut.paint = of(Ink::edge);
    figure.items.push_back(shut);
  }
  return figure;
}

}  // namespace

Figure cross_section(const SectionInput& in) {
  Figure figure;
  figure.width_mm = in.diameter_mm;
  figure.height_mm = in.diameter_mm;
  if (in.loss_over_wanted.empty() || !(in.diameter_mm > 0.0)) return figure;
  if (in.form != SectionForm::round) return slab_section(in);
  const double centre = in.diameter_mm / 2.0;
  const double green = centre - 1.0 * kPx;
  const double now = green * held(in.radius_share, 0.05, 1.0);
  Line before;
  before.points = circle(centre, green);
  before.width_mm = 1.0 * kPx;
  before.dash_mm = 2.0 * kPx;
  before.gap_mm = 5.0 * kPx;
  before.paint = of(Ink::soft);
  before.closed = true;
  figure.items.push_back(before);
  const std::size_t n = in.loss_over_wanted.size();
  for (std::size_t i = n; i > 0; --i) {
    const double radius = now * static_cast<double>(i) / static_cast<double>(n);
    figure.items.push_back(Area{circle(centre, radius), meat(in.loss_over_wanted[i - 1])});
  }
  figure.items.push_back(edge(circle(centre, now), 1.0 * kPx));
  return figure;
}

Figure meat_bar(double width_mm, double height_mm, double loss_over_wanted) {
  Figure figure;
  figure.width_mm = width_mm;
  figure.height_mm = height_mm;
  const double share = held(loss_over_wanted, 0.0, 1.0);
  figure.items.push_back(Area{rectangle(0.0, 0.0, width_mm * share, height_mm), meat(share)});
  Line frame = edge(rectangle(0.0, 0.0, width_mm, height_mm), 1.0 * kPx);
  figure.items.push_back(frame);
  Line end;
  end.points = {Point{width_mm * share, 0.0}, Point{width_mm * share, height_mm}};
  end.width_mm = 1.0 * kPx;
  end.paint = of(Ink::edge);
  figure.items.push_back(end);
  return figure;
}

}  // namespace saltrafter::figure
