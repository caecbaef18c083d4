// Where an axis of values is marked: few and round.
#pragma once

#include <vector>

namespace saltrafter::figure {

// The smallest of 1, 2 or 5 times a power of ten that cuts `span` into at most `most` parts. 1 for a span
// that is not above 0 or a `most` below 1.
double nice_step(double span, int most);

// Multiples of `step` from `low` to `high`, ends included.
std::vector<double> ticks(double low, double high, double step);

}  // namespace saltrafter::figure
