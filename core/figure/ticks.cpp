#include "core/figure/ticks.h"

#include <cmath>

namespace saltrafter::figure {

double nice_step(double span, int most) {
  if (!(span > 0.0) || !std::isfinite(span) || most < 1) return 1.0;
  const double wanted = span / most;
  const double power = std::pow(10.0, std::floor(std::log10(wanted)));
  for (const double k : {1.0, 2.0, 5.0, 10.0}) {
    if (k * power >= wanted * (1.0 - 1e-9)) return k * power;
  }
  return 10.0 * power;
}

std::vector<double> ticks(double low, double high, double step) {
  std::vector<double> at;
  if (!(step > 0.0) || !(high >= low) || (high - low) / step > 1000.0) return at;
  const double slack = 1e-9 * step;
  for (double k = std::ceil((low - slack) / step); k * step <= high + slack; k += 1.0) at.push_back(k * step);
  return at;
}

}  // namespace saltrafter::figure
