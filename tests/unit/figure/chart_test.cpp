#include "core/figure/chart.h"

#include <doctest/doctest.h>

#include <array>
#include <cmath>
#include <random>
#include <set>
#include <string>

#include "core/figure/figure.h"
#include "core/figure/placing.h"
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

std::string day_month(Date date) {
  static const std::array<const char*, 12> kMonths = {"Jan", "Feb", "Mar", "Apr", "May", "Jun",
                                                      "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"};
  const std::chrono::year_month_day ymd(date);
  return std::to_string(static_cast<unsigned>(ymd.day())) + " " +
         kMonths[static_cast<unsigned>(ymd.month()) - 1];
}

// A batch that dries over `days`, in its own tempo.
Chart drying(double days, double today, double from, double to, double wanted = 0.30) {
  DryingChartInput in;
  in.hung = Date(std::chrono::year(2026) / 11 / 4);
  for (int k = 0; k <= 60; ++k) {
    const double d = days * k / 60.0;
    in.day.push_back(d);
    const double m = 0.40 * (1.0 - std::exp(-2.0 * d / days));
    in.median.push_back(m);
    const double spread = d > today ? 0.09 * (d - today) / days : 0.0;
    in.low.push_back(m - spread);
    in.high.push_back(m + spread);
  }
  for (const double share : {0.1, 0.25, 0.45}) {
    const double d = share * today;
    in.points.push_back({d, 0.40 * (1.0 - std::exp(-2.0 * d / days)) + 0.01});
  }
  in.wanted_loss = wanted;
  in.today = today;
  in.window_from = from;
  in.window_to = to;
  in.today_label = "today";
  in.expected_label = "expected";
  in.wanted_label = "wanted 30 %";
  in.day_month = day_month;
  return drying_chart(in);
}

struct Seen {
  std::vector<Label> labels;
  std::vector<Box> boxes;
  std::vector<Line> lines;
  std::vector<Mark> marks;
};

Seen look(const Figure& f) {
  Seen seen;
  for (const Item& item : f.items) {
    if (const Label* l = std::get_if<Label>(&item)) {
      seen.labels.push_back(*l);
      seen.boxes.push_back(box_of(*l, wide_letters));
    }
    if (const Line* l = std::get_if<Line>(&item)) seen.lines.push_back(*l);
    if (const Mark* m = std::get_if<Mark>(&item)) seen.marks.push_back(*m);
  }
  return seen;
}

bool runs_through(const Line& line, const Box& box) {
  for (std::size_t i = 1; i < line.points.size(); ++i) {
    if (crosses(line.points[i - 1], line.points[i], box)) return true;
  }
  return false;
}

void check_clear(const Figure& f) {
  const Seen seen = look(f);
  REQUIRE(seen.labels.size() >= 5);
  for (std::size_t i = 0; i < seen.boxes.size(); ++i) {
    const Box& box = seen.boxes[i];
    CAPTURE(seen.labels[i].text);
    CHECK(box.left_mm >= -1e-6);
    CHECK(box.top_mm >= -1e-6);
    CHECK(box.right_mm <= f.width_mm + 1e-6);
    CHECK(box.bottom_mm <= f.height_mm + 1e-6);
    for (std::size_t k = i + 1; k < seen.boxes.size(); ++k) {
      CAPTURE(seen.labels[k].text);
      CHECK_FALSE(box.overlaps(seen.boxes[k]));
    }
  }
}

// The names in the plot, which may lie on hairlines and on nothing else.
int names_crossed(const Figure& f, const Advance& advance) {
  Seen seen = look(f);
  for (std::size_t i = 0; i < seen.labels.size(); ++i) seen.boxes[i] = box_of(seen.labels[i], advance);
  int crossed = 0;
  for (std::size_t i = 0; i < seen.labels.size(); ++i) {
    if (seen.labels[i].halo_mm == 0.0) continue;
    bool here = false;
    for (const Line& l : seen.lines)
      here = here || (l.paint.ink != Ink::rule && runs_through(l, seen.boxes[i]));
    for (const Mark& m : seen.marks) {
      const double r = m.radius_mm;
      here = here || seen.boxes[i].overlaps(Box{m.at.x_mm - r, m.at.y_mm - r, m.at.x_mm + r, m.at.y_mm + r});
    }
    crossed += here ? 1 : 0;
  }
  return crossed;
}

}  // namespace

TEST_CASE(
    "no two labels overlap and none leaves the picture, at any width from 60 to 500 mm, length and day") {
  for (const double width : {60.0, 75.0, 92.6, 103.2, 130.0, 137.0, 138.0, 185.0, 300.0, 500.0}) {
    for (const double days : {9.0, 24.0, 60.0, 130.0, 400.0, 1500.0}) {
      for (const double today : {0.0, 0.02, 0.3, 0.5, 0.98, 1.0}) {
        CAPTURE(width);
        CAPTURE(days);
        CAPTURE(today);
        check_clear(lay_out(drying(days, today * days, 0.6 * days, 0.8 * days), width, wide_letters).figure);
      }
    }
  }
}

TEST_CASE("the names of a narrow drying chart stand clear of the curve, the points and the line of today") {
  const Advance advance = advance_from_tables();
  int charts = 0;
  for (const double width : {92.6, 97.9, 116.0}) {
    for (int today = 0; today <= 42; ++today) {
      for (const double from : {12.0, 20.0, 27.0, 34.0, 38.0}) {
        for (const double wanted : {0.2, 0.3, 0.35}) {
          CAPTURE(width);
          CAPTURE(today);
          CAPTURE(from);
          CAPTURE(wanted);
          const Chart chart = drying(42.0, today, from, from + 4.0, wanted);
          CHECK(names_crossed(lay_out(chart, width, advance).figure, advance) == 0);
          ++charts;
        }
      }
    }
  }
  CHECK(charts == 3 * 43 * 5 * 3);
}

TEST_CASE("on narrow the name of what is wanted stands off the band that nears its level slowly") {
  const Advance advance = advance_from_tables();
  // A forecast of 18 weeks, made on the 28th day: per cent lost by week.
  constexpr std::array<double, 19> kMedian = {0.0,  12.0, 19.3, 23.9, 27.0, 29.3, 31.0, 32.3, 33.3, 34.1,
                                              34.7, 35.3, 35.7, 36.0, 36.3, 36.5, 36.7, 36.9, 37.0};
  constexpr std::array<double, 19> kLow = {0.0,  12.0, 19.3, 23.9, 23.4, 25.8, 27.6, 29.2, 30.4, 31.5,
                                           32.3, 33.1, 33.7, 34.3, 34.7, 35.1, 35.5, 35.8, 36.1};
  constexpr std::array<double, 19> kHigh = {0.0,  12.0, 19.3, 23.9, 31.1, 33.2, 34.7, 35.7, 36.4, 37.0,
                                            37.3, 37.6, 37.7, 37.9, 37.9, 38.0, 38.0, 38.0, 38.0};
  for (const double width : {92.6, 97.9, 103.2}) {
    for (const double today_d : {21.0, 28.0, 35.0}) {
      CAPTURE(width);
      CAPTURE(today_d);
      DryingChartInput in;
      in.hung = Date(std::chrono::year(2026) / 10 / 28);
      for (std::size_t week = 0; week < kMedian.size(); ++week) {
        in.day.push_back(7.0 * static_cast<double>(week));
        in.median.push_back(kMedian[week] / 100.0);
        in.low.push_back(kLow[week] / 100.0);
        in.high.push_back(kHigh[week] / 100.0);
      }
      in.wanted_loss = 0.35;
      in.today = today_d;
      in.window_from = 48.0;
      in.window_to = 113.0;
      in.today_label = "today";
      in.expected_label = "expected";
      in.wanted_label = "wanted 35 %";
      in.day_month = day_month;
      const Figure f = lay_out(drying_chart(in), width, advance).figure;
      int names = 0;
      for (const Item& item : f.items) {
        const Label* label = std::get_if<Label>(&item);
        if (label == nullptr || label->text != in.wanted_label) continue;
        ++names;
        for (const Item& other : f.items) {
          const Area* area = std::get_if<Area>(&other);
          if (area == nullptr || area->points.size() < 10) continue;
          Line edge;
          edge.points = area->points;
          CHECK_FALSE(runs_through(edge, box_of(*label, advance)));
        }
      }
      CHECK(names == 1);
    }
  }
}

TEST_CASE(
    "a name that cannot be clear has a halo, and of two ways the one over a line is taken, not over a name") {
  const Advance advance = wide_letters;
  Placing placing(40.0, 20.0, advance);
  Label taken;
  taken.text = "taken";
  taken.size_mm = 4.0;
  taken.at = Point{5.0, 10.0};
  placing.keep_clear_of(taken);
  placing.keep_clear_of_upright(32.0, 0.0, 20.0);
  Label label = taken;
  label.text = "name";
  const Label placed =
      placing.place(label, {{Point{6.0, 10.0}, Align::left}, {Point{28.0, 10.0}, Align::left}});
  CHECK(placed.at.x_mm == 28.0);
  // A clear place is taken though it is the last of them.
  Placing again(40.0, 20.0, advance);
  again.keep_clear_of_upright(32.0, 0.0, 20.0);
  CHECK(again.place(label, {{Point{28.0, 10.0}, Align::left}, {Point{10.0, 10.0}, Align::left}}).at.x_mm ==
        10.0);
}

TEST_CASE("a long window is interrupted by its name, and the line of today ends above a name in its way") {
  const Chart chart = drying(42.0, 20.0, 1.0, 41.0);
  const Figure f = lay_out(chart, 92.6, wide_letters).figure;
  check_clear(f);
  const Seen seen = look(f);
  for (std::size_t i = 0; i < seen.labels.size(); ++i) {
    if (seen.labels[i].text != "expected") continue;
    for (const Line& l : seen.lines) {
      if (l.points.size() == 2 && l.points[0].x_mm == l.points[1].x_mm)
        CHECK_FALSE(runs_through(l, seen.boxes[i]));
    }
  }
  // Ink of the bar ends before the name and goes on after it.
  int bars = 0;
  for (const Item& item : f.items) {
    const Area* a = std::get_if<Area>(&item);
    if (a == nullptr || a->points.size() != 4) continue;
    ++bars;
    const Box bar{a->points[0].x_mm, a->points[0].y_mm, a->points[2].x_mm, a->points[2].y_mm};
    for (const Box& box : seen.boxes) CHECK_FALSE(bar.overlaps(box));
  }
  CHECK(bars == 2);
}

TEST_CASE("days and values go to millimetres and back, and all ink lies within the plot") {
  Chart chart = drying(42.0, 21.0, 27.0, 33.0);
  chart.from_day = 9.25;
  chart.to_day = 30.5;
  const ChartPicture p = lay_out(chart, 150.0, wide_letters);
  const ChartScale& s = p.scale;
  CHECK(s.x_mm(9.25) == near_rel(s.plot.left_mm, 1e-12));
  CHECK(s.x_mm(30.5) == near_rel(s.plot.right_mm, 1e-12));
  for (const double day : {9.25, 14.0, 21.7, 30.5}) CHECK(s.day(s.x_mm(day)) == near_rel(day, 1e-12));
  for (const double loss : {0.0, 0.13, 0.4}) CHECK(s.value(s.y_mm(loss)) == near_abs(loss, 1e-12));
  CHECK(s.y_mm(0.3) > s.y_mm(0.1));
  chart.down = false;
  const ChartScale up = lay_out(chart, 150.0, wide_letters).scale;
  CHECK(up.y_mm(0.3) < up.y_mm(0.1));
  CHECK(up.value(up.y_mm(0.3)) == near_rel(0.3, 1e-12));
  for (const Line& l : look(p.figure).lines) {
    for (const Point& q : l.points) {
      CHECK(q.x_mm >= s.plot.left_mm - 1e-9);
      CHECK(q.x_mm <= s.plot.right_mm + 1e-9);
    }
  }
  for (const Mark& m : look(p.figure).marks) {
    CHECK(m.at.x_mm >= s.plot.left_mm - 1e-9);
    CHECK(m.at.x_mm <= s.plot.right_mm + 1e-9);
  }
}

TEST_CASE("the value axis stays as it is while the days move") {
  Chart chart = drying(42.0, 21.0, 27.0, 33.0);
  const ChartScale all = lay_out(chart, 150.0, wide_letters).scale;
  chart.from_day = 30.0;
  const ChartScale late = lay_out(chart, 150.0, wide_letters).scale;
  CHECK(all.low == late.low);
  CHECK(all.high == late.high);
  CHECK(all.plot.left_mm == late.plot.left_mm);
  CHECK(all.plot.right_mm == late.plot.right_mm);
}

namespace {

// The names of the date axis: the texts under the plot.
std::string dates(double from, double to, double width) {
  Chart chart = drying(2000.0, 1.0, 3000.0, 3001.0);
  chart.from_day = from;
  chart.to_day = to;
  const ChartPicture p = lay_out(chart, width, wide_letters);
  std::string texts;
  for (const Label& l : look(p.figure).labels) {
    if (l.align != Align::centre || l.at.y_mm < p.scale.plot.bottom_mm) continue;
    texts += (texts.empty() ? "" : ", ") + l.text;
  }
  return texts;
}

}  // namespace

TEST_CASE("the date axis names days, weeks or months, each month once, the finest that fits") {
  CHECK(dates(0.0, 5.0, 120.0) == "4 Nov, 5, 6, 7, 8, 9");
  CHECK(dates(0.0, 28.0, 120.0) == "4 Nov, 11, 18, 25");
  CHECK(dates(0.0, 42.0, 70.0) == "4 Nov, 18, 2 Dec, 16");
  CHECK(dates(0.0, 140.0, 110.0) == "1 Dec, 2027, 1 Feb, 1 Mar");
  // Moved by a day the same days are named: they hang on day 0, not on the edge.
  CHECK(dates(1.0, 29.0, 120.0) == "11 Nov, 18, 25, 2 Dec");
  CHECK(dates(0.0, 1500.0, 85.0) == "2027, 2028, 2029, 2030");
}

TEST_CASE("without colour series still differ: by dash, by width, by shape, by hatch") {
  Chart chart;
  chart.day0 = Date(std::chrono::year(2026) / 11 / 4);
  chart.to_day = 40.0;
  chart.today = 20.0;
  chart.day_month = day_month;
  chart.value_text = [](double) { return std::string("00 %"); };
  for (int k = 0; k < 3; ++k) {
    Series s;
    for (int d = 0; d <= 40; ++d) {
      s.day.push_back(d);
      s.value.push_back(0.2 + 0.1 * k + 0.02 * std::sin(d));
    }
    chart.series.push_back(s);
  }
  for (int k = 0; k < 2; ++k) {
    Series s;
    s.kind = Series::Kind::points;
    s.day = {5.0 + k, 9.0};
    s.value = {0.1, 0.15};
    chart.series.push_back(s);
  }
  Series bars;
  bars.kind = Series::Kind::bars;
  bars.day = {10.0, 30.0};
  bars.value = {0.1, 0.1};
  chart.series.push_back(bars);
  chart.targets = {Target{0.45, "wanted"}};
  const Figure f = lay_out(chart, 150.0, wide_letters).figure;

  // Everything that tells curves and levels apart, but their colour.
  std::set<std::array<double, 3>> strokes;
  int curves = 0;
  for (const Line& l : look(f).lines) {
    const bool curve = l.points.size() > 10;
    const bool target = l.points.size() == 2 && l.dash_mm > 0.0;
    if (!curve && !target) continue;
    ++curves;
    CHECK(strokes.insert({l.width_mm, l.dash_mm, l.gap_mm}).second);
  }
  CHECK(curves == 7);  // three that were, three that will be, one that is wanted
  std::set<bool> filled;
  for (const Mark& m : look(f).marks) filled.insert(m.fill.ink == Ink::ground);
  CHECK(filled.size() == 2);
  int areas = 0;
  int hatching = 0;
  for (const Item& item : f.items) {
    if (const Area* a = std::get_if<Area>(&item)) areas += a->points.size() == 4 ? 1 : 0;
    if (const Line* l = std::get_if<Line>(&item))
      hatching += l->points.size() == 2 && l->paint.ink == Ink::accent;
  }
  CHECK(areas == 1);    // the bar that was
  CHECK(hatching > 5);  // in the bar that will be
}

TEST_CASE("lines and values wanted are named once each, in random charts too, and nothing overlaps") {
  std::mt19937 random(11);
  std::uniform_real_distribution<double> share(0.0, 1.0);
  for (int round = 0; round < 200; ++round) {
    Chart chart;
    chart.day0 =
        Date(std::chrono::year(2026) / 1 / 1) + std::chrono::days(static_cast<int>(400.0 * share(random)));
    chart.to_day = 5.0 + 200.0 * share(random);
    chart.today = chart.to_day * share(random);
    chart.today_label = "today";
    chart.day_month = day_month;
    chart.value_text = [](double v) { return format_number(100.0 * v, 0) + " %"; };
    chart.value_windows = {{0.74, 0.80, "wanted air"}};
    chart.windows = {
        {chart.to_day * 0.5 * share(random), chart.to_day * (0.5 + 0.5 * share(random)), "expected"}};
    for (const char* name : {"chamber", "cellar"}) {
      Series s;
      s.label = name;
      const double base = 0.55 + 0.3 * share(random);
      for (int k = 0; k <= 40; ++k) {
        s.day.push_back(chart.to_day * k / 40.0);
        s.value.push_back(base + 0.05 * std::sin(k / (1.0 + 6.0 * share(random))));
      }
      chart.series.push_back(s);
    }
    const double width = 75.0 + 200.0 * share(random);
    CAPTURE(round);
    CAPTURE(width);
    const Figure f = lay_out(chart, width, wide_letters).figure;
    check_clear(f);
    for (const char* name : {"today", "wanted air", "chamber", "cellar", "expected"}) {
      int named = 0;
      for (const Label& l : look(f).labels) named += l.text == name ? 1 : 0;
      CAPTURE(name);
      CHECK(named == 1);
    }
  }
}

TEST_CASE("where it is read an upright meets the curve and the ends of its range; not on the line of today") {
  Chart chart = drying(42.0, 21.0, 27.0, 33.0);
  const std::size_t before = lay_out(chart, 150.0, wide_letters).figure.items.size();
  chart.read_day = 21.0;
  CHECK(lay_out(chart, 150.0, wide_letters).figure.items.size() == before);
  chart.read_day = 30.0;
  const ChartPicture p = lay_out(chart, 150.0, wide_letters);
  CHECK(p.figure.items.size() == before + 4);
  const Seen seen = look(p.figure);
  const Mark& met = seen.marks.back();
  CHECK(met.at.x_mm == near_rel(p.scale.x_mm(30.0), 1e-12));
  CHECK(p.scale.value(met.at.y_mm) ==
        near_rel(value_at(chart.series[1].day, chart.series[1].value, 30.0), 1e-9));
}
