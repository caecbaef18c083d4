// What a sheet costs, what must be named on it, and how two recipes differ.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "core/base/base.h"
#include "core/recipe/recipe_types.h"
#include "core/recipe/scale.h"
#include "core/recipe/supplies.h"

namespace saltrafter::recipe {

struct CostLine {
  Id line;  // empty: the casing
  double cost = 0.0;
};

struct Cost {
  std::vector<CostLine> lines;       // that have a price
  double total = 0.0;                // of those
  std::vector<std::string> unpriced;  // names of lines without a price; "casing" for the casing
  double per_kg_green = 0.0;          // total / meat
  double per_kg_finished = 0.0;       // total / what is left after the wanted loss
};

// In the maker's money. A cost with something unpriced is a least.
Cost cost_of(const Recipe& recipe, const Sheet& sheet, const Supplies& supplies);

// Metres of casing for the sheet's mix at the recipe's diameter; 0 for whole muscle without a casing.
double casing_metres(const Recipe& recipe, const Sheet& sheet);

struct Ingredient {
  std::string name;
  Grams mass;
  double share = 0.0;  // of the mix as put together
};

// By weight, most first, ties by name: as an ingredient list is written. The curing mix stands as itself.
std::vector<Ingredient> ingredients_by_weight(const Sheet& sheet);

struct AllergensFound {
  tables::AllergenSet holds;     // by what lines hold
  tables::AllergenSet possible;  // some packets of a line hold it: the label decides
  std::vector<std::string> unknown;  // names of lines of which nothing is known: own words without a row
};
AllergensFound allergens_of(const Recipe& recipe, const Supplies& supplies);

// --- how two recipes differ, line by line ---

enum class Changed { same, added, removed, changed };

struct LineChange {
  Changed what = Changed::same;
  Id id;
  std::string name;
  LineKind kind = LineKind::additive;
  std::optional<double> before;  // g per kg of meat as weighed on 1 kg (meat: share; cure: mg/kg dose)
  std::optional<double> after;
};

struct Comparison {
  std::vector<LineChange> lines;  // lines of `before` in their order, then what is new
  std::vector<std::string> fields;  // names of other members that differ: "casing_diameter", "steps", ...
};
Comparison compare(const Recipe& before, const Recipe& after);

}  // namespace saltrafter::recipe
