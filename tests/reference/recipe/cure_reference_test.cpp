#include <doctest/doctest.h>

#include <string>

#include "core/recipe/recipe.h"
#include "tests/near.h"
#include "tests/reference/transport/rows.h"
#include "tests/unit/recipe/fixture.h"

using namespace saltrafter;
using namespace saltrafter::recipe;

namespace {

CureSalt salt_named(const std::string& name) {
  if (name == "KNO2") return CureSalt::potassium_nitrite;
  if (name == "NaNO3") return CureSalt::sodium_nitrate;
  if (name == "KNO3") return CureSalt::potassium_nitrate;
  REQUIRE(name == "NaNO2");
  return CureSalt::sodium_nitrite;
}

// A mix of nothing but meat, salt and cure.
Recipe cured(double salt_g_per_kg, double dose_ppm, const CuringMix& mix) {
  Recipe r;
  r.mix = mix;
  r.lines = {test::line(LineKind::meat, "pork_ham_lean", 1.0), test::line(LineKind::salt, "", salt_g_per_kg),
             test::line(LineKind::cure, "", dose_ppm)};
  return r;
}

}  // namespace

TEST_CASE(
    "ingoing nitrite and nitrate agree with the handbook's worked examples, and turned round give the mix") {
  for (const rows::Row& row : rows::read("cure_nitrite.csv")) {
    CAPTURE(row.at("id"));
    const CuringMix mix{"", rows::number(row, "nitrite"), rows::number(row, "nitrate")};
    const Grams mass(rows::number(row, "mix_g"));
    const Grams meat(rows::number(row, "meat_g"));
    const bool nitrite = row.at("agent") == "nitrite";
    const double ppm = rows::number(row, "ppm");
    const double tolerance = rows::number(row, "tolerance");
    CHECK(ingoing(mass * (nitrite ? mix.nitrite : mix.nitrate), meat).value == near_abs(ppm, tolerance));
    if (!nitrite) continue;
    CHECK(mix_for(Ppm(ppm), meat, mix).value == near_rel(mass.value, 1e-4));
    const Sheet sheet = scale(cured(0.0, ppm, mix), meat).value();
    CHECK(sheet.lines[2].exact.value == near_rel(mass.value, 1e-4));
    // As weighed: never above the dose, and below it by less than one step of the scale.
    CHECK(sheet.nitrite.value <= ppm + 1e-6);
    CHECK(sheet.nitrite.value > ppm - scale_step(mass).value * mix.nitrite * 1e6 / meat.value - 1e-6);
  }
}

TEST_CASE("salts and ions convert by their molar masses") {
  for (const rows::Row& row : rows::read("cure_salt_factors.csv")) {
    CAPTURE(row.at("salt"));
    const CureSalt salt = salt_named(row.at("salt"));
    CHECK(ion_per_salt(salt) == near_abs(rows::number(row, "ion_per_salt"), 2e-5));
    CHECK(as_salt(Ppm(1.0), salt).value == near_abs(rows::number(row, "salt_per_ion"), 5e-5));
  }
  for (const rows::Row& row : rows::read("cure_conversions.csv")) {
    CAPTURE(row.at("id"));
    const Ppm value(rows::number(row, "value"));
    const bool from_ion = row.at("from").back() == '-';
    const bool to_ion = row.at("to").back() == '-';
    const Ppm ion = from_ion ? value : as_ion(value, salt_named(row.at("from")));
    const Ppm out = to_ion ? ion : as_salt(ion, salt_named(row.at("to")));
    CHECK(out.value == near_abs(rows::number(row, "expected"), rows::number(row, "tolerance")));
  }
}

TEST_CASE("plain salt makes up what the mix does not bring") {
  for (const rows::Row& row : rows::read("cure_salt_line.csv")) {
    CAPTURE(row.at("id"));
    const CuringMix mix{"", rows::number(row, "nitrite"), rows::number(row, "nitrate")};
    const Sheet sheet =
        scale(cured(rows::number(row, "wanted_g_kg"), rows::number(row, "dose"), mix), Grams(1000.0)).value();
    CHECK(sheet.lines[1].exact.value == near_abs(rows::number(row, "plain_g"), 0.001));
    CHECK(sheet.salt_from_mix.value == near_abs(rows::number(row, "brought_g"), 0.001));
  }
}
