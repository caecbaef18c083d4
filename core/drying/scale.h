// How far one reading of the scale may be off.
#pragma once

#include <array>

#include "core/base/base.h"
#include "core/drying/body.h"

namespace saltrafter::drying {

inline constexpr Assumption kScaleSd{"drying.scale_sd", 1.0, "g", "choice", 0.5, 5.0};
inline constexpr Assumption kStringSd{"drying.string_sd", 0.002, "", "choice", 0.001, 0.005};

// Scale, string and condensation together, g2; the second in proportion to the weight at hanging.
inline double weighing_variance_g2(Grams hung) {
  const double other_g = kStringSd.value * hung.value;
  return kScaleSd.value * kScaleSd.value + other_g * other_g;
}

// What a share of a bunch does not know of its piece, g2. A bunch of n pieces of one weight tells the mean of their
// losses and nothing of how far each lies from it: of a piece's own spread s2 (by the piece factors, through the slope
// of its loss) there is (1 - 1/n) s2 left. A row of variance v leaves s2 v / (s2 + v), which is that for
// v = (n - 1) s2. Of the batch n such rows then tell as much as one piece weighed by itself: less than they might.
inline double share_variance_g2(Grams hung, int of, const std::array<double, 2>& loss_slope,
                                const std::array<double, 2>& piece_sd) {
  double spread = 0.0;
  for (std::size_t k = 0; k < 2; ++k) {
    spread += loss_slope[k] * loss_slope[k] * piece_sd[k] * piece_sd[k];
  }
  return (of - 1) * spread * hung.value * hung.value;
}

}  // namespace saltrafter::drying
