// A chart as data: civil days across, values up or down; and its picture, with the way back from millimetres.
//
// Series differ by more than colour: the first line is full, the second dashed, the third dotted; what was is
// in ink, what will be in the accent and half as wide again; points are rings, then discs.
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "core/base/base.h"
#include "core/figure/picture.h"

namespace saltrafter::figure {

struct Series {
  enum class Kind { line, band, points, bars };
  Kind kind = Kind::line;
  std::vector<double> day;    // rising; of bars their middles
  std::vector<double> value;  // of a band its one edge
  std::vector<double> other;  // of a band its other edge
  std::string label;          // stands at the line; may be empty
};

// A level that is wanted: a dashed line with its name.
struct Target {
  double value = 0.0;
  std::string label;
};

// Values that are wanted: shaded between two dashed edges.
struct ValueWindow {
  double low = 0.0;
  double high = 0.0;
  std::string label;
};

// Days between which something is expected: a bar under the plot.
struct DayWindow {
  double from = 0.0;
  double to = 0.0;
  std::string label;
};

struct Chart {
  Date day0;              // day 0; the axis shows civil days
  double from_day = 0.0;  // what is visible
  double to_day = 0.0;
  bool down = false;           // values grow downwards
  bool from_zero = false;      // the axis holds 0
  double least_span = 0.0;     // of the value axis
  std::optional<double> most;  // where the axis ends at the latest, such as 1 for a share
  std::vector<Series> series;  // bands lie undermost, then bars, lines, points
  std::vector<Target> targets;
  std::vector<ValueWindow> value_windows;
  std::vector<DayWindow> windows;
  std::optional<double> today;  // what lies before is in ink, what follows in the accent
  std::string today_label;
  std::optional<double> read_day;  // an upright with what it meets; not on the line of today
  std::function<std::string(double)> value_text;  // of a tick: "−10 %"
  std::function<std::string(Date)> day_month;  // "2 Dec"; a label within the same month shows the day alone
};

// Where days and values stand in the picture, and back.
struct ChartScale {
  Box plot;
  double from_day = 0.0;
  double to_day = 1.0;
  double low = 0.0;  // of the value axis
  double high = 1.0;
  bool down = false;

  double x_mm(double day) const;
  double y_mm(double value) const;
  double day(double x_mm) const;
  double value(double y_mm) const;
};

struct ChartPicture {
  Figure figure;  // without items when there is nothing to show
  ChartScale scale;
};

// The picture at a width of 60 px or more. The value axis does not depend on which days are visible, so that
// nothing jumps while the picture is moved.
ChartPicture lay_out(const Chart& chart, double width_mm, const Advance& advance);

// The value at a day by straight lines between the given ones, held at the ends.
double value_at(const std::vector<double>& day, const std::vector<double>& value, double at_day);

}  // namespace saltrafter::figure
