// The module's own thresholds: rows of the table of limits, and of the constants. Internal to safety.
#pragma once

#include <string_view>

#include "core/tables/tables.h"

namespace saltrafter::safety {

struct Threshold {
  std::string_view key;
  double value;              // no number where there is no such row: judge() says not known of it
  double low, high;          // of a constant; of a limit its value
  double near_margin = 0.0;  // of a limit that has one
  std::string_view unit;
  tables::Origin origin;
};

// The limit of that id, else the constant of that key.
Threshold threshold(std::string_view key);

}  // namespace saltrafter::safety
