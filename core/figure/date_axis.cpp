#include "core/figure/date_axis.h"

#include <array>
#include <chrono>
#include <cmath>

namespace saltrafter::figure {
namespace {

constexpr double kMostTicks = 200.0;  // finer steps are not even tried

struct DateStep {
  int days = 0;  // or
  int months = 0;
};
constexpr std::array<DateStep, 9> kSteps = {
    {{1, 0}, {2, 0}, {7, 0}, {14, 0}, {0, 1}, {0, 2}, {0, 3}, {0, 6}, {0, 12}}};

std::vector<double> days_of(const DateStep& step, const Chart& chart, const ChartScale& scale) {
  std::vector<double> days;
  if (step.days > 0) {
    for (double k = std::ceil(scale.from_day / step.days - 1e-9); k * step.days <= scale.to_day + 1e-9; ++k) {
      days.push_back(k * step.days);
    }
    return days;
  }
  // Months are counted by hand: the page's library lets a year_month += months run round within its year.
  const std::chrono::year_month_day first(add_days(chart.day0, Days(std::floor(scale.from_day))));
  const int since_0 = 12 * static_cast<int>(first.year()) + static_cast<int>(unsigned(first.month())) - 1;
  for (int month = since_0 - since_0 % step.months;; month += step.months) {
    const std::chrono::year_month_day date(std::chrono::year(month / 12),
                                           std::chrono::month(static_cast<unsigned>(month % 12 + 1)),
                                           std::chrono::day(1));
    const double day = days_between(chart.day0, Date(date));
    if (day > scale.to_day + 1e-9) return days;
    if (day >= scale.from_day - 1e-9) days.push_back(day);
  }
}

}  // namespace

std::vector<DateTick> date_ticks(const Chart& chart, const ChartScale& scale, double width_mm, double gap_mm,
                                 const std::function<double(const std::string&)>& run) {
  std::vector<DateTick> ticks;
  if (!chart.day_month) return ticks;
  for (const DateStep& step : kSteps) {
    const double about = step.days > 0 ? step.days : 30.0 * step.months;
    if ((scale.to_day - scale.from_day) / about > kMostTicks) continue;
    ticks.clear();
    bool apart = true;
    double free_from = 0.0;
    std::chrono::year_month named{};
    for (const double day : days_of(step, chart, scale)) {
      const Date date = add_days(chart.day0, Days(day));
      const std::chrono::year_month_day ymd(date);
      const std::chrono::year_month month = ymd.year() / ymd.month();
      const bool same = !ticks.empty() && month == named;
      std::string text = same ? std::to_string(static_cast<unsigned>(ymd.day()))
                         : step.months > 0 && ymd.month() == std::chrono::January
                             ? std::to_string(static_cast<int>(ymd.year()))
                             : chart.day_month(date);
      const double half = run(text) / 2.0;
      const double x = scale.x_mm(day);
      if (x - half < 0.0 || x + half > width_mm) continue;  // the last of them may find no room at the edge
      if (!ticks.empty() && x - half < free_from) apart = false;
      free_from = x + half + gap_mm;
      named = month;
      ticks.push_back(DateTick{day, std::move(text)});
    }
    if (apart) return ticks;
  }
  ticks.resize(ticks.empty() ? 0 : 1);  // no step is coarse enough: one name is
  return ticks;
}

}  // namespace saltrafter::figure
