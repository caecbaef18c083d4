// With what the maker has: scales, own rows, weights really put in, packets, pieces, bone and skin.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <string>

#include "core/recipe/recipe.h"
#include "tests/near.h"
#include "tests/unit/recipe/fixture.h"

using namespace saltrafter;
using namespace saltrafter::recipe;
using recipe::test::line;
using recipe::test::sample;

namespace {

Sheet scaled(const Recipe& recipe, const Hands& hands = {}, double meat_g = 1000.0) {
  const Result<Sheet> sheet = scale(recipe, Grams(meat_g), nullptr, hands);
  REQUIRE(sheet.ok());
  return sheet.value();
}

Error error_of(const Recipe& recipe, const Hands& hands = {}) {
  const Result<Sheet> sheet = scale(recipe, Grams(1000.0), nullptr, hands);
  REQUIRE_FALSE(sheet.ok());
  return sheet.error();
}

Hands with(const Supply& supply) {
  Hands hands;
  hands.supplies = {supply};
  return hands;
}

Hands put_in(const Recipe& recipe, std::size_t i, double mass_g) {
  Hands hands;
  hands.weighed = {WeighedIn{recipe.lines[i].id, Grams(mass_g), 0, ""}};
  return hands;
}

Supply own(SupplyKind kind, const char* key, const char* replaces = "") {
  Supply supply;
  supply.key = key;
  supply.kind = kind;
  supply.name = key;
  supply.replaces = replaces;
  return supply;
}

}  // namespace

TEST_CASE("each line is weighed to the step of the scale that carries it") {
  for (const double fine_g : {0.1, 1.0, 5.0}) {
    CAPTURE(fine_g);
    Hands hands;
    hands.scales = Scales{Grams(fine_g), Grams(500.0), Grams(5.0)};
    const Sheet sheet = scaled(sample(), hands, 4321.0);
    for (const SheetLine& l : sheet.lines) {
      CAPTURE(l.exact.value);
      const double step_g = l.exact.value < 500.0 ? fine_g : 5.0;
      const double steps = l.weighed.value / step_g;
      CHECK(steps == near_abs(std::round(steps), 1e-9));
      if (l.kind == LineKind::salt) continue;  // makes up for what the mix as weighed brings less
      if (l.kind == LineKind::cure) {
        CHECK(l.weighed.value <= l.exact.value + 1e-9);
        CHECK(l.weighed.value > l.exact.value - step_g);
      } else {
        CHECK(std::abs(l.weighed.value - l.exact.value) <= 0.5 * step_g + 1e-9);
      }
    }
    CHECK(sheet.mix_step.value == near_abs(fine_g, 1e-12));
    CHECK(sheet.nitrite.value <= sheet.nitrite_wanted.value + 1e-9);
  }
}

TEST_CASE("a scale that cannot be is refused by name") {
  for (const double bad : {0.0, -1.0, std::nan(""), std::numeric_limits<double>::infinity()}) {
    Hands hands;
    hands.scales.fine_step = Grams(bad);
    CHECK(error_of(sample(), hands).field == "scales/fine_step");
    CHECK(as_weighed(Grams(2.44), hands.scales).value == near_abs(2.4, 1e-12));  // as the usual one
    hands = {};
    hands.scales.coarse_step = Grams(bad);
    CHECK(error_of(sample(), hands).field == "scales/coarse_step");
  }
}

TEST_CASE("meat weighed in is the meat, and the doses that are not in yet follow it") {
  const Recipe r = sample();
  const Hands hands = put_in(r, 0, 800.0);  // 700 asked for
  const Sheet sheet = scaled(r, hands);
  CHECK(sheet.meat.value == near_abs(1100.0, 1e-9));
  CHECK(sheet.lines[0].is_in);
  CHECK(sheet.lines[0].weighed.value == 800.0);
  CHECK(sheet.lines[0].exact.value == near_abs(700.0, 1e-9));
  CHECK_FALSE(sheet.lines[1].is_in);
  CHECK(sheet.lines[1].weighed.value == near_abs(300.0, 1e-9));
  CHECK(sheet.lines[3].exact.value == near_abs(150.0 * 1100.0 / 62500.0, 1e-9));
  CHECK(sheet.salt_wanted.value == near_abs(27.0 * 1.1, 1e-9));
  CHECK(sheet.composition.total_g() == near_rel(sheet.total.value, 1e-9));
}

TEST_CASE("a mix weighed in counts as it was weighed, and the salt to come makes up for it") {
  const Recipe r = sample();
  const Sheet asked = scaled(r);
  const Sheet slip = scaled(r, put_in(r, 3, 5.0));
  CHECK(slip.lines[3].is_in);
  CHECK(slip.mix.value == 5.0);
  CHECK(slip.nitrite.value == near_abs(312.5, 1e-9));
  CHECK(slip.nitrite_wanted.value == 150.0);
  CHECK(slip.salt_from_mix.value == near_abs(4.6875, 1e-9));
  CHECK(slip.lines[2].weighed.value == near_abs(22.3, 1e-9));
  CHECK(slip.lines[3].exact.value == asked.lines[3].exact.value);
  CHECK_FALSE(slip.refused.has_value());
  // Twice in is in twice.
  Hands twice = put_in(r, 3, 5.0);
  twice.weighed.push_back(twice.weighed[0]);
  const Sheet doubled = scaled(r, twice);
  CHECK(doubled.nitrite.value == near_abs(625.0, 1e-9));
  CHECK_FALSE(doubled.refused.has_value());
  twice.weighed.push_back(WeighedIn{r.lines[3].id, Grams(0.1), 0, ""});
  CHECK(scaled(r, twice).refused.has_value());
}

TEST_CASE("what was weighed in must be a weight of a line that is there") {
  const Recipe r = sample();
  for (const double bad : {-0.1, 2e6, std::nan("")}) {
    CHECK(error_of(r, put_in(r, 2, bad)).field == "weighed/0/mass");
  }
  Hands lost = put_in(r, 2, 1.0);
  lost.weighed[0].line = Id{"nobody"};
  CHECK(error_of(r, lost).code == ErrorCode::not_found);
  CHECK(error_of(r, lost).field == "weighed/0/line");
  Hands none = put_in(r, 0, 0.0);
  none.weighed.push_back(WeighedIn{r.lines[1].id, Grams(0.0), 0, ""});
  CHECK(error_of(r, none).field == "meat");
}

// A stop is judged on what is wanted and on what is in, whatever the scale shows.
TEST_CASE("rounding never hides a stop") {
  int refused = 0;
  for (const double dose_ppm : {600.0, 624.9, 625.0, 625.001, 626.0, 700.0}) {
    for (const double step_g : {0.1, 1.0, 5.0, 50.0}) {
      for (double meat_g = 10.0; meat_g < 9000.0; meat_g *= 1.7) {
        CAPTURE(dose_ppm);
        CAPTURE(step_g);
        CAPTURE(meat_g);
        Recipe r = sample();
        r.lines[3].amount = dose_ppm;
        Hands hands;
        hands.scales = Scales{Grams(step_g), Grams(100.0), Grams(step_g)};
        CHECK(scaled(r, hands, meat_g).refused.has_value() == (dose_ppm > 625.0));
        r.lines[3].amount = 100.0;
        hands.weighed = {WeighedIn{r.lines[3].id, Grams(dose_ppm * 1e-6 * meat_g / 0.0625), 0, ""}};
        const Sheet weighed = scaled(r, hands, meat_g);
        CHECK(weighed.nitrite.value == near_rel(dose_ppm, 1e-9));
        CHECK(weighed.refused.has_value() == (dose_ppm > 625.0));
        refused += weighed.refused.has_value() ? 1 : 0;
      }
    }
  }
  CHECK(refused > 50);
}

TEST_CASE("a potassium salt counts by its ion, and by its own mass against the ceiling") {
  Recipe r = sample();
  r.mix = CuringMix{"", 0.0625, 0.04, true, true};
  const Sheet sheet = scaled(r);
  const double nitrite_ratio =
      ion_per_salt(CureSalt::potassium_nitrite) / ion_per_salt(CureSalt::sodium_nitrite);
  CHECK(nitrite_ratio == near_abs(0.81072, 1e-5));
  CHECK(sheet.lines[3].exact.value == near_abs(2.4 / nitrite_ratio, 1e-6));
  CHECK(sheet.nitrite.value == near_rel(sheet.mix.value * 62.5 * nitrite_ratio, 1e-12));
  CHECK(sheet.nitrite_ion.value ==
        near_rel(sheet.mix.value * 62.5 * ion_per_salt(CureSalt::potassium_nitrite), 1e-12));
  CHECK(sheet.nitrate.value == near_rel(sheet.mix.value * 40.0 * 0.84067, 1e-4));
  r.lines[3].amount = 506.0;  // 624.1 mg/kg of KNO2
  CHECK_FALSE(scaled(r).refused.has_value());
  r.lines[3].amount = 508.0;  // 626.6
  const Sheet above = scaled(r);
  REQUIRE(above.refused.has_value());
  CHECK(std::stod(above.refused->found) == near_abs(508.0 / nitrite_ratio, 0.01));
}

TEST_CASE("an own row stands in place of the tables' row, and its key for itself") {
  Supply lean = own(SupplyKind::cut, "own_1", "pork_ham_lean");
  lean.parts = Composition{0.60, 0.20, 0.15, 0.0, 0.05};
  Recipe r = sample();
  const double usual_g = scaled(r).composition.water_g;
  const double own_g = scaled(r, with(lean)).composition.water_g;
  CHECK(own_g - usual_g == near_abs(700.0 * (0.60 - tables::find_cut("pork_ham_lean")->water), 0.5));
  r.lines[0].material = "own_1";
  CHECK(scaled(r, with(lean)).composition.water_g == near_abs(own_g, 1e-9));
  lean.parts.reset();  // it takes those of the row it stands in for
  CHECK(scaled(r, with(lean)).composition.water_g == near_abs(usual_g, 1e-9));
  CHECK(error_of(r).code == ErrorCode::not_found);
  CHECK(error_of(r).field == "lines/0/material");
  // A friend's recipe carries what its material is made of.
  r.lines[0].parts = Composition{0.60, 0.20, 0.15, 0.0, 0.05};
  CHECK(scaled(r).composition.water_g == near_abs(own_g, 1e-9));
}

TEST_CASE("parts that add to less than one leave a rest, to a little more are made one") {
  Recipe r = sample();
  r.lines[0].material = "friends";
  r.lines[0].parts = Composition{0.60, 0.20, 0.10, 0.0, 0.0};
  const Sheet less = scaled(r);
  CHECK(less.composition.total_g() == near_rel(less.total.value, 1e-12));
  r.lines[0].parts = Composition{0.62, 0.21, 0.20, 0.0, 0.0};
  const Sheet more = scaled(r);
  CHECK(more.composition.total_g() == near_rel(more.total.value, 1e-12));
  for (const Composition& bad : {Composition{0.9, 0.2, 0.1, 0.0, 0.0}, Composition{-0.1, 0.2, 0.1, 0.0, 0.0},
                                 Composition{std::nan(""), 0.2, 0.1, 0.0, 0.0}}) {
    r.lines[0].parts = bad;
    CHECK(error_of(r).field == "lines/0/parts");
  }
}

TEST_CASE("a cut without composition is an error at its line") {
  Recipe r = sample();
  r.lines[1].material = "own_fat";
  const Hands hands = with(own(SupplyKind::cut, "own_fat"));
  CHECK(error_of(r, hands).code == ErrorCode::missing);
  CHECK(error_of(r, hands).field == "lines/1/material");
  // An additive is no cut, whatever is known of it.
  Supply powder = own(SupplyKind::additive, "own_fat");
  powder.parts = Composition{0.1, 0.1, 0.7, 0.0, 0.1};
  CHECK(error_of(r, with(powder)).code == ErrorCode::not_found);
}

TEST_CASE("an own additive without composition counts as rest") {
  Recipe r = sample();
  r.lines[4].material = "own_spice";
  const Sheet sheet = scaled(r, with(own(SupplyKind::additive, "own_spice")));
  CHECK_FALSE(sheet.lines[4].parts_known);
  CHECK(sheet.composition.total_g() == near_rel(sheet.total.value, 1e-12));
}

TEST_CASE("a powder that brings nitrate needs a figure, and adds to nitrate with it") {
  Recipe r = sample();
  r.lines.push_back(line(LineKind::additive, "own_celery", 4.0));
  Supply celery = own(SupplyKind::additive, "own_celery");
  celery.brings_nitrate = true;
  CHECK(error_of(r, with(celery)).code == ErrorCode::missing);
  CHECK(error_of(r, with(celery)).field == "lines/6/nitrate_share");
  celery.nitrate_share = 1.5;
  CHECK(error_of(r, with(celery)).code == ErrorCode::out_of_range);
  celery.nitrate_share = 0.03;
  r.mix.nitrate = 0.04;
  const Sheet sheet = scaled(r, with(celery));
  CHECK(sheet.nitrate.value == near_abs(sheet.mix.value * 40.0 + 120.0, 1e-9));
  CHECK(sheet.nitrate_ion.value == near_rel(sheet.nitrate.value * 0.72951, 1e-4));
}

TEST_CASE("ascorbates and their acid are counted by their row, one's own by the row it stands in for") {
  Recipe r = sample();
  for (const char* key : {"sodium_ascorbate", "sodium_erythorbate", "ascorbic_acid"}) {
    r.lines[5] = line(LineKind::additive, key, 0.5);
    CHECK(scaled(r).ascorbate.value == near_abs(500.0, 1e-9));
  }
  r.lines[5].material = "own_e316";
  CHECK(scaled(r, with(own(SupplyKind::additive, "own_e316", "sodium_erythorbate"))).ascorbate.value ==
        near_abs(500.0, 1e-9));
  r.lines[5] = line(LineKind::additive, "citric_acid", 0.5);
  CHECK(scaled(r).ascorbate.value == 0.0);
}

TEST_CASE("a culture goes by its packet, else by the kilogram") {
  Recipe r = sample();
  r.lines.push_back(line(LineKind::culture, "sakei_mild", 0.2));
  CHECK(scaled(r, {}, 4000.0).lines[6].weighed.value == near_abs(0.8, 1e-9));
  CHECK(scaled(r).lines[6].parts_known);
  r.lines[6].packet = Packet{Grams(25.0), Grams(100000.0), std::nullopt, true};
  CHECK(scaled(r, {}, 4000.0).lines[6].exact.value == near_abs(1.0, 1e-12));
  r.lines[6].basis = Basis::g_per_piece;  // the packet's dose is per meat
  CHECK(scaled(r, {}, 4000.0).lines[6].exact.value == near_abs(1.0, 1e-12));
  CHECK(scaled(r, {}, 4000.0).lines[6].each_g == 0.0);
  r.lines[6].packet->for_meat = Grams(0.0);
  CHECK(error_of(r).field == "lines/6/packet/for_meat");
  r.lines[6].packet = Packet{Grams(0.0), Grams(1000.0), std::nullopt, true};
  CHECK(error_of(r).field == "lines/6/packet/holds");
  r.lines[6] = line(LineKind::culture, "unheard_of", 0.2);
  CHECK(error_of(r).code == ErrorCode::not_found);
}

TEST_CASE("a line per piece goes by the pieces that hang") {
  Recipe r = sample();
  r.lines.push_back(line(LineKind::additive, "black_pepper", 3.0, Basis::g_per_piece));
  for (const double meat_g : {300.0, 1000.0, 1600.0, 2000.0, 2600.0, 30000.0}) {
    CAPTURE(meat_g);
    const Sheet sheet = scaled(r, {}, meat_g);
    const double filled_g = sheet.total.value - sheet.lines[6].weighed.value;
    const int expected = std::max(1, static_cast<int>(std::lround(filled_g / piece_mass(r).value)));
    CHECK(sheet.pieces == expected);
    CHECK(sheet.lines[6].each_g == 3.0);
    CHECK(sheet.lines[6].exact.value == near_abs(3.0 * expected, 1e-9));
  }
}

TEST_CASE("bone takes no salt and no cure, skin no cure") {
  Recipe r = sample();
  r.method = CureMethod::equilibrium;
  const Sheet bare = scaled(r);
  r.bone_share = 0.2;
  const Sheet bony = scaled(r);
  CHECK(bony.curing_base.value == near_abs(800.0, 1e-9));
  CHECK(bony.salt_wanted.value == near_rel(0.8 * bare.salt_wanted.value, 1e-12));
  CHECK(bony.lines[3].exact.value == near_rel(0.8 * bare.lines[3].exact.value, 1e-12));
  CHECK(water_phase_salt(bony.composition) == near_abs(water_phase_salt(bare.composition), 2e-4));
  CHECK(bony.composition.total_g() == near_rel(bony.total.value, 1e-12));
  r.skin_on = true;
  const Sheet both = scaled(r);
  CHECK(both.curing_base.value == near_abs(720.0, 1e-9));
  CHECK(both.salt_wanted.value == bony.salt_wanted.value);
}

TEST_CASE(
    "in a salt box all of the mix counts, and the meat takes up the salt wanted however much is around it") {
  Recipe r = sample();
  r.method = CureMethod::salt_box;
  const Sheet sheet = scaled(r);
  CHECK(sheet.nitrite.value == near_rel(sheet.mix.value * 62.5, 1e-12));
  CHECK(sheet.composition.salt_g == near_abs(27.0, 0.05));
  const Sheet buried = scaled(r, put_in(r, 2, 900.0));
  CHECK(buried.lines[2].weighed.value == 900.0);
  CHECK(buried.composition.salt_g == near_abs(27.0, 1e-9));
  CHECK(scaled(r, put_in(r, 2, 10.0)).composition.salt_g == near_abs(10.0 + sheet.salt_from_mix.value, 1e-9));
}

TEST_CASE("sugar that a culture can sour is carried as dextrose") {
  Recipe r = sample();  // 4 g/kg of dextrose with its water
  r.lines.erase(r.lines.begin() + 5);
  CHECK(scaled(r).composition.sugar_g == near_abs(4.0 * 0.909, 1e-9));
  r.lines[4].material = "sucrose";
  CHECK(scaled(r).composition.sugar_g == near_abs(4.0 * 1.053, 1e-9));
  CHECK(scaled(r).composition.rest_g > 4.0);  // it is a part of the rest, not beside it
  CHECK(scaled(r).composition.total_g() == near_rel(scaled(r).total.value, 1e-12));
}
