// How far one reading of the scale may be off.
#pragma once

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

}  // namespace saltrafter::drying
