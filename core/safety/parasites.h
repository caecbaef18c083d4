// Trichinella in pork and game: by freezing, by salt and drying, by pH and salt, or certified; per lot.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "core/base/base.h"
#include "core/recipe/recipe.h"
#include "core/safety/evidence.h"
#include "core/safety/finding.h"

namespace saltrafter::safety {

// Days of freezing asked for at a temperature and thickness, or nothing where no row covers them: warmer than
// every row, thicker, or no numbers. A core that was measured needs the lesser of both kinds of row; its
// thickness may be 0 then. Source: table freezing, former 9 CFR 318.10.
std::optional<double> freezing_days(Celsius temperature, Metres thickness, bool core_measured);

// Whether freezing is taken as a treatment at all: of pork that was not wild. Source: freezing is not
// reliable for other meats (read); wild pigs counted with them (choice).
bool freezing_counts(tables::Species species, bool wild);

struct DryingMethod {
  std::string row;  // of the table curing_methods
  Days drying, total;
};
// The published curing method that a sausage of this salt (share of the mix), diameter falls under, of
// several the soonest; nothing: none. Rows that are only remembered never count. `pepperoni`: sausage of that
// variety, of which a recipe does not speak.
std::optional<DryingMethod> curing_method(double salt_share, Metres diameter, bool smoked,
                                          bool pepperoni = false);

// Days from the souring in which a fermented pork sausage was free of Trichinella; nothing where the study
// does not reach. Source: table souring_methods, Hill and others 2017.
std::optional<Days> souring_days(double ph, double salt_share);

// One finding for each lot (about: its id), one for each kind of animal of which a line has no lot (row:
// "pork", "game", "horse", "wild", "ruminant", "poultry"; about nothing), and one for each own cut whose
// animal is not known (row "own_cut", about: the line).
// Met by a certificate, by freezing, or by a curing method or souring that `evidence` shows as done; the row
// is that of its table then. A freezing that is recorded and does not do is not_met and a stop that takes a
// reason, unless a curing method is still under way. `now_utc_ms` ends a stage that is still on; without it
// such a stage counts nothing.
std::vector<Finding> parasite_findings(const recipe::Recipe& recipe, const recipe::Sheet& sheet,
                                       const Evidence& evidence, std::int64_t now_utc_ms = 0);

}  // namespace saltrafter::safety
