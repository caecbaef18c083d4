// safety: published limits held against a recipe, as findings. Arithmetic, not permission.
//
// There is no overall mark of approval, and what is not recorded is not known. The forecast is drying's.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "core/base/base.h"
#include "core/recipe/recipe.h"
#include "core/safety/finding.h"  // what a finding says
#include "core/safety/judge.h"    // the five words

namespace saltrafter::safety {

// A water activity with all that it needs to prove anything.
struct WaterActivityFound {
  WaterActivity value;
  Place place = Place::core;
  Way way = Way::estimate;
  std::string site;  // where the sample was taken; empty: not stated
};

// All findings for a recipe scaled to `sheet`, on the day `today`, in this order: the ceiling of 625 mg/kg,
// limits of curing salts (those that decide first, then by rule and row), fermentation, parasites, water
// activity.
//
// Curing salts: rows of the limits table for the recipe's product class that hold on `today`. Of a chosen
// jurisdiction all decide; otherwise of each rule the strictest one, and the others are listed. Residual
// limits are judged on analysis: not_known here. Amounts are of the mix as weighed, give or take half a scale
// step.
// Water activity: without `water_activity` the brine bound of the mean at the recipe's wanted loss stands
// there; only a measured one in the core, or one whose site is stated, is judged.
// Source: each finding names its own.
std::vector<Finding> findings(const recipe::Recipe& recipe, const recipe::Sheet& sheet, Chosen chosen,
                              Date today,
                              const std::optional<WaterActivityFound>& water_activity = std::nullopt);

}  // namespace saltrafter::safety
