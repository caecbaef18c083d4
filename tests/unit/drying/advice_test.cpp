// What is seen of a batch while it dries, and that each remedy does what it says.
#include <algorithm>
#include <limits>

#include "tests/near.h"
#include "tests/unit/drying/tasks.h"

using namespace saltrafter;
using namespace saltrafter::drying;
using golden::kMagnus;
using golden::stage;

namespace {

constexpr double kNaN = std::numeric_limits<double>::quiet_NaN();

// Pieces that lost what the model says through these stages, weighed on these days, their own factors given.
ForecastInput batch(std::vector<Stage> stages, std::vector<double> weighed, std::vector<Factors> factors,
                    double now) {
  std::vector<ForecastPiece> pieces;
  for (std::size_t p = 0; p < factors.size(); ++p) {
    const auto days = run_daily(golden::s60(), stages, factors[p], kMagnus, 60).value();
    const std::string id(1, static_cast<char>('a' + p));
    std::vector<std::pair<double, double>> weighings;
    for (const double day : weighed) {
      weighings.push_back({day, 900.0 * (1.0 - days[static_cast<std::size_t>(day)].loss)});
    }
    pieces.push_back(golden::piece(id.c_str(), 900.0, weighings));
  }
  ForecastInput in = golden::forecast_of(pieces);
  in.stages = std::move(stages);
  in.now = Days(now);
  return in;
}

AdviceTask task_of(const ForecastInput& in, Sealing sealing = {}) {
  return AdviceTask::make(in, golden::run(in), sealing).value();
}

std::vector<Advice> advice_of(const ForecastInput& in, Sealing sealing = {}) {
  return test::result_of(task_of(in, sealing));
}

const Advice* find(const std::vector<Advice>& all, Trouble trouble) {
  for (const Advice& one : all) {
    if (one.trouble == trouble) return &one;
  }
  return nullptr;
}

const Remedy* find(const Advice& advice, Cure cure) {
  for (const Remedy& one : advice.remedies) {
    if (one.cure == cure) return &one;
  }
  return nullptr;
}

// The first piece run on with this humidity for these days (none: for good), then as planned.
std::vector<DayState> run_on(const ForecastInput& in, double humidity, std::optional<Days> days, int last) {
  const Hanging piece = hangings(in, golden::run(in)).value().front();
  const CutStages at_now = cut(piece.stages, in.now);
  const CutStages parts = days ? cut(at_now.after, *days) : CutStages{at_now.after, {}};
  std::vector<Stage> raised = parts.before;
  for (Stage& one : raised) {
    one.humidity = RelativeHumidity(std::max(one.humidity.value, humidity));
  }
  const std::vector<Stage> stages = joined(joined(at_now.before, raised), parts.after);
  return run_daily(piece.body, stages, piece.factors, kMagnus, last, kForFit).value();
}

const std::vector<Stage> kHarsh{stage(2, 22, 0.85, 0.3), stage(1, 13, 0.65, 0.3)};

}  // namespace

TEST_CASE("a programme cut on any day and joined again dries as it did") {
  const std::vector<Stage> stages = golden::gentle();
  const auto whole = run_daily(golden::s60(), stages, {}, kMagnus, 30).value();
  for (const double day : {0.0, 1.0, 2.0, 4.5, 7.0, 12.0}) {
    CAPTURE(day);
    const CutStages parts = cut(stages, Days(day));
    double before = 0.0;
    for (const Stage& one : parts.before) {
      before += one.duration.value;
    }
    CHECK(before == near_abs(day, 1e-12));
    REQUIRE_FALSE(parts.after.empty());
    const auto again = run_daily(golden::s60(), joined(parts.before, parts.after), {}, kMagnus, 30).value();
    CHECK(again[30].loss == near_rel(whole[30].loss, 1e-4));
  }
  CHECK(cut(stages, Days(2)).before == std::vector<Stage>{stages[0]});
  CHECK(cut(stages, Days(0)).before.empty());
  CHECK(cut(stages, Days(0)).after == stages);
}

TEST_CASE("pieces of a forecast hang as the forecast has them") {
  ForecastInput in = batch(golden::gentle(), {2, 4, 7, 10, 14}, {{1.2, 0.9}, {1.0, 1.0}}, 14);
  in.readings.push_back({ReadingKind::activity, 0.2, 0.925, 0.0});
  in.pieces[1].diameter = Metres(0.05);
  const Forecast forecast = golden::run(in);
  const std::vector<Hanging> pieces = hangings(in, forecast).value();
  REQUIRE(pieces.size() == 2);
  for (std::size_t i = 0; i < 2; ++i) {
    const Hanging& piece = pieces[i];
    const auto days = run_daily(piece.body, piece.stages, piece.factors, kMagnus, 14, kForFit).value();
    CHECK(days[14].loss == near_abs(forecast.pieces[i].loss_now.likely, 1e-9));
  }
  CHECK(pieces[1].geometry.diameter == Metres(0.05));
  in.pieces.pop_back();
  CHECK(hangings(in, forecast).error().field == "pieces");
}

TEST_CASE("each size and kind has its most daily loss") {
  CHECK(daily_loss_limit(Kind::minced, Metres(0.040)).high == near_abs(0.04, 1e-12));
  CHECK(daily_loss_limit(Kind::minced, Metres(0.041)).high == near_abs(0.025, 1e-12));
  CHECK(daily_loss_limit(Kind::minced, Metres(0.080)).low == near_abs(0.015, 1e-12));
  CHECK(daily_loss_limit(Kind::minced, Metres(0.3)).high == near_abs(0.015, 1e-12));
  CHECK(daily_loss_limit(Kind::whole_muscle, Metres(0.071)).high == near_abs(0.015, 1e-12));
  CHECK(daily_loss_limit(Kind::whole_muscle, Metres(0.03)).origin.known == tables::Known::choice);
  CHECK(daily_loss_limit(Kind::minced, Metres(kNaN)).key == "sausage.to_40");
}

TEST_CASE("a gentle programme is fine, and says how near it comes") {
  const ForecastInput in = batch(golden::gentle(), {2, 4, 7, 10, 14}, {{1.0, 1.0}}, 14);
  const std::vector<Advice> all = advice_of(in);
  REQUIRE(all.size() == 1);
  CHECK(all[0].trouble == Trouble::fine);
  CHECK(all[0].urgency == Urgency::none);
  const auto days = run_on(in, 0.0, {}, 21);
  CHECK(all[0].found == near_abs(days[15].daily_loss, 1e-4));
  CHECK(all[0].day == Days(15));
  CHECK(all[0].limit == near_abs(0.025, 1e-12));
  CHECK(all[0].known == tables::Known::practice);
}

TEST_CASE("too fast: the raise is the smallest and the shortest that keeps the daily loss within its limit") {
  const ForecastInput in = batch(kHarsh, {1, 2}, {{1.0, 1.0}}, 2);
  const std::vector<Advice> all = advice_of(in);
  const Advice* fast = find(all, Trouble::too_fast);
  REQUIRE(fast != nullptr);
  CHECK(find(all, Trouble::fine) == nullptr);
  CHECK(fast->urgency == Urgency::act);
  CHECK(fast->pieces == std::vector<Id>{in.pieces[0].id});
  const auto planned = run_on(in, 0.0, {}, 10);
  CHECK(fast->found == near_abs(planned[3].daily_loss, 2e-4));
  REQUIRE(fast->remedies.size() == 1);
  const Remedy& raise = fast->remedies[0];
  CHECK(raise.cure == Cure::raise_humidity);
  REQUIRE(raise.humidity);
  REQUIRE(raise.days);
  CHECK(raise.days->value > 1.0);
  const auto most = [&](double humidity, std::optional<Days> days) {
    double out = 0.0;
    for (const DayState& day : run_on(in, humidity, days, 30)) {
      out = day.day > in.now ? std::max(out, day.daily_loss) : out;
    }
    return out;
  };
  const double humidity = raise.humidity->value;
  CHECK(humidity > 0.65);
  CHECK(most(humidity, raise.days) <= fast->limit);
  CHECK(most(humidity - 0.01, {}) > fast->limit);
  CHECK(most(humidity, Days(raise.days->value - 1.0)) > fast->limit);
}

TEST_CASE("a hardened rim: a raise that brings it back, and a bag only where one is allowed") {
  const ForecastInput in = batch(kHarsh, {2, 5, 8, 11, 14}, {{1.0, 1.0}}, 14);
  const std::vector<Advice> open = advice_of(in);
  const Advice* hard = find(open, Trouble::hardening);
  REQUIRE(hard != nullptr);
  CHECK(hard->urgency == Urgency::act);
  CHECK(hard->limit == kActAbove);
  double most = 0.0;
  for (const DayState& day : run_on(in, 0.0, {}, 21)) {
    most = day.day.value >= 14.0 ? std::max(most, day.case_hardening) : most;
  }
  CHECK(hard->found == near_abs(most, 1e-3));
  CHECK(find(*hard, Cure::equalise) == nullptr);
  const Remedy* raise = find(*hard, Cure::raise_humidity);
  REQUIRE(raise != nullptr);
  const double humidity = raise->humidity->value;
  // On the day the piece has what is wanted of it, by when the rim must have come back.
  const auto index_at_end = [&](double at) {
    for (const DayState& day : run_on(in, at, {}, 35)) {
      if (day.day > in.now && day.loss >= 0.35) {
        return day.case_hardening;
      }
    }
    return run_on(in, at, {}, 35).back().case_hardening;
  };
  CHECK(index_at_end(humidity) <= kActAbove);
  CHECK(index_at_end(humidity - 0.01) > kActAbove);
  if (raise->days) {
    const double end = 14.0 + raise->days->value;
    for (const DayState& day : run_on(in, humidity, raise->days, static_cast<int>(end) + 7)) {
      CHECK((day.day.value < end || day.case_hardening <= kActAbove));
    }
  }

  const std::vector<Advice> sealed = advice_of(in, {true, Celsius(3.0)});
  const Remedy* bag = find(*find(sealed, Trouble::hardening), Cure::equalise);
  REQUIRE(bag != nullptr);
  CHECK(*bag->temperature == Celsius(3.0));
  CHECK(bag->days->value >= 5.0);
  CHECK(bag->days->value <= 7.0);
  CHECK_FALSE(bag->humidity);
}

TEST_CASE("a rim that dries before the piece has lost a fifth is a reason to act by itself") {
  // So salty that its core is near the rim from the start.
  ForecastInput in = batch({stage(1, 13, 0.75, 0.3)}, {1, 2}, {{1.0, 1.0}}, 3);
  in.composition = {450.0, 200.0, 270.0, 80.0, 0.0};
  in.pieces[0].weighings.clear();
  const std::vector<Advice> all = advice_of(in);
  const Advice* hard = find(all, Trouble::hardening);
  REQUIRE(hard != nullptr);
  CHECK(hard->urgency == Urgency::act);
  CHECK(hard->unit == "aw");
  CHECK(hard->limit == kDryRim.value);
  CHECK(hard->found < kDryRim.value);
  REQUIRE(hard->remedies.size() == 1);
  CHECK(hard->remedies[0].humidity->value > 0.75);
}

TEST_CASE("stalled near its equilibrium, far from what is wanted: a drier set point that moves it again") {
  ForecastInput in = batch({stage(1, 13, 0.90, 0.05)}, {5, 15, 30, 45, 60}, {{1.0, 1.0}}, 200);
  in.wanted_loss = 0.40;
  in.horizon = Days(210);
  const std::vector<Advice> all = advice_of(in);
  const Advice* stalled = find(all, Trouble::stalled);
  REQUIRE(stalled != nullptr);
  CHECK(stalled->urgency == Urgency::act);
  CHECK(stalled->found < kStalledRate.value);
  REQUIRE(stalled->remedies.size() == 1);
  CHECK(stalled->remedies[0].cure == Cure::lower_humidity);
  CHECK(stalled->remedies[0].humidity->value < 0.90);
  CHECK_FALSE(stalled->remedies[0].days);
  // What is nearly there may be slow.
  in.wanted_loss = golden::run(in).pieces[0].loss_now.likely + 0.01;
  CHECK(find(advice_of(in), Trouble::stalled) == nullptr);
}

TEST_CASE("stalled by the scale: less than half of what the model lost between two weighings") {
  ForecastInput in = batch(golden::gentle(), {2, 4, 7, 10, 14}, {{1.0, 1.0}}, 21);
  const auto days = run_daily(golden::s60(), golden::gentle(), {}, kMagnus, 21).value();
  const auto with = [&in, &days](double share) {
    ForecastInput out = in;
    PieceWeighing last;
    last.id.text = "a-21";
    last.day = 21.0;
    last.mass = Grams(900.0 * (1.0 - days[14].loss - share * (days[21].loss - days[14].loss)));
    out.pieces[0].weighings.push_back(last);
    return out;
  };
  // The fit leans towards what it saw; handed the forecast from before, the stall stands alone.
  const Forecast before = golden::run(in);
  const auto advice = [&](double share) {
    return test::result_of(AdviceTask::make(with(share), before, {}).value());
  };
  const std::vector<Advice> slow = advice(0.3);
  const Advice* stalled = find(slow, Trouble::stalled);
  REQUIRE(stalled != nullptr);
  CHECK(stalled->urgency == Urgency::watch);
  CHECK(stalled->found == near_rel(0.3 * (days[21].loss - days[14].loss) / 7.0, 0.02));
  CHECK(find(advice(0.9), Trouble::stalled) == nullptr);
}

TEST_CASE("uneven: pieces further apart than the fit's spread between pieces, fastest first") {
  const std::vector<double> weighed{3, 7, 10};
  const std::vector<Advice> alike =
      advice_of(batch(golden::gentle(), weighed, {{1.0, 1.0}, {1.05, 1.05}, {0.95, 0.95}}, 10));
  CHECK(find(alike, Trouble::uneven) == nullptr);
  const ForecastInput in = batch(golden::gentle(), weighed, {{1.0, 1.0}, {1.0, 0.55}, {1.1, 2.0}}, 10);
  const std::vector<Advice> all = advice_of(in);
  const Advice* uneven = find(all, Trouble::uneven);
  REQUIRE(uneven != nullptr);
  CHECK(uneven->found > uneven->limit);
  REQUIRE(uneven->pieces.size() == 3);
  CHECK(uneven->pieces.front() == in.pieces[2].id);
  CHECK(uneven->pieces.back() == in.pieces[1].id);
  REQUIRE(uneven->remedies.size() == 1);
  CHECK(uneven->remedies[0].cure == Cure::swap_places);
}

TEST_CASE("a thin piece beside thick ones is no unevenness where its size explains it") {
  ForecastInput in = batch(golden::gentle(), {3, 7, 10}, {{1.0, 1.0}, {1.0, 1.0}, {1.0, 1.0}}, 10);
  const auto thin = run_daily(golden::salami_body(0.040), golden::gentle(), {}, kMagnus, 10).value();
  in.pieces[2].diameter = Metres(0.040);
  for (PieceWeighing& weighing : in.pieces[2].weighings) {
    weighing.mass = Grams(900.0 * (1.0 - thin[static_cast<std::size_t>(weighing.day)].loss));
  }
  CHECK(find(advice_of(in), Trouble::uneven) == nullptr);
  in.pieces[2].diameter.reset();
  CHECK(find(advice_of(in), Trouble::uneven) != nullptr);
}

TEST_CASE("advice does not hang on how its work is cut, and its progress never goes back") {
  const ForecastInput in = batch(kHarsh, {1, 2}, {{1.0, 1.0}, {1.1, 1.1}, {0.8, 0.8}}, 2);
  const std::vector<Advice> whole = advice_of(in, {true, Celsius(3.0)});
  AdviceTask task = task_of(in, {true, Celsius(3.0)});
  test::run_in_slices(task, 3.0);
  REQUIRE(task.result().size() == whole.size());
  for (std::size_t i = 0; i < whole.size(); ++i) {
    CHECK(task.result()[i].found == whole[i].found);
    REQUIRE(task.result()[i].remedies.size() == whole[i].remedies.size());
    for (std::size_t k = 0; k < whole[i].remedies.size(); ++k) {
      CHECK(task.result()[i].remedies[k].humidity == whole[i].remedies[k].humidity);
      CHECK(task.result()[i].remedies[k].days == whole[i].remedies[k].days);
    }
  }
  CHECK(task_of(in).key() != task.key());
  ForecastInput other = in;
  other.now = Days(3);
  CHECK(task_of(other).key() != task_of(in).key());
}

TEST_CASE("advice refuses what cannot be") {
  const ForecastInput in = batch(golden::gentle(), {2, 4}, {{1.0, 1.0}}, 4);
  const Forecast forecast = golden::run(in);
  CHECK(AdviceTask::make(in, forecast, {true, Celsius(60.0)}).error().field == "sealing/temperature");
  CHECK(AdviceTask::make(in, forecast, {true, Celsius(kNaN)}).error().field == "sealing/temperature");
  CHECK(AdviceTask::make(in, Forecast{}, {}).error().field == "pieces");
  ForecastInput bad = in;
  bad.saturation = {};
  CHECK(AdviceTask::make(bad, forecast, {}).error().field == "saturation");
  bad = in;
  bad.pieces[0].hung = Grams(0.0);
  CHECK(AdviceTask::make(bad, forecast, {}).error().field == "pieces/0/hung");
  bad = in;
  bad.stages.clear();
  CHECK(AdviceTask::make(bad, forecast, {}).error().field == "stages");
  bad = in;
  bad.now = Days(kNaN);
  CHECK(AdviceTask::make(bad, forecast, {}).error().field == "pieces/0/now");
}
