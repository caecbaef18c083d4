// A chart as SVG: every item of its list once, where the list says, and no label longer than the table of
// widths.
#include <doctest/doctest.h>

#include <cmath>
#include <cstdio>
#include <string>

#include "core/share/share.h"
#include "tests/near.h"

using namespace saltrafter;

namespace {

figure::ChartPicture picture() {
  figure::DryingChartInput in;
  in.hung = Date(std::chrono::year(2026) / 11 / 4);
  for (int d = 0; d <= 42; ++d) {
    const double m = 0.40 * (1.0 - std::exp(-d / 22.0));
    in.day.push_back(d);
    in.median.push_back(m);
    in.low.push_back(m - 0.01);
    in.high.push_back(m + 0.01);
  }
  in.points = {{3.0, 0.05}, {14.0, 0.185}};
  in.wanted_loss = 0.30;
  in.today = 21.0;
  in.window_from = 27.0;
  in.window_to = 33.0;
  in.today_label = "today";
  in.expected_label = "expected";
  in.wanted_label = "wanted 30\u2009%";
  in.day_month = [](Date) { return std::string("4 Nov"); };
  return figure::lay_out(figure::drying_chart(in), 100.0, figure::advance_from_tables());
}

int count(const std::string& text, const std::string& what) {
  int n = 0;
  for (std::size_t at = text.find(what); at != std::string::npos; at = text.find(what, at + 1)) ++n;
  return n;
}

std::string mm(double value) {
  char buffer[32];
  std::snprintf(buffer, sizeof buffer, "%.3f", value);
  std::string out = buffer;
  while (out.back() == '0') out.pop_back();
  if (out.back() == '.') out.pop_back();
  return out;
}

}  // namespace

TEST_CASE(
    "The SVG of a chart holds each item of its list in its place, and texts as long as the table of widths "
    "says") {
  const figure::Figure list = picture().figure;
  const std::string text = share::svg(list, share::paper_palette());
  const figure::Advance advance = figure::advance_from_tables();
  int lines = 0, areas = 0, marks = 0, labels = 0;
  std::size_t at = 0;
  for (const figure::Item& item : list.items) {
    // In the order of the list: the first lies undermost in both pictures.
    std::string what;
    if (const auto* l = std::get_if<figure::Line>(&item)) {
      ++lines;
      what = mm(l->points.back().x_mm) + "," + mm(l->points.back().y_mm) + "\" fill=\"none\"";
    } else if (const auto* a = std::get_if<figure::Area>(&item)) {
      ++areas;
      what = "<polygon points=\"" + mm(a->points.front().x_mm) + "," + mm(a->points.front().y_mm) + " ";
    } else if (const auto* m = std::get_if<figure::Mark>(&item)) {
      ++marks;
      what = "<circle cx=\"" + mm(m->at.x_mm) + "\" cy=\"" + mm(m->at.y_mm) + "\"";
    } else if (const auto* t = std::get_if<figure::Label>(&item)) {
      ++labels;
      const double long_mm = advance(t->text, t->face) * t->size_mm;
      what = "<text x=\"" + mm(t->at.x_mm) + "\" y=\"" + mm(t->at.y_mm) + "\" font-size=\"" + mm(t->size_mm) +
             "\" textLength=\"" + mm(long_mm) + "\"";
      const figure::Box box = figure::box_of(*t, advance);
      CHECK(box.right_mm - box.left_mm == near_rel(long_mm, 1e-12));
    }
    CAPTURE(what);
    const std::size_t found = text.find(what, at);
    REQUIRE(found != std::string::npos);
    at = found + 1;
  }
  CHECK(lines == count(text, "<polyline"));
  CHECK(areas == count(text, "<polygon"));
  CHECK(marks == count(text, "<circle"));
  CHECK(labels == count(text, "<text"));
  CHECK(marks == 2);
  CHECK(labels >= 10);
  CHECK(count(text, "<rect") == 1);
}
