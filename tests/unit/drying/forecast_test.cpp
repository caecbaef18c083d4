// The forecast as a task: slices, doubts, windows that are not reached, and input that cannot be.
#include <cstring>
#include <limits>

#include "tests/near.h"
#include "tests/reference/drying/bodies.h"

using namespace saltrafter;
using namespace saltrafter::drying;

namespace {

ForecastInput two_pieces() {
  ForecastInput in = golden::forecast_of(
      {golden::piece("a", 900, {{2, 876}, {4, 837}, {7, 788}, {10, 748}, {14, 711}, {18, 683}}),
       golden::piece("b", 912, {{3, 864}, {7, 797}})});
  in.now = Days(18);
  return in;
}

ForecastTask task_of(ForecastInput in) { return ForecastTask::make(std::move(in)).value(); }

// Every number of a forecast in one row, as bytes.
std::vector<unsigned char> bytes(const Forecast& f) {
  std::vector<double> n{f.prior_only ? 1.0 : 0.0, static_cast<double>(f.middle), f.searched_days.value};
  const auto band = [&n](const LossBand& b) { n.insert(n.end(), {b.low, b.likely, b.high}); };
  const auto day = [&n](const std::optional<Days>& d) { n.push_back(d ? d->value : -1.0); };
  for (std::size_t k = 0; k < 2; ++k) {
    n.insert(n.end(), {f.batch_ln_factor[k], f.batch_sd[k]});
  }
  n.push_back(f.together);
  if (f.all) {
    n.insert(n.end(), {f.all->tenth.value, f.all->half.value, f.all->ninetieth.value});
  }
  for (const PieceOutlook& p : f.pieces) {
    n.insert(n.end(), {p.ln_factor[0], p.ln_factor[1], p.sd[0], p.sd[1], p.correlation,
                       static_cast<double>(p.weighings_used), p.window_slope[0], p.window_slope[1], p.day_sd,
                       p.reaching_humidity ? p.reaching_humidity->value : -1.0});
    day(p.expected.earliest);
    day(p.expected.likely);
    day(p.expected.latest);
    band(p.loss_now);
    for (const LossBand& b : p.days) {
      band(b);
    }
  }
  for (const CurveDay& c : f.curve) {
    band(c.loss);
    const DayState& s = c.state;
    n.insert(n.end(), {s.day.value, s.loss, s.daily_loss, s.x_mean, s.x_surface, s.x_core, s.aw_surface.value,
                       s.aw_core.value, s.aw_mean.value, s.aw_average.value, s.outer.value, s.case_hardening});
  }
  for (const Suspicion& s : f.suspicions) {
    n.insert(n.end(), {static_cast<double>(s.doubt), s.z});
  }
  std::vector<unsigned char> out(n.size() * sizeof(double));
  std::memcpy(out.data(), n.data(), out.size());
  return out;
}

bool has(const Forecast& f, const char* weighing, Doubt doubt) {
  for (const Suspicion& s : f.suspicions) {
    if (s.weighing.text == weighing && s.doubt == doubt) {
      return true;
    }
  }
  return false;
}

}  // namespace

TEST_CASE("cut into slices of any length, cancelled, begun again, moved: the forecast has the same bytes") {
  const std::vector<unsigned char> whole = bytes(golden::run(two_pieces()));
  CHECK(whole.size() > 1000);
  for (const int slice : {1, 2, 5}) {
    ForecastTask dropped = task_of(two_pieces());
    for (int i = 0; i < 10 * slice; ++i) {
      dropped.step();
    }
    ForecastTask task = task_of(two_pieces());
    // A clock that jumps: each look at it is another millisecond.
    double clock_ms = 0.0;
    int slices = 0;
    while (!run_slice(task, [&clock_ms] { return clock_ms += 1.0; }, slice)) {
      ++slices;
      if (slices == 5) {
        ForecastTask moved = std::move(task);
        task = std::move(moved);
      }
    }
    CHECK(slices > 5);
    const std::vector<unsigned char> again = bytes(task.result());
    REQUIRE(again.size() == whole.size());
    CHECK(std::memcmp(again.data(), whole.data(), whole.size()) == 0);
  }
}

TEST_CASE("the key changes with what changes the result and with nothing else") {
  const std::uint64_t key = task_of(two_pieces()).key();
  CHECK(task_of(two_pieces()).key() == key);
  ForecastInput in = two_pieces();
  in.pieces[0].weighings[0].mass = Grams(875);
  CHECK(task_of(in).key() != key);
  in = two_pieces();
  in.stages.back().humidity = RelativeHumidity(0.77);
  CHECK(task_of(in).key() != key);
  in = two_pieces();
  in.saturation.psat_pa = [](double t_c) { return 1.01 * golden::magnus_pa(t_c); };
  CHECK(task_of(in).key() != key);
}

TEST_CASE("progress never goes back and its total never grows") {
  ForecastTask task = task_of(two_pieces());
  Progress before = task.progress();
  while (!task.finished()) {
    task.step();
    const Progress now = task.progress();
    CHECK(now.done >= before.done);
    CHECK(now.total <= before.total);
    CHECK(now.done <= now.total);
    before = now;
  }
  CHECK(before.done == before.total);
}

TEST_CASE("the order in which weighings were entered changes nothing") {
  ForecastInput in = two_pieces();
  std::swap(in.pieces[0].weighings[0], in.pieces[0].weighings[4]);
  CHECK(bytes(golden::run(in)) == bytes(golden::run(two_pieces())));
}

TEST_CASE("without weighings, with one, or before a tenth is lost the model stands as it comes, and says so") {
  const Forecast none = golden::run(golden::forecast_of({golden::piece("a", 900, {})}));
  CHECK(none.prior_only);
  CHECK(none.pieces[0].sd[0] == near_abs(0.40, 1e-12));
  CHECK(none.pieces[0].expected.likely->value == near_abs(36.2, 0.1));
  CHECK(none.pieces[0].expected.earliest->value < 30.0);
  CHECK(none.pieces[0].expected.latest->value > 44.0);
  for (const auto& weighings : {std::vector<std::pair<double, double>>{{7, 788}}, {{1, 886}, {3, 851}}}) {
    const Forecast few = golden::run(golden::forecast_of({golden::piece("a", 900, weighings)}));
    CHECK(few.prior_only);
    CHECK(few.pieces[0].expected.likely->value == near_rel(none.pieces[0].expected.likely->value, 1e-12));
  }
  const Forecast two = golden::run(golden::forecast_of({golden::piece("a", 900, {{7, 788}, {14, 711}})}));
  CHECK_FALSE(two.prior_only);
  CHECK(two.pieces[0].sd[0] < 0.3);
}

TEST_CASE("more weighings make the window narrower") {
  const auto width = [](std::vector<std::pair<double, double>> weighings) {
    const Forecast f = golden::run(golden::forecast_of({golden::piece("a", 900, std::move(weighings))}));
    return f.pieces[0].expected.latest->value / f.pieces[0].expected.earliest->value;
  };
  const double none = width({});
  const double two = width({{4, 837}, {7, 788}});
  const double four = width({{4, 837}, {7, 788}, {10, 748}, {14, 711}});
  const double six = width({{2, 876}, {4, 837}, {7, 788}, {10, 748}, {14, 711}, {18, 683}});
  CHECK(none > two);
  CHECK(two > four);
  CHECK(four > six);
}

TEST_CASE("weights that cannot be right are named: heavier again, too light, too heavy, too fast") {
  const Forecast f = golden::run(golden::forecast_of(
      {golden::piece("a", 900, {{4, 837}, {7, 788}, {10, 800}, {14, 711}}),
       golden::piece("b", 900, {{4, 837}, {7, 350}}), golden::piece("c", 900, {{1, 930}, {2, 800}})}));
  CHECK(has(f, "a-10", Doubt::gain));
  CHECK_FALSE(has(f, "a-7", Doubt::gain));
  CHECK(has(f, "b-7", Doubt::too_light));
  CHECK(has(f, "b-7", Doubt::too_fast));
  CHECK(has(f, "b-7", Doubt::set_aside));
  CHECK(has(f, "c-1", Doubt::too_heavy));
  CHECK(has(f, "c-2", Doubt::too_fast));
}

TEST_CASE("a loss the air does not allow has no day, and the humidity that would do it is named and does") {
  ForecastInput in = golden::forecast_of({golden::piece("a", 900, {})});
  in.stages.back().humidity = RelativeHumidity(0.92);
  const Forecast f = golden::run(in);
  CHECK_FALSE(f.pieces[0].expected.likely);
  CHECK_FALSE(f.pieces[0].expected.latest);
  REQUIRE(f.pieces[0].reaching_humidity);
  CHECK(f.pieces[0].reaching_humidity->value < 0.8842);  // its own activity at the wanted loss
  CHECK(f.pieces[0].reaching_humidity->value > 0.84);
  in.stages.back().humidity = *f.pieces[0].reaching_humidity;
  CHECK(golden::run(in).pieces[0].expected.likely);
  in.wanted_loss = 0.57;  // all the water but half a point
  in.stages.back().humidity = RelativeHumidity(0.92);
  const Forecast never = golden::run(in);
  CHECK_FALSE(never.pieces[0].expected.earliest);
  CHECK_FALSE(never.pieces[0].reaching_humidity);
}

TEST_CASE("the curve is the middle piece's: it starts at nothing, its band holds its line and the window") {
  const Forecast f = golden::run(two_pieces());
  CHECK(f.curve.size() == 91);
  CHECK(f.curve[0].state.loss == near_abs(0.0, 1e-15));
  CHECK(f.curve[0].loss.high == 0.0);
  for (std::size_t day = 1; day < f.curve.size(); ++day) {
    const CurveDay& c = f.curve[day];
    CHECK(c.state.day.value == static_cast<double>(day));
    CHECK(c.loss.likely == near_rel(c.state.loss, 2e-3));  // the band is made on the fit's grid
    CHECK(c.loss.low < c.loss.likely);
    CHECK(c.loss.high > c.loss.likely);
    CHECK(c.state.daily_loss > 0.0);
    REQUIRE(c.layers.size() == 30);
    CHECK(c.layers.back().outer == near_abs(1.0, 1e-12));
    CHECK(c.layers.front().loss < c.layers.back().loss);
    CHECK(c.layers.front().aw.value > c.layers.back().aw.value);
  }
  const PieceOutlook& middle = f.pieces[f.middle];
  const auto day = static_cast<std::size_t>(middle.expected.likely->value);
  CHECK(f.curve[day].state.loss < 0.35);
  CHECK(f.curve[day + 1].state.loss >= 0.35);
  CHECK(middle.loss_now.likely == near_rel(f.curve[18].state.loss, 2e-3));
}

TEST_CASE("what a piece should weigh lies between its bounds, and beyond the horizon nothing is said") {
  const Forecast f = golden::run(two_pieces());
  const auto mass = expected_mass(f.pieces[0], Grams(900), Days(20.5));
  REQUIRE(mass);
  CHECK(mass->low.value < mass->likely.value);
  CHECK(mass->likely.value < mass->high.value);
  CHECK(mass->likely.value == near_abs(900 * (1 - 0.5 * (f.pieces[0].days[20].likely + f.pieces[0].days[21].likely)),
                                       1e-9));
  CHECK_FALSE(expected_mass(f.pieces[0], Grams(900), Days(90.5)));
  CHECK_FALSE(expected_mass(f.pieces[0], Grams(900), Days(-0.5)));
  CHECK_FALSE(expected_mass(f.pieces[0], Grams(900), Days(std::numeric_limits<double>::quiet_NaN())));
}

TEST_CASE("input that cannot be is refused with its path") {
  const auto field_of = [](ForecastInput in) {
    const auto made = ForecastTask::make(std::move(in));
    return made.ok() ? std::string() : made.error().field;
  };
  CHECK(field_of(two_pieces()).empty());
  ForecastInput in = two_pieces();
  in.pieces.clear();
  CHECK(field_of(in) == "pieces");
  in = two_pieces();
  in.pieces[1].hung = Grams(0);
  CHECK(field_of(in) == "pieces/1/hung");
  in = two_pieces();
  in.pieces[0].weighings[2].mass = Grams(-5);
  CHECK(field_of(in) == "pieces/0/weighings/2/mass");
  in = two_pieces();
  in.pieces[0].weighings[2].day = -1;
  CHECK(field_of(in) == "pieces/0/weighings/2/day");
  in = two_pieces();
  in.wanted_loss = std::numeric_limits<double>::quiet_NaN();
  CHECK(field_of(in) == "wanted_loss");
  in = two_pieces();
  in.saturation = {};
  CHECK(field_of(in) == "saturation");
  in = two_pieces();
  in.stages.clear();
  CHECK(field_of(in) == "stages");
  in = two_pieces();
  in.horizon = Days(1000);
  CHECK(field_of(in) == "horizon");
  in = two_pieces();
  in.pieces[1].diameter = Metres(2.0);
  CHECK(field_of(in) == "diameter");
}

TEST_CASE("a piece that is down leaves the windows, and its weighings still teach") {
  ForecastInput in = golden::forecast_of({golden::piece("a", 900, {{4, 837}, {7, 788}, {14, 711}}),
                                          golden::piece("b", 900, {{4, 845}, {7, 800}, {14, 726}}),
                                          golden::piece("c", 900, {{4, 852}, {7, 812}, {14, 741}})});
  in.now = Days(14);
  const Forecast before = golden::run(in);
  const std::uint64_t key = task_of(in).key();
  CHECK(before.middle == 1);
  in.pieces[2].hangs = false;
  CHECK(task_of(in).key() != key);
  const Forecast after = golden::run(in);
  CHECK(after.middle == 0);  // of two the sooner
  CHECK_FALSE(after.pieces[2].hangs);
  CHECK(after.batch_ln_factor == before.batch_ln_factor);
  CHECK(after.pieces[0].day_sd == before.pieces[0].day_sd);
  REQUIRE((before.all && after.all));
  CHECK(after.all->half < before.all->half);  // the slowest is not waited for any more
  in.pieces[0].hangs = false;
  CHECK_FALSE(golden::run(in).all);  // one piece is no batch
  in.pieces[1].hangs = false;
  const Forecast none = golden::run(in);
  CHECK(none.middle == before.middle);
  CHECK_FALSE(none.all);
}

TEST_CASE("those that hang are asked about alone, with the middle one among them; where none hangs all are") {
  ForecastInput in = golden::forecast_of(
      {golden::piece("a", 900, {{7, 788}}), golden::piece("b", 900, {{7, 800}}), golden::piece("c", 900, {{7, 812}})});
  in.pieces[0].hangs = false;
  const Forecast forecast = golden::run(in);
  const StillHanging still = those_that_hang(in, forecast);
  REQUIRE(still.input.pieces.size() == 2);
  REQUIRE(still.forecast.pieces.size() == 2);
  CHECK(still.input.pieces[0].id.text == "b");
  CHECK(still.forecast.pieces[still.forecast.middle].piece == forecast.pieces[forecast.middle].piece);
  for (ForecastPiece& piece : in.pieces) piece.hangs = false;
  CHECK(those_that_hang(in, golden::run(in)).input.pieces.size() == 3);
}

TEST_CASE("a share of a bunch tells less of its piece than a weighing, by what its pieces may differ") {
  const auto batch = [](int of, Grams doubt) {
    ForecastInput in = golden::forecast_of({golden::piece("a", 900, {{7, 788}, {14, 711}}),
                                            golden::piece("b", 900, {{7, 790}, {14, 713}})});
    for (ForecastPiece& piece : in.pieces) {
      for (PieceWeighing& weighing : piece.weighings) {
        weighing.of = of;
        weighing.doubt = doubt;
      }
    }
    return golden::run(in);
  };
  const Forecast own = batch(1, Grams(0.0));
  const Forecast share = batch(2, Grams(0.0));
  const Forecast wet = batch(1, Grams(20.0));
  CHECK(share.pieces[0].day_sd > 1.08 * own.pieces[0].day_sd);
  CHECK(wet.pieces[0].day_sd > 1.15 * own.pieces[0].day_sd);
  // Of how two pieces differ nothing is learnt beyond what each share leaves open (scale.h): at a slope s of the loss
  // a spread s2 stays (1 - 1/n) s2.
  const std::array<double, 2> slope{0.2, 0.05};
  const std::array<double, 2> sd{0.1, 0.15};
  const double s2 = (0.2 * 0.2 * 0.1 * 0.1 + 0.05 * 0.05 * 0.15 * 0.15) * 900.0 * 900.0;
  for (const int of : {1, 2, 5}) {
    const double v = share_variance_g2(Grams(900.0), of, slope, sd);
    CHECK(s2 * v / (s2 + v) == near_abs((1.0 - 1.0 / of) * s2, 1e-9));
  }
}

TEST_CASE("a bunch is one weighing, however many hang in it") {
  ForecastInput in = golden::forecast_of({golden::piece("a", 900, {{14, 711}}), golden::piece("b", 900, {{14, 712}})});
  CHECK_FALSE(golden::run(in).prior_only);
  for (ForecastPiece& piece : in.pieces) piece.weighings[0].of = 2;
  CHECK(golden::run(in).prior_only);
  in.pieces[0].weighings[0].of = 0;
  CHECK(ForecastTask::make(in).error().field == "pieces/0/weighings/0/of");
  in.pieces[0].weighings[0].of = 1;
  in.pieces[1].weighings[0].doubt = Grams(-1.0);
  CHECK(ForecastTask::make(in).error().field == "pieces/1/weighings/0/doubt");
}

TEST_CASE("before the least days the odds are none, and from then on those of drying alone") {
  ForecastInput in = golden::forecast_of({golden::piece("a", 900, {})});
  in.wishes = {{WishKind::loss, 0.35}, {WishKind::least_days, 60.0}};
  const PieceOutlook piece = golden::run(in).pieces[0];
  CHECK(piece.expected.likely == Days(60.0));
  CHECK(piece.dried->value < 40.0);
  CHECK(*odds_by(piece, Days(59.0)) == 0.0);
  CHECK(*odds_by(piece, Days(60.0)) > 0.85);
}
