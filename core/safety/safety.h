// safety: published limits held against a recipe or a batch, as findings. Arithmetic, not permission.
//
// There is no overall mark of approval, and what is not recorded is not known. The forecast is drying's.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "core/base/base.h"
#include "core/recipe/recipe.h"
#include "core/safety/evidence.h"      // lots, readings, acts
#include "core/safety/fermentation.h"  // degree-hours, the course of pH, sugar
#include "core/safety/finding.h"       // what a finding says
#include "core/safety/judge.h"         // the five words
#include "core/safety/keeping.h"       // what keeps and what grows
#include "core/safety/parasites.h"     // freezing, curing methods
#include "core/safety/salting.h"       // salt on its way to the centre
#include "core/safety/standing.h"      // in work, held, released, discarded

namespace saltrafter::safety {

// A water activity with all that it needs to prove anything.
struct WaterActivityFound {
  WaterActivity value;
  Place place = Place::core;
  Way way = Way::estimate;
  std::string site;  // where the sample was taken; empty: not stated
};

// What is asked about.
struct Subject {
  const recipe::Recipe* recipe = nullptr;  // never null
  const recipe::Sheet* sheet = nullptr;    // never null
  Evidence evidence;
  Chosen chosen = Chosen::not_chosen;
  std::vector<OwnLimit> own;
  Date today{};
  std::int64_t now_utc_ms = 0;
  std::optional<WaterActivityFound> water_activity;
};

// All findings, in this order: the ceiling of 625 mg/kg, then by rule as the enumeration has them, those that decide
// first, then by row and by what they are about.
//
// Each numeric rule is a row of the limits table for the product class that holds on `today`: rows of no
// jurisdiction beside those of the chosen one, or of all until one is chosen. Of each question the strictest row
// decides and the others are listed; a most and a least are two questions. An own limit decides beside them unless
// it is looser. Residual limits are judged on analysis: not_known here. Amounts are of the mix as weighed, give or
// take half a step of the scale; the ceiling counts what was asked for as well.
// Water activity: without `water_activity` and without readings the brine bound of the mean at the recipe's wanted
// loss stands there; only a measured one in the core, or one whose site is stated, is judged.
// Source: each finding names its own.
std::vector<Finding> findings(const Subject& subject);

// The same for a recipe that nobody has made yet.
std::vector<Finding> findings(const recipe::Recipe& recipe, const recipe::Sheet& sheet, Chosen chosen, Date today,
                              const std::optional<WaterActivityFound>& water_activity = std::nullopt);

// May the batch go into `stage` (of its recipe) now? The findings that are stops against it; judged at the move.
std::vector<Finding> gate(const Subject& subject, Id stage);

// The same of the air it is to hang in, whichever stage begins with that, if any: whole muscle in warm air is asked for
// its salt even where the recipe plans no warm stage.
std::vector<Finding> gate_to_air(const Subject& subject, Celsius air, const std::optional<Id>& stage);

}  // namespace saltrafter::safety
