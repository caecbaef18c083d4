#include "core/plan/air_log.h"

#include <algorithm>
#include <cmath>

#include "core/air/air.h"
#include "core/safety/safety.h"

namespace saltrafter::plan {
namespace {

constexpr double kMsADay = 86400000.0;
constexpr std::int64_t kMsAMinute = 60000;
constexpr double kLongestUnread_ms = safety::kLongestUnread.value * kMsADay;
constexpr CelsiusDelta kSameTemperature{0.5};    // choice
constexpr RelativeHumidity kSameHumidity{0.01};  // choice

bool alike(const MeanAir& a, const MeanAir& b) {
  return std::abs((a.temperature - b.temperature).value) <= kSameTemperature.value + 1e-9 &&
         std::abs(a.humidity.value - b.humidity.value) <= kSameHumidity.value + 1e-9;
}

}  // namespace

Result<Done> check_air_reading(const AirLog& log, const AirReading& reading, std::int64_t now_utc_ms) {
  const double t_c = reading.temperature.value;
  const double share = reading.humidity.value;
  if (!(t_c >= kColdestRead.value && t_c <= kWarmestRead.value))
    return out_of_range("temperature", t_c, kColdestRead.value, kWarmestRead.value, "°C");
  if (!(share >= 0.0 && share <= kDampestRead.value))
    return out_of_range("humidity", share, 0.0, kDampestRead.value, "");
  if (reading.at_utc_ms < 0 || reading.at_utc_ms > now_utc_ms)
    return out_of_range("at_utc_ms", static_cast<double>(reading.at_utc_ms), 0.0,
                        static_cast<double>(now_utc_ms), "ms");
  for (const AirReading& other : log) {
    if (other.id != reading.id && other.at_utc_ms / kMsAMinute == reading.at_utc_ms / kMsAMinute)
      return Error{ErrorCode::duplicate_key, "at_utc_ms", other.id.text, "", "", {}, {}};
  }
  return Done{};
}

const AirReading* newest_reading(const AirLog& log, std::int64_t now_utc_ms) {
  const AirReading* newest = nullptr;
  for (const AirReading& reading : log) {
    const double ago_ms = static_cast<double>(now_utc_ms) - static_cast<double>(reading.at_utc_ms);
    if (ago_ms < 0.0 || ago_ms > kLongestUnread_ms) continue;
    if (newest == nullptr || reading.at_utc_ms > newest->at_utc_ms) newest = &reading;
  }
  return newest;
}

ReadAir::ReadAir(const AirLog& log, TimeSpan over) : empty_(log.empty()) {
  if (empty_) return;
  for (const AirReading& reading : log) {
    const double t_c = reading.temperature.value;
    knots_.push_back({static_cast<double>(reading.at_utc_ms), t_c,
                      reading.humidity.value * air::saturation_pressure_pa(t_c)});
  }
  std::stable_sort(knots_.begin(), knots_.end(),
                   [](const Knot& a, const Knot& b) { return a.at_ms < b.at_ms; });
  const auto add_hole = [&](double from_ms, double to_ms) {
    const TimeSpan hole{std::max(from_ms, over.from_ms), std::min(to_ms, over.to_ms)};
    if (hole.from_ms < hole.to_ms) holes_.push_back(hole);
  };
  Knot first = knots_.front();
  if (first.at_ms - over.from_ms > kLongestUnread_ms) {
    add_hole(over.from_ms, first.at_ms);
  } else if (first.at_ms > over.from_ms) {
    first.at_ms = over.from_ms;
    knots_.insert(knots_.begin(), first);
  }
  for (std::size_t i = 1; i < knots_.size(); ++i) {
    if (knots_[i].at_ms - knots_[i - 1].at_ms > kLongestUnread_ms)
      add_hole(knots_[i - 1].at_ms, knots_[i].at_ms);
  }
  Knot last = knots_.back();
  if (over.to_ms - last.at_ms > kLongestUnread_ms) {
    add_hole(last.at_ms, over.to_ms);
  } else if (last.at_ms < over.to_ms) {
    last.at_ms = over.to_ms;
    knots_.push_back(last);
  }
}

bool ReadAir::in_hole(double at_ms) const {
  return empty_ || std::any_of(holes_.begin(), holes_.end(), [at_ms](const TimeSpan& hole) {
           return at_ms >= hole.from_ms && at_ms < hole.to_ms;
         });
}

MeanAir ReadAir::mean(TimeSpan part) const {
  double t_c = 0.0;
  double vapour_pa = 0.0;
  double lasted_ms = 0.0;
  for (std::size_t i = 1; i < knots_.size(); ++i) {
    const Knot& a = knots_[i - 1];
    const Knot& b = knots_[i];
    const double from_ms = std::max(a.at_ms, part.from_ms);
    const double to_ms = std::min(b.at_ms, part.to_ms);
    if (!(from_ms < to_ms)) continue;
    const double middle =
        (0.5 * (from_ms + to_ms) - a.at_ms) / (b.at_ms - a.at_ms);  // its value is the mean of a line
    const double ms = to_ms - from_ms;
    t_c += ms * (a.t_c + middle * (b.t_c - a.t_c));
    vapour_pa += ms * (a.vapour_pa + middle * (b.vapour_pa - a.vapour_pa));
    lasted_ms += ms;
  }
  if (!(lasted_ms > 0.0)) return {};
  t_c /= lasted_ms;
  const double humidity = vapour_pa / lasted_ms / air::saturation_pressure_pa(t_c);
  return {Celsius(t_c), RelativeHumidity(std::min(humidity, kDampestRead.value))};
}

std::vector<TimeSpan> ReadAir::steady(TimeSpan part, double day0_ms) const {
  std::vector<TimeSpan> out;
  for (double from_ms = part.from_ms; from_ms < part.to_ms;) {
    const double next_ms = day0_ms + kMsADay * (std::floor((from_ms - day0_ms) / kMsADay) + 1.0);
    const double to_ms = std::min(next_ms, part.to_ms);
    if (!out.empty() && alike(mean(out.back()), mean({from_ms, to_ms}))) {
      out.back().to_ms = to_ms;
    } else {
      out.push_back({from_ms, to_ms});
    }
    from_ms = to_ms;
  }
  return out;
}

}  // namespace saltrafter::plan
