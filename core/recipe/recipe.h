// recipe: what a maker mixes, for how much meat, and what it is made of.
//
// A recipe is data of the maker; this module reads no limits of law (safety) and forecasts nothing (drying).
#pragma once

#include "core/recipe/activity.h"      // water activity of a composition, with its error
#include "core/recipe/blend.h"         // cuts that meet wishes for fat, ratio and price
#include "core/recipe/brine.h"         // water activity of salt and water
#include "core/recipe/composition.h"   // parts of a mix by mass, and after a loss
#include "core/recipe/cost.h"          // cost, ingredient list, allergens, two recipes side by side
#include "core/recipe/cure.h"          // curing salts: salt and ion, doses, grams of a mix
#include "core/recipe/isotherm.h"      // water held at a water activity
#include "core/recipe/materials.h"     // what 1 g of a material is made of
#include "core/recipe/mend.h"          // what puts a slip of the scale right
#include "core/recipe/recipe_types.h"  // the recipe and its lines
#include "core/recipe/scale.h"         // the sheet: grams for the meat at hand, ingoing nitrite, composition
#include "core/recipe/starters.h"      // recipes to begin with
#include "core/recipe/supplies.h"      // the maker's own rows
#include "core/recipe/working.h"       // how a figure came about
