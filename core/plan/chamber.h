// A chamber: what was changed in it, after which it dries otherwise, and its air as it was read.
#pragma once

#include <string>
#include <vector>

#include "core/base/base.h"
#include "core/plan/air_log.h"

namespace saltrafter::plan {

enum class ChamberChangeKind {
  fan,
  cooler,
  layout,  // of shelves, rails, load
  season,  // of the room it stands in
  other,
};

struct ChamberChange {
  Id id;
  Date on{};
  ChamberChangeKind kind = ChamberChangeKind::fan;
  std::string note;

  friend bool operator==(const ChamberChange&, const ChamberChange&) = default;
};

struct Chamber {
  std::string name;
  std::vector<ChamberChange> changes;
  AirLog air;  // of all that hangs in it

  friend bool operator==(const Chamber&, const Chamber&) = default;
};

// How often it was changed after `from`, up to and with `until`: by so much less does a batch of then tell of
// now.
int changes_between(const Chamber& chamber, Date from, Date until);

}  // namespace saltrafter::plan
