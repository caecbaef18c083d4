#include "core/recipe/pickle.h"

#include <algorithm>
#include <string>

#include "core/recipe/cure.h"

namespace saltrafter::recipe {
namespace {

constexpr double kNoise = 1e-9;
constexpr double kSaturated = 0.264;  // salt in a saturated brine, share; read in the references
constexpr double kSaturatedPerWater = kSaturated / (1.0 - kSaturated);

std::string amount_path(const Recipe& recipe, LineKind kind) {
  for (std::size_t i = 0; i < recipe.lines.size(); ++i) {
    if (recipe.lines[i].kind == kind) return "lines/" + std::to_string(i) + "/amount";
  }
  return "lines";
}

double amount_of(const Recipe& recipe, LineKind kind) {
  const Line* line = first_of(recipe, kind);
  return line != nullptr ? line->amount : 0.0;
}

Error brine_too_little(const Recipe& recipe, const MeatBase& base, double least_g) {
  const double least = std::min(least_g * 1e3 / base.meat_g, kMostBrineGPerKg);
  return out_of_range("brine/g_per_kg", recipe.brine->g_per_kg, least, kMostBrineGPerKg, "g/kg");
}

Error pick_up_too_little(const Recipe& recipe, double least) {
  return out_of_range("brine/pick_up", recipe.brine->pick_up, std::min(least, kMostPickUp), kMostPickUp, "1");
}

}  // namespace

Result<Pickle> pickle_of(const Recipe& recipe, const MeatBase& base, const PickleParts& parts) {
  const Brine& brine = *recipe.brine;
  const double pick_up_g = brine.pick_up * base.meat_g;
  Pickle pickle;
  pickle.equalised = brine.days.value >= kEqualisedFrom.value - kNoise;
  pickle.mass_g = brine.g_per_kg * 1e-3 * base.meat_g;
  if (!pickle.equalised && !(pick_up_g > 0.0)) {
    return pick_up_too_little(recipe, 0.01);
  }
  pickle.base_g = pickle.equalised ? base.dose_g + pickle.mass_g : pickle.mass_g / brine.pick_up;

  const Grams mix = mix_for(Ppm(amount_of(recipe, LineKind::cure)), Grams(pickle.base_g), recipe.mix);
  const double curing_salts_g = mix.value * (1.0 - sodium_chloride_share(recipe.mix));
  // Neither water nor salt: solids of the additives and the curing salts themselves.
  const double solids_g = curing_salts_g + parts.additive_g - parts.additive_water_g;
  const double wanted_g = amount_of(recipe, LineKind::salt) * 1e-3 * base.flesh_g;
  const double room_g = std::max(0.0, pickle.mass_g - solids_g);
  if (pickle.equalised) {
    if (!(parts.meat_water_g > 0.0)) {
      Error dry;
      dry.code = ErrorCode::missing;
      dry.field = "lines";
      return dry;
    }
    const double per_water = wanted_g / parts.meat_water_g;
    if (per_water >= kSaturatedPerWater - kNoise) {
      const double most = kSaturatedPerWater * parts.meat_water_g * 1e3 / base.flesh_g;
      return out_of_range(amount_path(recipe, LineKind::salt), amount_of(recipe, LineKind::salt), 0.0, most,
                          "g/kg");
    }
    pickle.salt_g = per_water * (parts.meat_water_g + room_g) / (1.0 + per_water);
    // Before it has evened out all of that salt is in the pickle's own water, and must dissolve there.
    const double least_water_g = per_water * parts.meat_water_g / (kSaturatedPerWater - per_water);
    const double least_g = least_water_g * (1.0 + kSaturatedPerWater) + solids_g;
    if (pickle.mass_g < least_g - kNoise) {
      return brine_too_little(recipe, base, least_g);
    }
  } else {
    pickle.salt_g = wanted_g * pickle.mass_g / pick_up_g;
    if (pickle.salt_g > kSaturated * room_g + kNoise) {
      const double most_g = kSaturated * room_g * base.meat_g;
      const double least = most_g > 0.0 ? wanted_g * pickle.mass_g / most_g : kMostPickUp;
      return pick_up_too_little(recipe, least);
    }
  }
  pickle.water_g = room_g - pickle.salt_g;
  pickle.plain_water_g = pickle.water_g - parts.additive_water_g;
  if (!(pickle.plain_water_g >= 0.0)) {
    const double least_g = pickle.mass_g - pickle.plain_water_g;
    return brine_too_little(recipe, base, least_g);
  }
  return pickle;
}

double taken_up(const Recipe& recipe, const MeatBase& base, const Pickle& pickle, double meat_water_g) {
  if (pickle.equalised) {
    const double water_g = meat_water_g + pickle.water_g;
    return water_g > 0.0 ? meat_water_g / water_g : 0.0;
  }
  return pickle.mass_g > 0.0 ? std::min(1.0, recipe.brine->pick_up * base.meat_g / pickle.mass_g) : 0.0;
}

}  // namespace saltrafter::recipe
