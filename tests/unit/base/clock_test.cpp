#include <doctest/doctest.h>

#include "core/base/base.h"

using namespace saltrafter;

namespace {

Ports at_zone(int minutes) {
  Ports ports;
  ports.now_utc_ms = [] { return std::int64_t{0}; };
  ports.zone_offset_min = [minutes](std::int64_t) { return minutes; };
  ports.random_bits = [] { return std::uint64_t{1}; };
  return ports;
}

}  // namespace

TEST_CASE("an instant is a day and a minute by the wall clock, and back") {
  const Date day = std::chrono::sys_days(std::chrono::year(2026) / 11 / 26);
  for (const int zone : {-600, -30, 0, 60, 345, 840}) {
    const Ports ports = at_zone(zone);
    for (const int minute : {0, 1, 719, 1439}) {
      const std::int64_t utc_ms = instant_of(ports, day, minute);
      CHECK(day_at(ports, utc_ms) == day);
      CHECK(minute_at(ports, utc_ms) == minute);
    }
  }
  const Ports kathmandu = at_zone(345);
  CHECK(minute_at(kathmandu, -1) == 344);
  CHECK(day_at(kathmandu, -1) == std::chrono::sys_days(std::chrono::year(1970) / 1 / 1));
}

TEST_CASE("the clock changes: an instant after the change keeps its own offset") {
  Ports ports = at_zone(0);
  const std::int64_t change_ms = 1'792'890'000'000;  // some hour in October 2026
  ports.zone_offset_min = [change_ms](std::int64_t at) { return at < change_ms ? 120 : 60; };
  const Date day = day_at(ports, change_ms);
  for (const int minute : {0, 600, 1439}) {
    const std::int64_t utc_ms = instant_of(ports, day, minute);
    CHECK(day_at(ports, utc_ms) == day);
    CHECK(minute_at(ports, utc_ms) == minute);
  }
}

TEST_CASE("a time is typed as people do, and nothing else is taken") {
  CHECK(parse_clock("7:42").value() == 462);
  CHECK(parse_clock(" 07.42 ").value() == 462);
  CHECK(parse_clock("742").value() == 462);
  CHECK(parse_clock("0742").value() == 462);
  CHECK(parse_clock("19").value() == 1140);
  CHECK(parse_clock("0").value() == 0);
  CHECK(clock_text(462) == "07:42");
  for (const char* bad : {"", " ", "24", "7:5", "7:60", "25:00", "7:421", "7,42", "x", "12345", "-1", "7:4a"}) {
    CAPTURE(bad);
    CHECK_FALSE(parse_clock(bad).ok());
  }
}
