// A recipe for the meat at hand: what to weigh, and what comes of it.
//
// Limits are not judged here (module safety), except the one that no reason overrides.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "core/base/base.h"
#include "core/recipe/composition.h"
#include "core/recipe/cure.h"
#include "core/recipe/recipe_types.h"
#include "core/recipe/working.h"

namespace saltrafter::recipe {

struct SheetLine {
  Id id;  // of the recipe's line
  LineKind kind = LineKind::additive;
  std::string name;
  std::string material;
  double share_of_meat = 0.0;  // exact / meat
  Grams exact;                 // as computed. Salt: plain salt, without what the mix brings. Cure: the mix
  Grams weighed;               // as weighed: as_weighed(), the mix rounded down
  bool parts_known = true;     // false: the maker's own material, counted whole as `rest`
};

struct Sheet {
  Grams meat;
  std::vector<SheetLine> lines;  // in the recipe's order
  Grams total;                   // of all lines as weighed

  Grams salt_wanted;    // sodium chloride, all together
  Grams salt_from_mix;  // sodium chloride that the mix as weighed brings
  Grams mix;            // curing mix as weighed

  // Ingoing, per kg of meat, from the mix as weighed.
  Ppm nitrite;         // as NaNO2
  Ppm nitrite_ion;     // the same as NO2-
  Ppm nitrate;         // as NaNO3
  Ppm nitrate_ion;     // the same as NO3-
  Ppm nitrite_wanted;  // what the cure line asks for, as NaNO2

  Composition composition;  // of the whole mix as weighed

  // Set where the mix alone brings more sodium chloride than wanted (plain salt is then 0): out_of_range,
  // field the salt line, `found` what is wanted and `low` what the mix brings, g/kg of meat.
  std::optional<Error> too_salty;
  // Set where ingoing nitrite, wanted or weighed, is above kNitriteCeiling: refused, field "nitrite_ceiling",
  // `found` and `high` in mg/kg as NaNO2. Such a sheet may be shown, not weighed out, printed or shared.
  std::optional<Error> refused;
};

// The most that is weighed out at once. Choice: a kitchen.
inline constexpr Grams kMostMeat{1.0e6};

// The step of a kitchen scale at a mass: 0.1 g below 1 kg, 1 g from there (choice).
Grams scale_step(Grams mass);

// To that step. Never negative; 0 where the mass is no number.
Grams as_weighed(Grams exact);

// The same, rounded down: a curing mix is never weighed above the dose asked for.
Grams as_weighed_at_most(Grams exact);

// Scales a recipe to a mass of meat (g, above 0 and up to kMostMeat). With `working`, adds the lines behind
// the nitrite figure.
// Errors by field path, `lines/3/amount`: out_of_range (meat, an amount, a mix's strength, `wanted_loss`
// outside 0.01..0.90, `casing_diameter` outside 0.01..0.5 m; field "lines": shares of meat that do not add to
// 1 within 0.0005), missing (no meat line; a meat line without material; field "mix/nitrite": a dose without
// nitrite in the mix), not_found (unknown material), duplicate_key (a second salt or cure line).
// Source: FSIS Calculations Handbook (1995) chapter 3 for the dose, mass balance for the rest.
Result<Sheet> scale(const Recipe& recipe, Grams meat, Working* working = nullptr);

// What the recipe's lines alone are allowed to be, whatever the meat; the checks that `scale` makes.
Result<Done> check_recipe(const Recipe& recipe);

// Whether a sheet may be weighed out, printed or shared: its `refused` otherwise.
Result<Done> may_be_used(const Sheet& sheet);

// The composition of the sheet's mix after `loss` (0..1 of its mass) has left as water.
Composition finished(const Sheet& sheet, double loss);

}  // namespace saltrafter::recipe
