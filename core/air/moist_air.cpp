#include "core/air/moist_air.h"

#include <algorithm>
#include <cmath>
#include <optional>

namespace saltrafter::air {
namespace {

constexpr double kMassRatio = 0.621945;  // molar mass of water to that of dry air, eq. 20

// Eq. 20 and back.
double water_of(double vapour_pa, double p_pa) { return kMassRatio * vapour_pa / (p_pa - vapour_pa); }
double vapour_of(double water, double p_pa) { return p_pa * water / (kMassRatio + water); }

struct WaterAtWetBulb {
  double water;    // kg/kg
  double slope_k;  // by the wet bulb, 1/K
};

// Eq. 33 and 35: water in air of t_c whose wet bulb is wet_c. The two do not meet at 0 °C.
WaterAtWetBulb water_at_wet_bulb(double t_c, double wet_c, double p_pa) {
  const bool liquid = wet_c >= 0.0;
  const double latent = liquid ? 2501.0 : 2830.0;
  const double latent_slope = liquid ? 2.326 : 0.24;
  const double condensed = liquid ? 4.186 : 2.1;
  const double sat_pa = saturation_pressure_pa(wet_c);
  const double sat = water_of(sat_pa, p_pa);
  const double sat_slope =
      kMassRatio * p_pa * saturation_pressure_slope_pa_k(wet_c) / ((p_pa - sat_pa) * (p_pa - sat_pa));
  const double below = latent + 1.86 * t_c - condensed * wet_c;
  const double heat = latent - latent_slope * wet_c;
  const double water = (heat * sat - 1.006 * (t_c - wet_c)) / below;
  return {water, (heat * sat_slope - latent_slope * sat + 1.006 + condensed * water) / below};
}

// Between dew point and dry bulb; in air supersaturated over ice, between dry bulb and frost point. Halving
// goes on until 0 °C is outside, where the function has a step and two wet bulbs may answer (the halves then
// decide, as they do in psychrolib); from there Newton's steps inside the bracket.
double wet_bulb_c(double t_c, double dew_c, double water, double p_pa) {
  constexpr double kEnough = 1e-9;
  double low = std::min(t_c, dew_c);
  double high = std::max(t_c, dew_c);
  double wet_c = 0.5 * (low + high);
  for (int step = 0; step < 80 && high - low > kEnough; ++step) {
    const WaterAtWetBulb at = water_at_wet_bulb(t_c, wet_c, p_pa);
    const double excess = at.water - water;
    (excess > 0.0 ? high : low) = wet_c;
    const double middle = 0.5 * (low + high);
    if (low < 0.0 && high >= 0.0) {
      wet_c = middle;
      continue;
    }
    const double newton = excess / at.slope_k;
    const double next = wet_c - newton;
    const bool inside = next > low && next < high;
    wet_c = inside ? next : middle;
    if (inside && std::abs(newton) < kEnough) {
      break;
    }
  }
  return wet_c;
}

std::optional<Error> refusal(Celsius t, Pascal pressure) {
  if (!(t.value >= kColdest.value && t.value <= kWarmest.value)) {
    return out_of_range("temperature", t.value, kColdest.value, kWarmest.value, "°C");
  }
  if (!(pressure.value >= kLeastPressure.value && pressure.value <= kMostPressure.value)) {
    return out_of_range("pressure", pressure.value, kLeastPressure.value, kMostPressure.value, "Pa");
  }
  return std::nullopt;
}

// All of the state. The vapour is at least the floor's, at most that of supercooled water at t.
MoistAir complete(Celsius t, double vapour_pa, Pascal pressure, double saturated_pa) {
  const double p_pa = pressure.value;
  const double t_k = t.value + kKelvinAtZeroCelsius;
  const double water = std::max(water_of(vapour_pa, p_pa), kLeastWater.value);
  // The floor lies at -73 °C at least: inside the range of the dew point.
  const Result<Celsius> dew = dew_point(Pascal(std::max(vapour_pa, vapour_of(kLeastWater.value, p_pa))));
  MoistAir air;
  air.temperature = t;
  air.pressure = pressure;
  air.vapour = Pascal(vapour_pa);
  air.humidity = RelativeHumidity(vapour_pa / saturated_pa);
  air.water = HumidityRatio(water);
  air.dew_point = dew.ok() ? dew.value() : t;
  if (vapour_pa <= saturated_pa) {
    air.dew_point = std::min(air.dew_point, t);  // else 1e-10 K above the dry bulb in saturated air
  }
  air.wet_bulb = Celsius(wet_bulb_c(t.value, air.dew_point.value, water, p_pa));
  air.enthalpy = SpecificEnthalpy(1.006 * t.value + water * (2501.0 + 1.86 * t.value));
  air.volume = SpecificVolume(287.042 * t_k * (1.0 + 1.607858 * water) / p_pa);
  air.content = VapourContent(2.16679 * vapour_pa / t_k);
  air.deficit = Pascal(saturated_pa - vapour_pa);
  air.saturation = water / water_of(saturated_pa, p_pa);
  return air;
}

}  // namespace

Result<MoistAir> moist_air(Celsius t, RelativeHumidity humidity, Pascal pressure, Over over) {
  if (const auto error = refusal(t, pressure)) {
    return *error;
  }
  if (!(humidity.value >= 0.0 && humidity.value <= kSensorTop.value)) {
    return out_of_range("humidity", humidity.value, 0.0, kSensorTop.value, "");
  }
  const Result<Pascal> meant = saturation_pressure(t, over);
  const double saturated_pa = saturation_pressure_pa(t.value);
  const double share = std::min(humidity.value, 1.0);
  MoistAir air =
      complete(t, share * (meant.ok() ? meant.value().value : saturated_pa), pressure, saturated_pa);
  air.sensor_clamped = humidity.value > 1.0;
  return air;
}

Result<MoistAir> moist_air_at_dew_point(Celsius t, Celsius dew, Pascal pressure) {
  if (const auto error = refusal(t, pressure)) {
    return *error;
  }
  if (!(dew.value >= kLowestSaturation.value && dew.value <= t.value)) {
    return out_of_range("dew_point", dew.value, kLowestSaturation.value, t.value, "°C");
  }
  return complete(t, saturation_pressure_pa(dew.value), pressure, saturation_pressure_pa(t.value));
}

Result<MoistAir> moist_air_at_wet_bulb(Celsius t, Celsius wet_bulb, Pascal pressure) {
  if (const auto error = refusal(t, pressure)) {
    return *error;
  }
  const double p_pa = pressure.value;
  const bool possible = wet_bulb.value >= kLowestSaturation.value && wet_bulb.value <= t.value;
  const double water = possible ? water_at_wet_bulb(t.value, wet_bulb.value, p_pa).water : -1.0;
  if (!(water >= 0.0)) {
    const double dry_c = wet_bulb_c(t.value, kLowestSaturation.value, 0.0, p_pa);
    return out_of_range("wet_bulb", wet_bulb.value, dry_c, t.value, "°C");
  }
  const double saturated_pa = saturation_pressure_pa(t.value);
  MoistAir air = complete(t, std::min(vapour_of(water, p_pa), saturated_pa), pressure, saturated_pa);
  air.wet_bulb = wet_bulb;
  return air;
}

Result<MoistAir> moist_air_with_water(Celsius t, HumidityRatio water, Pascal pressure) {
  if (const auto error = refusal(t, pressure)) {
    return *error;
  }
  const double saturated_pa = saturation_pressure_pa(t.value);
  const double most = water_of(saturated_pa, pressure.value);
  // What was computed from this very state may come back an ulp higher.
  if (!(water.value >= 0.0 && water.value <= most * (1.0 + 1e-12))) {
    return out_of_range("water", water.value, 0.0, most, "kg/kg");
  }
  return complete(t, std::min(vapour_of(water.value, pressure.value), saturated_pa), pressure, saturated_pa);
}

Result<HumidityRatio> saturated_water(Celsius t, Pascal pressure) {
  if (const auto error = refusal(t, pressure)) {
    return *error;
  }
  return HumidityRatio(water_of(saturation_pressure_pa(t.value), pressure.value));
}

}  // namespace saltrafter::air
