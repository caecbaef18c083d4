// What the core must be told from outside: the day, the time, the zone and chance.
//
// Shells give the real ones, tests fixed ones. Nothing in core reads a clock or a generator of its own.
#pragma once

#include <cstdint>
#include <functional>

namespace saltrafter {

struct Ports {
  std::function<std::int64_t()> now_utc_ms;        // milliseconds since 1970-01-01T00:00Z
  std::function<int(std::int64_t)> zone_offset_min;  // minutes east of UTC, at that instant
  std::function<std::uint64_t()> random_bits;      // 64 independent random bits
};

}  // namespace saltrafter
