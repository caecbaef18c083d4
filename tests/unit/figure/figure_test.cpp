#include "core/figure/figure.h"

#include <doctest/doctest.h>

#include <cmath>
#include <string>

#include "tests/near.h"

using namespace saltrafter;
using namespace saltrafter::figure;

namespace {

// Wider than any label face: what does not overlap here does not overlap in print.
double wide_letters(std::string_view text, Face) {
  double em = 0.0;
  for (char c : text) em += (static_cast<unsigned char>(c) & 0xC0) == 0x80 ? 0.0 : 0.58;
  return em;
}

DryingChartInput sample(double today, double from, double to) {
  DryingChartInput in;
  in.hung = Date(std::chrono::year(2026) / 11 / 4);
  for (int d = 0; d <= 42; ++d) {
    in.day.push_back(d);
    const double m = 0.40 * (1.0 - std::exp(-d / 22.0));
    in.median.push_back(m);
    const double spread = d > today ? 0.002 * (d - today) : 0.0;
    in.low.push_back(m - spread);
    in.high.push_back(m + spread);
  }
  in.points = {{3.0, 0.05}, {7.0, 0.11}, {14.0, 0.19}};
  in.wanted_loss = 0.30;
  in.today = today;
  in.window_from = from;
  in.window_to = to;
  in.today_label = "today";
  in.expected_label = "expected";
  in.wanted_label = "wanted 30 %";
  in.day_month = [](Date date) {
    const std::chrono::year_month_day ymd(date);
    return std::to_string(static_cast<unsigned>(ymd.day())) +
           (ymd.month() == std::chrono::November ? " Nov" : " Dec");
  };
  return in;
}

Figure picture(double width_px, const DryingChartInput& in) {
  return lay_out(drying_chart(in), width_px * kMmPerPx, wide_letters).figure;
}

}  // namespace

TEST_CASE("what was is in ink, what will be in the accent, and they meet at today") {
  const Figure f = picture(700.0, sample(21.0, 27.0, 33.0));
  const Line* was = nullptr;
  const Line* will = nullptr;
  for (const Item& item : f.items) {
    const Line* l = std::get_if<Line>(&item);
    if (l == nullptr || l->points.size() < 10) continue;
    if (l->paint.ink == Ink::ink) was = l;
    if (l->paint.ink == Ink::accent) will = l;
  }
  REQUIRE(was != nullptr);
  REQUIRE(will != nullptr);
  CHECK(was->points.back().x_mm == near_abs(will->points.front().x_mm, 1e-9));
  CHECK(was->points.back().y_mm == near_abs(will->points.front().y_mm, 1e-9));
}

TEST_CASE("each measured point is a ring at its loss, lower for more") {
  const Figure f = picture(700.0, sample(21.0, 27.0, 33.0));
  std::vector<Mark> marks;
  for (const Item& item : f.items) {
    if (const Mark* m = std::get_if<Mark>(&item)) marks.push_back(*m);
  }
  REQUIRE(marks.size() == 3);
  CHECK(marks[0].at.y_mm < marks[1].at.y_mm);
  CHECK(marks[1].at.x_mm < marks[2].at.x_mm);
}

TEST_CASE("a chart without matching days and losses has no items") {
  DryingChartInput in = sample(21.0, 27.0, 33.0);
  in.median.pop_back();
  CHECK(picture(700.0, in).items.empty());
  CHECK(picture(700.0, DryingChartInput()).items.empty());
}

TEST_CASE("ticks are round and include both ends") {
  CHECK(nice_step(0.43, 5) == near_rel(0.1, 1e-12));
  CHECK(nice_step(42.0, 5) == near_rel(10.0, 1e-12));
  CHECK(nice_step(0.0, 5) == near_rel(1.0, 1e-12));
  CHECK(ticks(0.0, 0.5, 0.1).size() == 6);
}

TEST_CASE("every hatch line lies inside its outline") {
  const std::vector<Point> slab = {{0.0, 0.0}, {30.0, 2.0}, {30.0, 8.0}, {0.0, 10.0}};
  const std::vector<Line> lines = hatch(slab, 1.5, 0.5, of(Ink::ground));
  CHECK(lines.size() > 10);
  for (const Line& l : lines) {
    for (const Point& p : l.points) {
      CHECK(p.x_mm >= -1e-9);
      CHECK(p.x_mm <= 30.0 + 1e-9);
      CHECK(p.y_mm >= 2.0 * p.x_mm / 30.0 - 1e-9);
      CHECK(p.y_mm <= 10.0 - 2.0 * p.x_mm / 30.0 + 1e-9);
    }
  }
  CHECK(hatch({{0.0, 0.0}, {1.0, 1.0}}, 1.0, 0.5, of(Ink::ground)).empty());
}

TEST_CASE("a strip tapers with its weight, darkens with its loss and is hatched beyond now") {
  MeatStripInput in;
  in.width_mm = 100.0;
  in.height_mm = 10.0;
  in.moments = {{0.0, 1.0, 0.0}, {0.8, 0.65, 1.0}, {1.0, 0.63, 1.05}};
  in.now = 0.5;
  in.window_from = 0.8;
  in.window_to = 1.0;
  const Figure f = meat_strip(in);
  double last_ramp = -1.0;
  int hatched = 0;
  for (const Item& item : f.items) {
    if (const Area* a = std::get_if<Area>(&item)) {
      CHECK(a->paint.ramp >= last_ramp);
      last_ramp = a->paint.ramp;
    }
    if (const Line* l = std::get_if<Line>(&item)) {
      if (l->paint.ink != Ink::ground) continue;
      ++hatched;
      for (const Point& p : l->points) CHECK(p.x_mm >= 50.0 - 1e-9);
    }
  }
  CHECK(hatched > 5);
  CHECK(last_ramp == near_rel(1.0, 1e-12));
}
