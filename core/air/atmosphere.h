// The standard atmosphere: what the barometer shows on an average day at an altitude.
#pragma once

#include "core/base/base.h"

namespace saltrafter::air {

// Sea level, by definition of the standard atmosphere.
inline constexpr Pascal kSeaLevel{101325.0};

// Range of the two formulas below.
inline constexpr Metres kLowestAltitude{-5000.0};
inline constexpr Metres kHighestAltitude{11000.0};

// Pressure at an altitude above sea level. Error: out_of_range (field "altitude", m).
// Source: ASHRAE Handbook - Fundamentals (2017), ch. 1, eq. 3; within 1 Pa of Table 1.
Result<Pascal> pressure_at(Metres altitude);

// Temperature of the standard atmosphere there. Error: as above. Source: the same, eq. 4.
Result<Celsius> standard_temperature_at(Metres altitude);

}  // namespace saltrafter::air
