// Quantities with their unit in the type, for everything that crosses a module's border.
//
// One number each, explicit in, `.value` out. Inside a formula unwrap to a double whose name carries
// the unit. Percent, millimetres and degrees Fahrenheit exist only at the edge, as people type them.
#pragma once

#include <compare>

namespace saltrafter {

template <class Unit>
struct Quantity {
  double value = 0.0;

  constexpr Quantity() = default;
  constexpr explicit Quantity(double v) : value(v) {}

  friend constexpr auto operator<=>(Quantity, Quantity) = default;
  friend constexpr Quantity operator+(Quantity a, Quantity b) { return Quantity(a.value + b.value); }
  friend constexpr Quantity operator-(Quantity a, Quantity b) { return Quantity(a.value - b.value); }
  friend constexpr Quantity operator*(Quantity a, double k) { return Quantity(a.value * k); }
  friend constexpr double operator/(Quantity a, Quantity b) { return a.value / b.value; }
};

using Grams = Quantity<struct GramsUnit>;                        // mass, g
using Metres = Quantity<struct MetresUnit>;                      // length, m
using Days = Quantity<struct DaysUnit>;                          // span of time, 86 400 s
using Pascal = Quantity<struct PascalUnit>;                      // pressure, Pa
using MetresPerSecond = Quantity<struct MetresPerSecondUnit>;    // air speed, m/s
using CelsiusDelta = Quantity<struct CelsiusDeltaUnit>;          // temperature difference, K
using RelativeHumidity = Quantity<struct RelativeHumidityUnit>;  // share of saturation, 0..1
using WaterActivity = Quantity<struct WaterActivityUnit>;        // 0..1
using Ppm = Quantity<struct PpmUnit>;                            // mg/kg; the name says of what, and of which base

// A temperature is a point, not an amount: two of them cannot be added.
struct Celsius {
  double value = 0.0;

  constexpr Celsius() = default;
  constexpr explicit Celsius(double v) : value(v) {}

  friend constexpr auto operator<=>(Celsius, Celsius) = default;
  friend constexpr CelsiusDelta operator-(Celsius a, Celsius b) { return CelsiusDelta(a.value - b.value); }
  friend constexpr Celsius operator+(Celsius a, CelsiusDelta d) { return Celsius(a.value + d.value); }
};

inline constexpr double kKelvinAtZeroCelsius = 273.15;  // exact, by definition of the Celsius scale

}  // namespace saltrafter
