// The fit and the forecast against the design's worked examples.
#include "tests/reference/drying/bodies.h"
#include "tests/reference/drying/checks.h"

using checks::expected;
using namespace saltrafter::drying;

namespace {

std::vector<std::pair<double, double>> synthetic() {
  std::vector<std::pair<double, double>> out;
  for (const rows::Row& row : rows::read("dry_synthetic_fit.csv")) {
    out.emplace_back(rows::number(row, "day"), rows::number(row, "weight_obs_g"));
  }
  return out;
}

Forecast single(const std::vector<std::pair<double, double>>& weighings, bool robust) {
  ForecastInput in = golden::forecast_of({golden::piece("a", 900, weighings)});
  in.robust = robust;
  return golden::run(in);
}

std::vector<ForecastPiece> batch() {
  std::vector<ForecastPiece> pieces;
  std::vector<std::vector<std::pair<double, double>>> weighings(4);
  for (const rows::Row& row : rows::read("dry_hier_weighings.csv")) {
    weighings[static_cast<std::size_t>(rows::number(row, "piece")) - 1].emplace_back(
        rows::number(row, "day"), rows::number(row, "weight_g"));
  }
  const char* names[] = {"1", "2", "3", "4"};
  for (std::size_t p = 0; p < 4; ++p) {
    pieces.push_back(golden::piece(names[p], weighings[p][0].second, weighings[p]));
  }
  return pieces;
}

// The window a piece would have with this share for the model's own error.
double edge(const PieceOutlook& p, double sign, double share) {
  const Covariance c{p.sd[0] * p.sd[0], p.sd[1] * p.sd[1], p.correlation * p.sd[0] * p.sd[1]};
  const double s = std::sqrt(c.along(p.window_slope) + share * share);
  return p.expected.likely->value * std::exp(sign * 1.2815515655 * s);
}

}  // namespace

TEST_CASE("six weighings of one piece give the published factors, spread and window") {
  const Forecast f = single(synthetic(), false);
  const PieceOutlook& p = f.pieces[0];
  CHECK_FALSE(f.prior_only);
  CHECK(p.ln_factor[0] == expected("ln F_D of the synthetic fit"));
  CHECK(p.ln_factor[1] == expected("ln F_k of the synthetic fit"));
  CHECK(p.sd[0] == expected("sd of ln F_D"));
  CHECK(p.sd[1] == expected("sd of ln F_k"));
  CHECK(p.correlation == expected("correlation"));
  REQUIRE(p.expected.likely);
  REQUIRE(p.expected.latest);
  CHECK(p.expected.likely->value == expected("ready likely d"));
  // The design took 3 % of the time for the model's own error and nothing for how far it reaches ahead.
  CHECK(edge(p, -1.0, 0.03) == expected("ready earliest d"));
  CHECK(edge(p, 1.0, 0.03) == expected("ready latest d"));
  CHECK(p.expected.earliest->value < edge(p, -1.0, 0.03));
  CHECK(p.expected.latest->value > edge(p, 1.0, 0.03));
  // The design's own are differences over 4 % with the day read off a line between whole days.
  CHECK(p.window_slope[0] == near_abs(-0.706, 0.015));
  CHECK(p.window_slope[1] == near_abs(-0.152, 0.01));
  CHECK(f.suspicions.empty());
  for (const rows::Row& row : rows::read("dry_synthetic_fit.csv")) {
    const auto mass = expected_mass(p, saltrafter::Grams(900), golden::Days(rows::number(row, "day")));
    REQUIRE(mass);
    CHECK(mass->likely.value == near_abs(rows::number(row, "weight_MAP_g"), 0.3));
  }
}

TEST_CASE("Student's weights leave good weighings as they are") {
  const Forecast f = single(synthetic(), true);
  CHECK(f.pieces[0].expected.likely->value == near_abs(41.9, 0.3));
  CHECK(f.suspicions.empty());
}

TEST_CASE("a weight typed 878 for 788 is found, set aside and moves the expected day by less than half a day") {
  auto weighings = synthetic();
  weighings[2].second = 878;
  const Forecast f = single(weighings, true);
  bool found = false;
  for (const Suspicion& s : f.suspicions) {
    if (s.doubt == Doubt::set_aside) {
      CHECK(s.weighing.text == "a-7");
      CHECK(s.z == expected("z of a mistyped weight"));
      found = true;
    }
  }
  CHECK(found);
  CHECK(f.pieces[0].weighings_used == 5);
  CHECK(f.pieces[0].expected.likely->value == near_abs(41.8, 0.4));
}

TEST_CASE("a hook left on is marked but taken in") {
  auto weighings = synthetic();
  weighings[2].second = 797;
  const Forecast plain = single(weighings, false);
  REQUIRE(plain.suspicions.size() == 1);
  CHECK(plain.suspicions[0].doubt == Doubt::mark);
  CHECK(plain.suspicions[0].z == near_abs(3.4, 0.2));
  CHECK(plain.pieces[0].expected.likely->value == near_abs(40.3, 0.3));
  CHECK(single(weighings, true).pieces[0].expected.likely->value == near_abs(41.1, 0.3));
}

TEST_CASE("four pieces of a batch are fitted together; the one with two weighings borrows") {
  ForecastInput in = golden::forecast_of(batch());
  in.robust = false;
  const Forecast f = golden::run(in);
  CHECK(f.batch_ln_factor[0] == near_abs(-0.342, 0.01));
  CHECK(f.batch_ln_factor[1] == near_abs(0.267, 0.01));
  CHECK(f.batch_sd[0] == near_abs(0.065, 0.005));
  CHECK(f.batch_sd[1] == near_abs(0.084, 0.005));
  const auto table = rows::read("dry_hier_example.csv");
  for (std::size_t p = 0; p < 4; ++p) {
    CAPTURE(p);
    REQUIRE(f.pieces[p].expected.likely);
    CHECK(f.pieces[p].expected.likely->value == near_abs(rows::number(table[p], "hier_ready_d"), 0.3));
    // The table took 3 % for the model's own error, for pieces with few weighings too.
    CHECK(edge(f.pieces[p], -1.0, 0.03) == near_abs(rows::number(table[p], "hier_q10"), 0.3));
    CHECK(edge(f.pieces[p], 1.0, 0.03) == near_abs(rows::number(table[p], "hier_q90"), 0.3));
  }
  CHECK(f.pieces[3].expected.likely->value == expected("piece 4 likely d"));
  CHECK(edge(f.pieces[3], -1.0, 0.03) == expected("piece 4 earliest d"));
  CHECK(edge(f.pieces[3], 1.0, 0.03) == expected("piece 4 latest d"));
  ForecastInput alone = golden::forecast_of({batch()[3]});
  alone.robust = false;
  const Forecast own = golden::run(alone);
  CHECK(own.pieces[0].sd[0] > 1.5 * f.pieces[3].sd[0]);
  CHECK(own.pieces[0].expected.likely->value == near_rel(42.4, 0.02));
}
