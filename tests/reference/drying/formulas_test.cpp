// Single formulas against dry_checks.csv: brine, isotherm, film, evaporation, volumes.
#include "tests/reference/drying/bodies.h"
#include "tests/reference/drying/checks.h"

using checks::expected;
using saltrafter::RelativeHumidity;
using saltrafter::WaterActivity;
using namespace saltrafter::recipe;
using namespace saltrafter::drying;

TEST_CASE("the golden runs' saturation pressure is the Magnus form") {
  CHECK(golden::magnus_pa(12.0) == expected("saturation pressure 12 C Pa"));
  CHECK(golden::magnus_pa(13.0) == expected("saturation pressure 13 C Pa"));
  CHECK(golden::magnus_pa(20.0) == expected("saturation pressure 20 C Pa"));
}

TEST_CASE("brine of sodium chloride, and back") {
  CHECK(brine_activity(1.0).value().value == expected("water activity of NaCl 1 mol/kg"));
  CHECK(brine_activity(3.0).value().value == expected("water activity of NaCl 3 mol/kg"));
  CHECK(brine_activity(6.0).value().value == expected("water activity of NaCl 6 mol/kg"));
  CHECK(brine_molality(WaterActivity(0.90)).value() == expected("molality at activity 0.90 mol/kg"));
  CHECK(water_per_salt(WaterActivity(0.85)).value() == expected("water per NaCl at 0.85 kg/kg"));
}

TEST_CASE("water held by proteins, by a salami and by lean meat") {
  CHECK(gab_content({}, WaterActivity(0.90)) == expected("GAB content at 0.90 kg/kg"));
  CHECK(gab_content({}, WaterActivity(0.80)) == expected("GAB content at 0.80 kg/kg"));
  const Body salami = golden::s60();
  const Body lean = golden::l65();
  CHECK(salami.isotherm->content(WaterActivity(0.90)) == expected("salami content at 0.90 kg/kg"));
  CHECK(salami.isotherm->content(WaterActivity(0.80)) == expected("salami content at 0.80 kg/kg"));
  CHECK(salami.isotherm->content(WaterActivity(0.70)) == expected("salami content at 0.70 kg/kg"));
  CHECK(salami.isotherm->activity(salami.x0).value == expected("salami activity at hanging"));
  const auto after = [](const Body& body, double loss) {
    return body.isotherm->activity(body.x0 - loss * (1.0 + body.x0)).value;
  };
  CHECK(after(salami, 0.35) == expected("salami activity at 35 % loss"));
  CHECK(after(salami, 0.40) == expected("salami activity at 40 % loss"));
  CHECK(after(lean, 0.35) == expected("lean activity at 35 % loss"));
}

TEST_CASE("diffusivity by temperature and fat, density and radius by additive volumes") {
  const Body body = golden::s60();
  const auto ratio = [&body](double t_c) {
    return std::exp(-body.activation_j_mol / 8.314462618 * (1.0 / (t_c + 273.15) - 1.0 / 286.15));
  };
  CHECK(ratio(20.0) == expected("diffusivity 20 C over 13 C"));
  CHECK(ratio(4.0) == expected("diffusivity 4 C over 13 C"));
  CHECK(minced_diffusivity_m2_s(0.10, 1.5e-10) == expected("diffusivity at 10 % fat m2/s"));
  CHECK(minced_diffusivity_m2_s(0.30, 1.5e-10) == expected("diffusivity at 30 % fat m2/s"));
  CHECK(body.density_kg_m3() == expected("density of salami kg/m3"));
  CHECK(golden::l65().density_kg_m3() == expected("density of lean kg/m3"));
  const double x_after = body.x0 - 0.40 * (1.0 + body.x0);
  const double share = (body.solid_m3_kg + x_after * 1e-3) / (body.solid_m3_kg + body.x0 * 1e-3);
  CHECK(1e3 * body.outer_m * std::sqrt(share) == expected("radius after 40 % loss mm"));
}

TEST_CASE("heat and vapour through the film, and evaporation that cools itself") {
  using saltrafter::MetresPerSecond;
  const golden::Metres d(0.060);
  CHECK(film_heat_w_m2k(MetresPerSecond(0.1), d) == expected("heat coefficient 0.1 m/s 60 mm W/m2K"));
  CHECK(film_heat_w_m2k(MetresPerSecond(0.5), d) == expected("heat coefficient 0.5 m/s 60 mm W/m2K"));
  CHECK(film_heat_w_m2k(MetresPerSecond(0.0), d) == expected("heat coefficient still 60 mm W/m2K"));
  CHECK(film_vapour_kg_m2spa(4.430, golden::Celsius(13.0)) == expected("vapour coefficient kg/m2sPa"));
  const double psat_pa = golden::magnus_pa(13.0);
  const double slope_pa_k = golden::magnus_slope_pa_k(13.0);
  const double g = evaporation_kg_m2s(4e-8, 10.0, psat_pa, slope_pa_k, WaterActivity(0.96), RelativeHumidity(0.78));
  CHECK(g * 86400.0 == expected("evaporation kg/m2d"));
  CHECK(g / (4e-8 * psat_pa * (0.96 - 0.78)) == expected("cooling factor"));
  // All heat from the air: what evaporates over what the film brings per kelvin.
  const double heat = film_heat_w_m2k(MetresPerSecond(0.3), golden::Metres(0.090));
  const double room_c = 16.08;
  const double flux = evaporation_kg_m2s(film_vapour_kg_m2spa(heat, golden::Celsius(room_c)), heat,
                                         golden::magnus_pa(room_c), golden::magnus_slope_pa_k(room_c),
                                         WaterActivity(0.955), RelativeHumidity(0.80));
  CHECK(2.47e6 * flux / heat == expected("surface below room K"));
}
