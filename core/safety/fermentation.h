// Souring: degree-hours to pH 5.3 in both published forms, the course of pH, sugar for a wanted pH.
#pragma once

#include <cstdint>
#include <optional>
#include <string_view>
#include <vector>

#include "core/base/base.h"
#include "core/recipe/recipe.h"
#include "core/safety/evidence.h"
#include "core/safety/finding.h"

namespace saltrafter::safety {

inline constexpr double kSafePh = 5.3;  // at or under it the count ends. Source: the degree-hours table

// A time at one temperature, as a plan or between two readings of a log.
struct Held {
  double hours = 0.0;
  Celsius temperature;
  double uncertainty_k = 0.0;  // of a reading, ±
};

using DegreeScheme = tables::DegreeScheme;  // °F above 60 °F, °C above 15.6 °C

struct DegreeHours {
  DegreeScheme scheme = DegreeScheme::us;
  double count = 0.0;  // °F h or °C h
  double limit = 0.0;  // of the class of the highest temperature
  Celsius highest;
  bool above_base = false;                       // false: the rule says nothing
  double uncertainty = 0.0;                      // of the count, from those of the readings
  const tables::DegreeHourClass* row = nullptr;  // that gave the limit; null where nothing was counted
  Level level = Level::not_known;
};
// Counts a plan or a log to its end, as if pH 5.3 were measured there. A count that is exactly the limit is
// within it, and so near. An uncertain thermometer is near where its upper end would break the limit, or that
// of the class it would fall in. A time of no hours counts nothing, but its temperature was met and may set
// the class. What is no number is left out. Below the base: does_not_apply. Source: table degree_hours, by
// row.
DegreeHours degree_hours(DegreeScheme scheme, const std::vector<Held>& course);
// The longest time at one temperature, h; nothing at or under the base.
std::optional<double> longest_hours(DegreeScheme scheme, Celsius temperature);

// What a batch's readings say of its fermentation at `now`. Readings after `now` are not there yet.
//
// pH: readings by meter within one hour of the first of them are one set, and its highest counts. The first
// set at or under 5.3 is `reached`. It ends the count only beyond doubt: no reading of it with its
// uncertainty over 5.3, three pieces read, no instrument overdue or failed. Until a set is that sure the
// count goes on, and a later set over 5.3 refutes the one in doubt (choice, the safe side). Strips, predicted
// and fitted values end nothing.
//
// Temperature: between two readings the higher of both holds (choice, the safe side). A stretch of over four
// hours without a reading counts at the highest of both readings and the plan of its stage; after a move to
// another stage the readings of the one before say nothing of it while its plan is known.
struct Souring {
  std::optional<std::int64_t> began_utc_ms;    // the first time above the lower of both bases
  std::optional<std::int64_t> reached_utc_ms;  // the first pH reading set by meter at or under 5.3
  std::optional<std::int64_t> ended_utc_ms;    // the first such set beyond doubt; it ended the count
  bool near = false;            // reached, and no set so far is beyond doubt, for one of three reasons
  bool across = false;          // of the last set at or under 5.3, or that ended it: uncertainty over 5.3
  bool meter_doubtful = false;  // of the same: an instrument overdue or failed
  int pieces_read = 0;          // of the same; all readings that name no piece count as one
  DegreeHours us, ca;          // to `ended`, else to now; levels of the batch: not_known while the count runs
  double us_at_reached = 0.0;  // counts to `reached`
  double ca_at_reached = 0.0;
  bool gap = false;           // a stretch over four hours (choice) that may be warm is not logged
  bool logged = false;        // there is a reading of the room's temperature
  bool log_doubtful = false;  // by a thermometer overdue or failed
  bool out_of_time = false;   // the degree-hours are used up; of the schemes that `chosen` takes
  std::optional<std::int64_t> act_by_utc_ms;  // the latest hour at the temperature now; stricter of both
  std::optional<double> hours_left;           // to it, at the temperature now; below 0 when it has passed
  std::optional<double> last_ph;              // the highest of the last set
  std::optional<std::int64_t> last_ph_utc_ms;
  std::vector<Held> course;  // as counted
};
// `chosen` takes the scheme of a jurisdiction (us; ca; eu and none: the stricter) for act_by and hours_left.
// `planned` are the recipe's stages: what holds where nothing is logged.
Souring souring(const Evidence& evidence, Chosen chosen, std::int64_t now_utc_ms,
                const std::vector<recipe::Stage>& planned = {});

// The readings of pH by meter that belong together, in the order of time.
struct PhSet {
  std::int64_t at_utc_ms = 0;  // of its last reading
  double highest = 0.0;
  double upper = 0.0;  // the highest with uncertainty
  int pieces = 0;
  bool doubtful = false;  // an instrument overdue or failed
};
std::vector<PhSet> ph_sets(const std::vector<Reading>& readings, std::int64_t until_utc_ms);

// The course of pH that is to be expected, as a band; corrected by readings.
struct PhPoint {
  double hours = 0.0;
  double low = 0.0, likely = 0.0, high = 0.0;
};
struct PhCourse {
  std::vector<PhPoint> points;          // each hour from 0
  std::optional<double> hours_to_safe;  // likely, to pH 5.3; nothing: not within the sugar or 96 h
  std::optional<double> hours_to_safe_late;
  double final_ph = 0.0;  // what the sugar allows
  tables::Known known = tables::Known::practice;
};
struct PhStart {
  double ph0 = 5.75;
  double sugar_g_per_kg = 0.0;  // as dextrose
  double lean_share = 0.8;      // protein / 0.16 scales the buffer
  std::string_view culture;     // key of the cultures table; empty: none
  Celsius temperature{20.0};
  Metres diameter{0.055};
};
// Sugar against the buffer of the meat gives the end; a curve of Gompertz with the culture's temperatures
// gives the time. Readings by meter from 12 h before `began` on move time and end so that the likely course
// passes through the last set, and narrow the band; one of the first 2 h is the pH to start from. No points
// where a figure of `start` is out of all reason (ph0 4..8, sugar 0..60, lean 0.1..1.6, -5..60 °C, 5..500
// mm). Without a culture that sours, or outside the range in which it grows, nothing is expected to sour.
// Source: constants "souring.", mostly choice.
PhCourse ph_course(const PhStart& start, const std::vector<Reading>& readings = {},
                   std::int64_t began_utc_ms = 0);
// Where it sours: the first stage of fermenting, else the first above the base; null where there is none.
const recipe::Stage* souring_stage(const recipe::Recipe& recipe);
// What the course of a recipe or batch starts from: the highest pH of its lots, the sugar and protein of its
// sheet, its first culture that sours, the temperature of its souring stage.
PhStart ph_start(const recipe::Recipe& recipe, const recipe::Sheet& sheet, const Evidence& evidence);

// Dextrose for a pH, g per kg of mix: least by the buffer model, advised 1.3 times as much, most by the rule
// of thumb. `most` is never under `advised`. Errors: out_of_range for ph0 (4.5..7), wanted_ph (4.2..ph0),
// protein_share (0.02..0.4).
struct SugarNeed {
  double least = 0.0, advised = 0.0, most = 0.0;
};
Result<SugarNeed> sugar_for(double ph0, double wanted_ph, double protein_share);

// Why and how it ends, or what to do when it does not get on: ids of the word catalogue.
enum class SouringAdvice {
  not_begun,
  goes_on,       // on its way
  end_now,       // at the wanted pH
  reached_near,  // at 5.3, but not beyond doubt: read three pieces again
  slow,          // behind its band: raise the temperature within the culture's range
  stalled,       // no fall in 12 h: check culture, sugar, temperature; a process authority
  out_of_time,   // the degree-hours are used up
  nothing_logged,
};
// `course` is what was expected without the readings. Order: out of time, reached near, at the wanted pH,
// then how it gets on. "No fall" is one of at most 0.05, "behind its band" one of more than 0.05 above it
// (choice, a meter's usual uncertainty). Flat within the band counts as stalled once the course itself has
// run out above the wanted pH. Never ends above 5.3, whatever the recipe wants.
SouringAdvice souring_advice(const recipe::Recipe& recipe, const Souring& souring, const PhCourse& course,
                             const std::vector<Reading>& readings, std::int64_t now_utc_ms);
// Its word's id: "souring_end_now".
std::string_view key_of(SouringAdvice advice);

}  // namespace saltrafter::safety
