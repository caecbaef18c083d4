// What a batch teaches once it is down, and the air that is asked about.
#include <doctest/doctest.h>

#include "core/plan/plan.h"
#include "tests/near.h"
#include "tests/unit/recipe/fixture.h"

using namespace saltrafter;
using namespace saltrafter::plan;

namespace {

constexpr Date kHung = std::chrono::year(2026) / 10 / 1;

Date day(int n) { return kHung + std::chrono::days(n); }

Batch down(double mass_g = 650.0) {
  Batch b;
  b.hung_on = kHung;
  b.made_from = recipe::test::sample();
  b.meat = Grams(2000.0);
  Piece piece;
  piece.id = Id{"one"};
  piece.hung = Grams(1000.0);
  b.pieces = {piece};
  TakenDown taken;
  taken.id = Id{"down"};
  taken.piece = Id{"one"};
  taken.date = day(40);
  taken.mass = Grams(mass_g);
  b.taken_down = {taken};
  return b;
}

drying::Forecast told() {
  drying::Forecast forecast;
  forecast.batch_ln_factor = {-0.3, 0.2};
  forecast.batch_sd = {0.06, 0.07};
  forecast.needed.loss = 0.35;
  return forecast;
}

}  // namespace

TEST_CASE("a batch teaches once its last piece is down, by its own factors") {
  Batch b = down();
  const auto taught = finished_batch(b, told());
  REQUIRE(taught);
  CHECK(taught->ln_factor[0] == -0.3);
  CHECK(taught->sd[1] == 0.07);
  CHECK_FALSE(taught->held);
  CHECK_FALSE(taught->odd);
  CHECK_FALSE(taught->extrapolated);
  Piece other = b.pieces[0];
  other.id = Id{"two"};
  b.pieces.push_back(other);
  CHECK_FALSE(finished_batch(b, told()));
}

TEST_CASE("what was held, faulty, wetted or taken down far too soon is marked, and so left out") {
  Batch b = down();
  b.taken_down[0].faults = {Fault::hollow};
  CHECK(finished_batch(b, told())->odd);
  b = down();
  b.events.push_back({Id{"e"}, Id{"one"}, EventKind::wetted, day(5), Grams(900.0), Grams(910.0), ""});
  CHECK(finished_batch(b, told())->odd);
  b = down();
  b.evidence.acts.push_back({Id{"a"}, {}, safety::Standing::held, day(10), "waits", ""});
  CHECK(finished_batch(b, told())->held);
  b.evidence.acts.push_back({Id{"c"}, {}, safety::Standing::in_work, day(11), "goes on", ""});
  CHECK_FALSE(finished_batch(b, told())->held);
  CHECK(finished_batch(down(760.0), told())->extrapolated);  // 24 % of the 35 wanted
  CHECK_FALSE(finished_batch(down(750.0), told())->extrapolated);
}

TEST_CASE("a change of the chamber counts where it lies between the two hangings") {
  Chamber chamber;
  chamber.changes = {{Id{"a"}, day(0), ChamberChangeKind::fan, ""},
                     {Id{"b"}, day(20), ChamberChangeKind::season, ""},
                     {Id{"c"}, day(60), ChamberChangeKind::cooler, ""}};
  drying::FinishedBatch finished;
  mark_changes(finished, chamber, kHung, day(50));
  CHECK_FALSE(finished.other_fan);
  CHECK(finished.other_season);
  CHECK_FALSE(finished.other_cooler);
  mark_changes(finished, chamber, kHung, day(60));
  CHECK(finished.other_cooler);
}

TEST_CASE("another air is that of what is to come, not of what was or of a bag") {
  Batch b = down();
  b.taken_down.clear();
  b.air = {Celsius(12.0), RelativeHumidity(0.80), MetresPerSecond(0.1)};
  const WhatIf dry{std::nullopt, RelativeHumidity(0.70), std::nullopt};
  const std::vector<drying::Stage> stages = forecast_input(b, day(10), {}, dry).value().stages;
  REQUIRE(stages.size() == 2);
  CHECK(stages[0].humidity.value == 0.80);
  CHECK(stages[0].duration.value == near_abs(10.0, 1e-9));
  CHECK(stages[1].humidity.value == 0.70);
  CHECK(stages[1].temperature.value == 12.0);
  CHECK(air_ahead(b, day(10)).humidity.value == 0.80);
  CHECK(forecast_input(b, day(10)).value().stages.size() == 1);
}
