#include <doctest/doctest.h>

#include <cmath>

#include "core/plan/plan.h"
#include "tests/near.h"
#include "tests/unit/recipe/fixture.h"

using namespace saltrafter;
using namespace saltrafter::plan;

namespace {

const Id kWhole{"whole"};

Batch mix() {
  Batch b;
  b.hung = false;
  b.made_from = recipe::test::sample();
  b.made_from.lines.push_back(
      recipe::test::line(recipe::LineKind::additive, "sucrose", 20.0, recipe::Basis::fixed_g));
  b.meat = Grams(3000.0);
  b.costs = {Grams(300.0), 12.0, 0.25, 0.1};
  safety::Reading reading;
  reading.id = Id{"r"};
  reading.value = 5.8;
  b.evidence.readings = {reading};
  b.evidence.acts = {{Id{"act"}, {}, safety::Standing::held, Date{}, "warm", ""}};
  b.steps_done = {{Id{"step"}, 5, 2.0, ""}};
  return b;
}

}  // namespace

TEST_CASE("the parts of a mix add to it, line by line, and hold what was seen of it") {
  Batch whole = mix();
  const recipe::Sheet asked = sheet_of(whole).value();
  for (const recipe::SheetLine& line : asked.lines) whole.weighed.push_back({line.id, line.exact, 7, "lot"});
  const recipe::Sheet sheet = sheet_of(whole).value();
  const std::vector<Batch> parts = split(whole, kWhole, {0.5, 0.3, 0.2}).value();
  REQUIRE(parts.size() == 3);
  double total_g = 0.0;
  recipe::Composition sum;
  for (const Batch& part : parts) {
    const recipe::Sheet own = sheet_of(part).value();
    total_g += own.total.value;
    sum = sum + own.composition;
    CHECK(own.nitrite.value == near_rel(sheet.nitrite.value, 1e-9));
    CHECK(part.evidence == whole.evidence);
    CHECK(part.steps_done == whole.steps_done);
    CHECK(part.weighed[0].lot == "lot");
  }
  CHECK(total_g == near_rel(sheet.total.value, 1e-12));
  CHECK(sum.water_g == near_rel(sheet.composition.water_g, 1e-12));
  CHECK(sum.salt_g == near_rel(sheet.composition.salt_g, 1e-12));
  CHECK(parts[1].meat.value == near_rel(900.0, 1e-12));
  CHECK(parts[1].costs.energy_kwh == near_rel(3.6, 1e-12));
  CHECK(parts[1].costs.trim.value == near_rel(90.0, 1e-12));
  CHECK(parts[1].costs.price_per_kwh == 0.25);
  CHECK(parts[0].from.empty());
  CHECK(parts[1].from == kWhole);
  CHECK(parts[2].from == kWhole);
}

TEST_CASE("fixed grams that are not in yet are shared too, and no other amount") {
  const Batch whole = mix();
  const std::vector<Batch> parts = split(whole, kWhole, {0.25, 0.75}).value();
  CHECK(parts[0].made_from.lines.back().amount == near_rel(5.0, 1e-12));
  CHECK(parts[1].made_from.lines.back().amount == near_rel(15.0, 1e-12));
  for (std::size_t i = 0; i + 1 < whole.made_from.lines.size(); ++i) {
    CHECK(parts[0].made_from.lines[i] == whole.made_from.lines[i]);
  }
}

TEST_CASE("only a mix is split, into shares that add to it") {
  Batch b = mix();
  for (const std::vector<double>& shares : std::vector<std::vector<double>>{{}, {1.0}, {0.5, 0.6}, {0.5, 0.4}}) {
    CAPTURE(shares.size());
    const Result<std::vector<Batch>> parts = split(b, kWhole, shares);
    REQUIRE_FALSE(parts.ok());
    CHECK(parts.error().field == "shares");
    CHECK(parts.error().code == ErrorCode::out_of_range);
  }
  for (const double share : {0.0, -0.2, 1.2, std::nan("")}) {
    CHECK(split(b, kWhole, {0.5, share}).error().field == "shares/1");
  }
  b.pieces.resize(1);
  CHECK(split(b, kWhole, {0.5, 0.5}).error().code == ErrorCode::refused);
  b.pieces.clear();
  b.hung = true;
  CHECK(split(b, kWhole, {0.5, 0.5}).error().field == "hung");
}

TEST_CASE("a chamber was changed as often as changes stand between two days") {
  const Date day = std::chrono::year(2026) / 3 / 1;
  Chamber chamber;
  CHECK(changes_between(chamber, day, day) == 0);
  for (const int after : {0, 10, 20}) {
    chamber.changes.push_back({Id{"c"}, day + std::chrono::days(after), ChamberChangeKind::fan, ""});
  }
  CHECK(changes_between(chamber, day, day + std::chrono::days(20)) == 2);
  CHECK(changes_between(chamber, day - std::chrono::days(1), day + std::chrono::days(19)) == 2);
  CHECK(changes_between(chamber, day + std::chrono::days(20), day + std::chrono::days(90)) == 0);
}
