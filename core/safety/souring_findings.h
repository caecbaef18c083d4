// Degree-hours to pH 5.3 as findings, of a recipe's plan or of a batch's readings. Internal to safety.
#pragma once

#include <vector>

#include "core/safety/finding.h"

namespace saltrafter::safety {

struct Subject;

// One finding for each scheme that the chosen jurisdiction takes (eu and none: both, the one more used up
// decides), or one without a row where no scheme has anything to say. A stop where the degree-hours are used
// up without pH 5.3. Minced meat that nobody means to sour is asked as soon as a stage or the log is
// above 15.6 °C; whole muscle is not.
//
// Without a batch: the plan to the likely hour of pH 5.3. That is an estimate: not_known, and not_met where
// the likely course takes longer than the temperature planned allows, or the plan without pH 5.3 uses the
// hours up. `missing`: "ph_reading", "ph_of_three_pieces", "ph_beyond_doubt", "meter_check",
// "temperature_log", "thermometer_check". `figures`: "count", "limit", "hours_left", "count_at_reading",
// "longest_hours", "estimated_hours", "estimated_hours_late". `advice`: key_of(SouringAdvice), or of a plan
// "souring_plan_too_slow", "souring_more_sugar".
std::vector<Finding> souring_findings(const Subject& subject);

}  // namespace saltrafter::safety
