// What a scale shows of a mass.
#include <algorithm>
#include <cmath>

#include "core/recipe/scale.h"

namespace saltrafter::recipe {
namespace {

// Thresholds are compared after rounding away binary noise.
constexpr double kNoise = 1e-9;

double step_g(double mass_g, const Scales& scales) {
  const bool fine = mass_g < scales.fine_most.value - kNoise;
  const double step = (fine ? scales.fine_step : scales.coarse_step).value;
  if (step > 0.0 && std::isfinite(step)) return step;
  const Scales usual;
  return (fine ? usual.fine_step : usual.coarse_step).value;
}

// Whole steps of a scale in grams. Below a gram one divides by the steps in a gram, which are a whole number.
double grams_of(double steps, double step) { return step < 1.0 ? steps / (1.0 / step) : steps * step; }
double steps_in(double mass_g, double step) { return step < 1.0 ? mass_g * (1.0 / step) : mass_g / step; }

}  // namespace

Grams scale_step(Grams mass, const Scales& scales) { return Grams(step_g(mass.value, scales)); }

Grams as_weighed(Grams exact, const Scales& scales) {
  if (!(exact.value > 0.0)) return Grams(0.0);
  const double step = step_g(exact.value, scales);
  return Grams(grams_of(std::floor(steps_in(exact.value, step) + 0.5 + kNoise), step));
}

Grams as_weighed_at_most(Grams exact, const Scales& scales) {
  if (!(exact.value > 0.0)) return Grams(0.0);
  const double step = step_g(exact.value, scales);
  return Grams(grams_of(std::floor(steps_in(exact.value, step) + kNoise), step));
}

Grams as_weighed_at_least(Grams exact, const Scales& scales) {
  if (!(exact.value > 0.0)) return Grams(0.0);
  const double step = step_g(exact.value, scales);
  return Grams(grams_of(std::ceil(steps_in(exact.value, step) - kNoise), step));
}

}  // namespace saltrafter::recipe
