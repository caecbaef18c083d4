// air: what the air in and around a chamber holds. Psychrometrics of moist air at any altitude.
//
// Perfect-gas relations as the ASHRAE Handbook - Fundamentals (2017), chapter 1, gives them; humidity ratios
// are some 0.5 % below its real-gas tables, which leave no trace in a chamber. No fog, no air under pressure.
#pragma once

#include "core/air/atmosphere.h"  // pressure and temperature with altitude
#include "core/air/moist_air.h"   // the state of air from humidity, dew point, wet bulb or water content
#include "core/air/saturation.h"  // vapour pressure over water and ice, and dew point
