// Loss against time: what was measured, what is expected with its range, what is wanted and when it is there.
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "core/base/base.h"
#include "core/figure/chart.h"

namespace saltrafter::figure {

struct DryingPoint {
  double day = 0.0;   // since hanging
  double loss = 0.0;  // of green mass, 0..1
};

struct DryingChartInput {
  Date hung;                   // day 0
  std::vector<double> day;     // rising, since hanging; the three losses stand at these days
  std::vector<double> median;  // loss of green mass, 0..1
  std::vector<double> low;     // the range; may be empty
  std::vector<double> high;
  std::vector<DryingPoint> points;  // measured
  std::vector<double> other;   // another course from `today` on, at the same days; may be empty
  std::string other_label;
  double wanted_loss = 0.0;
  std::optional<double> today;        // day; what lies before is in ink, what follows in the accent
  std::optional<double> window_from;  // the days between which the wanted loss is expected
  std::optional<double> window_to;

  // Texts, ready to set.
  std::string today_label;
  std::string expected_label;
  std::string wanted_label;
  std::function<std::string(Date)> day_month;  // "2 Dec"
};

// The chart over all its days, loss growing downwards. Without series when the days and losses do not match
// or there are fewer than two.
Chart drying_chart(const DryingChartInput& input);

}  // namespace saltrafter::figure
