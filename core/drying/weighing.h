// One reading of the scale for one piece.
#pragma once

#include "core/base/base.h"

namespace saltrafter::drying {

struct Weighing {
  Id id;
  Id piece;
  Date date{};
  Grams mass;

  friend bool operator==(const Weighing&, const Weighing&) = default;
};

}  // namespace saltrafter::drying
