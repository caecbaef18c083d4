// One finding: a rule, what it says of a recipe or a batch, and on what ground. No sentence: `words` makes it.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "core/base/base.h"
#include "core/tables/tables.h"

namespace saltrafter::safety {

enum class Level { met, near, not_met, not_known, does_not_apply };

enum class Rule {
  nitrite_ceiling,  // more is refused outright, in every jurisdiction
  nitrite_ingoing,
  nitrite_residual,
  nitrate_ingoing,
  nitrate_residual,
  cure_ingoing,  // nitrite and nitrate together
  cure_residual,
  ascorbate_ingoing,
  nitrate_in_short,   // nitrate where nothing dries for long
  mix_as_packet,      // the curing mix is bound to a packet of the maker's
  mix_confused,       // the dose is ten times too much or little, or another kind of mix than the product asks for
  acid_with_nitrite,  // a step brings nitrite and an acid or ascorbate together in liquid
  least_salt,
  salt_in_water,      // salt in the water phase
  cure_time,          // whole muscle: the days in salt against thickness and temperature
  meat_ph,            // of a lot, raw
  staging,            // a stage's temperature and time
  cold_until_salted,  // whole muscle stays cold until the centre has its salt
  sealing,            // in a bag: cold, or salted, dry or sour enough
  fermentation,       // degree-hours to pH 5.3
  parasites,
  kill_not_shown,     // Salmonella and toxin-forming E. coli
  listeria,
  moisture_protein_ratio,
  water_activity,     // keeps without cold by water activity alone
  keeps,              // by pH and water activity together
  species,            // bear, boar, horse, raw game, poultry, liver
  own_weighing,       // before a release each piece is weighed by itself; asked by plan (plan/release.h)
};

// What a finding that is not met does to the work.
enum class Stop {
  none,
  with_reason,  // the maker may go on with a reason, which stays with the batch and is printed
  outright,     // no weighing out, print or share
};

// Whose rules the maker goes by. Until chosen, and where the country is none of the table's, the strictest of
// all decide; each finding still says whose rule it is.
enum class Chosen { not_chosen, us, eu, ca, none_of_these };

// Where and how a water activity was found, and so what it may prove.
enum class Place { core, mean, surface };
enum class Way { measured, estimate, bound };

struct Amount {
  double value = 0.0;
  std::string unit;  // "mg/kg", "g/kg", "1", "pH", "°C", "°C h", "°F h", "h", "d", "%"; "aw" for a water activity
  std::string of;    // the substance: "NaNO2", "NO2-", "NaNO3", "NO3-", "NaNO2+NaNO3", "NaCl"; or empty

  friend bool operator==(const Amount&, const Amount&) = default;
};

// A figure behind a finding, for its working and for the words of its advice.
struct Figure {
  std::string id;  // "hours_left", "salt_centre", "cold_days"
  double value = 0.0;
  std::string unit;

  friend bool operator==(const Figure&, const Figure&) = default;
};

struct Finding {
  Rule rule = Rule::nitrite_ingoing;
  std::string row;  // id of the row that decided, or empty
  Level level = Level::not_known;
  bool decides = true;  // false: listed beside a stricter one, or of a jurisdiction not chosen
  bool planned = false;  // of what has not begun: said of the plan, and asked again at the move
  Stop stop = Stop::none;
  // What it is about, where it is not the whole: a line, a stage or a step of the recipe, a lot, a piece.
  Id about;

  std::optional<Amount> found;
  std::optional<Amount> limit;
  std::optional<Amount> found_also;  // in the other expression: as salt where the limit is of the ion
  std::optional<Amount> limit_also;
  tables::LimitSense sense = tables::LimitSense::most;
  std::optional<double> margin;  // limit's unit; positive on the right side
  double uncertainty = 0.0;      // half width, limit's unit

  std::optional<tables::Jurisdiction> jurisdiction;
  bool own = false;  // the maker's own limit
  std::string source;
  tables::Known known = tables::Known::read;
  std::string from;                  // first day of the rule, ISO, or empty
  std::vector<std::string> missing;  // ids of what would have to be recorded: "ph_reading"
  std::string advice;                // id of what to do, or empty: "lower_dose", "wait_cold"
  std::vector<Figure> figures;
  std::optional<Place> place;        // of a water activity
  std::optional<Way> way;
};

// Keys for the report and the word catalogue: "nitrite_ingoing", "not_met".
std::string_view key_of(Rule rule);
std::string_view key_of(Level level);

// What stands open against going on: not met, and a stop; or refused outright.
inline bool stops(const Finding& finding) { return finding.stop != Stop::none && finding.level == Level::not_met; }

// Names one finding of a subject from day to day: rule, row, what it is about, and whether it is of the plan alone. An
// acknowledgement holds it, so that going on with a plan is not going on with what then happens.
std::string name_of(const Finding& finding);

}  // namespace saltrafter::safety
