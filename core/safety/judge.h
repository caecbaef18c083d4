// From a figure and a limit to one of the five words.
#pragma once

#include <optional>

#include "core/safety/finding.h"

namespace saltrafter::safety {

struct Judged {
  Level level = Level::not_known;
  double margin = 0.0;  // positive on the right side
};

// `uncertainty` is half the width of the interval that the value stands for, in its unit, 0 or more.
// Near: on the right side within `near_margin` (the limit's unit), exactly at it, or with the uncertainty
// across. Where the limit's figure is no evidence (practice, memory, choice) nothing is met: not_known within
// it, not_met beyond. Compared after rounding to 1e-9. A value or limit that is no number: not_known.
Judged judge(double value, double limit, tables::LimitSense sense, tables::Known known, double near_margin,
             double uncertainty = 0.0);

// The margin of a rule that has none of its own: 5 % of the limit (choice).
double usual_near_margin(double limit);

}  // namespace saltrafter::safety
