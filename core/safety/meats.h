// What meat is in a recipe: its recorded lots, and the lines of which no lot is recorded. Internal to safety.
#pragma once

#include <optional>
#include <vector>

#include "core/recipe/recipe.h"
#include "core/safety/evidence.h"

namespace saltrafter::safety {

// A lot, or a line of the recipe that none covers.
struct Meat {
  Id about;                                // of the lot, else of the line
  const MeatLot* lot = nullptr;            // nullptr: nothing is recorded
  std::optional<tables::Species> species;  // nothing: the maker's own cut, not in the tables
  bool wild = false;                       // of a lot; or a cut of wild boar
  bool liver = false;
};

// Lots first, in their order, then lines in theirs. Where a lot and the cut of its line name two animals, the
// one with more to fear counts: horse and game before pork, pork before the others.
std::vector<Meat> meats_of(const recipe::Recipe& recipe, const Evidence& evidence);

}  // namespace saltrafter::safety
