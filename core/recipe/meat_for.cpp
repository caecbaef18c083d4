// The meat for pieces wanted, for a finished weight wanted, or for what is in stock.
#include <algorithm>
#include <cmath>

#include "core/recipe/line_mass.h"
#include "core/recipe/scale.h"

namespace saltrafter::recipe {
namespace {

Error bad_wish(const char* field, double found, double low, double high, const char* unit) {
  return out_of_range(field, found, low, high, unit);
}

// What makes the pieces grows in a line with the meat.
Result<Grams> for_pieces(const Recipe& recipe, int pieces) {
  if (pieces < 1 || pieces > kMostPieces) return bad_wish("pieces", pieces, 1.0, kMostPieces, "");
  const double wanted_g = pieces * piece_mass(recipe).value;
  const double fixed_g = filled_g(recipe, meat_base(recipe, 0.0));
  const double per_g = filled_g(recipe, meat_base(recipe, 1.0)) - fixed_g;
  const double meat_g = (wanted_g - fixed_g) / per_g;
  if (!(meat_g > 0.0) || meat_g > kMostMeat.value) {
    const double each_g = piece_mass(recipe).value;
    const double least = std::floor(fixed_g / each_g) + 1.0;
    const double most = std::floor((kMostMeat.value * per_g + fixed_g) / each_g);
    return bad_wish("pieces", pieces, std::max(1.0, least), std::min<double>(kMostPieces, most), "");
  }
  return Grams(meat_g);
}

// A sheet as exact as its figures are: a wish is met before the scale rounds.
Hands unrounded(const Hands& hands) {
  Hands fine;
  fine.supplies = hands.supplies;
  fine.scales.fine_step = Grams(1e-6);
  fine.scales.fine_most = Grams(1e9);
  return fine;
}

// The mass at hanging never falls as the meat grows, though it steps with lines per piece: halving finds it.
Result<Grams> for_finished(const Recipe& recipe, Grams finished_mass, const Hands& hands) {
  const Hands exact = unrounded(hands);
  const auto left_g = [&](double meat_g) -> Result<double> {
    const Result<Sheet> sheet = scale(recipe, Grams(meat_g), nullptr, exact);
    if (!sheet.ok()) return sheet.error();
    return sheet.value().composition.total_g() * (1.0 - recipe.wanted_loss);
  };
  const Result<double> most_g = left_g(kMostMeat.value);
  if (!most_g.ok()) return most_g.error();
  const double wanted_g = finished_mass.value;
  if (!(wanted_g > 0.0) || wanted_g > most_g.value()) {
    return bad_wish("finished", wanted_g, 0.0, most_g.value(), "g");
  }
  double low_g = 0.0;
  double high_g = kMostMeat.value;
  for (int i = 0; i < 80; ++i) {
    const double middle_g = 0.5 * (low_g + high_g);
    const Result<double> left = left_g(middle_g);
    // Too little meat for what goes in whatever the meat is an error, and more meat mends it.
    const bool enough = left.ok() && left.value() >= wanted_g;
    (enough ? high_g : low_g) = middle_g;
  }
  return Grams(high_g);
}

Result<Grams> for_stock(const Recipe& recipe, const std::vector<InStock>& stock) {
  std::optional<double> meat_g;
  for (const InStock& held : stock) {
    double share = 0.0;
    for (const Line& line : recipe.lines) {
      if (line.kind == LineKind::meat && line.material == held.material) share += line.amount;
    }
    if (!(share > 0.0)) continue;
    if (!(held.mass.value > 0.0)) return bad_wish("stock", held.mass.value, 0.0, kMostMeat.value, "g");
    const double enough_g = held.mass.value / share;
    meat_g = meat_g ? std::min(*meat_g, enough_g) : enough_g;
  }
  if (!meat_g) {
    Error nothing;
    nothing.code = ErrorCode::missing;
    nothing.field = "stock";
    return nothing;
  }
  if (*meat_g > kMostMeat.value) return bad_wish("stock", *meat_g, 0.0, kMostMeat.value, "g");
  return Grams(*meat_g);
}

}  // namespace

Result<Grams> meat_for(const Recipe& recipe, const Wish& wish, const Hands& hands) {
  const Result<Done> checked = check_recipe(recipe, hands.supplies);
  if (!checked.ok()) return checked.error();
  switch (wish.by) {
    case By::pieces: return for_pieces(recipe, wish.pieces);
    case By::finished: return for_finished(recipe, wish.finished, hands);
    case By::stock: return for_stock(recipe, wish.stock);
    case By::meat: break;
  }
  if (!(wish.meat.value > 0.0) || wish.meat > kMostMeat) {
    return bad_wish("meat", wish.meat.value, 0.0, kMostMeat.value, "g");
  }
  return wish.meat;
}

}  // namespace saltrafter::recipe
