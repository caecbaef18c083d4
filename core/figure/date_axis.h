// Which days a time axis names.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "core/figure/chart.h"

namespace saltrafter::figure {

struct DateTick {
  double day = 0.0;
  std::string text;
};

// Every day, every second, each week or second week counted from day 0, or the firsts of every 1, 2, 3, 6 or
// 12 months, where a year stands for its first: the finest of these whose names stand `gap_mm` apart and
// within the picture. `run` says how far one runs.
std::vector<DateTick> date_ticks(const Chart& chart, const ChartScale& scale, double width_mm, double gap_mm,
                                 const std::function<double(const std::string&)>& run);

}  // namespace saltrafter::figure
