#include "core/desk/repaint.h"

#include <doctest/doctest.h>

using saltrafter::desk::RepaintClock;

namespace {

// Frames drawn from from_s until to_s by a shell that asks sixty times a second.
int frames_drawn(RepaintClock& clock, double from_s, double to_s) {
  int drawn = 0;
  for (int tick = 0; from_s + tick / 60.0 < to_s; ++tick) drawn += clock.due(from_s + tick / 60.0) ? 1 : 0;
  return drawn;
}

}  // namespace

TEST_CASE("nothing is drawn once the settling time after an input is over") {
  RepaintClock clock;
  clock.touch(10.0);
  CHECK(frames_drawn(clock, 10.0, 10.6) >= 30);
  CHECK(frames_drawn(clock, 10.7, 12.7) == 0);
}

TEST_CASE("a slow shell still draws four frames after an input") {
  RepaintClock clock;
  clock.touch(0.0);
  int drawn = 0;
  for (double now_s = 1.0; now_s < 20.0; now_s += 1.0) drawn += clock.due(now_s) ? 1 : 0;
  CHECK(drawn == 4);
}

TEST_CASE("a wish for later wakes the shell then and only then") {
  RepaintClock clock;
  frames_drawn(clock, 0.0, 1.0);
  clock.wake_at(60.0);
  clock.wake_at(90.0);
  CHECK(clock.idle_s(1.0, 600.0) == 59.0);
  CHECK(clock.idle_s(1.0, 5.0) == 5.0);
  CHECK(frames_drawn(clock, 1.0, 59.9) == 0);
  CHECK(frames_drawn(clock, 60.0, 61.0) == 4);
  CHECK(clock.idle_s(61.0, 600.0) == 600.0);
}
