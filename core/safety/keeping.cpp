#include "core/safety/keeping.h"

#include <cassert>
#include <cmath>
#include <string_view>

#include "core/safety/limits.h"

namespace saltrafter::safety {
namespace {

// As far inside a figure of the table, or outside where negative; rounded as all thresholds are.
double inside(std::string_view row, double value) {
  const tables::Limit* limit = tables::find_limit(row);
  assert(limit != nullptr);
  return limit != nullptr ? std::round((limit->value - value) * 1e9) / 1e9 : -1.0;
}

}  // namespace

KeepingClass keeping_class(double ph, WaterActivity activity) {
  const double aw = activity.value;
  const double ph_alone = inside("any.ph.minced.keeps", ph);
  const double aw_alone = inside("any.water_activity.minced.keeps", aw);
  const bool ph_helps = inside("any.ph.minced.keeps.with_aw", ph) >= 0.0;
  const bool aw_helps = inside("any.water_activity.minced.keeps.with_ph", aw) >= 0.0;
  if (ph_alone > 0.0 || aw_alone > 0.0 || (ph_helps && aw_helps)) return KeepingClass::shelf_stable;
  return ph_helps || aw_helps ? KeepingClass::perishable : KeepingClass::very_perishable;
}

bool may_grow(const tables::Organism& organism, Celsius temperature, double ph, WaterActivity activity) {
  const auto reaches = [](double value, double least) { return std::round((value - least) * 1e9) >= 0.0; };
  return reaches(temperature.value, organism.least_temperature.value) && reaches(ph, organism.least_ph) &&
         reaches(activity.value, organism.least_aw.value);
}

std::vector<Finding> keeping_findings(const Subject& subject) {
  std::vector<Finding> all = way_findings(subject, rows_for(subject, Rule::listeria), Rule::listeria);
  // Water activity alone is one of the ways, and the only one for muscle that was not soured.
  std::vector<const tables::Limit*> rows = rows_for(subject, Rule::water_activity);
  for (const tables::Limit* row : rows_for(subject, Rule::keeps)) rows.push_back(row);
  for (Finding& finding : way_findings(subject, rows, Rule::keeps)) all.push_back(std::move(finding));
  return all;
}

}  // namespace saltrafter::safety
