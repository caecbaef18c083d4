// What 1 g of a material of the tables is made of. The one place of this module that reads them.
#pragma once

#include <optional>
#include <string_view>

#include "core/recipe/composition.h"
#include "core/recipe/recipe_types.h"
#include "core/recipe/supplies.h"

namespace saltrafter::recipe {

// Parts of 1 g of a cut of meat or of an additive, by the row's key in assets/tables; nothing where there is
// no such row. The parts add to 1; what the row leaves open is `rest`.
std::optional<Composition> cut_parts(std::string_view key);
std::optional<Composition> additive_parts(std::string_view key);

// Parts of 1 g of a culture of the tables: that of a dried one, whichever it is.
std::optional<Composition> culture_parts(std::string_view key);

// Parts of 1 g of a line's material: an own row, else the tables' row, else what the line itself carries.
// They add to 1. Nothing where none of them says anything.
std::optional<Composition> parts_of_line(const Line& line, const Supplies& supplies);

// Whether the material of a line is a row of the tables or an own one, with or without its parts.
bool is_known(const Line& line, const Supplies& supplies);

// The key that a line's material has in the tables: its own, or the one that its own row stands in for.
std::string_view table_key(const Line& line, const Supplies& supplies);

// Whether parts typed for 1 g can be meant: none below 0, together not above 1.05 (figures of food tables).
bool can_be_parts(const Composition& parts);

}  // namespace saltrafter::recipe
