// One air for many pieces, and new wet ones beside half-dry ones.
#include <algorithm>
#include <cmath>
#include <limits>

#include "tests/near.h"
#include "tests/unit/drying/tasks.h"

using namespace saltrafter;
using namespace saltrafter::drying;
using golden::kMagnus;
using golden::stage;
using test::hanging;

namespace {

constexpr double kNaN = std::numeric_limits<double>::quiet_NaN();

Hanging half_dry() { return hanging(0.060, golden::gentle(), 20, {}, "half dry"); }
Hanging wet() { return hanging(0.045, {stage(1, 13, 0.78, 0.05)}, 0, {}, "wet"); }

TogetherInput chamber(std::vector<Hanging> pieces) {
  TogetherInput in;
  in.pieces = std::move(pieces);
  in.saturation = kMagnus;
  return in;
}

Together together(TogetherInput in) {
  return test::result_of(TogetherTask::make(std::move(in)).value());
}

HangCheckInput beside(std::vector<Hanging> old, std::vector<Hanging> fresh, double rise) {
  HangCheckInput in;
  in.hanging = std::move(old);
  in.fresh = std::move(fresh);
  in.humidity_rise = rise;
  in.saturation = kMagnus;
  return in;
}

HangCheck check_of(HangCheckInput in) {
  return test::result_of(HangCheckTask::make(std::move(in)).value());
}

double days_of(const Fare& fare) { return fare.days ? fare.days->value : kSearchedShared.value; }

}  // namespace

TEST_CASE("each fare is a run from today in one air, drier never later") {
  const Together all = together(chamber({half_dry(), wet()}));
  REQUIRE(all.set_points.size() == 33);
  CHECK(all.set_points.front().humidity.value == 0.60);
  CHECK(all.set_points.back().humidity.value == 0.92);
  for (std::size_t k = 1; k < all.set_points.size(); ++k) {
    for (std::size_t p = 0; p < 2; ++p) {
      CHECK(days_of(all.set_points[k].fares[p]) >= days_of(all.set_points[k - 1].fares[p]) - 1e-9);
    }
  }
  const SetPoint& at = all.set_points[16];
  CHECK(at.humidity.value == 0.76);
  std::vector<Stage> stages = cut(golden::gentle(), Days(20)).before;
  stages.push_back(stage(1, 13, 0.76, 0.05));
  const auto days = run_daily(golden::s60(), stages, {}, kMagnus, 100, kForFit).value();
  CHECK(at.fares[0].days->value == near_abs(golden::day_of_loss(days, 0.35) - 20.0, 1e-6));
}

TEST_CASE("a piece alone gets its own best: the driest point within its limits") {
  for (const Hanging& piece : {half_dry(), wet()}) {
    const Together alone = together(chamber({piece}));
    const SetPoint& best = alone.set_points[alone.best];
    CHECK(best.beyond == 0);
    CHECK(alone.set_points[alone.best - 1].beyond == 1);
    CHECK(alone.pieces[0].own_best == best.humidity);
    CHECK(alone.pieces[0].later == Days(0.0));
  }
}

TEST_CASE("of many, all stay within their limits and the least delay in all wins; it is said who waits") {
  const Together all = together(chamber({half_dry(), wet()}));
  const SetPoint& best = all.set_points[all.best];
  CHECK(best.beyond == 0);
  for (const SetPoint& point : all.set_points) {
    if (point.beyond == 0) {
      CHECK(point.delay >= best.delay);
    }
  }
  REQUIRE(all.pieces.size() == 2);
  CHECK(all.pieces[0].later >= all.pieces[1].later);
  const double sum = all.pieces[0].later.value + all.pieces[1].later.value;
  CHECK(sum == near_abs(best.delay.value, 1e-9));
  // One of the two would go drier.
  CHECK(all.pieces[0].later.value > 0.5);
  CHECK(all.pieces[0].own_best < best.humidity);
  CHECK(all.pieces[1].own_best == best.humidity);
}

TEST_CASE("a piece that is beyond its limits in any air spoils no choice for the others, and is named first") {
  Hanging hard = hanging(0.081, {stage(1, 13, 0.78, 0.05)}, 0, {}, "hard");
  hard.body = golden::salami_body(0.020);  // dries as thin, held against the limit of thick ones
  TogetherInput in = chamber({wet(), hard});
  in.temperature = Celsius(22.0);
  in.speed = MetresPerSecond(0.5);
  const Together all = together(in);
  CHECK(all.set_points[all.best].beyond == 1);
  CHECK(all.pieces[0].piece.text == "hard");
  REQUIRE(all.pieces[0].bound);
  CHECK(*all.pieces[0].bound == Bound::daily_loss);
  CHECK(all.pieces[0].own_best.value == 0.92);
  CHECK_FALSE(all.pieces[1].bound);
}

TEST_CASE("a day before which it must not come down counts, and what is done needs no more days") {
  Hanging piece = half_dry();
  piece.least = Days(80);
  CHECK(together(chamber({piece})).set_points[10].fares[0].days == Days(60.0));
  piece = half_dry();
  piece.needed_loss = 0.10;
  CHECK(together(chamber({piece})).set_points[10].fares[0].days == Days(0.0));
}

TEST_CASE("what all give off is the sum of what each loses in the next day") {
  const HangCheck now = check_of(beside({half_dry()}, {wet()}, 0.0));
  const auto days_of_course = [](const Hanging& piece, double humidity) {
    std::vector<Stage> stages = cut(piece.stages, piece.now).before;
    stages.push_back(stage(1, 13, humidity, 0.05));
    return run_daily(piece.body, stages, {}, kMagnus, static_cast<int>(piece.now.value) + 1, kForFit).value();
  };
  const auto old = days_of_course(half_dry(), 0.78);
  const auto fresh = days_of_course(wet(), 0.78);
  // Steps of time fall differently where each day is stopped at.
  CHECK(now.before_g_h == near_rel(900.0 * old.back().daily_loss / 24.0, 3e-4));
  CHECK(now.after_g_h == near_rel(900.0 * (old.back().daily_loss + fresh.back().daily_loss) / 24.0, 3e-4));
  REQUIRE(now.hanging.size() == 1);
  CHECK(now.hanging[0].pull_before_pa == now.hanging[0].pull_after_pa);
  const double surface = old[20].aw_surface.value;
  CHECK(now.hanging[0].pull_before_pa == near_abs(golden::magnus_pa(13) * (surface - 0.78), 0.5));
  // Twice the meat gives off twice the water.
  Hanging many = wet();
  many.hung = Grams(1800.0);
  const HangCheck twice = check_of(beside({half_dry()}, {many}, 0.0));
  CHECK(twice.after_g_h - twice.before_g_h == near_rel(2.0 * (now.after_g_h - now.before_g_h), 1e-9));
}

TEST_CASE("the damper the air becomes, the less the half dry are pulled, down to taking water up") {
  double pull_pa = 1e9;
  double loss = 1.0;
  for (const double rise : {0.0, 0.02, 0.05, 0.10, 0.20}) {
    const HangCheck check = check_of(beside({half_dry()}, {wet()}, rise));
    CHECK(check.hanging[0].pull_after_pa < pull_pa);
    CHECK(check.hanging[0].daily_loss_after < loss);
    pull_pa = check.hanging[0].pull_after_pa;
    loss = check.hanging[0].daily_loss_after;
    CHECK(check.hanging[0].pull_before_pa - pull_pa == near_abs(golden::magnus_pa(13) * rise, 1e-6));
  }
  CHECK(pull_pa < 0.0);
  CHECK(loss < 0.0);
}

TEST_CASE("what becomes of a piece follows from its pull and its loss: it goes on, hardly dries, or takes water up") {
  const auto fate = [](double pull_pa, double before, double after) {
    PullChange change;
    change.pull_after_pa = pull_pa;
    change.daily_loss_before = before;
    change.daily_loss_after = after;
    return beside_fresh(change);
  };
  CHECK(fate(50.0, 0.004, 0.0021) == Beside::goes_on);
  CHECK(fate(50.0, 0.004, 0.0019) == Beside::stalls);
  CHECK(fate(50.0, 0.0006, 0.0004) == Beside::stalls);  // slower than counts as drying
  CHECK(fate(-0.1, 0.004, 0.0030) == Beside::takes_up);
}

TEST_CASE("new pieces hang by the model and the prior alone, those of one diameter as one of their sum") {
  ForecastInput in;
  in.composition = golden::salami();
  in.geometry = golden::cylinder(0.060);
  in.prior.mean = {0.1, -0.2};
  in.stages = {stage(1, 13, 0.78, 0.05)};
  in.saturation = kMagnus;
  in.wanted_loss = 0.3;
  in.pieces = {{Id{"a"}, Grams(400.0), {}, {}}, {Id{"b"}, Grams(500.0), Metres(0.045), {}}, {Id{"c"}, Grams(450.0), {}, {}}};
  const std::vector<Hanging> made = new_hangings(in).value();
  REQUIRE(made.size() == 2);
  CHECK(made[0].hung.value == 850.0);
  CHECK(made[1].hung.value == 500.0);
  CHECK(made[1].geometry.diameter.value == 0.045);
  CHECK(made[0].now.value == 0.0);
  CHECK(made[0].factors.inner == near_rel(std::exp(0.1), 1e-12));
  CHECK(made[0].factors.outer == near_rel(std::exp(-0.2), 1e-12));
  CHECK(made[0].needed_loss == 0.3);
  CHECK(check_hangings(made, kMagnus, "fresh").ok());
  in.pieces.clear();
  CHECK(new_hangings(in).error().field == "pieces");
}

TEST_CASE("an empty chamber takes new pieces too") {
  const HangCheck check = check_of(beside({}, {wet()}, 0.02));
  CHECK(check.before_g_h == 0.0);
  CHECK(check.after_g_h > 0.0);
  CHECK(check.hanging.empty());
}

TEST_CASE("hanging together does not hang on how the work is cut, and progress never goes back") {
  const Together whole = together(chamber({half_dry(), wet()}));
  TogetherTask task = TogetherTask::make(chamber({half_dry(), wet()})).value();
  test::run_in_slices(task, 5.0);
  CHECK(task.result().best == whole.best);
  for (std::size_t k = 0; k < whole.set_points.size(); ++k) {
    CHECK(task.result().set_points[k].delay == whole.set_points[k].delay);
  }
  TogetherInput other = chamber({half_dry(), wet()});
  other.temperature = Celsius(12.0);
  CHECK(TogetherTask::make(other).value().key() != task.key());
}

TEST_CASE("hanging together refuses what cannot be") {
  const auto refused = [](const TogetherInput& in) { return TogetherTask::make(in).error().field; };
  CHECK(refused(chamber({})) == "pieces");
  TogetherInput in = chamber({wet()});
  in.temperature = Celsius(kNaN);
  CHECK(refused(in) == "air/temperature");
  in = chamber({wet()});
  in.speed = MetresPerSecond(-1.0);
  CHECK(refused(in) == "air/speed");
  in = chamber({wet(), wet()});
  in.pieces[1].hung = Grams(kNaN);
  CHECK(refused(in) == "pieces/1/hung");
  in = chamber({wet()});
  in.saturation = {};
  CHECK(refused(in) == "saturation");

  const auto refused_check = [](const HangCheckInput& one) { return HangCheckTask::make(one).error().field; };
  CHECK(refused_check(beside({half_dry()}, {}, 0.0)) == "fresh");
  CHECK(refused_check(beside({half_dry()}, {wet()}, -0.01)) == "humidity_rise");
  CHECK(refused_check(beside({half_dry()}, {wet()}, kNaN)) == "humidity_rise");
  HangCheckInput bad = beside({half_dry()}, {wet()}, 0.0);
  bad.humidity = RelativeHumidity(1.0);
  CHECK(refused_check(bad) == "air/humidity");
  bad = beside({half_dry()}, {wet()}, 0.0);
  bad.hanging[0].now = Days(-1.0);
  CHECK(refused_check(bad) == "hanging/0/now");
}
