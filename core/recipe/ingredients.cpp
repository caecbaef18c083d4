#include <algorithm>

#include "core/recipe/cost.h"

namespace saltrafter::recipe {
namespace {

void join(tables::AllergenSet& to, tables::AllergenSet more) {
  to.bits = static_cast<std::uint16_t>(to.bits | more.bits);
}

// The row of the tables that speaks of a line's allergens; `key` is the material, or what an own row stands
// for.
const tables::Additive* additive_of(LineKind kind, std::string_view key) {
  // What carries a culture is the same whatever lives on it.
  if (kind == LineKind::culture && tables::find_culture(key) != nullptr)
    return tables::find_additive("starter_culture");
  return tables::find_additive(key);
}

// What a line holds. False where nothing is known of its material.
bool add_line(const Line& line, const Supplies& supplies, AllergensFound& found) {
  const Supply* supply = find_supply(supplies, line.material);
  if (supply != nullptr) join(found.holds, supply->allergens);
  const std::string_view key = supply != nullptr ? std::string_view(supply->replaces) : line.material;
  const tables::Additive* row = additive_of(line.kind, key);
  if (row != nullptr) {
    join(found.holds, row->allergens);
    join(found.possible, row->allergens_possible);
  }
  // Salt, and the salts of a curing mix, hold none by their nature; nor does meat that has a row.
  if (line.kind == LineKind::salt || line.kind == LineKind::cure) return true;
  return supply != nullptr || row != nullptr || tables::find_cut(key) != nullptr;
}

}  // namespace

std::vector<Ingredient> ingredients_by_weight(const Sheet& sheet) {
  std::vector<Ingredient> out;
  for (const SheetLine& line : sheet.lines) {
    if (!(line.weighed.value > 0.0)) continue;
    const std::string& name = line.name.empty() ? line.material : line.name;
    const auto same =
        std::find_if(out.begin(), out.end(), [&name](const Ingredient& other) { return other.name == name; });
    if (same != out.end()) {
      same->mass = same->mass + line.weighed;
    } else {
      out.push_back({name, line.weighed, 0.0});
    }
  }
  for (Ingredient& ingredient : out) {
    ingredient.share = sheet.total.value > 0.0 ? ingredient.mass / sheet.total : 0.0;
  }
  std::sort(out.begin(), out.end(), [](const Ingredient& a, const Ingredient& b) {
    if (a.mass != b.mass) return a.mass > b.mass;
    return a.name < b.name;
  });
  return out;
}

AllergensFound allergens_of(const Recipe& recipe, const Supplies& supplies) {
  AllergensFound found;
  for (const Line& line : recipe.lines) {
    if (!add_line(line, supplies, found)) {
      found.unknown.push_back(line.name.empty() ? line.material : line.name);
    }
  }
  for (const std::string& key : {recipe.mix.supply, recipe.casing}) {
    const Supply* supply = find_supply(supplies, key);
    if (supply != nullptr) join(found.holds, supply->allergens);
  }
  found.possible.bits = static_cast<std::uint16_t>(found.possible.bits & ~found.holds.bits);
  return found;
}

}  // namespace saltrafter::recipe
