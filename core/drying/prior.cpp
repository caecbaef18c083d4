#include "core/drying/prior.h"

#include <algorithm>
#include <cmath>

namespace saltrafter::drying {

namespace {

constexpr double kLeastSd = 0.15;  // choice: no chamber is known better
constexpr double kMostLn = 2.0;    // no batch is believed to be further off

bool counts(const FinishedBatch& batch, Kind kind) {
  if (batch.kind != kind || batch.held || batch.odd || batch.extrapolated) {
    return false;
  }
  for (std::size_t k = 0; k < 2; ++k) {
    if (!(std::abs(batch.ln_factor[k]) <= kMostLn) || !(batch.sd[k] > 0.0 && batch.sd[k] <= 10.0)) {
      return false;
    }
  }
  return true;
}

double square(double v) { return v * v; }

}  // namespace

TaughtPrior posterior_prior(const std::vector<FinishedBatch>& batches, Kind kind, const FactorPrior& first,
                            const ChangeSpread& changes) {
  TaughtPrior out;
  out.prior = first;
  for (const FinishedBatch& batch : batches) {
    out.taught_by += counts(batch, kind) ? 1 : 0;
  }
  if (out.taught_by == 0) {
    return out;
  }
  for (std::size_t k = 0; k < 2; ++k) {
    // What all batches of the chamber have in common; the first prior is that and one batch's own together.
    const double own = std::min(square(kBatchToBatch.value), 0.5 * square(first.batch_sd[k]));
    const double common = square(first.batch_sd[k]) - own;
    double precision = 1.0 / common;
    double pull = first.mean[k] / common;
    for (const FinishedBatch& batch : batches) {
      if (!counts(batch, kind)) {
        continue;
      }
      const double changed = (batch.other_fan ? square(changes.fan_sd[k]) : 0.0) +
                             (batch.other_cooler ? square(changes.cooler_sd[k]) : 0.0) +
                             (batch.other_layout ? square(changes.layout_sd[k]) : 0.0) +
                             (batch.other_season ? square(changes.season_sd[k]) : 0.0);
      // A batch's fit leaned on its own prior: what its weighings alone say is wider, and further out.
      const double fitted = std::min(square(batch.sd[k]), 0.99 * square(first.batch_sd[k]));
      const double alone = 1.0 / (1.0 / fitted - 1.0 / square(first.batch_sd[k]));
      const double value =
          alone * (batch.ln_factor[k] / fitted - first.mean[k] / square(first.batch_sd[k]));
      const double weight = 1.0 / (alone + own + changed);
      precision += weight;
      pull += weight * std::clamp(value, -kMostLn, kMostLn);
    }
    out.prior.mean[k] = pull / precision;
    out.prior.batch_sd[k] = std::clamp(std::sqrt(1.0 / precision + own), kLeastSd, std::max(first.batch_sd[k], kLeastSd));
  }
  return out;
}

}  // namespace saltrafter::drying
