// Where an axis is marked: few, round, and civil days.
#pragma once

#include <vector>

namespace saltrafter::figure {

// The smallest of 1, 2 or 5 times a power of ten that cuts `span` into at most `most` parts. 1 for a span
// that is not above 0 or a `most` below 1.
double nice_step(double span, int most);

// Multiples of `step` from `low` to `high`, ends included.
std::vector<double> ticks(double low, double high, double step);

// Days between labels on a time axis of `days` days with room for `most` labels: 1, 2, 7, 14, 28, 56 ...
int day_step(double days, int most);

}  // namespace saltrafter::figure
