#include "core/recipe/cost.h"

#include <algorithm>
#include <numbers>

#include "core/recipe/constant.h"

namespace saltrafter::recipe {
namespace {

// Which of the maker's rows prices a line: that of its material, of the curing mix its packet.
const Supply* supply_of(const Recipe& recipe, const SheetLine& line, const Supplies& supplies) {
  if (line.kind == LineKind::cure) return find_supply(supplies, recipe.mix.supply);
  if (line.kind == LineKind::salt && line.material.empty()) return find_supply(supplies, "salt");
  return find_supply(supplies, line.material);
}

// kg in a metre filled firmly to the recipe's diameter: between the row's two by the square of the diameter,
// beyond them from the nearer one; without a row by geometry.
double firm_kg_per_metre(const Recipe& recipe) {
  const double d_m = recipe.casing_diameter.value;
  const tables::Casing* row = is_flat(recipe.form) ? nullptr : tables::find_casing(recipe.casing);
  if (row != nullptr) {
    const double low_m = row->diameter_low.value;
    const double high_m = row->diameter_high.value;
    if (d_m <= low_m) return row->filling_low * (d_m / low_m) * (d_m / low_m);
    if (d_m >= high_m) return row->filling_high * (d_m / high_m) * (d_m / high_m);
    const double share = (d_m * d_m - low_m * low_m) / (high_m * high_m - low_m * low_m);
    return row->filling_low + share * (row->filling_high - row->filling_low);
  }
  if (!is_flat(recipe.form)) return constant("meat.density").value * std::numbers::pi / 4.0 * d_m * d_m;
  const double length_m = recipe.piece_length.value;
  return length_m > 0.0 ? 1e-3 * piece_mass(recipe).value / length_m : 0.0;
}

}  // namespace

double casing_metres(const Recipe& recipe, const Sheet& sheet) {
  if (recipe.casing.empty() && recipe.product_class == ProductClass::whole_muscle_dry) return 0.0;
  const double kg_per_metre = constant("casing.fill").value * firm_kg_per_metre(recipe);
  return kg_per_metre > 0.0 ? std::max(0.0, 1e-3 * sheet.total.value) / kg_per_metre : 0.0;
}

Cost cost_of(const Recipe& recipe, const Sheet& sheet, const Supplies& supplies) {
  Cost out;
  const auto add = [&out](const Id& line, const Supply* supply, double amount, const std::string& name) {
    if (!(amount > 0.0)) return;
    if (supply == nullptr || !supply->price) {
      out.unpriced.push_back(name);
      return;
    }
    out.lines.push_back({line, amount * *supply->price});
    out.total += out.lines.back().cost;
  };
  for (const SheetLine& line : sheet.lines) {
    add(line.id, supply_of(recipe, line, supplies), 1e-3 * line.weighed.value,
        line.name.empty() ? line.material : line.name);
  }
  if (!recipe.casing.empty()) {
    add(Id{}, find_supply(supplies, recipe.casing), casing_metres(recipe, sheet), "casing");
  }
  const double green_kg = 1e-3 * sheet.meat.value;
  if (green_kg > 0.0) out.per_kg_green = out.total / green_kg;
  const double finished_kg = 1e-3 * finished(sheet, recipe.wanted_loss).total_g();
  if (finished_kg > 0.0) out.per_kg_finished = out.total / finished_kg;
  return out;
}

}  // namespace saltrafter::recipe
