// Recipes to begin with: invented, all of them data that the maker changes.
#pragma once

#include <vector>

#include "core/base/base.h"
#include "core/recipe/recipe_types.h"

namespace saltrafter::recipe {

// One meat line, salt at 26 g/kg and a cure line at 110 mg/kg with a 6.25 % mix; ids from `ports`.
Recipe new_recipe(const Ports& ports);

// Twelve, each with its method and stages: five minced (three salami, a stick, a spread), seven whole muscles
// (in the bag, in the salt box, in a brine). Each is within the strictest limits of the tables for ingoing
// nitrite. Amounts are common practice (choice), ids come from `ports`.
std::vector<Recipe> starter_recipes(const Ports& ports);

}  // namespace saltrafter::recipe
