// What puts a slip of the scale right: more meat for too much curing mix, more mix for too little.
#pragma once

#include <optional>

#include "core/base/base.h"
#include "core/recipe/recipe_types.h"
#include "core/recipe/scale.h"

namespace saltrafter::recipe {

struct Mend {
  Grams meat;  // to add, rounded up to the scale; 0: none needed
  Grams mix;   // to add, rounded down to the scale; 0: none needed
  Grams salt;  // plain salt to add for the salt wanted, after the above; rounded up to the scale
};

// For a sheet on weights really put in. Too much is above the dose wanted by more than a twentieth (choice), too
// little is under it by as much. Nothing where the dose is as wanted, where no mix is in, or in a brine, which is
// put right by another brine.
std::optional<Mend> mend(const Recipe& recipe, const Sheet& weighed, const Scales& scales = {});

// The most mix for which the dose of nitrite stays within `most` (as NaNO2), rounded down to the scale.
Grams most_mix(const Recipe& recipe, const Sheet& sheet, Ppm most, const Scales& scales = {});

}  // namespace saltrafter::recipe
