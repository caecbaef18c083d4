// What is wanted, as a loss; and what readings teach of water and isotherm.
#include <limits>

#include "tests/near.h"
#include "tests/reference/drying/bodies.h"

using namespace saltrafter;
using namespace saltrafter::drying;

namespace {

NeededLoss needed(const std::vector<Wish>& wishes, const Offsets& offsets = {}) {
  return needed_loss(wishes, golden::s60(), golden::salami(), offsets);
}

Forecast forecast(std::vector<Wish> wishes, std::vector<Reading> readings = {}) {
  ForecastInput in = golden::forecast_of({golden::piece("a", 900, {{7, 788}, {10, 748}, {14, 711}, {18, 683}})});
  in.wishes = std::move(wishes);
  in.readings = std::move(readings);
  in.now = Days(18);
  return golden::run(in);
}

}  // namespace

TEST_CASE("each wish is the loss from which on it holds, by the mass balance and the isotherm") {
  CHECK(needed({{WishKind::loss, 0.35}}).loss == 0.35);
  CHECK(needed({{WishKind::loss, 0.35}}).sd == 0.0);
  const NeededLoss ratio = needed({{WishKind::moisture_protein_ratio, 1.6}});
  CHECK(ratio.loss == near_abs(0.575 - 1.6 * 0.178, 1e-12));
  CHECK(recipe::moisture_protein_ratio(recipe::after_loss(golden::salami(), ratio.loss)) == near_abs(1.6, 1e-9));
  const NeededLoss moisture = needed({{WishKind::moisture, 0.34615}});
  CHECK(moisture.loss == near_abs(0.35, 1e-4));
  const NeededLoss activity = needed({{WishKind::activity, 0.8842}});
  CHECK(activity.loss == near_abs(0.35, 2e-4));
  CHECK(activity.sd > moisture.sd);  // the isotherm is not known as well as the water
  CHECK(moisture.sd > 0.005);
}

TEST_CASE("of several wishes the one that holds last decides, and those that hold already ask for nothing") {
  const NeededLoss both = needed({{WishKind::loss, 0.30}, {WishKind::activity, 0.8842}, {WishKind::least_days, 20.0}});
  CHECK(both.last == 1);
  CHECK(both.loss == near_abs(0.35, 2e-4));
  CHECK(both.least_days == 20.0);
  REQUIRE(both.each.size() == 3);
  CHECK(both.each[0] == 0.30);
  CHECK(both.each[1] == both.loss);
  CHECK(both.each[2] == 0.0);
  CHECK(needed({{WishKind::activity, 0.99}}).loss == 0.0);
  CHECK(needed({{WishKind::least_days, 20.0}, {WishKind::least_days, 30.0}}).least_days == 30.0);
}

TEST_CASE("wishes that cannot be are refused with their path") {
  CHECK(check_wishes({{WishKind::loss, 0.35}, {WishKind::activity, 1.2}}).error().field == "wishes/1/value");
  CHECK(check_wishes({{WishKind::least_days, -1.0}}).error().unit == "d");
  CHECK_FALSE(check_wishes({{WishKind::moisture, std::numeric_limits<double>::quiet_NaN()}}).ok());
  ForecastInput in = golden::forecast_of({golden::piece("a", 900, {})});
  in.wishes = {{WishKind::moisture_protein_ratio, 0.0}};
  CHECK(ForecastTask::make(in).error().field == "wishes/0/value");
  in.wishes.clear();
  in.readings = {{ReadingKind::activity, 0.3, 1.5, 0.0}};
  CHECK(ForecastTask::make(in).error().field == "readings/0/value");
  in.readings = {{ReadingKind::feel, 0.3, 4.0, 0.0}};
  CHECK(ForecastTask::make(in).error().field == "readings/0/value");
  in.readings = {{ReadingKind::moisture, 0.95, 0.3, 0.0}};
  CHECK(ForecastTask::make(in).error().field == "readings/0/loss");
}

TEST_CASE("the expected day is the first on which all wishes hold") {
  const Forecast loss = forecast({{WishKind::loss, 0.35}});
  const Forecast same = forecast({{WishKind::moisture, (0.575 - 0.35) / 0.65}});
  const double day = loss.pieces[0].expected.likely->value;
  CHECK(same.pieces[0].expected.likely->value == near_rel(day, 1e-6));
  CHECK(same.pieces[0].day_sd > loss.pieces[0].day_sd);  // the recipe's water is not known to the gram
  const Forecast all = forecast({{WishKind::loss, 0.30}, {WishKind::moisture_protein_ratio, 1.6}, {WishKind::loss, 0.35}});
  CHECK(all.needed.last == 2);
  CHECK(all.pieces[0].expected.likely->value == near_rel(day, 1e-9));
  const Forecast aged = forecast({{WishKind::loss, 0.35}, {WishKind::least_days, day + 30.0}});
  CHECK(aged.pieces[0].expected.likely->value == day + 30.0);
  CHECK(aged.pieces[0].expected.earliest->value == day + 30.0);
  const Forecast old = forecast({{WishKind::least_days, 60.0}});
  CHECK(old.pieces[0].expected.likely->value == 60.0);
}

TEST_CASE("a water activity that the air does not allow has no day, and the humidity that reaches it does") {
  ForecastInput in = golden::forecast_of({golden::piece("a", 900, {})});
  in.stages.back().humidity = RelativeHumidity(0.88);
  in.wishes = {{WishKind::activity, 0.86}};
  const Forecast f = golden::run(in);
  CHECK_FALSE(f.pieces[0].expected.likely);
  REQUIRE(f.pieces[0].reaching_humidity);
  CHECK(f.pieces[0].reaching_humidity->value < 0.86);
  in.stages.back().humidity = *f.pieces[0].reaching_humidity;
  CHECK(golden::run(in).pieces[0].expected.likely);
}

TEST_CASE("a measured water activity is met by the estimate, and what is left open shrinks") {
  const Body body = golden::s60();
  const Offsets none = learn_offsets(body, {}).value();
  CHECK(none.mean == std::array<double, 2>{0.0, 0.0});
  const double plain = expected_reading(ReadingKind::activity, body, 0.30, none.mean);
  for (const double off : {-0.015, 0.01, 0.02}) {
    const Offsets learnt = learn_offsets(body, {{ReadingKind::activity, 0.30, plain + off, 0.003}}).value();
    CHECK(expected_reading(ReadingKind::activity, body, 0.30, learnt.mean) == near_abs(plain + off, 0.2 * std::abs(off)));
    CHECK(learnt.holding_variance < none.holding_variance);
    CHECK((learnt.mean[1] < 0.0) == (off > 0.0));  // more active: the solids hold less
    const NeededLoss before = needed({{WishKind::activity, 0.88}});
    Body moved = body;
    moved.holds = std::exp(learnt.mean[1]);
    const NeededLoss after = needed_loss({{WishKind::activity, 0.88}}, moved, golden::salami(), learnt);
    CHECK(after.sd < 0.7 * before.sd);
    CHECK((after.loss > before.loss) == (off > 0.0));
  }
}

TEST_CASE("a moisture reading tells of the water alone; a hand tells less than a meter") {
  const Body body = golden::s60();
  const double plain = expected_reading(ReadingKind::moisture, body, 0.25, {0.0, 0.0});
  CHECK(plain == near_abs(0.325 / 0.75, 1e-12));
  const Offsets wet = learn_offsets(body, {{ReadingKind::moisture, 0.25, plain + 0.02, 0.005}}).value();
  CHECK(wet.mean[0] == near_abs(0.015 * 0.85, 0.003));
  CHECK(wet.mean[1] == 0.0);
  CHECK(wet.holding_variance == near_rel(Offsets{}.holding_variance, 1e-9));
  const recipe::Composition moved = with_water(golden::salami(), wet.mean[0]);
  CHECK(moved.water_g / moved.total_g() == near_abs(0.575 + wet.mean[0], 1e-12));
  CHECK(moved.protein_g == golden::salami().protein_g);
  const Offsets felt = learn_offsets(body, {{ReadingKind::feel, 0.30, 3.0, 0.0}}).value();
  const Offsets measured = learn_offsets(body, {{ReadingKind::activity, 0.30, kFeels[3].activity, 0.0}}).value();
  CHECK(felt.mean[1] > 0.0);
  CHECK(measured.mean[1] > 2.0 * felt.mean[1]);
  CHECK(measured.holding_variance < felt.holding_variance);
}

TEST_CASE("readings move the day of a wish for water activity and what is said of the piece now") {
  const Forecast plain = forecast({{WishKind::activity, 0.88}});
  const double now = plain.curve[18].state.aw_mean.value;
  const Forecast taught = forecast({{WishKind::activity, 0.88}}, {{ReadingKind::activity, 0.241, now + 0.015, 0.0}});
  CHECK(taught.curve[18].state.aw_mean.value > now + 0.008);
  CHECK(taught.pieces[0].expected.likely->value > plain.pieces[0].expected.likely->value + 3.0);
  CHECK(taught.pieces[0].expected.latest->value / taught.pieces[0].expected.likely->value <
        plain.pieces[0].expected.latest->value / plain.pieces[0].expected.likely->value);
}

TEST_CASE("the odds of a day are 1 in 10 at the window's ends and even at its middle") {
  const Forecast f = forecast({{WishKind::loss, 0.35}});
  const PieceOutlook& p = f.pieces[0];
  CHECK(odds_by(p, *p.expected.earliest).value() == near_abs(0.1, 1e-6));
  CHECK(odds_by(p, *p.expected.likely).value() == near_abs(0.5, 1e-9));
  CHECK(odds_by(p, *p.expected.latest).value() == near_abs(0.9, 1e-6));
  CHECK(odds_by(p, Days(0.0)).value() == 0.0);
  CHECK_FALSE(odds_by(PieceOutlook{}, Days(10.0)));
}
