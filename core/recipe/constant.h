// Within this module: a number of assets/tables/constants.json.
#pragma once

#include <cassert>
#include <string_view>

#include "core/tables/tables.h"

namespace saltrafter::recipe {

// The key stands in the source and in the table; that it does is held by the tests of whatever uses it.
inline const tables::Constant& constant(std::string_view key) {
  const tables::Constant* row = tables::find_constant(key);
  assert(row != nullptr);
  return *row;
}

}  // namespace saltrafter::recipe
