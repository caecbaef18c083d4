#include "core/recipe/line_mass.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "core/recipe/scale.h"

namespace saltrafter::recipe {
namespace {

constexpr double kSkinShare = 0.10;  // handbook: of the weight of a cut with its rind on; read_copy
constexpr double kStuffedDensityKgM3 = 1050.0;  // common practice, 1030..1070
constexpr double kSlabWidths = 3.0;             // a slab's width in thicknesses (choice)

}  // namespace

MeatBase meat_base(const Recipe& recipe, double meat_g) {
  MeatBase base;
  base.meat_g = meat_g;
  base.flesh_g = meat_g * (1.0 - recipe.bone_share);
  base.dose_g = base.flesh_g * (recipe.skin_on ? 1.0 - kSkinShare : 1.0);
  return base;
}

double line_mass_g(const Line& line, const MeatBase& base, int pieces) {
  switch (line.kind) {
    case LineKind::meat: return line.amount * base.meat_g;
    case LineKind::salt: return line.amount * 1e-3 * base.flesh_g;
    case LineKind::cure: return 0.0;
    case LineKind::culture:
      if (line.packet) return line.packet->holds.value * base.meat_g / line.packet->for_meat.value;
      break;
    case LineKind::additive: break;
  }
  switch (line.basis) {
    case Basis::percent_of_meat: return line.amount * base.meat_g;
    case Basis::g_per_kg: return line.amount * 1e-3 * base.meat_g;
    case Basis::g_per_piece: return line.amount * pieces;
    case Basis::fixed_g: break;
  }
  return line.amount;
}

const Line* first_of(const Recipe& recipe, LineKind kind) {
  for (const Line& line : recipe.lines) {
    if (line.kind == kind) return &line;
  }
  return nullptr;
}

double filled_g(const Recipe& recipe, const MeatBase& base) {
  if (recipe.method != CureMethod::mixed_in) return base.meat_g;
  double filled = base.meat_g;
  double salt_g = 0.0;
  double mix_g = 0.0;
  for (const Line& line : recipe.lines) {
    if (line.kind == LineKind::meat) continue;
    if (line.kind == LineKind::salt) {
      salt_g = line_mass_g(line, base, 0);
    } else if (line.kind == LineKind::cure) {
      mix_g = mix_for(Ppm(line.amount), Grams(base.dose_g), recipe.mix).value;
    } else {
      filled += line_mass_g(line, base, 0);
    }
  }
  return filled + mix_g + std::max(0.0, salt_g - mix_g * sodium_chloride_share(recipe.mix));
}

Grams piece_mass(const Recipe& recipe) {
  const double thick_m = recipe.casing_diameter.value;
  const double wide_m = recipe.piece_width ? recipe.piece_width->value : kSlabWidths * thick_m;
  const double area_m2 = is_flat(recipe.form) ? wide_m * thick_m : std::numbers::pi * thick_m * thick_m / 4.0;
  const double mass_g = 1000.0 * kStuffedDensityKgM3 * area_m2 * recipe.piece_length.value;
  return Grams(thick_m > 0.0 && mass_g > 0.0 && std::isfinite(mass_g) ? mass_g : 0.0);
}

int pieces_in(const Recipe& recipe, double mass_g) {
  const double each_g = piece_mass(recipe).value;
  // Where the form says nothing, all is one piece.
  if (!(each_g > 0.0) || !(mass_g > 0.0)) return 1;
  return static_cast<int>(
      std::clamp(std::floor(mass_g / each_g + 0.5 + 1e-9), 1.0, static_cast<double>(kMostPieces)));
}

}  // namespace saltrafter::recipe
