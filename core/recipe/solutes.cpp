#include "core/recipe/activity.h"

namespace saltrafter::recipe {
namespace {

constexpr double kDextroseGMol = 180.156;
constexpr double kNitriteGMol = 68.995;   // NaNO2
constexpr double kNitrateGMol = 84.995;   // NaNO3
constexpr double kIonsOfSalt = 2.0;
constexpr double kLactatePerDextrose = 2.0;

}  // namespace

Solutes solutes_of(const Recipe& recipe, const Sheet& sheet) {
  Solutes solutes;
  const double dextrose_mol = sheet.composition.sugar_g / kDextroseGMol;
  if (recipe.wanted_ph) {
    solutes.lactate_mol = kLactatePerDextrose * dextrose_mol;
  } else {
    solutes.sugar_mol = dextrose_mol;
  }
  const double base_kg = sheet.curing_base.value / 1000.0;
  solutes.curing_mol = kIonsOfSalt * base_kg * 1e-3 *
                       (sheet.nitrite.value / kNitriteGMol + sheet.nitrate.value / kNitrateGMol);
  return solutes;
}

}  // namespace saltrafter::recipe
