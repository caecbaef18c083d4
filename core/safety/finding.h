// One finding: a rule, what it says of a recipe, and on what ground. No sentence: `words` makes it.
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
  fermentation,
  parasites,
  water_activity,
};

// Whose rules the maker goes by. Until chosen, and where the country is none of the table's, the strictest of
// all decide; each finding still says whose rule it is.
enum class Chosen { not_chosen, us, eu, ca, none_of_these };

// Where and how a water activity was found, and so what it may prove.
enum class Place { core, mean, surface };
enum class Way { measured, estimate, bound };

struct Amount {
  double value = 0.0;
  std::string unit;  // "mg/kg", or "1" for a water activity
  std::string of;    // the substance: "NaNO2", "NO2-", "NaNO3", "NO3-", "NaNO2+NaNO3"; or empty

  friend bool operator==(const Amount&, const Amount&) = default;
};

struct Finding {
  Rule rule = Rule::nitrite_ingoing;
  std::string row;  // id of the limits row, or empty
  Level level = Level::not_known;
  bool decides = true;  // false: listed beside a stricter one, or of a jurisdiction not chosen
  bool stop = false;    // no reason overrides it: no weighing out, print or share

  std::optional<Amount> found;
  std::optional<Amount> limit;
  std::optional<Amount> found_also;  // in the other expression: as salt where the limit is of the ion
  std::optional<Amount> limit_also;
  tables::LimitSense sense = tables::LimitSense::most;
  std::optional<double> margin;  // limit's unit; positive on the right side

  std::optional<tables::Jurisdiction> jurisdiction;
  std::string source;
  tables::Known known = tables::Known::read;
  std::string from;                  // first day of the rule, ISO, or empty
  std::vector<std::string> missing;  // ids of what would have to be recorded: "ph_reading"
  std::optional<Place> place;        // of a water activity
  std::optional<Way> way;
};

// Keys for the report and the word catalogue: "nitrite_ingoing", "not_met".
std::string_view key_of(Rule rule);
std::string_view key_of(Level level);

}  // namespace saltrafter::safety
