#include "core/recipe/materials.h"

#include <algorithm>

#include "core/tables/tables.h"

namespace saltrafter::recipe {
namespace {

Composition one_gram(double water, double protein, double fat, double salt) {
  Composition parts;
  parts.water_g = water;
  parts.protein_g = protein;
  parts.fat_g = fat;
  parts.salt_g = salt;
  parts.rest_g = std::max(0.0, 1.0 - water - protein - fat - salt);
  // Figures rounded in the source may add to a little more than 1.
  return parts * (1.0 / parts.total_g());
}

}  // namespace

std::optional<Composition> cut_parts(std::string_view key) {
  const tables::Cut* cut = tables::find_cut(key);
  if (cut == nullptr) return std::nullopt;
  return one_gram(cut->water, cut->protein, cut->fat, 0.0);
}

std::optional<Composition> additive_parts(std::string_view key) {
  const tables::Additive* additive = tables::find_additive(key);
  if (additive == nullptr) return std::nullopt;
  return one_gram(additive->water, additive->protein, additive->fat, additive->salt);
}

}  // namespace saltrafter::recipe
