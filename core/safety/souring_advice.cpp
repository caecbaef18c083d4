#include <algorithm>
#include <cmath>

#include "core/safety/fermentation.h"

namespace saltrafter::safety {
namespace {

constexpr double kMsPerHour = 3.6e6;
constexpr double kStallHours = 12.0;
constexpr double kBlindHours =
    24.0;  // from warm, where no course is known: the start may take so long (choice)
constexpr double kNoFall = 0.05;

double rounded(double value) { return std::round(value * 1e9) / 1e9; }

// The hour's point; the last one after the end.
const PhPoint& point_at(const PhCourse& course, double hours) {
  const double last = static_cast<double>(course.points.size() - 1);
  return course.points[static_cast<std::size_t>(std::clamp(std::floor(hours), 0.0, last))];
}

// No fall over at least 12 h up to the last set.
bool no_fall(const std::vector<PhSet>& sets) {
  const PhSet& last = sets.back();
  for (auto set = sets.rbegin(); set != sets.rend(); ++set) {
    if (static_cast<double>(last.at_utc_ms - set->at_utc_ms) / kMsPerHour < kStallHours) continue;
    return rounded(set->highest - last.highest - kNoFall) <= 0.0;
  }
  return false;
}

}  // namespace

SouringAdvice souring_advice(const recipe::Recipe& recipe, const Souring& souring, const PhCourse& course,
                             const std::vector<Reading>& readings, std::int64_t now_utc_ms) {
  const std::vector<PhSet> sets = ph_sets(readings, now_utc_ms);
  if (souring.out_of_time) return SouringAdvice::out_of_time;
  if (souring.near) return SouringAdvice::reached_near;
  const double wanted = std::min(recipe.wanted_ph.value_or(kSafePh), kSafePh);
  if (souring.ended_utc_ms && souring.last_ph && rounded(*souring.last_ph - wanted) <= 0.0) {
    return SouringAdvice::end_now;
  }
  if (!souring.began_utc_ms) return SouringAdvice::not_begun;
  if (sets.empty()) return souring.logged ? SouringAdvice::goes_on : SouringAdvice::nothing_logged;
  const double hours = static_cast<double>(sets.back().at_utc_ms - *souring.began_utc_ms) / kMsPerHour;
  const bool flat = no_fall(sets);
  if (course.points.empty()) {
    return flat && hours >= kBlindHours ? SouringAdvice::stalled : SouringAdvice::goes_on;
  }
  const PhPoint& here = point_at(course, hours);
  const PhPoint& before = point_at(course, hours - kStallHours);
  const bool behind = rounded(sets.back().highest - kNoFall - here.high) > 0.0;
  // Past half of its fall the course itself has run flat: no more is to come.
  const bool spent = here.likely < 0.5 * (course.points.front().likely + course.final_ph) &&
                     before.likely - here.likely < kNoFall;
  const bool asleep = hours >= kBlindHours && course.points.front().likely - course.final_ph < kNoFall;
  if (flat && (behind || spent || asleep)) return SouringAdvice::stalled;
  return behind ? SouringAdvice::slow : SouringAdvice::goes_on;
}

std::string_view key_of(SouringAdvice advice) {
  switch (advice) {
    case SouringAdvice::not_begun:
      break;
    case SouringAdvice::goes_on:
      return "souring_goes_on";
    case SouringAdvice::end_now:
      return "souring_end_now";
    case SouringAdvice::reached_near:
      return "souring_reached_near";
    case SouringAdvice::slow:
      return "souring_slow";
    case SouringAdvice::stalled:
      return "souring_stalled";
    case SouringAdvice::out_of_time:
      return "souring_out_of_time";
    case SouringAdvice::nothing_logged:
      return "souring_nothing_logged";
  }
  return "souring_not_begun";
}

}  // namespace saltrafter::safety
