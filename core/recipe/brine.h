// Water activity of a sodium chloride brine, and back. No other salt and no temperature: 25 °C stands for all.
#pragma once

#include "core/base/base.h"

namespace saltrafter::recipe {

inline constexpr double kSodiumChlorideKgMol = 0.05844;  // molar mass
inline constexpr double kWaterKgMol = 0.01801528;        // molar mass
inline constexpr double kBrineMostMolal = 6.3;           // a little beyond saturation, 6.15 mol/kg
inline constexpr double kSaturatedBrineActivity = 0.7528;

// Water activity over a brine of `molality` mol NaCl per kg of water, 0..6.3.
// Source: Pitzer's form for NaCl at 25 °C (memory); within 0.001 of measured tables. Error: out_of_range.
Result<WaterActivity> brine_activity(double molality);

// The molality at which the brine has this activity; range: that of brine_activity. Error: out_of_range.
Result<double> brine_molality(WaterActivity activity);

// Activity from salt in the water phase, salt / (salt + water), 0..0.269; a bound from above for meat, whose
// other solutes only lower it. Error: out_of_range.
Result<WaterActivity> brine_activity_of_water_phase(double salt_share);

// kg of water that one kg of NaCl holds at this activity; range as brine_molality, activity < 1.
Result<double> water_per_salt(WaterActivity activity);

}  // namespace saltrafter::recipe
