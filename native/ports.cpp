#include "native/ports.h"

#include <sys/random.h>
#include <time.h>

#include <cerrno>

namespace saltrafter::native {
namespace {

constexpr std::int64_t kMsPerDay = 86'400'000;

std::int64_t clock_ms(clockid_t clock) {
  timespec now{};
  clock_gettime(clock, &now);
  return static_cast<std::int64_t>(now.tv_sec) * 1000 + now.tv_nsec / 1'000'000;
}

int zone_offset_min(std::int64_t utc_ms) {
  const std::int64_t whole_s = utc_ms >= 0 ? utc_ms / 1000 : (utc_ms - 999) / 1000;
  const time_t instant = static_cast<time_t>(whole_s);
  tm local{};
  if (localtime_r(&instant, &local) == nullptr) return 0;
  return static_cast<int>(local.tm_gmtoff / 60);
}

std::uint64_t random_bits() {
  std::uint64_t bits = 0;
  ssize_t got = -1;
  do {
    got = getrandom(&bits, sizeof bits, 0);
  } while (got < 0 && errno == EINTR);
  if (got == static_cast<ssize_t>(sizeof bits)) return bits;
  // A kernel without the call (before Linux 3.17): ids need only differ, so time and count do.
  static std::uint64_t count = 0;
  const std::uint64_t seed = static_cast<std::uint64_t>(clock_ms(CLOCK_REALTIME)) * 1'000'003ULL + ++count;
  return (seed ^ seed >> 29U) * 0x9E37'79B9'7F4A'7C15ULL;
}

}  // namespace

double steady_ms() {
  timespec now{};
  clock_gettime(CLOCK_MONOTONIC, &now);
  return static_cast<double>(now.tv_sec) * 1e3 + static_cast<double>(now.tv_nsec) / 1e6;
}

Ports ports(std::optional<Date> fixed_day) {
  Ports out;
  out.random_bits = random_bits;
  if (fixed_day) {
    const std::int64_t start = fixed_day->time_since_epoch().count() * kMsPerDay + kMsPerDay / 2;
    const std::int64_t began = clock_ms(CLOCK_MONOTONIC);
    out.now_utc_ms = [start, began] { return start + clock_ms(CLOCK_MONOTONIC) - began; };
    out.zone_offset_min = [](std::int64_t) { return 0; };
  } else {
    out.now_utc_ms = [] { return clock_ms(CLOCK_REALTIME); };
    out.zone_offset_min = zone_offset_min;
  }
  return out;
}

}  // namespace saltrafter::native
