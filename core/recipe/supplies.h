// The maker's own rows: materials that the tables do not have, or have otherwise, with packets and prices.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "core/base/base.h"
#include "core/recipe/composition.h"
#include "core/recipe/recipe_types.h"
#include "core/tables/tables.h"

namespace saltrafter::recipe {

enum class SupplyKind { cut, additive, curing_mix, culture, casing };

// One own row. `key` is the id of its record; with `replaces` it stands in place of that row of the tables.
struct Supply {
  std::string key;
  SupplyKind kind = SupplyKind::additive;
  std::string name;
  std::string replaces;  // key in assets/tables, or empty
  std::optional<Composition> parts;  // of 1 g; a cut or additive without it takes the replaced row's
  tables::Species species = tables::Species::pork;  // of a cut
  CuringMix mix;                                    // of a curing mix, as its packet says
  std::optional<Packet> packet;                     // of a culture
  Metres diameter{0.0};                             // of a casing; 0: the replaced row's
  tables::AllergenSet allergens;                    // beside the replaced row's
  // Vegetable powders and the like that bring nitrate or nitrite: mass share by a certificate. A supply that
  // brings them without a figure is refused by scale().
  bool brings_nitrate = false;
  std::optional<double> nitrate_share;  // as NaNO3, 0..1
  std::optional<double> price;          // per kg, of a casing per metre; in the maker's money
  std::string note;                     // packet, shop, lot

  friend bool operator==(const Supply&, const Supply&) = default;
};

using Supplies = std::vector<Supply>;

// The own row of that key, or that stands in place of it; nullptr where there is none.
const Supply* find_supply(const Supplies& supplies, std::string_view material);

// The mix of a curing-mix row, under the row's name and bound to it.
CuringMix mix_of(const Supply& supply);

// The recipe by the packets as they are now: its mix is what the row that it is bound to says today, so that
// the grams follow from the dose. Bound to nothing where that row is gone or is no curing mix any more: the
// strength is then nobody's reading.
Recipe by_packets(Recipe recipe, const Supplies& supplies);

}  // namespace saltrafter::recipe
