#include "core/safety/meats.h"

#include <algorithm>
#include <string_view>

namespace saltrafter::safety {
namespace {

using tables::Species;

bool is_liver(std::string_view cut) {
  constexpr std::string_view kEnd = "_liver";
  return cut.size() >= kEnd.size() && cut.substr(cut.size() - kEnd.size()) == kEnd;
}

bool is_wild(std::string_view cut) { return cut == "wild_boar"; }

int fear(Species species) {
  switch (species) {
    case Species::horse:
    case Species::game:
      return 2;
    case Species::pork:
      return 1;
    case Species::beef:
    case Species::veal:
    case Species::lamb:
    case Species::goat:
    case Species::poultry:
      break;
  }
  return 0;
}

Meat of_line(const recipe::Line& line) {
  Meat meat;
  meat.about = line.id;
  const tables::Cut* cut = tables::find_cut(line.material);
  if (cut == nullptr) return meat;
  meat.species = cut->species;
  meat.wild = is_wild(cut->key);
  meat.liver = is_liver(cut->key);
  return meat;
}

bool is_meat(const recipe::Line& line) { return line.kind == recipe::LineKind::meat && line.amount > 0.0; }

Meat of_lot(const MeatLot& lot, const recipe::Recipe& recipe) {
  Meat meat;
  meat.about = lot.id;
  meat.lot = &lot;
  meat.species = lot.species;
  meat.wild = lot.wild;
  meat.liver = lot.liver;
  for (const recipe::Line& line : recipe.lines) {
    if (lot.line.empty() || line.id != lot.line) continue;
    const Meat cut = of_line(line);
    if (cut.species && fear(*cut.species) > fear(lot.species)) meat.species = cut.species;
    meat.wild = meat.wild || cut.wild;
    meat.liver = meat.liver || cut.liver;
  }
  return meat;
}

bool covers(const MeatLot& lot, const recipe::Line& line, const Meat& meat) {
  return lot.line.empty() ? meat.species == lot.species : lot.line == line.id;
}

}  // namespace

std::vector<Meat> meats_of(const recipe::Recipe& recipe, const Evidence& evidence) {
  std::vector<Meat> all;
  for (const MeatLot& lot : evidence.lots) all.push_back(of_lot(lot, recipe));
  for (const recipe::Line& line : recipe.lines) {
    if (!is_meat(line)) continue;
    Meat meat = of_line(line);
    const bool covered = std::any_of(evidence.lots.begin(), evidence.lots.end(),
                                     [&](const MeatLot& lot) { return covers(lot, line, meat); });
    if (!covered) all.push_back(std::move(meat));
  }
  return all;
}

}  // namespace saltrafter::safety
