// The air of a chamber as it was read, and what of it counts for a time.
#pragma once

#include <cstdint>
#include <vector>

#include "core/base/base.h"

namespace saltrafter::plan {

inline constexpr Celsius kColdestRead{-5.0};
inline constexpr Celsius kWarmestRead{45.0};
inline constexpr RelativeHumidity kDampestRead{0.999};

// What a meter in the chamber showed.
struct AirReading {
  Id id;
  std::int64_t at_utc_ms = 0;
  Celsius temperature;        // kColdestRead..kWarmestRead
  RelativeHumidity humidity;  // 0..kDampestRead

  friend bool operator==(const AirReading&, const AirReading&) = default;
};

using AirLog = std::vector<AirReading>;  // in any order

// Errors: out_of_range "temperature" (°C), "humidity" (ratio), "at_utc_ms" of a time after `now`; duplicate_key
// "at_utc_ms" where the log has another reading of that minute.
Result<Done> check_air_reading(const AirLog& log, const AirReading& reading, std::int64_t now_utc_ms);

// The newest that is no older at `now` than the air goes on for (safety::kLongestUnread), or nullptr.
const AirReading* newest_reading(const AirLog& log, std::int64_t now_utc_ms);

struct TimeSpan {
  double from_ms = 0.0, to_ms = 0.0;  // UTC
};

struct MeanAir {
  Celsius temperature;
  RelativeHumidity humidity;
};

// A log over a time. Between readings temperature and vapour pressure go in straight lines, before the first and after
// the last they stand; where that is longer than safety::kLongestUnread nothing is known: a hole.
class ReadAir {
 public:
  ReadAir(const AirLog& log, TimeSpan over);

  // In order, none in a log without readings, which tells of no time at all.
  const std::vector<TimeSpan>& holes() const { return holes_; }
  bool in_hole(double at_ms) const;

  // The mean temperature and the mean vapour pressure, as humidity at that temperature (at most kDampestRead). Of a
  // part of the time without a hole in it, not empty.
  MeanAir mean(TimeSpan part) const;

  // A part of the time without a hole, in spans that begin and end with days of `day0_ms`'s hour; days that a meter
  // can hardly tell apart (0.5 K, 1 point of humidity; choice) are one.
  std::vector<TimeSpan> steady(TimeSpan part, double day0_ms) const;

 private:
  struct Knot {
    double at_ms, t_c, vapour_pa;
  };
  std::vector<Knot> knots_;
  std::vector<TimeSpan> holes_;
  bool empty_ = true;
};

}  // namespace saltrafter::plan
