#include "core/plan/yield.h"

#include <algorithm>

#include "core/plan/checks.h"
#include "core/tables/tables.h"

namespace saltrafter::plan {
namespace {

// Energy of 1 g. Source: Regulation (EU) No 1169/2011, annex XIV; read in a copy.
struct Energy {
  double kj, kcal;
};
constexpr Energy kFat{37.0, 9.0};
constexpr Energy kProtein{17.0, 4.0};
constexpr Energy kCarbohydrate{17.0, 4.0};
constexpr double kSaltPerSodium = 2.5;  // annex I of the same; read in a copy

// Mass share of sodium in its chloride.
double sodium_share() {
  const tables::Salt* salt = tables::find_salt("NaCl");
  return salt != nullptr ? salt->ion_share() : 0.0;
}

Grams green_of(const Batch& batch, const recipe::Sheet& sheet) {
  if (batch.made_from.product_class != recipe::ProductClass::whole_muscle_dry) return sheet.total;
  Grams trimmed;
  for (const Piece& piece : batch.pieces) {
    if (!piece.trimmed) return sheet.meat;
    trimmed = trimmed + *piece.trimmed;
  }
  return batch.pieces.empty() ? sheet.meat : trimmed;
}

// What was taken off a piece until it came down or until now.
Grams taken_off(const Batch& batch, const Piece& piece) {
  Grams off;
  for (const PieceEvent& event : batch.events) {
    if (event.piece == piece.id && rule_of(event.kind).touched == Touched::meat) {
      off = off + (event.before - event.after);
    }
  }
  return off;
}

// The base after all that was done to a piece, and what it weighs in the end.
struct End {
  Base base;
  Grams finished;
  const TakenDown* down;
};

Result<End> end_of(const Batch& batch, const Piece& piece, std::optional<double> needed) {
  Date last = batch.hung_on;
  for (const PieceEvent& event : batch.events) {
    if (event.piece == piece.id) last = std::max(last, event.date);
  }
  const Base base = base_on(batch, piece, last);
  const TakenDown* down = find_taken_down(batch, piece.id);
  if (down != nullptr) return End{base, std::max(Grams(0.0), down->mass - base.tare), down};
  const Result<double> wanted = needed ? Result<double>(*needed) : wanted_loss(batch, piece);
  if (!wanted.ok()) return wanted.error();
  return End{base, base.equivalent_hung * (1.0 - std::max(0.0, wanted.value())), nullptr};
}

std::optional<Grams> usable_of(const Batch& batch, const TakenDown* down, Grams finished) {
  if (down != nullptr && down->usable) return down->usable;
  if (!batch.costs.ends_share) return std::nullopt;
  return finished * (1.0 - *batch.costs.ends_share);
}

}  // namespace

Result<Yield> yield_of(const Batch& batch, const recipe::Sheet& sheet, std::optional<double> needed) {
  if (batch.wishes.empty()) needed.reset();
  Yield yield;
  yield.green = green_of(batch, sheet);
  Grams equivalent;
  Grams usable;
  bool usable_known = true;
  const auto add = [&](Grams hung, Grams left, Grams finished, const TakenDown* down) {
    yield.hung = yield.hung + hung;
    equivalent = equivalent + left;
    yield.finished = yield.finished + finished;
    yield.taken_down += down != nullptr ? 1 : 0;
    const std::optional<Grams> sliceable = usable_of(batch, down, finished);
    usable_known = usable_known && sliceable.has_value();
    usable = usable + sliceable.value_or(Grams(0.0));
  };
  for (const Piece& piece : batch.pieces) {
    const Result<End> end = end_of(batch, piece, needed);
    if (!end.ok()) return end.error();
    yield.taken_off = yield.taken_off + taken_off(batch, piece);
    const End& its = end.value();
    add(piece.hung - tare_of(piece), its.base.equivalent_hung, its.finished, its.down);
  }
  if (batch.pieces.empty()) {
    const Grams mix(sheet.composition.total_g());
    add(mix, mix, mix * (1.0 - batch.made_from.wanted_loss), nullptr);
  }
  yield.water = yield.hung - yield.taken_off - yield.finished;
  if (usable_known) yield.usable = usable;
  if (equivalent.value > 0.0) yield.loss = 1.0 - yield.finished / equivalent;
  return yield;
}

Price price_of(const Batch& batch, const recipe::Sheet& sheet, const recipe::Cost& cost, const Yield& yield) {
  Price price;
  price.ingredients = cost.total;
  price.energy = batch.costs.energy_kwh * batch.costs.price_per_kwh;
  price.unpriced = cost.unpriced;
  double meat_cost = 0.0;
  Grams priced_meat;
  for (const recipe::CostLine& line : cost.lines) {
    for (const recipe::SheetLine& weighed : sheet.lines) {
      if (weighed.kind != recipe::LineKind::meat || weighed.id != line.line) continue;
      meat_cost += line.cost;
      priced_meat = priced_meat + weighed.weighed;
    }
  }
  if (priced_meat.value > 0.0) price.trim = meat_cost * (batch.costs.trim / priced_meat);
  const auto per_kg = [&](Grams mass) -> std::optional<double> {
    if (!(mass.value > 0.0)) return std::nullopt;
    return price.total() / (1e-3 * mass.value);
  };
  price.per_kg_finished = per_kg(yield.finished);
  price.per_kg_usable = per_kg(yield.usable.value_or(Grams(0.0)));
  return price;
}

Finished finished_of(const recipe::Composition& at_hanging, double loss,
                     std::optional<WaterActivity> activity) {
  const recipe::Composition parts = recipe::after_loss(at_hanging, loss);
  Finished finished;
  finished.moisture_protein_ratio = recipe::moisture_protein_ratio(parts);
  finished.water_phase_salt = recipe::water_phase_salt(parts);
  finished.activity = activity;
  const double total_g = parts.total_g();
  if (!(total_g > 0.0)) return finished;
  finished.water_g = 100.0 * parts.water_g / total_g;
  finished.protein_g = 100.0 * parts.protein_g / total_g;
  finished.fat_g = 100.0 * parts.fat_g / total_g;
  finished.salt_g = 100.0 * parts.salt_g / total_g;
  return finished;
}

Nutrition nutrition_of(const recipe::Composition& finished) {
  Nutrition line;
  const double total_g = finished.total_g();
  if (!(total_g > 0.0)) return line;
  const double per_100_g = 100.0 / total_g;
  line.fat_g = per_100_g * finished.fat_g;
  line.protein_g = per_100_g * finished.protein_g;
  line.carbohydrate_g = per_100_g * finished.sugar_g;
  line.salt_g = per_100_g * finished.salt_g * sodium_share() * kSaltPerSodium;
  const auto add = [&line](Energy of_1_g, double mass_g) {
    line.energy_kj += of_1_g.kj * mass_g;
    line.energy_kcal += of_1_g.kcal * mass_g;
  };
  add(kFat, line.fat_g);
  add(kProtein, line.protein_g);
  add(kCarbohydrate, line.carbohydrate_g);
  return line;
}

}  // namespace saltrafter::plan
