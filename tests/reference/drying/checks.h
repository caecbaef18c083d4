// The single figures of dry_checks.csv by their name, each with its own tolerance.
#pragma once

#include "tests/near.h"
#include "tests/reference/transport/rows.h"

namespace checks {

inline NearAbs expected(const std::string& quantity) {
  static const std::vector<rows::Row> all = rows::read("dry_checks.csv");
  for (const rows::Row& row : all) {
    if (row.at("quantity") == quantity) {
      return near_abs(rows::number(row, "expected"), rows::number(row, "tolerance"));
    }
  }
  REQUIRE_MESSAGE(false, quantity);
  return near_abs(0.0, 0.0);
}

}  // namespace checks
