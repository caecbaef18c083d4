// When all pieces of a batch that hang have what is wanted.
//
// They are neither independent nor one. Common to all is how far the batch's own factor is from what the fit makes of
// it, the model's error of time (forecast.h, kTimeDiscrepancy) and ahead of the last weighing, and what is not known of
// the needed loss; each piece's own is how far its factors lie from the batch's. Between two pieces the logarithms of
// the day are taken to be correlated by one number, the mean over all pairs (Forecast::together): each is then
// sqrt(together) of one common normal and sqrt(1 - together) of its own, and the odds of all of them are an integral
// over the common one.
#pragma once

#include <optional>

#include "core/base/base.h"
#include "core/drying/forecast.h"

namespace saltrafter::drying {

// The odds, 0..1, that every piece that hangs has all that is wanted by this day; nothing where none hangs, or one of
// them has no likely day.
std::optional<double> odds_of_all(const Forecast& forecast, Days day);

// By which days; nothing as above.
std::optional<AllDays> days_of_all(const Forecast& forecast);

}  // namespace saltrafter::drying
