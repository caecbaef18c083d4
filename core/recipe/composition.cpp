#include "core/recipe/composition.h"

#include <algorithm>
#include <cmath>

namespace saltrafter::recipe {

Composition operator+(const Composition& a, const Composition& b) {
  Composition sum;
  sum.water_g = a.water_g + b.water_g;
  sum.protein_g = a.protein_g + b.protein_g;
  sum.fat_g = a.fat_g + b.fat_g;
  sum.salt_g = a.salt_g + b.salt_g;
  sum.rest_g = a.rest_g + b.rest_g;
  sum.sugar_g = a.sugar_g + b.sugar_g;
  return sum;
}

Composition operator*(const Composition& a, double factor) {
  Composition scaled;
  scaled.water_g = a.water_g * factor;
  scaled.protein_g = a.protein_g * factor;
  scaled.fat_g = a.fat_g * factor;
  scaled.salt_g = a.salt_g * factor;
  scaled.rest_g = a.rest_g * factor;
  scaled.sugar_g = a.sugar_g * factor;
  return scaled;
}

Composition after_loss(const Composition& now, double loss) {
  Composition later = now;
  if (!(loss > 0.0)) return later;  // also where loss is no number
  later.water_g = std::max(0.0, now.water_g - std::min(loss, 1.0) * now.total_g());
  return later;
}

double moisture_protein_ratio(const Composition& c) {
  return c.protein_g > 0.0 ? c.water_g / c.protein_g : 0.0;
}

double water_phase_salt(const Composition& c) {
  const double brine_g = c.salt_g + c.water_g;
  return brine_g > 0.0 ? c.salt_g / brine_g : 0.0;
}

double loss_for_moisture_protein_ratio(const Composition& now, double ratio) {
  const double total_g = now.total_g();
  if (!(total_g > 0.0) || !(ratio >= 0.0)) return 0.0;
  return std::max(0.0, (now.water_g - ratio * now.protein_g) / total_g);
}

}  // namespace saltrafter::recipe
