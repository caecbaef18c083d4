#include <doctest/doctest.h>

#include <string>

#include "core/recipe/recipe.h"
#include "tests/near.h"
#include "tests/reference/transport/rows.h"
#include "tests/unit/recipe/fixture.h"

using namespace saltrafter;
using namespace saltrafter::recipe;

namespace {

Recipe brined(double dose_ppm, const CuringMix& mix, double g_per_kg, double pick_up, double days) {
  Recipe r;
  r.product_class = ProductClass::whole_muscle_dry;
  r.method = CureMethod::brine;
  r.mix = mix;
  r.brine = Brine{g_per_kg, pick_up, Days(days)};
  r.lines = {test::line(LineKind::meat, "pork_ham_lean", 1.0), test::line(LineKind::salt, "", 0.0),
             test::line(LineKind::cure, "", dose_ppm)};
  return r;
}

}  // namespace

TEST_CASE("ingoing nitrite of pumped and immersed meat agrees with the worked examples") {
  for (const rows::Row& row : rows::read("cure_pickle.csv")) {
    CAPTURE(row.at("id"));
    const Grams pure(rows::number(row, "mix_g") * rows::number(row, "strength"));
    const Grams pickle(rows::number(row, "pickle_g"));
    const NearAbs expected = near_abs(rows::number(row, "ppm"), rows::number(row, "tolerance"));
    if (row.at("method") == "immersed_2") {
      CHECK(ingoing_immersed(pure, Grams(rows::number(row, "meat_g")), pickle).value == expected);
    } else {
      CHECK(ingoing_pumped(pure, rows::number(row, "taken_up"), pickle).value == expected);
    }
  }
}

TEST_CASE("a brine sheet asks for the mix of the worked examples, by how long the meat lies in it") {
  for (const rows::Row& row : rows::read("cure_pickle.csv")) {
    const std::string method = row.at("method");
    if (method == "pumped") continue;
    CAPTURE(row.at("id"));
    const double pickle_g = rows::number(row, "pickle_g");
    const bool whole = method == "immersed_2";
    const double meat_g = whole ? rows::number(row, "meat_g") : 2000.0;
    const CuringMix mix{"", rows::number(row, "strength"), 0.0};
    const double taken_up = whole ? 0.1 : rows::number(row, "taken_up");
    const double ppm = rows::number(row, "ppm");
    const Recipe r = brined(ppm, mix, 1e3 * pickle_g / meat_g, taken_up, whole ? 7.0 : 1.0);
    const Sheet sheet = scale(r, Grams(meat_g)).value();
    const double exact_g = rows::number(row, "mix_g");
    CHECK(sheet.lines[2].exact.value == near_rel(exact_g, 1e-4));
    // As weighed: at most the dose asked for, and no more than one step of the scale below it.
    CHECK(sheet.nitrite.value <= ppm + 1e-6);
    CHECK(sheet.nitrite.value >= ppm * (1.0 - (sheet.mix_step.value + 1e-4) / exact_g) - 0.02);
  }
}

TEST_CASE("the quantities of the regulation to a hundred pounds are its figures in mg/kg") {
  for (const rows::Row& row : rows::read("cure_ounces.csv")) {
    CAPTURE(row.at("id"));
    const Grams pure(28.3495 * rows::number(row, "ounces"));
    CHECK(ingoing(pure, Grams(45359.2)).value == near_abs(rows::number(row, "ppm"), 0.01));
  }
}

TEST_CASE("a dose turned round gives the grams of mix") {
  for (const rows::Row& row : rows::read("cure_inverse.csv")) {
    CAPTURE(row.at("id"));
    const CuringMix mix{"", rows::number(row, "nitrite"), 0.0};
    const Grams grams = mix_for(Ppm(rows::number(row, "ppm")), Grams(rows::number(row, "meat_g")), mix);
    CHECK(grams.value == near_abs(rows::number(row, "mix_g"), 0.005));
  }
}

// Source: handbook, a tenth of the weight deducted for the skin (read_copy for bacon); 5000 g, 12.5 g of 6.25
// %.
TEST_CASE("skin is deducted before the dose is counted") {
  Recipe r;
  r.product_class = ProductClass::whole_muscle_dry;
  r.method = CureMethod::equilibrium;
  r.skin_on = true;
  r.mix = CuringMix{"", 0.0625, 0.0};
  r.lines = {test::line(LineKind::meat, "pork_ham", 1.0), test::line(LineKind::salt, "", 28.0),
             test::line(LineKind::cure, "", 173.611)};
  const Sheet sheet = scale(r, Grams(5000.0)).value();
  CHECK(sheet.curing_base.value == near_abs(4500.0, 1e-9));
  CHECK(sheet.lines[2].exact.value == near_abs(12.5, 1e-4));
  Hands hands;
  hands.weighed = {WeighedIn{r.lines[2].id, Grams(12.5), 0, ""}};
  CHECK(scale(r, Grams(5000.0), nullptr, hands).value().nitrite.value == near_abs(173.61, 0.01));
}

// Source: 0.5 / 2.5, derived.
TEST_CASE("half a step of a 1 g scale is a fifth of a 2.5 g dose") {
  Recipe r = test::sample();
  r.lines[3].amount = 156.25;
  Hands hands;
  hands.scales.fine_step = Grams(1.0);
  const Sheet sheet = scale(r, Grams(1000.0), nullptr, hands).value();
  CHECK(sheet.lines[3].exact.value == near_abs(2.5, 1e-9));
  CHECK(100.0 * 0.5 * sheet.mix_step.value / sheet.lines[3].exact.value == near_abs(20.0, 0.1));
}

TEST_CASE("a metre of a piece weighs what its cylinder does") {
  for (const rows::Row& row : rows::read("cure_piece_mass.csv")) {
    CAPTURE(row.at("id"));
    Recipe r = test::sample();
    r.casing_diameter = Metres(rows::number(row, "diameter_mm") / 1000.0);
    r.piece_length = Metres(1.0);
    CHECK(piece_mass(r).value / 1000.0 == near_abs(rows::number(row, "kg_per_m"), 0.002));
  }
}

// Source: USDA SR26, ground beef 13498; water = 77.06 - 0.756 fat over its rows (derived from read).
TEST_CASE("beef trimmings lie on the line of the food tables") {
  for (const char* key : {"beef_trim_70", "beef_trim_80", "beef_trim_90"}) {
    CAPTURE(key);
    const tables::Cut* cut = tables::find_cut(key);
    REQUIRE(cut != nullptr);
    CHECK(100.0 * cut->water == near_abs(77.06 - 0.756 * 100.0 * cut->fat, 0.02));
  }
  CHECK(100.0 * tables::find_cut("beef_trim_70")->water == near_abs(54.38, 0.02));
}
