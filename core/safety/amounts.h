// How much a recipe or a batch has of what a limit is of. Internal to safety.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "core/safety/safety.h"

namespace saltrafter::safety {

struct AmountFound {
  enum class State {
    known,
    missing,  // `missing` says what; a value that proves nothing may stand there all the same
    none,     // there is nothing of it
  };
  State state = State::known;
  // In the unit of the limits table; curing salts and ascorbate as their sodium salt.
  std::optional<double> value;
  double uncertainty = 0.0;  // half width, the same unit
  std::vector<std::string> missing;
  bool doubtful = false;  // by an instrument that is overdue or failed its check
  std::optional<Place> place;
  std::optional<Way> way;
  std::vector<Figure> figures;
};

// Of the row's agent, basis and expression. Ingoing amounts are of the mix as weighed, give or take half a
// step of the scale; those of the finished product by composition at the wanted loss; pH and water activity
// measured alone, the worst of what was last read of each piece (within an hour of its last reading, until now).
AmountFound amount_of(const Subject& subject, const tables::Limit& row);

// Days of all stages before the store; nothing where no stage is planned.
std::optional<double> planned_days(const recipe::Recipe& recipe);

// What salt is per: the meat without its bone, g.
Grams salted_meat(const recipe::Recipe& recipe, const recipe::Sheet& sheet);

// The curing salt that an agent of the tables names as a share of the mix, 0..1.
double share_in_mix(const recipe::CuringMix& mix, tables::Agent agent);

}  // namespace saltrafter::safety
