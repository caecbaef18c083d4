#include "core/air/air.h"
#include "tests/near.h"

#include <cmath>
#include <limits>
#include <string>

using namespace saltrafter;
using namespace saltrafter::air;

namespace {

constexpr double kNan = std::numeric_limits<double>::quiet_NaN();
constexpr double kInf = std::numeric_limits<double>::infinity();

MoistAir state(const Result<MoistAir>& air) {
  REQUIRE(air.ok());
  return air.value();
}

MoistAir at_rh(double t_c, double rh, double p_pa = 101325.0, Over over = Over::stable) {
  CAPTURE(t_c);
  CAPTURE(rh);
  return state(moist_air(Celsius(t_c), RelativeHumidity(rh), Pascal(p_pa), over));
}

void refused(const Result<MoistAir>& air, const std::string& field) {
  REQUIRE_FALSE(air.ok());
  CHECK(air.error().code == ErrorCode::out_of_range);
  CHECK(air.error().field == field);
  CHECK(air.error().low.has_value());
  CHECK(air.error().high.has_value());
}

}  // namespace

TEST_SUITE("air/saturation") {
  TEST_CASE("the slope is the derivative of the pressure, over ice and over water") {
    for (double t_c = -90.0; t_c < 150.0; t_c += 3.7) {
      CAPTURE(t_c);
      const double h = 1e-3;
      const double numeric = (saturation_pressure_pa(t_c + h) - saturation_pressure_pa(t_c - h)) / (2.0 * h);
      CHECK(saturation_pressure_slope_pa_k(t_c) == near_rel(numeric, 1e-6));
    }
  }

  TEST_CASE("pressure grows with temperature and has no step where ice becomes water") {
    double before = 0.0;
    for (double t_c = -100.0; t_c <= 200.0; t_c += 0.1) {
      const double p_pa = saturation_pressure_pa(t_c);
      CHECK(p_pa > before);
      before = p_pa;
    }
    const double ice = saturation_pressure(Celsius(0.01), Over::ice).value().value;
    const double water = saturation_pressure(Celsius(0.01), Over::water).value().value;
    CHECK(ice == near_rel(water, 2e-6));
    CHECK(saturation_pressure_pa(0.01) == ice);
    const double carried_on = saturation_pressure_pa(-0.005) + 0.01 * saturation_pressure_slope_pa_k(-0.005);
    CHECK(saturation_pressure_pa(0.005) == near_rel(carried_on, 2e-6));
  }

  TEST_CASE("the dew point is the inverse of the pressure, on both sides of 0 °C") {
    for (double t_c = -99.9; t_c < 199.9; t_c += 0.37) {
      CAPTURE(t_c);
      const auto dew = dew_point(Pascal(saturation_pressure_pa(t_c)));
      REQUIRE(dew.ok());
      CHECK(dew.value().value == near_abs(t_c, 1e-8));
      const auto over_water = dew_point(saturation_pressure(Celsius(t_c), Over::water).value(), Over::water);
      REQUIRE(over_water.ok());
      CHECK(over_water.value().value == near_abs(t_c, 1e-8));
    }
    CHECK(dew_point(Pascal(saturation_pressure_pa(-100.0))).value().value == near_abs(-100.0, 1e-6));
    CHECK(dew_point(Pascal(saturation_pressure_pa(200.0))).value().value == near_abs(200.0, 1e-6));
  }

  TEST_CASE("supercooled water holds more vapour than ice, the more the colder") {
    double before = 1.0;
    for (double t_c = 0.0; t_c >= -40.0; t_c -= 5.0) {
      const double ratio = saturation_pressure(Celsius(t_c), Over::water).value() /
                           saturation_pressure(Celsius(t_c), Over::ice).value();
      CHECK(ratio > before);
      before = ratio;
    }
    CHECK(before == near_abs(1.4830, 1e-4));
  }

  TEST_CASE("what is outside the formulas is refused, and plain functions take the nearer end") {
    for (const double t_c : {-100.1, 200.1, kNan, kInf, -kInf}) {
      CHECK(saturation_pressure(Celsius(t_c)).error().code == ErrorCode::out_of_range);
    }
    for (const double p_pa : {0.0, -1.0, 1e-4, 2e6, kNan, kInf}) {
      const auto dew = dew_point(Pascal(p_pa));
      REQUIRE_FALSE(dew.ok());
      CHECK(dew.error().field == "vapour_pressure");
    }
    CHECK(saturation_pressure_pa(-300.0) == saturation_pressure_pa(-100.0));
    CHECK(saturation_pressure_pa(kInf) == saturation_pressure_pa(200.0));
    CHECK(saturation_pressure_pa(kNan) == saturation_pressure_pa(-100.0));
    CHECK(std::isfinite(saturation_pressure_slope_pa_k(kNan)));
  }
}

TEST_SUITE("air/moist_air") {
  TEST_CASE("each measure of the water leads back to the same state, at any altitude") {
    for (const double z_m : {-400.0, 0.0, 1872.0, 5000.0, 9000.0}) {
      const double p_pa = pressure_at(Metres(z_m)).value().value;
      for (double t_c = -40.0; t_c <= 60.0; t_c += 4.0) {
        for (const double rh : {0.02, 0.2, 0.5, 0.76, 0.95, 1.0}) {
          CAPTURE(z_m);
          CAPTURE(t_c);
          CAPTURE(rh);
          const MoistAir air = at_rh(t_c, rh, p_pa);
          const Celsius t(t_c);
          const Pascal p(p_pa);
          CHECK(air.humidity.value == near_rel(rh, 1e-12));
          CHECK(state(moist_air_with_water(t, air.water, p)).humidity.value == near_rel(rh, 1e-9));
          if (air.dew_point.value <= t_c) {
            CHECK(state(moist_air_at_dew_point(t, air.dew_point, p)).water.value ==
                  near_rel(air.water.value, 1e-8));
          }
          if (air.wet_bulb.value <= t_c) {
            CHECK(state(moist_air_at_wet_bulb(t, air.wet_bulb, p)).water.value ==
                  near_abs(air.water.value, 1e-9 + 1e-6 * air.water.value));
          }
        }
      }
    }
  }

  TEST_CASE("dew point, wet bulb and dry bulb stand in that order and meet in saturated air") {
    for (double t_c = -40.0; t_c <= 60.0; t_c += 2.5) {
      for (double rh = 0.05; rh < 1.0; rh += 0.05) {
        const MoistAir air = at_rh(t_c, rh);
        CHECK(air.dew_point.value < air.wet_bulb.value);
        CHECK(air.wet_bulb.value < t_c);
        CHECK(air.deficit.value > 0.0);
      }
      const MoistAir saturated = at_rh(t_c, 1.0);
      CHECK(saturated.dew_point.value <= t_c);
      CHECK(saturated.wet_bulb.value <= t_c);
      CHECK(saturated.dew_point.value == near_abs(t_c, 1e-7));
      CHECK(saturated.wet_bulb.value == near_abs(t_c, 1e-7));
      CHECK(saturated.saturation == near_rel(1.0, 1e-12));
      CHECK(saturated.deficit.value == 0.0);
    }
  }

  TEST_CASE("more humidity means a higher dew point, more water, a smaller deficit") {
    MoistAir before = at_rh(13.0, 0.0);
    for (double rh = 0.05; rh <= 1.0; rh += 0.05) {
      const MoistAir air = at_rh(13.0, rh);
      CHECK(air.dew_point > before.dew_point);
      CHECK(air.water > before.water);
      CHECK(air.enthalpy > before.enthalpy);
      CHECK(air.deficit < before.deficit);
      before = air;
    }
  }

  TEST_CASE("dry air has the floor's dew point and every figure is finite") {
    for (const double t_c : {-40.0, 0.0, 13.0, 60.0}) {
      for (const double p_pa : {22000.0, 101325.0, 180000.0}) {
        const MoistAir air = at_rh(t_c, 0.0, p_pa);
        CHECK(air.vapour.value == 0.0);
        CHECK(air.water == kLeastWater);
        CHECK(air.dew_point.value < -70.0);
        CHECK(air.dew_point.value > -100.0);
        CHECK(std::isfinite(air.wet_bulb.value));
        CHECK(air.wet_bulb.value < t_c);
      }
    }
  }

  TEST_CASE("a humidity below 0 °C means what the sensor means: over water it may top that of ice") {
    const MoistAir sensor = at_rh(-10.0, 0.8, 101325.0, Over::water);
    const MoistAir coil = at_rh(-10.0, 0.8, 101325.0, Over::ice);
    CHECK(sensor.vapour.value / coil.vapour.value == near_abs(1.1026, 1e-4));
    const MoistAir fog = at_rh(-30.0, 0.8, 101325.0, Over::water);
    CHECK(fog.humidity.value > 1.0);
    CHECK(fog.deficit.value < 0.0);
    CHECK(fog.dew_point.value > -30.0);
    CHECK(fog.wet_bulb.value > -30.0);
    CHECK(fog.wet_bulb.value < fog.dew_point.value);
    CHECK(at_rh(13.0, 0.76, 101325.0, Over::water).vapour == at_rh(13.0, 0.76, 101325.0, Over::ice).vapour);
    CHECK(state(moist_air_with_water(Celsius(22), fog.water, Pascal(101325.0))).humidity.value ==
          near_abs(0.0154, 2e-4));
  }

  TEST_CASE("humidity changes with temperature by the slope of the pressure alone") {
    const double t_c = 12.0;
    const double relative = saturation_pressure_slope_pa_k(t_c) / saturation_pressure_pa(t_c);
    CHECK(-0.75 * relative == near_abs(-0.0495, 3e-4));
    const MoistAir air = at_rh(t_c, 0.75);
    const MoistAir warmer = state(moist_air_with_water(Celsius(t_c + 0.01), air.water, Pascal(101325.0)));
    CHECK((warmer.humidity.value - air.humidity.value) / 0.01 == near_abs(-0.75 * relative, 1e-4));
  }

  TEST_CASE("altitude changes water, volume and wet bulb, but not dew point or deficit") {
    const MoistAir sea = at_rh(12.0, 0.75);
    const MoistAir high = at_rh(12.0, 0.75, pressure_at(Metres(1872)).value().value);
    CHECK(sea.water.value == near_abs(0.0065247, 1e-7));
    CHECK(high.water.value == near_abs(0.00821, 1e-5));
    CHECK(high.volume > sea.volume);
    CHECK(high.wet_bulb < sea.wet_bulb);
    CHECK(high.dew_point == sea.dew_point);
    CHECK(high.deficit == sea.deficit);
  }

  TEST_CASE("a sensor a little above saturation is read as saturated, and says so") {
    const MoistAir air = at_rh(13.0, 1.02);
    CHECK(air.sensor_clamped);
    CHECK(air.humidity.value == near_rel(1.0, 1e-12));
    CHECK_FALSE(at_rh(13.0, 1.0).sensor_clamped);
  }

  TEST_CASE("what cannot be is refused with the field and its bounds") {
    const Celsius t(13.0);
    const RelativeHumidity rh(0.76);
    for (const double bad : {-40.1, 60.1, 75.0, kNan, kInf}) {
      refused(moist_air(Celsius(bad), rh, kSeaLevel, Over::water), "temperature");
      refused(moist_air_at_dew_point(Celsius(bad), Celsius(1), kSeaLevel), "temperature");
      refused(moist_air_at_wet_bulb(Celsius(bad), Celsius(1), kSeaLevel), "temperature");
      refused(moist_air_with_water(Celsius(bad), HumidityRatio(0.001), kSeaLevel), "temperature");
      CHECK_FALSE(saturated_water(Celsius(bad), kSeaLevel).ok());
    }
    for (const double bad : {-0.01, 1.04, 76.0, kNan, kInf}) {
      refused(moist_air(t, RelativeHumidity(bad), kSeaLevel, Over::water), "humidity");
    }
    for (const double bad : {0.0, 1013.25, 20000.0, 200000.0, kNan, -kInf}) {
      refused(moist_air(t, rh, Pascal(bad), Over::water), "pressure");
    }
    for (const double bad : {13.1, -101.0, kNan}) {
      refused(moist_air_at_dew_point(t, Celsius(bad), kSeaLevel), "dew_point");
    }
    for (const double bad : {13.1, -20.0, 0.5, kNan}) {
      refused(moist_air_at_wet_bulb(t, Celsius(bad), kSeaLevel), "wet_bulb");
    }
    for (const double bad : {-1e-9, 0.02, kNan}) {
      refused(moist_air_with_water(t, HumidityRatio(bad), kSeaLevel), "water");
    }
    for (const double bad : {-5001.0, 11001.0, kNan}) {
      CHECK(pressure_at(Metres(bad)).error().field == "altitude");
      CHECK(standard_temperature_at(Metres(bad)).error().unit == "m");
    }
  }

  TEST_CASE("the lowest wet bulb that a refusal names is accepted, a little less is not") {
    const auto refusal = moist_air_at_wet_bulb(Celsius(30), Celsius(0.5), kSeaLevel);
    REQUIRE_FALSE(refusal.ok());
    const double low_c = refusal.error().low.value();
    CHECK(moist_air_at_wet_bulb(Celsius(30), Celsius(low_c + 1e-6), kSeaLevel).ok());
    CHECK_FALSE(moist_air_at_wet_bulb(Celsius(30), Celsius(low_c - 1e-3), kSeaLevel).ok());
  }
}
