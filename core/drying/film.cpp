#include "core/drying/film.h"

#include <algorithm>
#include <cmath>

namespace saltrafter::drying {

namespace {

constexpr double kViscosityM2S = 1.48e-5;      // air, kinematic (memory)
constexpr double kConductivityWMk = 0.0253;    // air (memory)
constexpr double kPrandtl = 0.71;              // air (memory)
constexpr double kVirtualDifferenceK = 0.5;    // choice
constexpr double kRoomK = 286.0;               // choice: 13 °C
constexpr double kGravityMS2 = 9.81;
constexpr double kGasJMolK = 8.314462618;      // exact, SI
constexpr double kWaterMolarKg = 0.01801528;
constexpr double kLewis = 0.865;               // memory
constexpr double kAirHeatJKgK = 1006.0;        // memory

}  // namespace

Film::Film(MetresPerSecond speed) : reynolds_m_(std::clamp(speed.value, 0.0, 5.0) / kViscosityM2S) {
  forced_factor_ = 0.62 * std::cbrt(kPrandtl) / std::pow(1.0 + std::pow(0.4 / kPrandtl, 2.0 / 3.0), 0.25);
  const double rayleigh_m3 =
      kGravityMS2 * kVirtualDifferenceK / kRoomK / (kViscosityM2S * kViscosityM2S) * kPrandtl;
  free_factor_ = 0.387 * std::pow(1.0 + std::pow(0.559 / kPrandtl, 9.0 / 16.0), -8.0 / 27.0) *
                 std::pow(rayleigh_m3, 1.0 / 6.0);
}

Film::Heat Film::heat(double diameter_m) const {
  const double d_m = std::clamp(diameter_m, 0.005, 1.0);
  const double root_d = std::sqrt(d_m);
  const double re = reynolds_m_ * d_m;
  const double root_root = std::sqrt(std::sqrt(re / 282000.0));
  const double turbulent = root_root * root_root * std::sqrt(root_root);
  const double swept = forced_factor_ * std::sqrt(re) * std::pow(1.0 + turbulent, 0.8);
  const double forced = 0.3 + swept;
  const double free_root = 0.60 + free_factor_ * root_d;
  const double free = free_root * free_root;
  const double cubes = forced * forced * forced + free * free * free;
  const double forced_slope = swept * (0.5 + 0.5 * turbulent / (1.0 + turbulent));
  const double free_slope = free_root * free_factor_ * root_d;
  const double slope = (forced * forced * forced_slope + free * free * free_slope) / cubes - 1.0;
  return {kConductivityWMk / d_m * std::cbrt(cubes), d_m == diameter_m ? slope : 0.0};
}

double film_heat_w_m2k(MetresPerSecond speed, Metres diameter) { return Film(speed).heat(diameter.value).w_m2k; }

double film_vapour_kg_m2spa(double heat_w_m2k, Celsius air) {
  const double t_k = std::max(air.value + kKelvinAtZeroCelsius, 200.0);
  const double air_kg_m3 = 1.225 * 288.15 / t_k;
  return heat_w_m2k / (air_kg_m3 * kAirHeatJKgK * std::pow(kLewis, 2.0 / 3.0)) * kWaterMolarKg / (kGasJMolK * t_k);
}

}  // namespace saltrafter::drying
