#include "core/recipe/materials.h"

#include <algorithm>

#include "core/tables/tables.h"

namespace saltrafter::recipe {
namespace {

constexpr double kMostParts = 1.05;  // food tables measure each part by itself

// Figures rounded in their source may add to a little more than 1; what they leave open is rest.
Composition made_whole(Composition parts) {
  parts.rest_g += std::max(0.0, 1.0 - parts.total_g());
  return parts * (1.0 / parts.total_g());
}

Composition one_gram(double water, double protein, double fat, double salt, double sugar) {
  Composition parts;
  parts.water_g = water;
  parts.protein_g = protein;
  parts.fat_g = fat;
  parts.salt_g = salt;
  parts.sugar_g = sugar;
  return made_whole(parts);
}

std::optional<Composition> table_parts(LineKind kind, std::string_view key) {
  switch (kind) {
    case LineKind::meat: return cut_parts(key);
    case LineKind::salt:
    case LineKind::cure: return std::nullopt;
    case LineKind::culture:
      if (const std::optional<Composition> parts = culture_parts(key)) return parts;
      break;
    case LineKind::additive: break;
  }
  return additive_parts(key);
}

// An own row holds for lines of its kind alone: a cut is no additive.
bool is_for(const Supply& supply, LineKind kind) {
  switch (kind) {
    case LineKind::meat: return supply.kind == SupplyKind::cut;
    case LineKind::salt:
    case LineKind::cure: return false;
    case LineKind::culture: return supply.kind == SupplyKind::culture || supply.kind == SupplyKind::additive;
    case LineKind::additive: break;
  }
  return supply.kind == SupplyKind::additive;
}

const Supply* own_row(const Line& line, const Supplies& supplies) {
  if (line.material.empty()) return nullptr;
  const Supply* supply = find_supply(supplies, line.material);
  return supply != nullptr && is_for(*supply, line.kind) ? supply : nullptr;
}

}  // namespace

std::optional<Composition> cut_parts(std::string_view key) {
  const tables::Cut* cut = tables::find_cut(key);
  if (cut == nullptr) return std::nullopt;
  return one_gram(cut->water, cut->protein, cut->fat, 0.0, 0.0);
}

std::optional<Composition> additive_parts(std::string_view key) {
  const tables::Additive* additive = tables::find_additive(key);
  if (additive == nullptr) return std::nullopt;
  return one_gram(additive->water, additive->protein, additive->fat, additive->salt, additive->sugar);
}

std::optional<Composition> culture_parts(std::string_view key) {
  if (tables::find_culture(key) == nullptr) return std::nullopt;
  return additive_parts("starter_culture");
}

std::optional<Composition> parts_of_line(const Line& line, const Supplies& supplies) {
  if (const Supply* supply = own_row(line, supplies)) {
    if (supply->parts && can_be_parts(*supply->parts)) return made_whole(*supply->parts);
    if (const std::optional<Composition> parts = table_parts(line.kind, supply->replaces)) return parts;
  } else if (const std::optional<Composition> parts = table_parts(line.kind, line.material)) {
    return parts;
  }
  if (line.parts && can_be_parts(*line.parts)) return made_whole(*line.parts);
  return std::nullopt;
}

bool is_known(const Line& line, const Supplies& supplies) {
  return own_row(line, supplies) != nullptr || table_parts(line.kind, line.material).has_value();
}

std::string_view table_key(const Line& line, const Supplies& supplies) {
  const Supply* supply = own_row(line, supplies);
  return supply != nullptr && !supply->replaces.empty() ? std::string_view(supply->replaces)
                                                        : std::string_view(line.material);
}

bool can_be_parts(const Composition& parts) {
  for (const double part :
       {parts.water_g, parts.protein_g, parts.fat_g, parts.salt_g, parts.rest_g, parts.sugar_g}) {
    if (!(part >= 0.0 && part <= kMostParts * 1.1)) return false;
  }
  return parts.total_g() <= kMostParts;
}

}  // namespace saltrafter::recipe
