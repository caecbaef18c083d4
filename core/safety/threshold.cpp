#include "core/safety/threshold.h"

#include <limits>

namespace saltrafter::safety {

Threshold threshold(std::string_view key) {
  if (const tables::Limit* limit = tables::find_limit(key)) {
    return {limit->id, limit->value, limit->value, limit->value, limit->near_margin.value_or(0.0), limit->unit,
            limit->origin};
  }
  if (const tables::Constant* row = tables::find_constant(key)) {
    return {row->key, row->value, row->low, row->high, 0.0, row->unit, row->origin};
  }
  constexpr double kNone = std::numeric_limits<double>::quiet_NaN();
  return {"", kNone, kNone, kNone, 0.0, "", {"", tables::Known::memory}};
}

}  // namespace saltrafter::safety
