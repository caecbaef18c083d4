#include "core/recipe/supplies.h"

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

}  // namespace saltrafter::recipe
