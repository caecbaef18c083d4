// What a chamber's finished batches say of the next one: the prior of its factors, a class of product at a time.
#pragma once

#include <array>
#include <vector>

#include "core/drying/body.h"
#include "core/drying/fit.h"

namespace saltrafter::drying {

// A batch that was taken down, by what its own weighings said in the end (Forecast::batch_ln_factor, batch_sd).
struct FinishedBatch {
  Kind kind = Kind::minced;
  std::array<double, 2> ln_factor{};  // inner, outer, fitted with a new chamber's prior
  std::array<double, 2> sd{};         // of these, > 0
  // Left out where one of these holds.
  bool held = false;          // kept back on purpose: its days say nothing
  bool odd = false;           // faults, a broken cooler, a wetted or trimmed piece
  bool extrapolated = false;  // taken down long before what was wanted, or long after the last weighing
  // What has changed in the chamber between this batch and the one to come; each makes it count for less.
  bool other_fan = false, other_cooler = false, other_layout = false, other_season = false;
};

// Variance of ln factor that each change adds to what a batch says; inner, outer. Choice: a fan or a layout works on
// the film, a cooler and a season on the air's humidity, and so on both.
struct ChangeSpread {
  std::array<double, 2> fan_sd{0.0, 0.30};
  std::array<double, 2> cooler_sd{0.10, 0.25};
  std::array<double, 2> layout_sd{0.0, 0.20};
  std::array<double, 2> season_sd{0.05, 0.15};
};

// From one batch to the next in an unchanged chamber, of ln factor: meat, hand, load. Choice.
inline constexpr Assumption kBatchToBatch{"drying.batch_to_batch_sd", 0.15, "", "choice", 0.10, 0.25};

// The prior for a batch of this kind: the first prior (a new chamber's) taught by each finished batch of the kind,
// weighed by how sure it was and by what has changed since. Its sd is what the chamber still leaves open and what one
// batch differs from the next, together never under 0.15. Batches whose figures are none (not finite, sd not above 0)
// are left out. `taught_by`: how many counted.
struct TaughtPrior {
  FactorPrior prior;
  int taught_by = 0;
};
TaughtPrior posterior_prior(const std::vector<FinishedBatch>& batches, Kind kind, const FactorPrior& first = {},
                            const ChangeSpread& changes = {});

}  // namespace saltrafter::drying
