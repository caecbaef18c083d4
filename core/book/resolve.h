// Which generation of each record holds, given every slot that the stores have.
#pragma once

#include <map>
#include <vector>

#include "core/book/slot.h"

namespace saltrafter::book {

struct Winner {
  RecordPtr record;
  SlotText slot;                  // as it stands, or should stand, in both stores
  int place = 0;                  // which of the two keys that is
  std::uint64_t generation = 0;
  std::uint64_t highest = 0;      // highest generation seen of this record, also in slots that do not hold
  bool revoked = false;           // a newer slot does not hold, its edit not being whole: it must be written over
};

struct Resolved {
  std::map<Id, Winner> winners;
  std::vector<SlotText> damaged;  // cannot be read, or belong to an edit that is not whole
};

// The highest generation of a record wins, unless its edit is not whole: an edit is whole when each record it
// touched has that slot or a newer generation. Slots under a key that is not theirs count as damaged; slots of
// a kind that only a newer program knows are left alone. The order of `slots` does not matter.
Resolved resolve(const std::vector<SlotText>& slots);

}  // namespace saltrafter::book
