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

}  // namespace saltrafter::recipe
