#include "core/base/result.h"

#include <cstdio>

namespace saltrafter {

Error out_of_range(std::string field, double found, double low, double high, std::string unit) {
  char text[40];
  std::snprintf(text, sizeof text, "%.6g", found);
  Error error;
  error.code = ErrorCode::out_of_range;
  error.field = std::move(field);
  error.found = text;
  error.unit = std::move(unit);
  error.low = low;
  error.high = high;
  return error;
}

}  // namespace saltrafter
