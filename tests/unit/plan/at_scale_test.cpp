// What is known of a piece while it lies on the scale.
#include "core/plan/at_scale.h"

#include <doctest/doctest.h>

#include "tests/near.h"
#include "tests/unit/plan/fixture.h"

using namespace saltrafter;
using namespace saltrafter::plan;
using plan::test::batch;
using plan::test::day;
using plan::test::event;
using plan::test::kHung;
using plan::test::weighing;

namespace {

constexpr double kExact = 1e-9;

// A forecast that expects 20 % lost on every day up to 30, 18 to 23 % most of the time.
drying::Forecast forecast() {
  drying::Forecast f;
  for (const char* id : {"one", "two"}) {
    drying::PieceOutlook outlook;
    outlook.piece = Id{id};
    outlook.days.assign(31, {0.18, 0.20, 0.23});
    f.pieces.push_back(outlook);
  }
  return f;
}

std::optional<Odd> odd_on(const Batch& b, int on, double mass_g, const drying::Forecast* f = nullptr) {
  return odd(at_scale(b, {Id{"one"}}, day(on), f), Grams(mass_g));
}

}  // namespace

TEST_CASE(
    "what a piece weighed before is the newest weight of an earlier day, and its hanging where there is "
    "none") {
  Batch b = batch();
  AtScale scale = at_scale(b, {Id{"one"}}, day(20), nullptr);
  CHECK(scale.since_hanging);
  CHECK(scale.before.value == 800.0);
  CHECK(scale.before_on == day(14));
  CHECK_FALSE(scale.expected);
  // One of the same day is being put right, and says nothing of the next.
  CHECK(at_scale(b, {Id{"one"}}, day(14), nullptr).before.value == 900.0);
  CHECK(at_scale(b, {Id{"one"}}, day(3), nullptr).before.value == 1000.0);
  CHECK_FALSE(at_scale(b, {Id{"one"}}, day(3), nullptr).since_hanging);
  // What was done to it that day counts before the weight is asked.
  b.events = {event(EventKind::cut, 20, 780.0, 390.0)};
  scale = at_scale(b, {Id{"one"}}, day(20), nullptr);
  CHECK(scale.before.value == 390.0);
  CHECK(scale.base.equivalent_hung.value == near_abs(500.0, kExact));
  CHECK(scale.loss(Grams(390.0)) == near_abs(0.22, kExact));
}

TEST_CASE("what is expected carries casing and string, and goes with what is left of the piece") {
  Batch b = batch();
  b.pieces[0].tare = Grams(40.0);
  const drying::Forecast f = forecast();
  AtScale scale = at_scale(b, {Id{"one"}}, day(20), &f);
  REQUIRE(scale.expected);
  CHECK(scale.expected->likely.value == near_abs(960.0 * 0.8 + 40.0, kExact));
  const auto bare = drying::expected_mass(f.pieces[0], Grams(960.0), Days(20.0));
  REQUIRE(bare);
  CHECK(scale.expected->low.value == near_abs(bare->low.value + 40.0, kExact));
  CHECK(scale.expected->high.value == near_abs(bare->high.value + 40.0, kExact));
  b.events = {event(EventKind::cut, 15, 840.0, 440.0)};
  scale = at_scale(b, {Id{"one"}}, day(20), &f);
  CHECK(scale.expected->likely.value == near_abs(480.0 * 0.8 + 40.0, kExact));
  CHECK_FALSE(at_scale(b, {Id{"one"}}, day(31), &f).expected);
}

TEST_CASE("pieces weighed as one are their sums") {
  const Batch b = batch();
  const drying::Forecast f = forecast();
  const AtScale scale = at_scale(b, {Id{"one"}, Id{"two"}}, day(20), &f);
  CHECK(scale.base.equivalent_hung.value == 2000.0);
  CHECK(scale.before.value == 1710.0);
  CHECK(scale.before_on == day(14));
  REQUIRE(scale.expected);
  CHECK(scale.expected->low.value == near_abs(2000.0 * 0.77, kExact));
  CHECK(scale.loss(Grams(1600.0)) == near_abs(0.2, kExact));
  // Where one of them was never weighed, they were not weighed before.
  CHECK_FALSE(at_scale(b, {Id{"one"}, Id{"two"}}, day(5), nullptr).since_hanging);
  CHECK(at_scale(b, {}, day(5), &f).loss(Grams(1.0)) == 0.0);
}

TEST_CASE("a weight looks wrong by how it stands to hanging, to the one before and to what is expected") {
  const Batch b = batch();
  CHECK(odd_on(b, 20, 400.0) == Odd::light);
  CHECK_FALSE(odd_on(b, 20, 401.0));
  // 3 g and 0.3 % of 1000 g are the same.
  CHECK_FALSE(odd_on(b, 20, 803.0));
  CHECK(odd_on(b, 20, 803.1) == Odd::gained);
  Batch small = b;
  small.pieces[0].hung = Grams(900.0);  // 0.3 % are 2.7 g
  CHECK_FALSE(odd_on(small, 20, 802.9));
  Batch large = b;
  large.pieces[0].hung = Grams(2000.0);
  CHECK_FALSE(odd_on(large, 20, 805.9));
  CHECK(odd_on(large, 20, 806.1) == Odd::gained);
  // Expected 770 to 820, likely 800: asked beyond 740 and 840, and 5 g for the scale.
  const drying::Forecast f = forecast();
  CHECK_FALSE(odd_on(b, 10, 735.1, &f));
  CHECK(odd_on(b, 10, 734.9, &f) == Odd::below);
  CHECK_FALSE(odd_on(b, 10, 844.9, &f));
  CHECK(odd_on(b, 10, 845.1, &f) == Odd::above);
  const AtScale scale = at_scale(b, {Id{"one"}}, day(10), &f);
  CHECK(beside_expected(scale, Grams(764.9)) == -1);
  CHECK(beside_expected(scale, Grams(765.1)) == 0);
  CHECK(beside_expected(scale, Grams(824.9)) == 0);
  CHECK(beside_expected(scale, Grams(825.1)) == 1);
}

TEST_CASE("the most on the scale is what a weighing takes at most") {
  const Batch b = batch();
  const AtScale scale = at_scale(b, {Id{"one"}}, day(20), nullptr);
  drying::Weighing most = weighing("most", "one", 20, scale.most.value);
  CHECK(check_weighing(b, most, day(30)).ok());
  most.mass = most.mass + Grams(0.1);
  CHECK_FALSE(check_weighing(b, most, day(30)).ok());
}
