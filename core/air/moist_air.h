// The state of moist air: all of it from a temperature, a pressure and one measure of its water.
//
// Source of the relations: ASHRAE Handbook - Fundamentals (2017), ch. 1, by the equation numbers given.
#pragma once

#include "core/air/atmosphere.h"
#include "core/air/saturation.h"
#include "core/base/base.h"

namespace saltrafter::air {

using HumidityRatio = Quantity<struct HumidityRatioUnit>;        // kg of water in 1 kg of dry air
using SpecificEnthalpy = Quantity<struct SpecificEnthalpyUnit>;  // kJ with 1 kg of dry air; dry at 0 °C: 0
using SpecificVolume = Quantity<struct SpecificVolumeUnit>;      // m³ with 1 kg of dry air
using VapourContent = Quantity<struct VapourContentUnit>;        // g of water in 1 m³

// What the functions below take.
inline constexpr Celsius kColdest{-40.0};
inline constexpr Celsius kWarmest{60.0};
inline constexpr Pascal kLeastPressure{22000.0};  // 11 000 m up
inline constexpr Pascal kMostPressure{180000.0};  // 5 000 m down

// A sensor in saturated air may show a little more than 1; up to here that is read as 1.
inline constexpr RelativeHumidity kSensorTop{1.03};

// Air drier than this is taken to hold this much, so that it has a dew point. Source: psychrolib's own floor.
inline constexpr HumidityRatio kLeastWater{1e-7};

struct MoistAir {
  Celsius temperature;
  Pascal pressure;
  Pascal vapour;              // partial pressure of the water
  RelativeHumidity humidity;  // over the stable phase: of ice below 0 °C (eq. 22); above 1 only where
                              // `moist_air` was given a humidity over water below 0 °C
  HumidityRatio water;          // eq. 20
  Celsius dew_point;            // over the stable phase: the frost point below 0 °C
  Celsius wet_bulb;             // eq. 33 (water) or 35 (ice)
  SpecificEnthalpy enthalpy;    // eq. 28
  SpecificVolume volume;        // eq. 26
  VapourContent content;        // 2.16679 g K/J * vapour / T, by the gas law
  Pascal deficit;               // saturation pressure less vapour pressure, over the stable phase
  double saturation = 0.0;      // degree of saturation, water / water of saturated air (eq. 12)
  bool sensor_clamped = false;  // the humidity given was above 1 and taken as 1
};

// From relative humidity 0..1 (to 1.03, taken as 1), which `over` says the meaning of below 0 °C; for a
// sensor or a weather report that is Over::water. Errors: out_of_range; fields "temperature" (°C), "humidity"
// (ratio), "pressure" (Pa).
Result<MoistAir> moist_air(Celsius t, RelativeHumidity humidity, Pascal pressure, Over over);

// From the dew point (below 0.01 °C: frost point), -100 °C up to t. Errors: as above, and field "dew_point".
Result<MoistAir> moist_air_at_dew_point(Celsius t, Celsius dew, Pascal pressure);

// From the wet bulb (below 0 °C: covered with ice), at most t. Errors: as above, and field "wet_bulb" with
// the range that air of that temperature can have.
Result<MoistAir> moist_air_at_wet_bulb(Celsius t, Celsius wet_bulb, Pascal pressure);

// From the humidity ratio, 0 up to that of saturated air: how air is after heating or cooling that leaves its
// water alone. Errors: as above, and field "water" (kg/kg).
Result<MoistAir> moist_air_with_water(Celsius t, HumidityRatio water, Pascal pressure);

// Water in saturated air (eq. 21). Errors: out_of_range; "temperature" (°C), "pressure" (Pa).
Result<HumidityRatio> saturated_water(Celsius t, Pascal pressure);

}  // namespace saltrafter::air
