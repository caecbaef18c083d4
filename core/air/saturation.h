// Vapour pressure in equilibrium with liquid water or ice, its slope and its inverse, the dew point.
//
// Source of both formulas: ASHRAE Handbook - Fundamentals (2017), ch. 1, eq. 5 (ice, -100..0 °C) and eq. 6
// (water, 0..200 °C). Against IAPWS: +318 ppm at -40 °C to -182 ppm at 60 °C (derived).
#pragma once

#include "core/base/base.h"

namespace saltrafter::air {

// What the vapour is in equilibrium with. Weather services and most electronic sensors mean water below 0 °C
// too, the formulas of coils and frost mean ice: at -10 °C they are 10 % apart, at -30 °C 34 %.
enum class Over {
  stable,  // ice below the triple point (0.01 °C), water above
  water,   // liquid at any temperature, supercooled below 0 °C (eq. 6 carried on)
  ice,     // ice at any temperature up to 0.01 °C; above that as water
};

// Range of the formulas; the plain functions below take what is outside, and NaN, as the nearer (the lower)
// end.
inline constexpr Celsius kLowestSaturation{-100.0};
inline constexpr Celsius kHighestSaturation{200.0};

// Pa, over the stable phase, and Pa/K by the formula's derivative. Plain, so that a model can be handed them.
double saturation_pressure_pa(double t_c);
double saturation_pressure_slope_pa_k(double t_c);

// The same with a type, over the phase asked for. Error: out_of_range (field "temperature", °C, -100..200).
Result<Pascal> saturation_pressure(Celsius t, Over over = Over::stable);

// The temperature at which air that holds vapour at that pressure becomes saturated; over the stable phase
// below 0 °C that is the frost point. Newton's steps kept inside a bracket, to 1e-9 K. Error: out_of_range
// (field "vapour_pressure", Pa) outside the pressures at -100 and 200 °C.
Result<Celsius> dew_point(Pascal vapour, Over over = Over::stable);

}  // namespace saltrafter::air
