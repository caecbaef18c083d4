// The water activity that a composition is thought to have, with its error; and the bound it cannot pass.
#pragma once

#include <vector>

#include "core/base/base.h"
#include "core/recipe/composition.h"
#include "core/recipe/isotherm.h"
#include "core/recipe/recipe_types.h"
#include "core/recipe/scale.h"

namespace saltrafter::recipe {

// What else is dissolved beside salt: mol of particles in the mix. Sugars, lactate, nitrite and nitrate, and what
// meat brings of its own.
struct Solutes {
  double sugar_mol = 0.0;
  double lactate_mol = 0.0;
  double curing_mol = 0.0;
};

// Of a sheet: sugar as dextrose, turned into lactate where the recipe is soured (two mol from one; choice: all of it),
// nitrite and nitrate as ions.
Solutes solutes_of(const Recipe& recipe, const Sheet& sheet);

// A measured value beside what it was measured on, of finished batches.
struct MeasuredActivity {
  Composition composition;
  Solutes solutes;
  WaterActivity measured;
};

struct ActivityEstimate {
  WaterActivity likely;
  // Half the width meant to hold 9 times in 10 (choice; 8 of the 10 published cases of the tests lie within).
  double error = 0.02;
  WaterActivity at_most;  // brine alone: a bound from above, for warnings and findings
  int learnt_from = 0;   // measured values that moved `likely`
};

// How strongly the solids hold water, and what they bring dissolved of their own.
struct Holding {
  double theta = 0.3;         // share of the sorption curve of proteins and rest, 0..1
  double osmol_per_kg = 1.4;  // mol of particles per kg of proteins and rest, 0..5
};
// Constants activity.theta and activity.osmol: fresh and fermented meat.
Holding usual_holding();

// Water held by proteins (GAB), salt (brine) and other solutes (ideal). With measured values of the same kind
// of product the estimate moves by their mean difference, drawn towards none by the model's own error, and
// its error narrows, never below that of one measurement; never above `at_most`. Measured values outside
// 0..1, or on what has no estimate, are left out.
// Errors: those of Isotherm::make; out_of_range for water below none.
Result<ActivityEstimate> estimate_activity(const Composition& composition, const Solutes& solutes,
                                           const std::vector<MeasuredActivity>& learnt = {});

// The isotherm behind the estimate, for the forecast of the same mix. What stands in `solutes` is not counted
// once more among the solids.
Result<Isotherm> isotherm_of(const Composition& composition, const Solutes& solutes,
                             const Holding& holding = usual_holding());

// Brine alone: what its salt leaves of the water's activity; that of saturated brine where there is more.
WaterActivity activity_at_most(const Composition& composition);

// Sugars' activity alone, by Norrish; grams in 100 g of water, 0 and more. Constants from memory.
enum class SugarKind { glucose, sucrose };
WaterActivity sugar_activity(SugarKind kind, double g_per_100_g_water);

// A quick look by Grover's sum of salt per water; only for sums of 0.6..10, else out_of_range ("grover").
Result<WaterActivity> grover_activity(double salt_g, double water_g);

}  // namespace saltrafter::recipe
