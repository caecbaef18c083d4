#include "core/figure/drying_chart.h"

#include <cmath>

namespace saltrafter::figure {
namespace {

// The range is of what will be: from today on.
Series range_of(const DryingChartInput& in) {
  Series band;
  band.kind = Series::Kind::band;
  if (in.low.size() != in.day.size() || in.high.size() != in.day.size()) return band;
  const double from = in.today ? std::fmax(in.day.front(), *in.today) : in.day.front();
  if (from >= in.day.back()) return band;
  const auto add = [&band, &in](double day) {
    band.day.push_back(day);
    band.value.push_back(value_at(in.day, in.low, day));
    band.other.push_back(value_at(in.day, in.high, day));
  };
  add(from);
  for (const double day : in.day) {
    if (day > from) add(day);
  }
  return band;
}

}  // namespace

Chart drying_chart(const DryingChartInput& in) {
  Chart chart;
  if (in.day.size() < 2 || in.day.size() != in.median.size()) return chart;
  chart.day0 = in.hung;
  chart.to_day = std::fmax(1.0, in.day.back());
  chart.down = true;
  chart.from_zero = true;
  chart.least_span = 0.1;
  chart.most = 1.0;
  Series weighed;
  weighed.kind = Series::Kind::points;
  for (const DryingPoint& p : in.points) {
    weighed.day.push_back(p.day);
    weighed.value.push_back(p.loss);
    chart.to_day = std::fmax(chart.to_day, p.day);
  }
  Series median;
  median.day = in.day;
  median.value = in.median;
  chart.series = {range_of(in), std::move(median)};
  if (in.other.size() == in.day.size()) {
    Series other;
    other.label = in.other_label;
    const double from = in.today ? std::fmax(in.day.front(), *in.today) : in.day.front();
    for (std::size_t i = 0; i < in.day.size(); ++i) {
      if (in.day[i] < from) continue;
      other.day.push_back(in.day[i]);
      other.value.push_back(in.other[i]);
    }
    if (other.day.size() > 1) chart.series.push_back(std::move(other));
  }
  chart.series.push_back(std::move(weighed));
  if (in.wanted_loss > 0.0) chart.targets.push_back(Target{in.wanted_loss, in.wanted_label});
  if (in.window_from) {
    chart.windows.push_back(
        DayWindow{*in.window_from, in.window_to.value_or(chart.to_day), in.expected_label});
  }
  if (in.today && *in.today >= 0.0) chart.today = in.today;
  chart.today_label = in.today_label;
  chart.value_text = [](double loss) { return format_number(-100.0 * loss, 0) + "\xE2\x80\x89%"; };
  chart.day_month = in.day_month;
  return chart;
}

}  // namespace saltrafter::figure
