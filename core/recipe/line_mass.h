// Within this module: what a line asks for, whatever the others are, and how many pieces a mix makes.
#pragma once

#include "core/recipe/recipe_types.h"

namespace saltrafter::recipe {

// The masses of meat that amounts are per.
struct MeatBase {
  double meat_g = 0.0;   // on the tray
  double flesh_g = 0.0;  // without bone: it takes the salt
  double dose_g = 0.0;   // without bone and skin: the nitrite counts per kg of it
};
MeatBase meat_base(const Recipe& recipe, double meat_g);

// Grams that a line asks for: of meat its share, of salt all that is wanted, of an additive or culture its
// dose. 0 for the cure, which hangs on the mix.
double line_mass_g(const Line& line, const MeatBase& base, int pieces);

// The mass that makes the pieces, g: of a mince the whole mix but what is put on by the piece, else the meat.
double filled_g(const Recipe& recipe, const MeatBase& base);

// How many pieces that mass makes, the nearest whole number; 1..1000.
inline constexpr int kMostPieces = 1000;  // choice: keeps lists finite
int pieces_in(const Recipe& recipe, double mass_g);

// The first line of a kind, or nullptr.
const Line* first_of(const Recipe& recipe, LineKind kind);

}  // namespace saltrafter::recipe
