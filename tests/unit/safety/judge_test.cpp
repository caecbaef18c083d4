#include <doctest/doctest.h>

#include <cmath>

#include "core/safety/safety.h"
#include "tests/near.h"

using namespace saltrafter::safety;
using saltrafter::tables::Known;
using saltrafter::tables::LimitSense;

namespace {

Level most(double value, double limit, Known known = Known::read, double uncertainty = 0.0) {
  return judge(value, limit, LimitSense::most, known, usual_near_margin(limit), uncertainty).level;
}

}  // namespace

TEST_CASE("a most: beyond is not met, within 5 % or exactly at it is near, further in is met") {
  CHECK(most(100.1, 100.0) == Level::not_met);
  CHECK(most(100.0, 100.0) == Level::near);
  CHECK(most(95.0, 100.0) == Level::near);
  CHECK(most(94.9, 100.0) == Level::met);
}

TEST_CASE("a least is the mirror of a most, and its margin is positive on the right side") {
  const Judged above = judge(110.0, 100.0, LimitSense::least, Known::read, 5.0);
  CHECK(above.level == Level::met);
  CHECK(above.margin == near_abs(10.0, 1e-12));
  const Judged below = judge(99.0, 100.0, LimitSense::least, Known::read, 5.0);
  CHECK(below.level == Level::not_met);
  CHECK(below.margin == near_abs(-1.0, 1e-12));
}

TEST_CASE("binary noise of a sum does not break a limit, a billionth more does") {
  CHECK(most(0.1 + 0.2, 0.3) == Level::near);
  CHECK(most(100.0 + 1e-12, 100.0) == Level::near);
  CHECK(most(100.0 + 2e-9, 100.0) == Level::not_met);
}

TEST_CASE("an uncertainty that reaches across the limit makes it near, on the right side only") {
  CHECK(most(90.0, 100.0, Known::read, 9.9) == Level::met);
  CHECK(most(90.0, 100.0, Known::read, 10.0) == Level::near);
  CHECK(most(101.0, 100.0, Known::read, 10.0) == Level::not_met);
}

TEST_CASE("only what was read, quoted or derived can be met") {
  for (const Known known : {Known::read, Known::read_copy, Known::derived})
    CHECK(most(50.0, 100.0, known) == Level::met);
  for (const Known known : {Known::practice, Known::memory, Known::choice}) {
    CHECK(most(50.0, 100.0, known) == Level::not_known);
    CHECK(most(99.0, 100.0, known) == Level::not_known);
    CHECK(most(101.0, 100.0, known) == Level::not_met);
  }
}

TEST_CASE("what is no number is not known") {
  CHECK(most(std::nan(""), 100.0) == Level::not_known);
  CHECK(most(1.0, std::nan("")) == Level::not_known);
  CHECK(most(INFINITY, 100.0) == Level::not_known);
}
