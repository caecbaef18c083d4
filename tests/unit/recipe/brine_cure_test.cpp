// Meat laid in a brine: what goes into the pot, and what of it ends in the meat.
#include <doctest/doctest.h>

#include <cmath>

#include "core/recipe/recipe.h"
#include "tests/near.h"
#include "tests/unit/recipe/fixture.h"

using namespace saltrafter;
using namespace saltrafter::recipe;
using recipe::test::line;
using recipe::test::sample;

namespace {

Recipe brined(double days = 7.0) {
  Recipe r = sample();
  r.product_class = ProductClass::whole_muscle_dry;
  r.method = CureMethod::brine;
  r.brine = Brine{800.0, 0.25, Days(days)};
  r.lines[5] = line(LineKind::additive, "red_wine", 20.0);
  return r;
}

Hands fine() {
  Hands hands;
  hands.scales = Scales{Grams(1e-6), Grams(1e9), Grams(1.0)};
  return hands;
}

Sheet scaled(const Recipe& recipe, double meat_g, const Hands& hands = {}) {
  const Result<Sheet> sheet = scale(recipe, Grams(meat_g), nullptr, hands);
  REQUIRE(sheet.ok());
  return sheet.value();
}

Error error_of(const Recipe& recipe) {
  const Result<Sheet> sheet = scale(recipe, Grams(1000.0));
  REQUIRE_FALSE(sheet.ok());
  return sheet.error();
}

double pickle_g(const Sheet& sheet) {
  double mass_g = sheet.water.value;
  for (const SheetLine& l : sheet.lines) mass_g += l.kind == LineKind::meat ? 0.0 : l.weighed.value;
  return mass_g;
}

}  // namespace

TEST_CASE("what is planned to lie in its brine for days is no dip") {
  Recipe r = brined(2.0);
  Stage cure;
  cure.id = Id{"cure"};
  cure.kind = StageKind::cure;
  cure.days = Days(2.9);
  r.stages = {cure};
  CHECK(scale(r, Grams(1000.0)).ok());
  r.stages[0].days = Days(3.0);
  const Error error = error_of(r);
  CHECK(error.code == ErrorCode::out_of_range);
  CHECK(error.field == "brine/days");
  r.brine->days = Days(3.0);
  CHECK(scale(r, Grams(1000.0)).ok());
  r.stages[0].kind = StageKind::rest;
  r.brine->days = Days(2.0);
  CHECK(scale(r, Grams(1000.0)).ok());
}

TEST_CASE("left to even out, the meat has the salt wanted and both waters are equally strong") {
  for (const double salt : {5.0, 20.0, 27.0, 40.0}) {
    for (const double g_per_kg : {300.0, 800.0, 3000.0}) {
      CAPTURE(salt);
      CAPTURE(g_per_kg);
      Recipe r = brined();
      r.lines[2].amount = salt;
      r.brine->g_per_kg = g_per_kg;
      const Sheet sheet = scaled(r, 2000.0, fine());
      CHECK(sheet.composition.salt_g == near_abs(2.0 * salt, 1e-4));
      CHECK(pickle_g(sheet) == near_abs(2.0 * g_per_kg, 1e-4));
      const double other_g = sheet.lines[4].weighed.value * 0.091 + sheet.lines[5].weighed.value * 0.865;
      const double left_g = sheet.salt_wanted.value - sheet.composition.salt_g;
      CHECK(left_g / (sheet.water.value + other_g) ==
            near_rel(sheet.composition.salt_g / sheet.composition.water_g, 1e-6));
      // One system of meat and brine.
      CHECK(sheet.curing_base.value == near_abs(2000.0 + 2.0 * g_per_kg, 1e-4));
      CHECK(sheet.nitrite.value == near_rel(150.0, 1e-6));
      CHECK(sheet.mix.value * 62500.0 / sheet.curing_base.value == near_rel(150.0, 1e-6));
    }
  }
}

TEST_CASE("from three days on meat and brine are one system; before, what is taken up counts") {
  const Sheet day_3 = scaled(brined(3.0), 1000.0, fine());
  CHECK(day_3.curing_base.value == near_abs(1800.0, 1e-4));
  const Sheet day_2 = scaled(brined(2.9), 1000.0, fine());
  // A quarter of its mass of the brine: the mix in 800 g of it doses 250 g to a kilogram of meat.
  CHECK(day_2.curing_base.value == near_abs(800.0 / 0.25, 1e-4));
  CHECK(day_2.nitrite.value == near_rel(150.0, 1e-6));
  CHECK(day_2.mix.value * 0.0625 * 0.25 * 1e6 / pickle_g(day_2) == near_rel(day_2.nitrite.value, 1e-9));
  CHECK(day_2.composition.salt_g == near_abs(27.0, 1e-4));
  const double meat_only_g = scaled(sample(), 1000.0, fine()).composition.water_g;
  CHECK(day_2.composition.water_g > meat_only_g + 150.0);
  CHECK(day_2.composition.total_g() == near_abs(1250.0, 10.0));
}

TEST_CASE("the brine at the scale is never stronger in nitrite than asked, and a slip at it counts") {
  const Recipe r = brined();
  for (double meat_g = 300.0; meat_g < 20000.0; meat_g *= 1.3) {
    CAPTURE(meat_g);
    const Sheet sheet = scaled(r, meat_g);
    CHECK(sheet.nitrite.value <= 150.0 + 1e-9);
    // What the scale takes off elsewhere the water makes good, up to its own step.
    const double over_g = pickle_g(sheet) - 0.8 * meat_g;
    CHECK(over_g >= -1e-6);
    CHECK(over_g < scale_step(sheet.water).value + 1e-6);
  }
  Hands slip;
  slip.weighed = {WeighedIn{r.lines[3].id, Grams(20.0), 0, ""}};
  const Sheet asked = scaled(r, 1000.0);
  const Sheet sheet = scaled(r, 1000.0, slip);
  CHECK(sheet.water.value == near_abs(asked.water.value, 20.0));
  CHECK(sheet.nitrite.value == near_rel(20.0 * 62500.0 / (1000.0 + pickle_g(sheet)), 1e-9));
  CHECK(sheet.nitrite.value > 600.0);
}

TEST_CASE("the plain water stands beside the lines") {
  const Sheet sheet = scaled(brined(), 1000.0);
  double lines_g = 0.0;
  for (const SheetLine& l : sheet.lines) lines_g += l.weighed.value;
  CHECK(sheet.total.value == near_rel(lines_g, 1e-12));
  CHECK(sheet.water.value > 600.0);
  CHECK(scaled(sample(), 1000.0).water.value == 0.0);
}

TEST_CASE("a brine in which the salt does not dissolve says how much would do") {
  Recipe r = brined();
  r.lines[2].amount = 80.0;
  r.brine->g_per_kg = 100.0;
  const Error tight = error_of(r);
  CHECK(tight.field == "brine/g_per_kg");
  REQUIRE(tight.low.has_value());
  r.brine->g_per_kg = *tight.low * 1.02;
  CHECK(scale(r, Grams(1000.0)).ok());
  r.brine->g_per_kg = *tight.low * 0.95;
  CHECK(error_of(r).field == "brine/g_per_kg");

  r = brined();
  r.lines[2].amount = 400.0;  // more than the meat's own water dissolves
  CHECK(error_of(r).field == "lines/2/amount");
  r.lines[2].amount = error_of(r).high.value_or(0.0) * 0.5;
  r.brine->g_per_kg = 5000.0;
  CHECK(scale(r, Grams(1000.0)).ok());

  r = brined(1.0);
  r.brine->pick_up = 0.05;
  const Error little = error_of(r);
  CHECK(little.field == "brine/pick_up");
  r.brine->pick_up = little.low.value_or(0.0) * 1.01;
  CHECK(scale(r, Grams(1000.0)).ok());
  r.brine->pick_up = 0.0;
  CHECK(error_of(r).field == "brine/pick_up");
}

TEST_CASE("a brine must be said, within its bounds") {
  Recipe r = brined();
  r.brine.reset();
  CHECK(error_of(r).code == ErrorCode::missing);
  CHECK(error_of(r).field == "brine");
  for (const double bad : {49.0, 5001.0, std::nan("")}) {
    r = brined();
    r.brine->g_per_kg = bad;
    CHECK(error_of(r).field == "brine/g_per_kg");
  }
  for (const double bad : {-0.1, 0.6, std::nan("")}) {
    r = brined();
    r.brine->pick_up = bad;
    CHECK(error_of(r).field == "brine/pick_up");
    r = brined();
    r.brine->days = Days(bad < 0.0 ? bad : bad * 1e4);
    CHECK(error_of(r).field == "brine/days");
  }
}

TEST_CASE("what swims in a brine stays in it, sugar goes into the meat as salt does") {
  Recipe r = brined();
  r.lines[5] = line(LineKind::additive, "black_pepper", 20.0);
  const Sheet with = scaled(r, 1000.0, fine());
  r.lines[5].amount = 0.0;
  const Sheet without = scaled(r, 1000.0, fine());
  CHECK(with.composition.fat_g == near_abs(without.composition.fat_g, 1e-9));
  CHECK(with.composition.protein_g == near_abs(without.composition.protein_g, 1e-9));
  const double share = without.composition.salt_g / without.salt_wanted.value;
  CHECK(without.composition.sugar_g == near_rel(4.0 * 0.909 * share, 1e-6));
}
