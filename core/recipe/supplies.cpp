#include "core/recipe/supplies.h"

#include <algorithm>

namespace saltrafter::recipe {

const Supply* find_supply(const Supplies& supplies, std::string_view material) {
  if (material.empty()) return nullptr;
  for (const Supply& supply : supplies) {
    if (supply.key == material) return &supply;
  }
  for (const Supply& supply : supplies) {
    if (supply.replaces == material) return &supply;
  }
  return nullptr;
}

CuringMix mix_of(const Supply& supply) {
  CuringMix mix = supply.mix;
  mix.name = supply.name;
  mix.supply = supply.key;
  return mix;
}

Recipe by_packets(Recipe recipe, const Supplies& supplies) {
  const auto row = std::find_if(supplies.begin(), supplies.end(), [&recipe](const Supply& supply) {
    return supply.key == recipe.mix.supply && supply.kind == SupplyKind::curing_mix;
  });
  if (row != supplies.end()) {
    recipe.mix = mix_of(*row);
  } else {
    recipe.mix.supply.clear();
  }
  return recipe;
}

}  // namespace saltrafter::recipe
