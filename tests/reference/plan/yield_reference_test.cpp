// The chain from a recipe to price and composition per kg, on a batch of 10 kg worked out by mass balance.
#include <doctest/doctest.h>

#include "core/plan/plan.h"
#include "tests/near.h"
#include "tests/reference/transport/rows.h"
#include "tests/unit/recipe/fixture.h"

using namespace saltrafter;
using namespace saltrafter::plan;
using recipe::Basis;
using recipe::LineKind;

namespace {

recipe::Line own(LineKind kind, const char* name, double amount, const recipe::Composition& parts) {
  recipe::Line line = recipe::test::line(kind, name, amount);
  line.parts = parts;
  return line;
}

// 7 kg of lean and 3 kg of back fat, 27 g/kg of salt in all, 156.25 mg/kg of nitrite by a mix of 6.25 %.
Batch ten_kg() {
  Batch b;
  b.hung = false;
  b.meat = Grams(10000.0);
  recipe::Recipe& r = b.made_from;
  r.mix = recipe::CuringMix{"6.25 %", 0.0625, 0.0};
  r.lines = {own(LineKind::meat, "own_lean", 0.7, {0.725, 0.205, 0.06, 0.0, 0.01}),
             own(LineKind::meat, "own_back_fat", 0.3, {0.0769, 0.0292, 0.8869, 0.0, 0.007}),
             recipe::test::line(LineKind::salt, "", 27.0),
             recipe::test::line(LineKind::cure, "", 156.25),
             own(LineKind::additive, "own_sugar", 4.0, {0.0, 0.0, 0.0, 0.0, 1.0}),
             own(LineKind::additive, "own_pepper", 3.0, {0.10, 0.10, 0.03, 0.0, 0.77})};
  return b;
}

}  // namespace

TEST_CASE("mass, composition and nitrite of the finished batch are those of the worked example") {
  Batch b = ten_kg();
  const recipe::Sheet sheet = sheet_of(b).value();
  int rows_seen = 0;
  for (const rows::Row& row : rows::read("cure_yield.csv")) {
    const double loss = rows::number(row, "loss");
    CAPTURE(loss);
    b.made_from.wanted_loss = loss;
    const Yield yield = yield_of(b, sheet).value();
    const Finished finished = finished_of(sheet.composition, yield.loss, WaterActivity(0.85));
    // The scale shows 246.6 g of salt for 246.56.
    CHECK(yield.green.value == near_abs(10341.56, 0.1));
    CHECK(yield.finished.value == near_abs(rows::number(row, "mass_g"), 0.1));
    CHECK(finished.water_g == near_abs(rows::number(row, "water"), 0.01));
    CHECK(finished.protein_g == near_abs(rows::number(row, "protein"), 0.01));
    CHECK(finished.fat_g == near_abs(rows::number(row, "fat"), 0.01));
    CHECK(finished.salt_g == near_abs(rows::number(row, "salt"), 0.001));
    CHECK(finished.moisture_protein_ratio == near_rel(rows::number(row, "water_protein"), 0.001));
    CHECK(100.0 * finished.water_phase_salt == near_abs(rows::number(row, "salt_in_water"), 0.01));
    CHECK(finished.activity->value == 0.85);
    const double nitrite = recipe::ingoing(sheet.mix * 0.0625, yield.finished).value;
    CHECK(nitrite == near_rel(rows::number(row, "nitrite"), 0.001));
    ++rows_seen;
  }
  CHECK(rows_seen == 4);
}

TEST_CASE("prices per finished and per usable kg are those of the worked example") {
  for (const rows::Row& row : rows::read("dry_price.csv")) {
    Batch b = ten_kg();
    b.made_from.wanted_loss = rows::number(row, "loss");
    b.costs = {Grams(0.0), rows::number(row, "other"), 1.0, rows::number(row, "ends_share")};
    const auto priced = [](const char* key, double price) {
      recipe::Supply supply;
      supply.key = key;
      supply.replaces = key;
      supply.kind = recipe::SupplyKind::cut;
      supply.price = price;
      return supply;
    };
    const recipe::Supplies supplies{priced("own_lean", rows::number(row, "lean_per_kg")),
                                    priced("own_back_fat", rows::number(row, "fat_per_kg"))};
    const recipe::Sheet sheet = sheet_of(b).value();
    const recipe::Cost cost = recipe::cost_of(b.made_from, sheet, supplies);
    const Price price = price_of(b, sheet, cost, yield_of(b, sheet).value());
    CHECK(price.total() == near_abs(rows::number(row, "total"), 0.005));
    CHECK(*price.per_kg_finished == near_abs(rows::number(row, "per_kg_finished"), 0.005));
    CHECK(*price.per_kg_usable == near_abs(rows::number(row, "per_kg_usable"), 0.005));
  }
}
