// A piece comes off its rail: whether what is typed can be, and what it teaches beside what was foreseen.
#pragma once

#include <optional>
#include <vector>

#include "core/plan/batch.h"

namespace saltrafter::plan {

// What the forecast says of a piece on a day, to be kept with its take-down: the newest one made without that
// weight. Nothing where it does not reach that day or does not know the piece.
std::optional<Foreseen> foresee(const drying::Forecast& forecast, const Id& piece, int day);

// Refuses what cannot be. Errors: missing "hung_on"; not_found "piece", "readings/<i>" (not in the evidence);
// duplicate_key "piece" where it is down already, "faults" where one stands twice; out_of_range "mass" (g),
// "usable" (g, at most the mass), "date" (days since hanging: before it, before its last weight, after
// `today`); refused "readings/<i>" where a reading is of a temperature, or another piece's;
// missing "other" where a fault is Fault::other without words.
Result<Done> check_taken_down(const Batch& batch, const TakenDown& down, Date today);

// One measured figure beside what was foreseen of it.
struct Beside {
  double foreseen = 0.0;
  double measured = 0.0;

  double off() const { return measured - foreseen; }
};

// What one piece taught when it was taken down.
struct Taught {
  Id piece;
  int day = 0;                     // since hanging
  Beside loss;                     // on that day, of its weight at hanging
  bool within = false;             // the measured loss lies in the range that was to hold 8 times in 10
  std::optional<Beside> reached;   // day of the wanted loss, on a line between weights; where both are known
  // By the newest good reading of its core or of a mixed sample, beside the estimate of that place.
  std::optional<Beside> activity;
};

// Of all pieces with a forecast kept at take-down, in the order of the take-downs.
std::vector<Taught> taught(const Batch& batch);

}  // namespace saltrafter::plan
