// How far salt and drying, or souring, have come against Trichinella. Internal to safety.
#pragma once

#include <cstdint>
#include <optional>

#include "core/recipe/recipe.h"
#include "core/safety/evidence.h"

namespace saltrafter::safety {

// Share of sodium chloride in the mix before stuffing; 0 where there is no mix.
double salt_of_mix(const recipe::Sheet& sheet);

// A curing method that the recipe falls under, and the days of it that are planned and done.
struct CuringUnderWay {
  const tables::CuringMethod* row = nullptr;
  bool plate_known = false;  // every mincing names its plate, and none is coarser than the method takes
  double drying_planned = 0.0, total_planned = 0.0;
  double drying_done = 0.0, total_done = 0.0;
  bool unlogged = false;  // days that would count do not, as nothing says how warm they were

  bool is_done() const;
};
// Nothing: it falls under none, or is minced too coarse for it. Days of drying count in air as warm as the
// method asks, by the stage's plan and by the log of its air: not in a stage in which a reading was colder, nor in
// one whose log has a gap of more than three days. All days end with the last of drying.
std::optional<CuringUnderWay> curing_under_way(const recipe::Recipe& recipe, const recipe::Sheet& sheet,
                                               const Evidence& evidence, std::int64_t now_utc_ms);

// A souring that the 2017 study covers.
struct SouringUnderWay {
  const tables::SouringMethod* row = nullptr;
  double ph = 0.0;    // the highest reading by meter of those taken together
  bool sure = false;  // its uncertainty stays within the study, and no instrument was overdue or failed
  double days = 0.0;  // since, fermenting or drying as warm as in the study; counted as above
  bool unlogged = false;

  bool is_done() const;
};
// Of several readings the one that has come furthest. Nothing: no reading by meter falls under it.
std::optional<SouringUnderWay> souring_under_way(const recipe::Recipe& recipe, const recipe::Sheet& sheet,
                                                 const Evidence& evidence, std::int64_t now_utc_ms);

}  // namespace saltrafter::safety
