#include <doctest/doctest.h>

#include <cmath>

#include "core/recipe/recipe.h"
#include "tests/near.h"
#include "tests/unit/recipe/fixture.h"

using namespace saltrafter;
using namespace saltrafter::recipe;

TEST_CASE("a loss takes water alone, and no more water than there is") {
  const Composition now{57.5, 15.5, 22.0, 2.7, 2.3};
  for (const double loss : {0.0, 0.1, 0.35, 0.575}) {
    CAPTURE(loss);
    const Composition later = after_loss(now, loss);
    CHECK(later.total_g() == near_rel(now.total_g() * (1.0 - loss), 1e-12));
    CHECK(later.protein_g == now.protein_g);
    CHECK(later.salt_g == now.salt_g);
  }
  CHECK(after_loss(now, 0.9).water_g == 0.0);
  CHECK(after_loss(now, 7.0).water_g == 0.0);
  CHECK(after_loss(now, -0.2) == now);
  CHECK(after_loss(now, std::nan("")) == now);
}

TEST_CASE("ratios of nothing are zero, not infinite") {
  CHECK(moisture_protein_ratio(Composition{}) == 0.0);
  CHECK(water_phase_salt(Composition{}) == 0.0);
  CHECK(loss_for_moisture_protein_ratio(Composition{}, 1.9) == 0.0);
}

TEST_CASE("the loss for a water-protein ratio brings that ratio about") {
  const Composition now{57.5, 15.5, 22.0, 2.7, 2.3};
  for (const double ratio : {3.0, 1.9, 1.6, 0.75}) {
    CAPTURE(ratio);
    const double loss = loss_for_moisture_protein_ratio(now, ratio);
    CHECK(moisture_protein_ratio(after_loss(now, loss)) == near_rel(ratio, 1e-12));
  }
  CHECK(loss_for_moisture_protein_ratio(now, 5.0) == 0.0);
}

TEST_CASE("a mixture is the mass-weighted mean of its parts") {
  const Composition a{70, 20, 9, 0, 1};
  const Composition b{8, 3, 88, 0, 1};
  const Composition mix = a * 0.7 + b * 0.3;
  CHECK(mix.water_g == near_rel(0.7 * 70 + 0.3 * 8, 1e-12));
  CHECK(mix.fat_g == near_rel(0.7 * 9 + 0.3 * 88, 1e-12));
  CHECK(mix.total_g() == near_rel(100.0, 1e-12));
}

TEST_CASE("a finished mix keeps its salt and has lost its share of weight") {
  const Sheet sheet = scale(recipe::test::sample(), Grams(4200.0)).value();
  const Composition done = finished(sheet, 0.35);
  CHECK(done.total_g() == near_rel(0.65 * sheet.total.value, 1e-9));
  CHECK(done.salt_g == sheet.composition.salt_g);
  CHECK(water_phase_salt(done) > water_phase_salt(sheet.composition));
}

TEST_CASE("salt and ion convert back and forth for each of the four salts") {
  for (const CureSalt salt : {CureSalt::sodium_nitrite, CureSalt::potassium_nitrite, CureSalt::sodium_nitrate,
                              CureSalt::potassium_nitrate}) {
    CHECK(as_salt(as_ion(Ppm(123.0), salt), salt).value == near_rel(123.0, 1e-12));
    CHECK(ion_per_salt(salt) > 0.5);
    CHECK(ion_per_salt(salt) < 0.75);
  }
}

TEST_CASE("without meat or without nitrite there is no dose and no mix, and no division by zero") {
  CHECK(ingoing(Grams(1.0), Grams(0.0)).value == 0.0);
  CHECK(mix_for(Ppm(150.0), Grams(1000.0), CuringMix{}).value == 0.0);
  CHECK(sodium_chloride_share(CuringMix{"", 0.9, 0.9}) == 0.0);
}
