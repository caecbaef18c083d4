#include <doctest/doctest.h>

#include <cmath>

#include "core/recipe/recipe.h"
#include "tests/near.h"

using namespace saltrafter;
using namespace saltrafter::recipe;

namespace {

Composition salami() {
  Composition c;
  c.water_g = 57.5;
  c.protein_g = 15.5;
  c.fat_g = 22.0;
  c.salt_g = 2.7;
  c.rest_g = 2.3;
  return c;
}

ActivityEstimate estimate(const Composition& c, const Solutes& solutes = {},
                          const std::vector<MeasuredActivity>& learnt = {}) {
  return estimate_activity(c, solutes, learnt).value();
}

}  // namespace

TEST_CASE("the estimate falls with every loss and with every solute, and stays below brine alone") {
  double before = 1.0;
  for (const double loss : {0.0, 0.1, 0.2, 0.3, 0.4, 0.5}) {
    CAPTURE(loss);
    const ActivityEstimate now = estimate(after_loss(salami(), loss));
    CHECK(now.likely.value < before);
    CHECK(now.likely.value < now.at_most.value);
    before = now.likely.value;
  }
  const double without = estimate(salami()).likely.value;
  for (const Solutes& solutes : {Solutes{0.03, 0.0, 0.0}, Solutes{0.0, 0.06, 0.0}, Solutes{0.0, 0.0, 0.01}}) {
    CHECK(estimate(salami(), solutes).likely.value < without);
  }
}

TEST_CASE("an estimate is the same for any mass of the mix") {
  const Solutes solutes{0.02, 0.01, 0.005};
  const Solutes more{2.0, 1.0, 0.5};
  CHECK(estimate(salami() * 100.0, more).likely.value ==
        near_abs(estimate(salami(), solutes).likely.value, 1e-12));
}

TEST_CASE("sugar turned into lactate counts as two, and not among the solids as well") {
  Composition c = salami();
  c.rest_g += 0.9;
  const double mol = 0.9 / 180.156;
  const double sugar = estimate(c, Solutes{mol, 0.0, 0.0}).likely.value;
  const double lactate = estimate(c, Solutes{0.0, 2.0 * mol, 0.0}).likely.value;
  // By Raoult in 57.5 g of water; the water that proteins hold makes a little more of it.
  CHECK(sugar - lactate == near_rel(0.018015 * mol / 0.0575 * sugar, 0.1));
  const Solids solids_alone = solids_of(salami());
  CHECK(isotherm_of(salami(), {}, Holding{1.0, 0.0}).value().content(WaterActivity(0.9)) ==
        near_rel(Isotherm::make(solids_alone).value().content(WaterActivity(0.9)), 1e-12));
  // All of the sugar is taken off the solids: what holds water is that of the mix without it.
  const double with_g =
      isotherm_of(c, Solutes{mol, 0.0, 0.0}, Holding{1.0, 0.0}).value().content(WaterActivity(0.9));
  const double dry_g = c.total_g() - c.water_g;
  const double sugar_g = 1e3 * mol * 0.01801528 / -std::log(0.9);
  const double salami_g = Isotherm::make(solids_alone).value().content(WaterActivity(0.9)) *
                          (salami().total_g() - salami().water_g);
  CHECK(with_g * dry_g == near_rel(salami_g + sugar_g, 1e-9));
}

TEST_CASE("brine alone never goes below saturated brine, and is pure water without salt") {
  Composition c = salami();
  c.salt_g = 0.0;
  CHECK(activity_at_most(c).value == 1.0);
  c.salt_g = 40.0;
  CHECK(activity_at_most(c).value == kSaturatedBrineActivity);
  c.water_g = 0.0;
  CHECK(activity_at_most(c).value == kSaturatedBrineActivity);
  CHECK(activity_at_most(Composition{}).value == 1.0);
}

TEST_CASE("measured values draw the estimate towards them and narrow its error") {
  const double likely = estimate(salami()).likely.value;
  std::vector<MeasuredActivity> learnt;
  double error = estimate(salami()).error;
  CHECK(error == 0.02);
  double off = 0.0;
  for (int n = 1; n <= 5; ++n) {
    learnt.push_back({salami(), {}, WaterActivity(likely - 0.01)});
    const ActivityEstimate now = estimate(salami(), {}, learnt);
    CAPTURE(n);
    CHECK(now.learnt_from == n);
    CHECK(now.error < error);
    CHECK(now.error > 1.645 * 0.005);
    CHECK(now.likely.value < likely - off);
    CHECK(now.likely.value > likely - 0.01);
    error = now.error;
    off = likely - now.likely.value;
  }
  // One value against the model's spread of 0.02 / 1.645 moves it by 1 / (1 + (0.005 * 1.645 / 0.02)^2).
  const ActivityEstimate one = estimate(salami(), {}, {learnt.front()});
  CHECK(likely - one.likely.value == near_rel(0.01 / (1.0 + std::pow(0.005 * 1.645 / 0.02, 2.0)), 1e-9));
  // What was learnt on one composition moves the estimate of another by as much.
  const Composition dry = after_loss(salami(), 0.3);
  CHECK(estimate(dry).likely.value - estimate(dry, {}, learnt).likely.value == near_abs(off, 1e-12));
}

TEST_CASE("measured values that agree in the mean leave the estimate where it was") {
  const double likely = estimate(salami()).likely.value;
  const ActivityEstimate now = estimate(
      salami(), {},
      {{salami(), {}, WaterActivity(likely - 0.004)}, {salami(), {}, WaterActivity(likely + 0.004)}});
  CHECK(now.likely.value == near_abs(likely, 1e-12));
  CHECK(now.learnt_from == 2);
}

TEST_CASE("measured values that cannot be are left out, and none lifts the estimate above brine alone") {
  const double likely = estimate(salami()).likely.value;
  for (const double bad : {0.0, -0.5, 1.01, 97.0, std::nan("")}) {
    const ActivityEstimate now = estimate(salami(), {}, {{salami(), {}, WaterActivity(bad)}});
    CHECK(now.learnt_from == 0);
    CHECK(now.likely.value == likely);
  }
  CHECK(estimate(salami(), {}, {{Composition{}, {}, WaterActivity(0.9)}}).learnt_from == 0);
  const ActivityEstimate high = estimate(salami(), {}, {{salami(), {}, WaterActivity(1.0)}});
  CHECK(high.learnt_from == 1);
  CHECK(high.likely.value == high.at_most.value);
}

TEST_CASE("a composition that holds no water in its solids, or is no number, has no estimate") {
  Composition fat;
  fat.fat_g = 95.0;
  fat.water_g = 5.0;
  CHECK(estimate_activity(fat, {}).error().field == "solids");
  CHECK(estimate_activity(Composition{}, {}).error().field == "solids");
  Composition c = salami();
  c.water_g = std::nan("");
  CHECK(estimate_activity(c, {}).error().field == "water");
  c.water_g = -1.0;
  CHECK(estimate_activity(c, {}).error().field == "water");
  c = salami();
  c.protein_g = std::nan("");
  CHECK_FALSE(estimate_activity(c, {}).ok());
  CHECK_FALSE(estimate_activity(salami(), Solutes{std::nan(""), 0.0, 0.0}).ok());
  CHECK_FALSE(estimate_activity(salami(), Solutes{-1.0, 0.0, 0.0}).ok());
}

TEST_CASE("sugars and Grover's sum keep to their range") {
  CHECK(sugar_activity(SugarKind::glucose, 0.0).value == 1.0);
  CHECK(sugar_activity(SugarKind::sucrose, std::nan("")).value == 1.0);
  CHECK(sugar_activity(SugarKind::glucose, 10.0).value < sugar_activity(SugarKind::glucose, 5.0).value);
  CHECK(grover_activity(1.0, 15.0).ok());
  CHECK(grover_activity(1.0, 15.1).error().field == "grover");
  CHECK_FALSE(grover_activity(1.0, 0.0).ok());
  CHECK_FALSE(grover_activity(0.0, 0.0).ok());
  CHECK_FALSE(grover_activity(12.0, 10.0).ok());
}
