#include "core/air/air.h"
#include "tests/near.h"
#include "tests/reference/transport/rows.h"

#include <algorithm>
#include <string>

using namespace saltrafter;
using namespace saltrafter::air;

namespace {

MoistAir state(const Result<MoistAir>& air) {
  REQUIRE(air.ok());
  return air.value();
}

MoistAir given(const rows::Row& row) {
  const Celsius t(rows::number(row, "t_C"));
  const double value = rows::number(row, "value");
  const Pascal p(rows::number(row, "p_Pa"));
  const std::string kind = row.at("given");
  if (kind == "rh" || kind == "rh_water") {
    return state(moist_air(t, RelativeHumidity(value), p, kind == "rh" ? Over::ice : Over::water));
  }
  if (kind == "dew") {
    return state(moist_air_at_dew_point(t, Celsius(value), p));
  }
  REQUIRE(kind == "wb");
  return state(moist_air_at_wet_bulb(t, Celsius(value), p));
}

double figure_of(const rows::Row& row) {
  const std::string figure = row.at("figure");
  if (row.at("given") == "altitude") {
    const Metres z(rows::number(row, "value"));
    return figure == "p" ? pressure_at(z).value().value : standard_temperature_at(z).value().value;
  }
  if (row.at("given") == "saturated") {
    const Celsius t(rows::number(row, "t_C"));
    const auto over = [t](Over phase) { return saturation_pressure(t, phase).value().value; };
    if (figure == "water_to_ice") {
      return over(Over::water) / over(Over::ice);
    }
    return over(figure == "p_water" ? Over::water : figure == "p_ice" ? Over::ice : Over::stable);
  }
  const MoistAir air = given(row);
  if (figure == "W") return air.water.value;
  if (figure == "dew") return air.dew_point.value;
  if (figure == "wb") return air.wet_bulb.value;
  if (figure == "rh") return air.humidity.value;
  if (figure == "h") return air.enthalpy.value;
  if (figure == "v") return air.volume.value;
  if (figure == "vpd") return air.deficit.value;
  if (figure == "pw") return air.vapour.value;
  if (figure == "mu") return air.saturation;
  REQUIRE(figure == "content");
  return air.content.value;
}

}  // namespace

TEST_SUITE("air against published figures") {
  TEST_CASE("figures of handbooks, textbooks and the water association are met") {
    int checked = 0;
    for (const rows::Row& row : rows::read("air_checks.csv")) {
      CAPTURE(row.at("id"));
      CAPTURE(row.at("figure"));
      const double expected = rows::number(row, "expected");
      const double tolerance = rows::number(row, "tolerance");
      if (row.at("tolerance_kind") == "rel") {
        CHECK(figure_of(row) == near_rel(expected, tolerance));
      } else {
        CHECK(figure_of(row) == near_abs(expected, tolerance));
      }
      ++checked;
    }
    CHECK(checked >= 55);
  }

  TEST_CASE("saturation pressure from -40 to 60 °C is the handbook's, and as near to IAPWS as stated") {
    double worst_ppm = 0.0;
    for (const rows::Row& row : rows::read("air_psat.csv")) {
      CAPTURE(row.at("t_C"));
      const double p_pa = saturation_pressure_pa(rows::number(row, "t_C"));
      CHECK(p_pa == near_rel(rows::number(row, "pws_ashrae_Pa"), 1e-6));
      const double ppm = (p_pa / rows::number(row, "pws_iapws_Pa") - 1.0) * 1e6;
      CHECK(ppm == near_abs(rows::number(row, "diff_ppm"), 2.0));
      worst_ppm = std::max(worst_ppm, std::abs(ppm));
    }
    CHECK(worst_ppm < 320.0);
  }

  TEST_CASE("the standard atmosphere is met from 500 m down to 5000 m up") {
    for (const rows::Row& row : rows::read("air_std_atmosphere.csv")) {
      const Metres z(rows::number(row, "z_m"));
      CAPTURE(z.value);
      CHECK(pressure_at(z).value().value == near_abs(rows::number(row, "p_Pa"), 0.06));
      CHECK(standard_temperature_at(z).value().value == near_abs(rows::number(row, "t_C"), 0.006));
    }
  }

  TEST_CASE("two hundred states agree with psychrolib in every figure") {
    int checked = 0;
    for (const rows::Row& row : rows::read("air_psychro_grid.csv")) {
      CAPTURE(row.at("id"));
      const Celsius t(rows::number(row, "t_C"));
      const MoistAir air = state(moist_air(t, RelativeHumidity(rows::number(row, "rh")),
                                           Pascal(rows::number(row, "p_Pa")), Over::ice));
      CHECK(air.dew_point.value == near_abs(rows::number(row, "dewpoint_C"), 1e-3));
      CHECK(air.wet_bulb.value == near_abs(rows::number(row, "wetbulb_C"), 2e-3));
      CHECK(air.water.value == near_rel(rows::number(row, "W_kgkg"), 2e-6));
      CHECK(air.enthalpy.value == near_abs(rows::number(row, "h_kJkg"), 1e-3));
      CHECK(air.volume.value == near_rel(rows::number(row, "v_m3kg"), 2e-6));
      CHECK(air.saturation == near_abs(rows::number(row, "mu_degree_sat"), 2e-6));
      CHECK(air.vapour.value == near_rel(rows::number(row, "pw_Pa"), 2e-6));
      CHECK(air.deficit.value == near_rel(rows::number(row, "vpd_Pa"), 2e-6));
      ++checked;
    }
    CHECK(checked == 200);
  }

  // ASHRAE Handbook - Fundamentals (2017), ch. 1, examples 2 and 5, and a heating-laboratory exercise;
  // answers of the examples from memory, derived here within the tolerance.
  TEST_CASE("heating, cooling and wetting come out as in worked examples") {
    const auto at_rh = [](double t_c, double rh) {
      return state(moist_air(Celsius(t_c), RelativeHumidity(rh), kSeaLevel, Over::water));
    };
    const auto heated = [](const MoistAir& air, double t_c) {
      return state(moist_air_with_water(Celsius(t_c), air.water, kSeaLevel));
    };
    const MoistAir cold = at_rh(2.0, 1.0);
    CHECK(10.0 / cold.volume.value * (heated(cold, 40.0).enthalpy - cold.enthalpy).value ==
          near_abs(490.9, 1.0));
    const MoistAir room = at_rh(15.0, 0.9);
    CHECK(1.2 / room.volume.value * (heated(room, 50.0).enthalpy - room.enthalpy).value ==
          near_abs(51.92, 0.1));
    const MoistAir cellar = at_rh(10.0, 0.8);
    CHECK(0.5 / cellar.volume.value * (heated(cellar, 30.0).enthalpy - cellar.enthalpy).value ==
          near_abs(12.53, 0.1));
    const MoistAir dry = state(moist_air_at_wet_bulb(Celsius(20), Celsius(8), kSeaLevel));
    const MoistAir wet = state(moist_air_at_dew_point(Celsius(20), Celsius(13), kSeaLevel));
    CHECK(2.0 * (wet.water - dry.water).value == near_abs(0.0151, 2e-4));
    const MoistAir summer = at_rh(35.0, 0.95);
    CHECK((summer.water - saturated_water(Celsius(12), kSeaLevel).value()).value == near_abs(0.02591, 2e-5));
  }
}
