#include <doctest/doctest.h>

#include <cmath>
#include <cstdint>
#include <iterator>
#include <limits>

#include "core/recipe/recipe.h"
#include "tests/near.h"
#include "tests/unit/recipe/fixture.h"

using namespace saltrafter;
using namespace saltrafter::recipe;
using recipe::test::line;
using recipe::test::sample;

namespace {

const SheetLine& line_of(const Sheet& sheet, LineKind kind) {
  for (const SheetLine& l : sheet.lines) {
    if (l.kind == kind) return l;
  }
  FAIL("no such line");
  return sheet.lines.front();
}

Error error_of(const Recipe& recipe, double meat_g = 4200.0) {
  const Result<Sheet> sheet = scale(recipe, Grams(meat_g));
  REQUIRE_FALSE(sheet.ok());
  return sheet.error();
}

}  // namespace

TEST_CASE("twice the meat doubles every exact figure and keeps every share") {
  for (const double meat_g : {0.5, 37.0, 400.0, 4200.0, 123456.7}) {
    CAPTURE(meat_g);
    const Sheet one = scale(sample(), Grams(meat_g)).value();
    const Sheet two = scale(sample(), Grams(2.0 * meat_g)).value();
    REQUIRE(one.lines.size() == sample().lines.size());
    for (std::size_t i = 0; i < one.lines.size(); ++i) {
      CAPTURE(i);
      CHECK(one.lines[i].exact.value > 0.0);
      CHECK(two.lines[i].exact.value == near_rel(2.0 * one.lines[i].exact.value, 1e-12));
      CHECK(two.lines[i].share_of_meat == near_rel(one.lines[i].share_of_meat, 1e-12));
    }
    CHECK(two.salt_wanted.value == near_rel(2.0 * one.salt_wanted.value, 1e-12));
  }
}

TEST_CASE("the composition weighs what the lines weigh, and its salt is the salt wanted") {
  for (const double meat_g : {50.0, 333.3, 4200.0, 10000.0, 999999.0}) {
    CAPTURE(meat_g);
    const Sheet sheet = scale(sample(), Grams(meat_g)).value();
    double total_g = 0.0;
    for (const SheetLine& l : sheet.lines) total_g += l.weighed.value;
    CHECK(sheet.total.value == near_rel(total_g, 1e-12));
    CHECK(sheet.composition.total_g() == near_rel(total_g, 1e-9));
    const double step_g = scale_step(line_of(sheet, LineKind::salt).weighed).value;
    CHECK(sheet.composition.salt_g == near_abs(sheet.salt_wanted.value, 0.5 * step_g + 1e-6));
  }
}

TEST_CASE("a weighed mass is within half a step of the exact one, the mix within one step below it") {
  for (int i = 1; i < 4000; ++i) {
    const double meat_g = 0.37 * i * i;
    if (meat_g > kMostMeat.value) break;
    const Sheet sheet = scale(sample(), Grams(meat_g)).value();
    for (const SheetLine& l : sheet.lines) {
      if (l.kind == LineKind::salt) continue;  // makes up for what the mix as weighed brings less
      CAPTURE(meat_g);
      const double off_g = l.weighed.value - l.exact.value;
      const double step_g = scale_step(l.exact).value;
      if (l.kind == LineKind::cure) {
        CHECK(off_g <= 1e-6);
        CHECK(off_g > -step_g - 1e-6);
      } else {
        CHECK(std::abs(off_g) <= 0.5 * step_g + 1e-6);
      }
    }
    CHECK(sheet.nitrite.value <= 150.0 + 1e-6);
  }
}

TEST_CASE("masses are rounded to a tenth of a gram below a kilogram and to a gram from there") {
  CHECK(as_weighed(Grams(2.449)).value == near_abs(2.4, 1e-12));
  CHECK(as_weighed(Grams(2.45)).value == near_abs(2.5, 1e-12));
  CHECK(as_weighed(Grams(999.96)).value == near_abs(1000.0, 1e-12));
  CHECK(as_weighed(Grams(1000.4)).value == near_abs(1000.0, 1e-12));
  CHECK(as_weighed_at_most(Grams(8.099)).value == near_abs(8.0, 1e-12));
  CHECK(as_weighed_at_most(Grams(8.1 - 1e-12)).value == near_abs(8.1, 1e-12));
  CHECK(as_weighed(Grams(-3.0)).value == 0.0);
  CHECK(as_weighed(Grams(std::nan(""))).value == 0.0);
  CHECK(as_weighed_at_most(Grams(std::nan(""))).value == 0.0);
}

TEST_CASE("the curing mix meets the dose, and its salt is taken off the salt line") {
  Recipe r = sample();
  r.lines[3].amount = 156.25;
  const Sheet sheet = scale(r, Grams(1000.0)).value();
  CHECK(sheet.mix.value == near_abs(2.5, 1e-9));
  CHECK(sheet.nitrite.value == near_abs(156.25, 1e-9));
  CHECK(sheet.nitrite_ion.value == near_abs(104.19, 0.02));
  CHECK(sheet.nitrate.value == 0.0);
  CHECK(sheet.salt_from_mix.value == near_abs(2.34375, 1e-9));
  CHECK(line_of(sheet, LineKind::salt).exact.value == near_abs(24.65625, 1e-9));
  CHECK(line_of(sheet, LineKind::salt).weighed.value == near_abs(24.7, 1e-9));
  CHECK_FALSE(sheet.too_salty.has_value());
}

TEST_CASE("nitrite is recomputed from the mix as weighed") {
  const Sheet sheet = scale(sample(), Grams(330.0)).value();  // 0.792 g of mix
  CHECK(line_of(sheet, LineKind::cure).exact.value == near_abs(0.792, 1e-9));
  CHECK(sheet.mix.value == near_abs(0.7, 1e-9));
  CHECK(sheet.nitrite.value == near_abs(0.7 * 0.0625 / 330.0 * 1e6, 1e-6));
  CHECK(sheet.nitrite_wanted.value == 150.0);
}

TEST_CASE("a mix that alone brings more salt than wanted is said, with both figures") {
  Recipe r = sample();
  r.mix = CuringMix{"0.4 %", 0.004, 0.0};
  const Sheet sheet = scale(r, Grams(1000.0)).value();  // 37.5 g of mix, 37.35 g of salt
  REQUIRE(sheet.too_salty.has_value());
  CHECK(sheet.too_salty->code == ErrorCode::out_of_range);
  CHECK(sheet.too_salty->field == "lines/2/amount");
  CHECK(sheet.too_salty->found == "27");
  CHECK(sheet.too_salty->low.value_or(0.0) == near_abs(37.35, 1e-6));
  CHECK_FALSE(sheet.too_salty->high.has_value());
  CHECK(sheet.too_salty->unit == "g/kg");
  CHECK(line_of(sheet, LineKind::salt).weighed.value == 0.0);
  CHECK(line_of(sheet, LineKind::salt).exact.value == 0.0);
}

TEST_CASE("additives go by share, by kilogram, or as they are") {
  Recipe r = sample();
  r.lines.push_back(line(LineKind::additive, "garlic_fresh", 12.0, Basis::fixed_g));
  const Sheet sheet = scale(r, Grams(2000.0)).value();
  CHECK(sheet.lines[4].weighed.value == near_abs(8.0, 1e-9));
  CHECK(sheet.lines[5].weighed.value == near_abs(6.0, 1e-9));
  CHECK(sheet.lines[6].weighed.value == near_abs(12.0, 1e-9));
  CHECK(sheet.lines[6].share_of_meat == near_abs(0.006, 1e-12));
}

TEST_CASE("the maker's own additive counts as rest, and the sheet says so") {
  Recipe r = sample();
  Line own = line(LineKind::additive, "", 5.0);
  const Sheet without = scale(r, Grams(1000.0)).value();
  r.lines.push_back(own);
  const Sheet with = scale(r, Grams(1000.0)).value();
  CHECK(with.composition.rest_g - without.composition.rest_g == near_abs(5.0, 1e-9));
  CHECK(with.composition.water_g == near_abs(without.composition.water_g, 1e-9));
  CHECK_FALSE(with.lines.back().parts_known);
  CHECK(with.lines[4].parts_known);
}

TEST_CASE("above 625 mg/kg a sheet is refused, by dose wanted, and still shows its figures") {
  Recipe r = sample();
  r.product_class = ProductClass::whole_muscle_dry;
  r.lines[3].amount = 625.0;
  for (const double meat_g : {1000.0, 1006.0, 4321.0}) {
    CAPTURE(meat_g);
    const Sheet at_limit = scale(r, Grams(meat_g)).value();
    CHECK_FALSE(at_limit.refused.has_value());
    CHECK(may_be_used(at_limit).ok());
  }
  r.lines[3].amount = 626.0;
  const Sheet above = scale(r, Grams(1000.0)).value();
  CHECK(above.nitrite.value > 620.0);
  REQUIRE_FALSE(may_be_used(above).ok());
  const Error refusal = may_be_used(above).error();
  CHECK(refusal.code == ErrorCode::refused);
  CHECK(refusal.field == "nitrite_ceiling");
  CHECK(refusal.found == "626");
  CHECK(refusal.high.value_or(0.0) == 625.0);
}

TEST_CASE("a bad mass of meat is refused with its bounds") {
  for (const double meat_g : {0.0, -1.0, 1000001.0, std::nan(""), std::numeric_limits<double>::infinity()}) {
    CAPTURE(meat_g);
    const Error error = error_of(sample(), meat_g);
    CHECK(error.code == ErrorCode::out_of_range);
    CHECK(error.field == "meat");
    CHECK(error.high.value_or(0.0) == kMostMeat.value);
  }
}

TEST_CASE("a bad line is named by its path") {
  for (std::size_t i = 0; i < sample().lines.size(); ++i) {
    for (const double amount : {-0.001, 1e12, std::nan("")}) {
      CAPTURE(i);
      CAPTURE(amount);
      Recipe r = sample();
      r.lines[i].amount = amount;
      const Error error = error_of(r);
      CHECK(error.code == ErrorCode::out_of_range);
      CHECK(error.field == "lines/" + std::to_string(i) + "/amount");
    }
  }
}

TEST_CASE("shares of meat add to one within half a thousandth") {
  Recipe r = sample();
  r.lines[1].amount = 0.3005;
  CHECK(scale(r, Grams(1000.0)).ok());
  r.lines[1].amount = 0.3006;
  CHECK(error_of(r).field == "lines");
  CHECK(error_of(r).code == ErrorCode::out_of_range);
  r.lines[1].amount = 0.2994;
  CHECK(error_of(r).field == "lines");
}

TEST_CASE("a recipe without meat, with unknown material or with a line twice is refused") {
  Recipe r = sample();
  r.lines.erase(r.lines.begin(), r.lines.begin() + 2);
  CHECK(error_of(r).code == ErrorCode::missing);
  CHECK(error_of(r).field == "lines");

  r = sample();
  r.lines[0].material = "unicorn";
  CHECK(error_of(r).code == ErrorCode::not_found);
  CHECK(error_of(r).field == "lines/0/material");
  CHECK(error_of(r).found == "unicorn");
  r.lines[0].material.clear();
  CHECK(error_of(r).code == ErrorCode::missing);

  r = sample();
  r.lines[4].material = "pixie_dust";
  CHECK(error_of(r).code == ErrorCode::not_found);
  CHECK(error_of(r).field == "lines/4/material");

  r = sample();
  r.lines.push_back(r.lines[3]);
  CHECK(error_of(r).code == ErrorCode::duplicate_key);
  CHECK(error_of(r).field == "lines/6/kind");
}

TEST_CASE("a dose needs a mix with nitrite; no dose needs none") {
  Recipe r = sample();
  r.mix.nitrite = 0.0;
  CHECK(error_of(r).code == ErrorCode::missing);
  CHECK(error_of(r).field == "mix/nitrite");
  r.lines[3].amount = 0.0;
  const Sheet none = scale(r, Grams(1000.0)).value();
  CHECK(none.mix.value == 0.0);
  CHECK(none.nitrite.value == 0.0);
  CHECK(line_of(none, LineKind::salt).weighed.value == near_abs(27.0, 1e-9));
  r = sample();
  for (const double strength : {-0.1, 1.1, std::nan(""), 1e-300}) {
    CAPTURE(strength);
    r.mix.nitrite = strength;
    CHECK(error_of(r).code == ErrorCode::out_of_range);
    CHECK(error_of(r).field == "mix/nitrite");
  }
  r.mix = CuringMix{"", 0.6, 0.5};
  CHECK(error_of(r).field == "mix/nitrate");
}

TEST_CASE("the working names mix, strength and meat, and costs nothing when not asked for") {
  Working working;
  const Sheet sheet = scale(sample(), Grams(4200.0), &working).value();
  const auto value = [&working](const char* id) {
    for (const WorkingLine& l : working) {
      if (l.id == id) return l.value;
    }
    return -1.0;
  };
  CHECK(value("nitrite.mix") == sheet.mix.value);
  CHECK(value("nitrite.mix") * value("nitrite.strength") / value("nitrite.meat") * 1e6 ==
        near_rel(value("nitrite.ingoing"), 1e-12));
  CHECK(value("nitrite.ingoing") * value("nitrite.ion_per_salt") == near_rel(sheet.nitrite_ion.value, 1e-12));
  for (const WorkingLine& l : working) CHECK_FALSE(l.source.empty());
}

TEST_CASE(
    "recipes to begin with scale, stay below the strictest nitrite limit and have lines of their own id") {
  const std::vector<Recipe> starters = starter_recipes(recipe::test::counting_ports());
  CHECK(starters.size() == 12);
  for (const Recipe& r : starters) {
    CAPTURE(r.name);
    for (const double meat_g : {900.0, 4200.0, 5000.0, 20000.0}) {
      const Result<Sheet> sheet = scale(r, Grams(meat_g));
      REQUIRE(sheet.ok());
      CHECK(sheet.value().nitrite_ion.value < 80.0);
      CHECK(sheet.value().nitrite.value > 100.0);
      CHECK_FALSE(sheet.value().too_salty.has_value());
      for (const SheetLine& l : sheet.value().lines) CHECK(l.parts_known);
    }
    for (std::size_t i = 0; i < r.lines.size(); ++i) {
      CHECK_FALSE(r.lines[i].name.empty());
      for (std::size_t k = 0; k < i; ++k) CHECK(r.lines[i].id != r.lines[k].id);
    }
  }
  CHECK(scale(new_recipe(recipe::test::counting_ports()), Grams(1000.0)).ok());
}

TEST_CASE("a loss or a diameter that cannot be is refused by name") {
  for (const double loss : {0.0, -0.1, 0.91, std::nan("")}) {
    Recipe r = sample();
    r.wanted_loss = loss;
    CHECK(error_of(r).field == "wanted_loss");
  }
  for (const double diameter_m : {0.0, 0.009, 0.51, std::nan("")}) {
    Recipe r = sample();
    r.casing_diameter = Metres(diameter_m);
    CHECK(error_of(r).field == "casing_diameter");
  }
}

TEST_CASE("whatever the figures, scaling gives finite numbers or an error") {
  std::uint64_t state = 12345;
  const auto draw = [&state] {
    state = state * 6364136223846793005ULL + 1442695040888963407ULL;
    return static_cast<unsigned>(state >> 40U);
  };
  const double odd[] = {
      0.0,    1.0, 0.5,   -1.0, 1e-300, 1e300,       std::numeric_limits<double>::infinity(),
      156.25, 27,  0.004, 0.7,  0.3,    std::nan("")};
  int scaled = 0;
  for (int i = 0; i < 20000; ++i) {
    Recipe r = sample();
    for (int change = 0; change < 2; ++change) {
      const double value = odd[draw() % std::size(odd)];
      const unsigned where = draw() % 9;
      if (where < 6) r.lines[where].amount = value;
      if (where == 6) r.mix.nitrite = value;
      if (where == 7) r.mix.nitrate = value;
      if (where == 8) r.wanted_loss = value;
    }
    const Result<Sheet> result = scale(r, Grams(i % 7 == 0 ? odd[draw() % std::size(odd)] : 4200.0));
    if (!result.ok()) {
      CHECK_FALSE(result.error().field.empty());
      continue;
    }
    ++scaled;
    const Sheet& sheet = result.value();
    for (const double value :
         {sheet.total.value, sheet.nitrite.value, sheet.nitrate_ion.value, sheet.mix.value,
          sheet.composition.total_g(), water_phase_salt(finished(sheet, r.wanted_loss))}) {
      REQUIRE(std::isfinite(value));
      REQUIRE(value >= 0.0);
    }
  }
  CHECK(scaled > 100);
}
