// What would bring it sooner: each step is a run, and none that comes sooner leaves the limits.
#include <algorithm>
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

LeversInput input(std::vector<Hanging> pieces) {
  LeversInput in;
  in.pieces = std::move(pieces);
  in.saturation = kMagnus;
  return in;
}

Levers levers(LeversInput in) {
  return test::result_of(LeversTask::make(std::move(in)).value());
}

const LeverWay* find(const Levers& all, Lever lever, bool more) {
  for (const LeverWay& way : all.ways) {
    if (way.lever == lever && way.more == more) return &way;
  }
  return nullptr;
}

// The worst of a run after a day and until 35 %.
struct Worst {
  double daily_loss = 0.0, hardening = 0.0;
};
Worst worst(const Hanging& piece, const std::vector<Stage>& stages) {
  Worst out;
  const auto days = run_daily(piece.body, stages, piece.factors, kMagnus, 200, kForFit).value();
  for (const DayState& day : days) {
    if (day.day > piece.now) {
      out.daily_loss = std::max(out.daily_loss, day.daily_loss);
      out.hardening = std::max(out.hardening, day.case_hardening);
      if (day.loss >= 0.35) break;
    }
  }
  return out;
}

std::vector<Stage> with_last_humidity(std::vector<Stage> stages, double humidity) {
  stages.back().humidity = RelativeHumidity(humidity);
  return stages;
}

}  // namespace

TEST_CASE("drier comes sooner up to the last point within the limits, and the way says what binds") {
  const Hanging piece = hanging(0.060, golden::gentle(), 7);
  const Levers all = levers(input({piece}));
  const LeverWay* drier = find(all, Lever::humidity, false);
  REQUIRE(drier != nullptr);
  REQUIRE_FALSE(drier->steps.empty());
  REQUIRE(drier->bound);
  CHECK(*drier->bound == Bound::hardening);
  CHECK_FALSE(all.bound);
  double before = all.planned.expected->value;
  for (const LeverStep& step : drier->steps) {
    CHECK(step.expected->value < before);
    before = step.expected->value;
    const Worst run = worst(piece, with_last_humidity(golden::gentle(), step.value));
    CHECK(step.hardening == near_abs(run.hardening, 1e-3));
    CHECK(step.daily_loss == near_abs(run.daily_loss, 1e-4));
    CHECK(run.hardening <= kActAbove);
  }
  const double next = drier->steps.back().value - 0.01;
  CHECK(worst(piece, with_last_humidity(golden::gentle(), next)).hardening > kActAbove);
  CHECK(find(all, Lever::humidity, true)->steps.size() == 10);
}

TEST_CASE("with the daily loss near its limit, that binds") {
  const Hanging piece = hanging(0.060, {stage(1, 13, 0.84, 0.5)}, 0);
  const Levers all = levers(input({piece}));
  REQUIRE_FALSE(all.bound);
  const LeverWay* drier = find(all, Lever::humidity, false);
  REQUIRE(drier != nullptr);
  REQUIRE(drier->bound);
  CHECK(*drier->bound == Bound::daily_loss);
  const double last = drier->steps.empty() ? 0.84 : drier->steps.back().value;
  CHECK(worst(piece, {stage(1, 13, last, 0.5)}).daily_loss <= 0.025);
  CHECK(worst(piece, {stage(1, 13, last - 0.01, 0.5)}).daily_loss > 0.025);
}

TEST_CASE("what is beyond its limits as planned has no sooner way, and every gentler one") {
  const Levers all = levers(input({hanging(0.060, {stage(1, 13, 0.65, 0.3)}, 3)}));
  REQUIRE(all.bound);
  for (const LeverWay& way : all.ways) {
    for (const LeverStep& step : way.steps) {
      if (way.lever != Lever::size) {
        CHECK((!step.expected || step.expected->value >= all.planned.expected->value));
      }
    }
  }
  CHECK(find(all, Lever::humidity, false)->steps.empty());
  CHECK(find(all, Lever::humidity, false)->bound);
  CHECK(find(all, Lever::humidity, true)->steps.size() == 10);
  CHECK_FALSE(find(all, Lever::humidity, true)->bound);
}

TEST_CASE("a thin piece beside the middle one binds first") {
  const Hanging thick = hanging(0.060, golden::gentle(), 3);
  const Hanging thin = hanging(0.041, golden::gentle(), 3, {1.0, 1.3});
  const std::size_t alone = find(levers(input({thick})), Lever::humidity, false)->steps.size();
  const Levers both = levers(input({thick, thin}));
  CHECK(find(both, Lever::humidity, false)->steps.size() < alone);
  CHECK(both.planned.expected == levers(input({thick})).planned.expected);
}

TEST_CASE("a smaller piece of the next batch counts from hanging, in the limits of its size") {
  const Hanging piece = hanging(0.060, golden::gentle(), 7);
  const Levers all = levers(input({piece}));
  const LeverWay* size = find(all, Lever::size, false);
  REQUIRE(size != nullptr);
  REQUIRE_FALSE(size->steps.empty());
  for (const LeverStep& step : size->steps) {
    const auto days =
        run_daily(golden::salami_body(step.value), golden::gentle(), {}, kMagnus, 60, kForFit).value();
    CHECK(step.expected->value == near_abs(golden::day_of_loss(days, 0.35), 1e-6));
    CHECK(step.daily_loss <= daily_loss_limit(Kind::minced, Metres(step.value)).high);
  }
}

TEST_CASE("levers stay within their range, leave a bag alone, and do not dry what hangs damper") {
  LeversInput in = input({hanging(0.060, golden::gentle(), 7)});
  in.range.driest = RelativeHumidity(0.76);
  in.range.warmest = Celsius(13.0);
  const Levers all = levers(in);
  CHECK(find(all, Lever::humidity, false)->steps.size() == 2);
  CHECK(find(all, Lever::temperature, true) == nullptr);
  std::vector<Stage> stages{stage(3, 4, 0.78, 0.1), stage(1, 13, 0.94, 0.1)};
  stages[0].sealed = true;
  in = input({hanging(0.060, stages, 1)});
  in.pieces[0].needed_loss = 0.02;
  const Levers damp = levers(in);
  CHECK(find(damp, Lever::humidity, true) == nullptr);
  const LeverWay* drier = find(damp, Lever::humidity, false);
  if (drier) {
    for (const LeverStep& step : drier->steps) CHECK(step.value <= 0.92);
  }
  stages[1].sealed = true;
  const Levers closed = levers(input({hanging(0.060, stages, 1)}));
  CHECK_FALSE(closed.planned.expected);
  for (const LeverWay& way : closed.ways) {
    CHECK(way.lever == Lever::size);
  }
}

TEST_CASE("levers do not hang on how their work is cut, and progress never goes back") {
  const LeversInput in = input({hanging(0.060, golden::gentle(), 7), hanging(0.045, golden::gentle(), 7)});
  const Levers whole = levers(in);
  LeversTask task = LeversTask::make(in).value();
  test::run_in_slices(task, 7.0);
  REQUIRE(task.result().ways.size() == whole.ways.size());
  for (std::size_t w = 0; w < whole.ways.size(); ++w) {
    REQUIRE(task.result().ways[w].steps.size() == whole.ways[w].steps.size());
    for (std::size_t k = 0; k < whole.ways[w].steps.size(); ++k) {
      CHECK(task.result().ways[w].steps[k].expected == whole.ways[w].steps[k].expected);
      CHECK(task.result().ways[w].steps[k].hardening == whole.ways[w].steps[k].hardening);
    }
  }
  LeversInput other = in;
  other.pieces[1].factors.outer = 1.01;
  CHECK(LeversTask::make(other).value().key() != task.key());
}

TEST_CASE("levers refuse what cannot be") {
  const LeversInput in = input({hanging(0.060, golden::gentle(), 7)});
  const auto refused = [](const LeversInput& bad) { return LeversTask::make(bad).error().field; };
  CHECK(refused(input({})) == "pieces");
  LeversInput bad = in;
  bad.saturation = {};
  CHECK(refused(bad) == "saturation");
  bad = in;
  bad.middle = 1;
  CHECK(refused(bad) == "middle");
  bad = in;
  bad.searched = Days(kNaN);
  CHECK(refused(bad) == "searched");
  bad = in;
  bad.range.driest = RelativeHumidity(1.2);
  CHECK(refused(bad) == "range/driest");
  bad = in;
  bad.range.dampest = RelativeHumidity(0.5);
  CHECK(refused(bad) == "range/dampest");
  bad = in;
  bad.range.warmest = Celsius(0.0);
  CHECK(refused(bad) == "range/warmest");
  bad = in;
  bad.pieces[0].body.isotherm.reset();
  CHECK(refused(bad) == "pieces/0/body");
  bad = in;
  bad.pieces[0].factors.inner = kNaN;
  CHECK(refused(bad) == "pieces/0/factors");
  bad = in;
  bad.pieces[0].needed_loss = 1.0;
  CHECK(refused(bad) == "pieces/0/needed_loss");
  bad = in;
  bad.pieces[0].stages.clear();
  CHECK(refused(bad) == "stages");
}
