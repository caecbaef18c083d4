// Which pieces to weigh, and that what it promises is what weighing them brings.
#include <algorithm>
#include <limits>

#include "tests/near.h"
#include "tests/unit/drying/tasks.h"

using namespace saltrafter;
using namespace saltrafter::drying;
using golden::kMagnus;

namespace {

struct Sort {
  double diameter_m;
  Factors factors;
};

Grams mass_on(const Sort& sort, int day) {
  const Body body = golden::salami_body(sort.diameter_m);
  const auto days = run_daily(body, golden::gentle(), sort.factors, kMagnus, day, kForFit).value();
  return Grams(900.0 * (1.0 - days.back().loss));
}

// Five pieces of three sizes on day 14, weighed when they were; the fourth dries faster for its place.
const std::vector<Sort> kSorts{
    {0.060, {1.0, 1.0}}, {0.055, {1.0, 1.0}}, {0.065, {1.0, 1.0}}, {0.060, {1.15, 1.3}}, {0.060, {1.0, 1.0}}};

ForecastInput batch(double now = 14.0) {
  std::vector<ForecastPiece> pieces;
  for (std::size_t p = 0; p < kSorts.size(); ++p) {
    std::vector<std::pair<double, double>> weighings;
    for (const int day : {2, 5, 7, 9, 12}) {
      // The last has been left alone since the fifth day.
      if (p != 4 || day <= 5) {
        weighings.push_back({day, mass_on(kSorts[p], day).value});
      }
    }
    const std::string id(1, static_cast<char>('a' + p));
    pieces.push_back(golden::piece(id.c_str(), 900.0, weighings));
    pieces.back().diameter = Metres(kSorts[p].diameter_m);
  }
  ForecastInput in = golden::forecast_of(pieces);
  in.now = Days(now);
  return in;
}

WhichToWeigh choose(const ForecastInput& in, std::vector<std::vector<Id>> bunches, int at_most) {
  return test::result_of(WeighWhichTask::make(in, golden::run(in), std::move(bunches), at_most).value());
}

void weigh(ForecastInput& in, std::size_t piece, double day, Grams mass) {
  PieceWeighing weighing;
  weighing.id.text = in.pieces[piece].id.text + "-now";
  weighing.day = day;
  weighing.mass = mass;
  in.pieces[piece].weighings.push_back(weighing);
}

double width(const Window& window) { return std::log(window.latest->value / window.earliest->value); }

}  // namespace

TEST_CASE("the thinnest, the thickest, the odd place and the least certain are proposed, in this order") {
  const ForecastInput in = batch();
  const WhichToWeigh which = choose(in, {}, 4);
  REQUIRE(which.picks.size() == 4);
  const auto is = [&](std::size_t k, Why why, std::size_t piece) {
    CAPTURE(k);
    CHECK(which.picks[k].why == why);
    CHECK(which.picks[k].pieces == std::vector<Id>{in.pieces[piece].id});
  };
  is(0, Why::thinnest, 1);
  is(1, Why::thickest, 2);
  is(2, Why::place, 3);
  is(3, Why::most_uncertain, 4);
  CHECK(choose(in, {}, 2).picks.size() == 2);
  CHECK(choose(in, {}, 50).picks.size() == 5);
}

TEST_CASE("each pick narrows the batch's window or leaves it, around the same day") {
  const ForecastInput in = batch();
  const WhichToWeigh which = choose(in, {}, 5);
  double before = width(which.before);
  for (const Pick& pick : which.picks) {
    CHECK(width(pick.batch) <= before);
    CHECK(pick.batch.likely == which.before.likely);
    before = width(pick.batch);
  }
  CHECK(before < width(which.before));
}

TEST_CASE("weighed as proposed, the spread comes out as told") {
  const ForecastInput in = batch();
  const Forecast forecast = golden::run(in);
  const WhichToWeigh which = choose(in, {}, 4);
  ForecastInput weighed = in;
  for (const Pick& pick : which.picks) {
    for (std::size_t p = 0; p < in.pieces.size(); ++p) {
      if (in.pieces[p].id == pick.pieces.front()) {
        weigh(weighed, p, 14.0, mass_on(kSorts[p], 14));
      }
    }
  }
  const Forecast after = golden::run(weighed);
  // A reading right as expected counts 5/4 in the fit (Student's weights) and 1 here: hence 6 %.
  for (std::size_t p = 0; p < in.pieces.size(); ++p) {
    CAPTURE(p);
    CHECK(which.pieces[p].day_sd_before == forecast.pieces[p].day_sd);
    CHECK(which.pieces[p].day_sd_after == near_rel(after.pieces[p].day_sd, 0.06));
    CHECK(which.pieces[p].day_sd_after < which.pieces[p].day_sd_before);
  }
}

TEST_CASE("of one piece alone the spread after its weighing is the fit's own") {
  ForecastInput in = batch();
  in.pieces.resize(1);
  in.robust = false;
  const WhichToWeigh which = choose(in, {}, 1);
  REQUIRE(which.picks.size() == 1);
  CHECK(which.picks[0].why == Why::most_uncertain);
  ForecastInput weighed = in;
  weigh(weighed, 0, 14.0, mass_on(kSorts[0], 14));
  // The fit moves a little with its last weighing, and its slopes with it.
  CHECK(which.pieces[0].day_sd_after == near_rel(golden::run(weighed).pieces[0].day_sd, 3e-3));
  CHECK(which.pieces[0].day_sd_after < 0.97 * which.pieces[0].day_sd_before);
}

TEST_CASE("what is down is not proposed, and what it taught stays known") {
  ForecastInput in = batch();
  const double before = choose(in, {}, 1).pieces[0].day_sd_after;
  in.pieces[1].hangs = false;  // the thinnest
  in.pieces[2].hangs = false;  // the thickest
  const WhichToWeigh which = choose(in, {}, 50);
  REQUIRE(which.picks.size() == 3);
  for (const Pick& pick : which.picks) {
    CHECK(pick.why != Why::thinnest);
    CHECK(pick.pieces.front() != in.pieces[1].id);
    CHECK(pick.pieces.front() != in.pieces[2].id);
  }
  CHECK(which.pieces[0].day_sd_after <= before);
  // Of a bunch what still hangs goes on the scale.
  const WhichToWeigh tied = choose(in, {{in.pieces[0].id, in.pieces[1].id}}, 50);
  for (const Pick& pick : tied.picks) CHECK(pick.pieces.size() == 1);
  for (ForecastPiece& piece : in.pieces) piece.hangs = false;
  CHECK(choose(in, {}, 50).picks.empty());
}

TEST_CASE("a bunch is one pick, and tells less than its pieces one by one") {
  const ForecastInput in = batch();
  const auto ids = [&in](std::size_t a, std::size_t b) {
    return std::vector<Id>{in.pieces[a].id, in.pieces[b].id};
  };
  const WhichToWeigh tied = choose(in, {ids(3, 4), ids(1, 2)}, 2);
  REQUIRE(tied.picks.size() == 2);
  CHECK(tied.picks[0].pieces == ids(1, 2));
  CHECK(tied.picks[1].pieces == ids(3, 4));
  CHECK(tied.picks[1].why == Why::place);
  ForecastInput two = in;
  two.pieces.resize(2);
  const WhichToWeigh bunch = choose(two, {ids(0, 1)}, 1);
  const WhichToWeigh alone = choose(two, {}, 2);
  REQUIRE(bunch.picks.size() == 1);
  for (std::size_t p = 0; p < 2; ++p) {
    CHECK(alone.pieces[p].day_sd_after < 0.9999 * bunch.pieces[p].day_sd_after);
    CHECK(bunch.pieces[p].day_sd_after < bunch.pieces[p].day_sd_before);
  }
}

TEST_CASE("what was weighed today is not proposed again") {
  ForecastInput in = batch();
  weigh(in, 1, 14.0, mass_on(kSorts[1], 14));
  const WhichToWeigh which = choose(in, {}, 50);
  CHECK(which.picks.size() == 4);
  for (const Pick& pick : which.picks) {
    CHECK(pick.why != Why::thinnest);
    CHECK(pick.pieces.front() != in.pieces[1].id);
  }
}

TEST_CASE("before a tenth is lost weighing buys no narrower window yet, and it is said so") {
  ForecastInput in = batch(4.0);
  for (ForecastPiece& piece : in.pieces) {
    piece.weighings.resize(1);
  }
  const WhichToWeigh early = choose(in, {}, 3);
  CHECK(early.prior_only);
  CHECK(width(early.picks.back().batch) == width(early.before));
  in.now = Days(10.0);
  const WhichToWeigh later = choose(in, {}, 3);
  CHECK_FALSE(later.prior_only);
  CHECK(width(later.picks.back().batch) < 0.8 * width(later.before));
}

TEST_CASE("which to weigh does not hang on how the work is cut") {
  const ForecastInput in = batch();
  const WhichToWeigh whole = choose(in, {}, 4);
  WeighWhichTask task = WeighWhichTask::make(in, golden::run(in), {}, 4).value();
  test::run_in_slices(task, 2.0);
  for (std::size_t p = 0; p < in.pieces.size(); ++p) {
    CHECK(task.result().pieces[p].day_sd_after == whole.pieces[p].day_sd_after);
  }
  CHECK(WeighWhichTask::make(in, golden::run(in), {}, 3).value().key() != task.key());
}

TEST_CASE("which to weigh refuses what cannot be") {
  const ForecastInput in = batch();
  const Forecast forecast = golden::run(in);
  CHECK(WeighWhichTask::make(in, forecast, {}, 0).error().field == "at_most");
  CHECK(WeighWhichTask::make(in, forecast, {}, 51).error().field == "at_most");
  CHECK(WeighWhichTask::make(in, Forecast{}, {}, 3).error().field == "pieces");
  const Id a = in.pieces[0].id;
  Id stranger;
  stranger.text = "stranger";
  CHECK(WeighWhichTask::make(in, forecast, {{a}, {stranger}}, 3).error().field == "bunches/1");
  CHECK(WeighWhichTask::make(in, forecast, {{a}, {a}}, 3).error().field == "bunches/1");
  ForecastInput bad = in;
  bad.now = Days(0.0);
  CHECK(WeighWhichTask::make(bad, forecast, {}, 3).error().field == "now");
  bad.now = Days(std::numeric_limits<double>::quiet_NaN());
  CHECK(WeighWhichTask::make(bad, forecast, {}, 3).error().field == "now");
  bad = in;
  bad.saturation = {};
  CHECK(WeighWhichTask::make(bad, forecast, {}, 3).error().field == "saturation");
}
