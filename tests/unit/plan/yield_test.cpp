#include <doctest/doctest.h>

#include "core/plan/plan.h"
#include "tests/near.h"
#include "tests/unit/plan/fixture.h"
#include "tests/unit/recipe/fixture.h"

using namespace saltrafter;
using namespace saltrafter::plan;
using plan::test::batch;
using plan::test::day;
using plan::test::event;

namespace {

constexpr double kExact = 1e-12;

Batch hung() {
  Batch b = batch();
  b.weighings.clear();
  b.made_from = recipe::test::sample();
  b.made_from.wanted_loss = 0.3;
  b.meat = Grams(2000.0);
  return b;
}

TakenDown down(const char* piece, double mass_g) {
  TakenDown d;
  d.id = Id{std::string("down_") + piece};
  d.piece = Id{piece};
  d.date = day(40);
  d.mass = Grams(mass_g);
  return d;
}

}  // namespace

TEST_CASE("what hung is what was taken off, what dried away and what is finished") {
  Batch b = hung();
  b.pieces[0].hung = Grams(1030.0);
  b.pieces[0].tare = Grams(30.0);
  const recipe::Sheet sheet = sheet_of(b).value();
  Yield yield = yield_of(b, sheet).value();
  CHECK(yield.green.value == sheet.total.value);
  CHECK(yield.hung.value == near_rel(2000.0, kExact));
  CHECK(yield.finished.value == near_rel(1400.0, kExact));
  CHECK(yield.water.value == near_rel(600.0, kExact));
  CHECK(yield.loss == near_rel(0.3, kExact));
  CHECK(yield.taken_down == 0);
  CHECK_FALSE(yield.usable);
  // What a forecast makes of the wishes counts where there are any.
  CHECK(yield_of(b, sheet, 0.4).value().finished.value == near_rel(1400.0, kExact));
  b.wishes = {{drying::WishKind::moisture_protein_ratio, 1.9}};
  CHECK(yield_of(b, sheet, 0.4).value().finished.value == near_rel(1200.0, kExact));
  b.wishes.clear();

  // A quarter of the first is cut off at 20 % loss; it comes down at 40 %.
  b.events = {event(EventKind::cut, 10, 830.0, 630.0)};
  b.taken_down = {down("one", 30.0 + 450.0)};
  yield = yield_of(b, sheet).value();
  CHECK(yield.taken_off.value == 200.0);
  CHECK(yield.finished.value == near_rel(450.0 + 700.0, kExact));
  CHECK(yield.water.value == near_rel(2000.0 - 200.0 - 1150.0, kExact));
  CHECK(yield.loss == near_rel(1.0 - 1150.0 / 1750.0, kExact));
  CHECK(yield.taken_down == 1);

  // What a piece says is usable goes before the batch's share of ends.
  b.taken_down[0].usable = Grams(420.0);
  CHECK_FALSE(yield_of(b, sheet).value().usable);
  b.costs.ends_share = 0.1;
  CHECK(yield_of(b, sheet).value().usable->value == near_rel(420.0 + 630.0, kExact));
  b.taken_down[0].usable.reset();
  CHECK(yield_of(b, sheet).value().usable->value == near_rel(0.9 * 1150.0, kExact));
}

TEST_CASE("a mix that does not hang yet yields what is wanted of it, whole muscle starts from its trimmed weight") {
  Batch b = hung();
  b.hung = false;
  b.pieces.clear();
  const recipe::Sheet sheet = sheet_of(b).value();
  Yield yield = yield_of(b, sheet).value();
  CHECK(yield.hung.value == near_rel(sheet.composition.total_g(), kExact));
  CHECK(yield.finished.value == near_rel(0.7 * sheet.composition.total_g(), kExact));
  CHECK(yield.loss == near_rel(0.3, 1e-9));

  b = hung();
  b.made_from.product_class = recipe::ProductClass::whole_muscle_dry;
  CHECK(yield_of(b, sheet).value().green.value == 2000.0);
  for (Piece& piece : b.pieces) piece.trimmed = Grams(1010.0);
  CHECK(yield_of(b, sheet).value().green.value == 2020.0);
  b.loss_base = LossBase::trimmed;
  CHECK(yield_of(b, sheet).value().finished.value == near_rel(0.7 * 2020.0, kExact));
  b.pieces[1].trimmed.reset();
  CHECK(yield_of(b, sheet).error().field == "trimmed");
}

TEST_CASE("a price is what was put in, trim at the price of its meat, and energy, over what comes of it") {
  Batch b = hung();
  b.costs = {Grams(200.0), 10.0, 0.3, 0.1};
  const recipe::Sheet sheet = sheet_of(b).value();
  recipe::Cost cost;
  cost.lines = {{b.made_from.lines[0].id, 14.0}, {b.made_from.lines[1].id, 2.0}, {b.made_from.lines[2].id, 1.0}};
  cost.total = 17.0;
  cost.unpriced = {"dextrose"};
  const Yield yield = yield_of(b, sheet).value();
  Price price = price_of(b, sheet, cost, yield);
  CHECK(price.ingredients == 17.0);
  CHECK(price.trim == near_rel(1.6, 1e-9));  // 16.00 for 2 kg of meat
  CHECK(price.energy == near_rel(3.0, kExact));
  CHECK(price.total() == near_rel(21.6, 1e-9));
  CHECK(*price.per_kg_finished == near_rel(21.6 / 1.4, 1e-9));
  CHECK(*price.per_kg_usable == near_rel(21.6 / 1.26, 1e-9));
  CHECK(price.unpriced == cost.unpriced);
  b.costs = {};
  price = price_of(b, sheet, cost, yield_of(b, sheet).value());
  CHECK(price.total() == 17.0);
  CHECK_FALSE(price.per_kg_usable);
  CHECK_FALSE(price_of(b, sheet, cost, Yield{}).per_kg_finished);
}

TEST_CASE("a label's energy is by grams of fat, protein and carbohydrate, and its salt is sodium times 2.5") {
  const recipe::Composition half{30.0, 20.0, 40.0, 4.0, 6.0, 2.0};
  const Nutrition line = nutrition_of(half * 0.5);
  CHECK(line.fat_g == near_rel(40.0, kExact));
  CHECK(line.protein_g == near_rel(20.0, kExact));
  CHECK(line.carbohydrate_g == near_rel(2.0, kExact));
  CHECK(line.energy_kj == near_rel(40.0 * 37.0 + 20.0 * 17.0 + 2.0 * 17.0, kExact));
  CHECK(line.energy_kcal == near_rel(40.0 * 9.0 + 20.0 * 4.0 + 2.0 * 4.0, kExact));
  // 22.990 g of sodium in 58.443 g of its chloride.
  CHECK(line.salt_g == near_rel(4.0 * 22.990 / 58.443 * 2.5, 1e-6));
  CHECK(nutrition_of({}).energy_kj == 0.0);
  const Finished nothing = finished_of({}, 0.3, std::nullopt);
  CHECK(nothing.water_g == 0.0);
  CHECK(nothing.moisture_protein_ratio == 0.0);
}
