// What stages do to the meat: salt to the centre before the cold ends, bags, pH of raw meat, usual
// temperatures. Internal to safety.
#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "core/safety/safety.h"

namespace saltrafter::safety {

// The rules cure_time, meat_ph, staging, cold_until_salted and sealing, in that order. A recipe, and what a
// batch has still before it, is judged by what is planned; a stage that has begun by what is recorded.
// Thresholds are rows of the constants (safety.*), none of them read in a source: within them it reads not
// known.
std::vector<Finding> stage_findings(const Subject& subject);

// How a stage is looked at: as planned, or at the move into it, with nothing but what is recorded until now.
enum class Moment { planned, move };

// One finding of each lot, the worst first; it alone decides.
std::vector<Finding> meat_ph_findings(const Subject& subject);
// May whole muscle go into the stage of that index, which is warmer than 5 °C?
Finding cold_finding(const Subject& subject, std::size_t stage, Moment moment);
// Is whole muscle in air warmer than 5 °C before it may be? One finding for each cold stage begun whose log says so, one
// (about nothing) for hanging in such air with no warm stage begun; none where all is as it should be.
std::vector<Finding> warm_air_findings(const Subject& subject);
// May whole muscle go into air of this temperature now, whatever the stage is called?
Finding air_finding(const Subject& subject, Celsius air);
// May it be sealed in the stage of that index, which is sealed?
Finding sealing_finding(const Subject& subject, std::size_t stage, Moment moment);

}  // namespace saltrafter::safety
