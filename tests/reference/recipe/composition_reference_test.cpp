#include <doctest/doctest.h>

#include <string>

#include "core/recipe/recipe.h"
#include "tests/near.h"
#include "tests/reference/transport/rows.h"
#include "tests/unit/recipe/fixture.h"

using namespace saltrafter;
using namespace saltrafter::recipe;

TEST_CASE("two cuts mixed have the mass-weighted composition of the food tables") {
  for (const rows::Row& row : rows::read("cure_mixing.csv")) {
    CAPTURE(row.at("id"));
    const double share = rows::number(row, "share");
    Recipe r;
    r.lines = {test::line(LineKind::meat, row.at("first").c_str(), share),
               test::line(LineKind::meat, row.at("second").c_str(), 1.0 - share)};
    const Composition mix = scale(r, Grams(100000.0)).value().composition * 1e-3;
    CHECK(mix.total_g() == near_abs(100.0, 1e-9));
    CHECK(mix.water_g == near_abs(rows::number(row, "water"), 0.02));
    CHECK(mix.protein_g == near_abs(rows::number(row, "protein"), 0.02));
    CHECK(mix.fat_g == near_abs(rows::number(row, "fat"), 0.02));
  }
}

TEST_CASE("a batch of 10 kg has the published composition at hanging and after its losses") {
  const Composition lean{0.725, 0.205, 0.06, 0.0, 0.01};
  const Composition back_fat{0.0769, 0.0292, 0.8869, 0.0, 0.007};
  const Composition pepper{0.10, 0.10, 0.03, 0.0, 0.77};
  const Grams cure(25.0);
  const CuringMix mix{"", 0.0625, 0.0};
  Composition salts;
  salts.salt_g = 10000.0 * 0.027;  // wanted in all; the mix brings 23.44 g of it
  salts.rest_g = cure.value * mix.nitrite + 40.0;
  const Composition start = lean * 7000.0 + back_fat * 3000.0 + pepper * 30.0 + salts;
  for (const rows::Row& row : rows::read("cure_yield.csv")) {
    CAPTURE(row.at("loss"));
    const Composition c = after_loss(start, rows::number(row, "loss"));
    const double total_g = c.total_g();
    CHECK(total_g == near_abs(rows::number(row, "mass_g"), 0.06));
    CHECK(100.0 * c.water_g / total_g == near_abs(rows::number(row, "water"), 0.006));
    CHECK(100.0 * c.protein_g / total_g == near_abs(rows::number(row, "protein"), 0.006));
    CHECK(100.0 * c.fat_g / total_g == near_abs(rows::number(row, "fat"), 0.006));
    CHECK(100.0 * c.salt_g / total_g == near_abs(rows::number(row, "salt"), 0.0006));
    CHECK(moisture_protein_ratio(c) == near_abs(rows::number(row, "water_protein"), 0.0006));
    CHECK(100.0 * water_phase_salt(c) == near_abs(rows::number(row, "salt_in_water"), 0.006));
    CHECK(ingoing(cure * mix.nitrite, Grams(total_g)).value == near_abs(rows::number(row, "nitrite"), 0.06));
  }
  CHECK(loss_for_moisture_protein_ratio(start, 1.9) == near_abs(0.2330, 1e-4));
  CHECK(loss_for_moisture_protein_ratio(start, 1.6) == near_abs(0.2773, 1e-4));
}

TEST_CASE("water, salt and their ratios after a loss agree with the worked figures") {
  for (const rows::Row& row : rows::read("cure_finished.csv")) {
    CAPTURE(row.at("id"));
    Composition now;
    now.water_g = rows::number(row, "water");
    now.protein_g = rows::number(row, "protein");
    now.salt_g = rows::number(row, "salt");
    now.rest_g = 1.0 - now.total_g();
    const std::string quantity = row.at("quantity");
    const double argument = rows::number(row, "argument");
    const Composition later = after_loss(now, argument);
    double value = -1.0;
    if (quantity == "loss_for_ratio") value = loss_for_moisture_protein_ratio(now, argument);
    if (quantity == "water_after") value = later.water_g / later.total_g();
    if (quantity == "salt_after") value = later.salt_g / later.total_g();
    if (quantity == "water_phase_salt_after") value = water_phase_salt(later);
    if (quantity == "ratio_after") value = moisture_protein_ratio(later);
    CHECK(value == near_abs(rows::number(row, "expected"), rows::number(row, "tolerance")));
  }
}
