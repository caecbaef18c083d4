// What the checks of pieces share. Internal to plan.
#pragma once

#include <string>

#include "core/plan/pieces.h"

namespace saltrafter::plan {

enum class Touched { meat, tare, water };

// What an event changes, and what it may make of a piece's weight.
struct EventRule {
  EventKind kind;
  Touched touched;
  bool lighter, heavier;
};
const EventRule& rule_of(EventKind kind);

Error about(ErrorCode code, std::string field, const Id& found);

// Error: missing "hung_on".
Result<Done> check_hangs(const Batch& batch);
// Error: out_of_range "date", days since hanging: before it, after `today` or after the piece was taken down.
Result<Done> check_date(const Batch& batch, const Id& piece, Date date, Date today);
// The most that a piece can weigh.
Grams most_mass(const Base& base);
// Error: out_of_range unless least < mass <= most.
Result<Done> check_mass(std::string field, Grams mass, Grams least, Grams most);

}  // namespace saltrafter::plan
