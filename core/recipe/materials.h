// What 1 g of a material of the tables is made of. The one place of this module that reads them.
#pragma once

#include <optional>
#include <string_view>

#include "core/recipe/composition.h"

namespace saltrafter::recipe {

// Parts of 1 g of a cut of meat or of an additive, by the row's key in assets/tables; nothing where there is
// no such row. The parts add to 1; what the row leaves open is `rest`.
std::optional<Composition> cut_parts(std::string_view key);
std::optional<Composition> additive_parts(std::string_view key);

}  // namespace saltrafter::recipe
