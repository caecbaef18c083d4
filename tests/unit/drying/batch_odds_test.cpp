// When all pieces of a batch are there: beside draws of the pieces themselves, and at the two limits.
#include <algorithm>
#include <cmath>
#include <random>

#include "tests/near.h"
#include "tests/reference/drying/bodies.h"

using namespace saltrafter;
using namespace saltrafter::drying;

namespace {

double normal_below(double z) { return 0.5 * std::erfc(-z / std::sqrt(2.0)); }

PieceOutlook piece(double likely, double sd) {
  PieceOutlook out;
  out.dried = out.expected.likely = Days(likely);
  out.day_sd = sd;
  return out;
}

Forecast batch(double together) {
  Forecast out;
  out.pieces = {piece(30.0, 0.12), piece(33.0, 0.15), piece(28.0, 0.10), piece(36.0, 0.20)};
  out.together = together;
  return out;
}

// Drawn with the same common part.
double drawn(const Forecast& forecast, double day) {
  std::mt19937 dice(7);
  std::normal_distribution<double> normal;
  constexpr int kDraws = 200000;
  int there = 0;
  for (int i = 0; i < kDraws; ++i) {
    const double common = normal(dice);
    bool all = true;
    for (const PieceOutlook& one : forecast.pieces) {
      const double z = std::sqrt(forecast.together) * common + std::sqrt(1.0 - forecast.together) * normal(dice);
      all = all && one.dried->value * std::exp(one.day_sd * z) <= day;
    }
    there += all ? 1 : 0;
  }
  return static_cast<double>(there) / kDraws;
}

}  // namespace

TEST_CASE("the odds of all are those of drawn batches, however far their pieces go together") {
  for (const double together : {0.05, 0.4, 0.8, 0.99, 0.999}) {
    for (const double day : {32.0, 38.0, 46.0}) {
      CAPTURE(together);
      CAPTURE(day);
      const Forecast forecast = batch(together);
      CHECK(*odds_of_all(forecast, Days(day)) == near_abs(drawn(forecast, day), 0.005));
    }
  }
}

TEST_CASE("independent pieces have the product of their odds, pieces that are one the least of them") {
  for (const double day : {30.0, 36.0, 44.0}) {
    double product = 1.0;
    double least = 1.0;
    for (const PieceOutlook& one : batch(0.0).pieces) {
      const double own = normal_below(std::log(day / one.dried->value) / one.day_sd);
      product *= own;
      least = std::min(least, own);
    }
    CHECK(*odds_of_all(batch(0.0), Days(day)) == near_abs(product, 1e-12));
    CHECK(*odds_of_all(batch(1.0), Days(day)) == near_abs(least, 1e-12));
    CHECK(*odds_of_all(batch(0.9999), Days(day)) == near_abs(least, 0.01));
    CHECK(*odds_of_all(batch(0.5), Days(day)) > product);
    CHECK(*odds_of_all(batch(0.5), Days(day)) < least);
  }
}

TEST_CASE("the days of all have the odds they are named for, none before the least days, only of what hangs") {
  Forecast forecast = batch(0.4);
  const AllDays all = *days_of_all(forecast);
  CHECK(*odds_of_all(forecast, all.tenth) == near_abs(0.1, 1e-4));
  CHECK(*odds_of_all(forecast, all.half) == near_abs(0.5, 1e-4));
  CHECK(*odds_of_all(forecast, all.ninetieth) == near_abs(0.9, 1e-4));
  CHECK(all.half.value > 36.0);  // later than its latest piece by itself
  forecast.pieces[1].least = Days(40.0);
  CHECK(*odds_of_all(forecast, Days(39.9)) == 0.0);
  CHECK(*odds_of_all(forecast, Days(40.0)) > 0.5);
  CHECK(days_of_all(forecast)->tenth == Days(40.0));
  forecast.pieces[3].hangs = forecast.pieces[1].hangs = false;
  CHECK(days_of_all(forecast)->half.value < 34.0);
  forecast.pieces[0].dried.reset();
  CHECK_FALSE(odds_of_all(forecast, Days(40.0)));
  for (PieceOutlook& one : forecast.pieces) one.hangs = false;
  CHECK_FALSE(days_of_all(forecast));
}

TEST_CASE("how far a forecast's pieces go together is their own covariance: the odds are those of drawn factors") {
  // Nothing is weighed: batch and piece factors are as the prior has them, so they can be drawn.
  ForecastInput in = golden::forecast_of({golden::piece("a", 900, {}), golden::piece("b", 900, {}),
                                          golden::piece("c", 900, {})});
  in.pieces[1].diameter = Metres(0.055);
  const Forecast forecast = golden::run(in);
  CHECK(forecast.together > 0.7);  // a batch is surer of its pieces' likeness than of its own pace
  CHECK(forecast.together < 0.98);
  std::mt19937 dice(11);
  std::normal_distribution<double> normal;
  constexpr int kDraws = 100000;
  std::vector<double> last;
  for (int i = 0; i < kDraws; ++i) {
    std::array<double, 2> ln_batch{};
    for (std::size_t k = 0; k < 2; ++k) ln_batch[k] = in.prior.batch_sd[k] * normal(dice);
    std::array<double, 3> model{};
    for (double& part : model) part = normal(dice);
    double latest = -1e9;
    for (const PieceOutlook& one : forecast.pieces) {
      double ln_day = std::log(one.dried->value);
      for (std::size_t k = 0; k < 2; ++k) {
        ln_day += one.window_slope[k] * (ln_batch[k] + in.prior.piece_sd[k] * normal(dice));
      }
      for (std::size_t k = 0; k < model.size(); ++k) ln_day += one.day_model[k] * model[k];
      latest = std::max(latest, ln_day);
    }
    last.push_back(std::exp(latest));
  }
  std::sort(last.begin(), last.end());
  REQUIRE(forecast.all);
  CHECK(forecast.all->tenth.value == near_rel(last[kDraws / 10], 0.01));
  CHECK(forecast.all->half.value == near_rel(last[kDraws / 2], 0.01));
  CHECK(forecast.all->ninetieth.value == near_rel(last[kDraws * 9 / 10], 0.01));
}
