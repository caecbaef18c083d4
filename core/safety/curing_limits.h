// Limits of nitrite and nitrate, row by row of the limits table. Internal to safety.
#pragma once

#include <vector>

#include "core/recipe/recipe.h"
#include "core/safety/finding.h"

namespace saltrafter::safety {

// The one limit that is no finding among others: above it `stop` is set.
Finding ceiling_finding(const recipe::Sheet& sheet);

// One finding a row that applies, those that decide first, then by rule and row id.
std::vector<Finding> curing_findings(const recipe::Recipe& recipe, const recipe::Sheet& sheet, Chosen chosen,
                                     Date today);

}  // namespace saltrafter::safety
