// One reading of the scale: for one piece, or for a bunch of them tied together.
#pragma once

#include <optional>
#include <vector>

#include "core/base/base.h"

namespace saltrafter::drying {

struct Weighing {
  Id id;
  Id piece;                        // empty: it is of `bunch`
  Date date{};
  Grams mass;                      // with casing and string, without `tare`
  Grams tare = {};                 // hook or tray that lay on the scale with it, taken off already
  std::optional<int> minute = {};  // of that day by the maker's clock, 0..1439; nothing: not noted
  std::vector<Id> bunch = {};      // the pieces weighed as one, two or more; else empty

  friend bool operator==(const Weighing&, const Weighing&) = default;
};

}  // namespace saltrafter::drying
