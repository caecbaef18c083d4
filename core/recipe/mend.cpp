#include "core/recipe/mend.h"

#include <algorithm>
#include <cmath>

namespace saltrafter::recipe {
namespace {

constexpr double kSlipShare = 0.05;

Grams rounded_up(Grams exact, const Scales& scales) {
  const double step_g = scale_step(exact, scales).value;
  return Grams(std::ceil(exact.value / step_g - 1e-9) * step_g);
}

}  // namespace

std::optional<Mend> mend(const Recipe& recipe, const Sheet& weighed, const Scales& scales) {
  if (recipe.method == CureMethod::brine) return std::nullopt;
  const double wanted_ppm = weighed.nitrite_wanted.value;
  if (!(weighed.mix.value > 0.0) || !(wanted_ppm > 0.0) || !(recipe.mix.nitrite > 0.0)) return std::nullopt;
  const double found_ppm = weighed.nitrite.value;
  const double base_g = weighed.curing_base.value;
  Mend out;
  double meat_g = weighed.meat.value;
  double mix_g = weighed.mix.value;
  if (found_ppm > wanted_ppm * (1.0 + kSlipShare)) {
    // The doses count on the part of the meat that takes salt: as much of what is added does.
    const double more_base_g = base_g * (found_ppm / wanted_ppm - 1.0);
    out.meat = rounded_up(Grams(more_base_g * weighed.meat.value / base_g), scales);
    meat_g += out.meat.value;
  } else if (found_ppm < wanted_ppm * (1.0 - kSlipShare)) {
    out.mix = as_weighed_at_most(Grams(mix_g * (wanted_ppm / found_ppm - 1.0)), scales);
    mix_g += out.mix.value;
  } else {
    return std::nullopt;
  }
  const double salt_wanted_g = weighed.salt_wanted.value * meat_g / weighed.meat.value;
  double salt_in_g = mix_g * sodium_chloride_share(recipe.mix);
  for (const SheetLine& line : weighed.lines) {
    if (line.kind == LineKind::salt) salt_in_g += line.weighed.value;
  }
  out.salt = as_weighed_at_least(Grams(std::max(0.0, salt_wanted_g - salt_in_g)), scales);
  return out;
}

Grams most_mix(const Recipe& recipe, const Sheet& sheet, Ppm most, const Scales& scales) {
  if (!(sheet.nitrite.value > 0.0) || !(sheet.mix.value > 0.0)) {
    return as_weighed_at_most(mix_for(most, sheet.curing_base, recipe.mix), scales);
  }
  return as_weighed_at_most(Grams(sheet.mix.value * most.value / sheet.nitrite.value), scales);
}

}  // namespace saltrafter::recipe
