// Expected, reached, ready; and what is asked before a release.
#include <doctest/doctest.h>

#include "core/plan/plan.h"
#include "tests/near.h"
#include "tests/unit/plan/fixture.h"
#include "tests/unit/recipe/fixture.h"

using namespace saltrafter;
using namespace saltrafter::plan;
using drying::WishKind;
using plan::test::batch;
using plan::test::day;
using plan::test::event;
using plan::test::weighing;
using recipe::test::counting_ports;

namespace {

// 575 g water and 178 g protein of 1000 g.
recipe::Composition green() { return {575.0, 178.0, 220.0, 27.0, 0.0}; }

safety::Reading read(safety::ReadingKind kind, double value, int on, safety::Site site = safety::Site::mixed) {
  safety::Reading reading;
  reading.id = Id{"r"};
  reading.kind = kind;
  reading.value = value;
  reading.piece = Id{"one"};
  reading.site = site;
  reading.at_utc_ms =
      std::chrono::duration_cast<std::chrono::milliseconds>(day(on).time_since_epoch()).count() + 43'200'000;
  return reading;
}

WishMet met(const Batch& b, int today, const drying::Forecast* forecast = nullptr) {
  const Reached all = reached(b, b.pieces[0], day(today), green(), forecast, counting_ports());
  REQUIRE(all.wishes.size() == 1);
  return all.wishes[0];
}

drying::Forecast forecast_at(double loss, std::vector<double> each) {
  drying::Forecast forecast;
  drying::PieceOutlook outlook;
  outlook.piece = Id{"one"};
  outlook.loss_now = {loss - 0.02, loss, loss + 0.02};
  forecast.pieces = {outlook};
  forecast.needed.each = std::move(each);
  return forecast;
}

}  // namespace

TEST_CASE("a loss is reached by a weighing of the piece alone, and dated by the first of those that hold") {
  Batch b = batch();
  b.wishes = {{WishKind::loss, 0.35}};
  CHECK(met(b, 20).by == MetBy::nothing);
  CHECK(met(b, 20).found == near_abs(0.2, 1e-12));
  CHECK(met(b, 20).on == day(14));
  // By a share, or by the forecast: an estimate.
  drying::Weighing both = weighing("both", "", 30, 1290.0);
  both.bunch = {Id{"one"}, Id{"two"}};
  b.weighings.push_back(both);
  CHECK(met(b, 30).by == MetBy::estimate);
  CHECK_FALSE(reached(b, b.pieces[0], day(30), green(), nullptr, counting_ports()).by_measurement());
  const drying::Forecast there = forecast_at(0.36, {0.35});
  CHECK(met(b, 31, &there).by == MetBy::estimate);
  const drying::Forecast short_of_it = forecast_at(0.34, {0.35});
  CHECK(met(b, 31, &short_of_it).by == MetBy::nothing);
  b.weighings.push_back(weighing("own", "one", 32, 649.0));
  b.weighings.push_back(weighing("later", "one", 34, 640.0));
  const WishMet own = met(b, 34);
  CHECK(own.by == MetBy::weighing);
  CHECK(own.on == day(32));
  CHECK(own.found == near_abs(0.36, 1e-12));
  CHECK(met(b, 31).by != MetBy::weighing);  // not on the days before
  // Water put on it is loss undone, until it is weighed dry again.
  b.events = {event(EventKind::wetted, 36, 638.0, 660.0)};
  CHECK(met(b, 36).by != MetBy::weighing);
  b.weighings.push_back(weighing("dry", "one", 39, 636.0));
  CHECK(met(b, 39).by == MetBy::weighing);
  CHECK(met(b, 39).on == day(39));
}

TEST_CASE("without wishes the recipe's loss counts, of the weight it names") {
  Batch b = batch();
  b.made_from.wanted_loss = 0.20;
  CHECK(met(b, 20).by == MetBy::weighing);
  b.loss_base = LossBase::trimmed;
  CHECK(reached(b, b.pieces[0], day(20), green(), nullptr, counting_ports()).wishes.empty());
  CHECK_FALSE(reached(b, b.pieces[0], day(20), green(), nullptr, counting_ports()).by_measurement());
  b.pieces[0].trimmed = Grams(900.0);
  CHECK(met(b, 20).wish.value == near_abs(0.28, 1e-12));
  CHECK(met(b, 20).by == MetBy::nothing);
}

TEST_CASE("a water activity is reached by a core or a mixed sample of this piece and a meter that has not failed") {
  Batch b = batch();
  b.wishes = {{WishKind::activity, 0.90}};
  const drying::Forecast there = forecast_at(0.36, {0.35});
  CHECK(met(b, 20, &there).by == MetBy::estimate);
  b.evidence.readings = {read(safety::ReadingKind::water_activity, 0.89, 18, safety::Site::surface)};
  CHECK(met(b, 20, &there).by == MetBy::estimate);
  b.evidence.readings[0].site = safety::Site::core;
  CHECK(met(b, 20, &there).by == MetBy::reading);
  CHECK(met(b, 20, &there).on == day(18));
  CHECK(met(b, 17).by == MetBy::nothing);
  b.evidence.readings[0].instrument = safety::InstrumentState::failed;
  CHECK(met(b, 20).by == MetBy::nothing);
  b.evidence.readings[0].instrument = safety::InstrumentState::not_said;
  b.evidence.readings[0].piece = Id{"two"};
  CHECK(met(b, 20).by == MetBy::nothing);
  b.evidence.readings[0].piece = {};  // of the batch: of which piece is not known
  CHECK(met(b, 20).by == MetBy::nothing);
  b.evidence.readings[0].piece = Id{"one"};
  b.evidence.readings.push_back(read(safety::ReadingKind::water_activity, 0.92, 19));
  CHECK(met(b, 20).by == MetBy::nothing);  // the newest counts
  CHECK(met(b, 20).found == 0.92);
}

TEST_CASE("moisture and water to protein are reached by a moisture reading, the latter with the recipe's protein") {
  Batch b = batch();
  b.evidence.readings = {read(safety::ReadingKind::moisture, 0.40, 18)};
  b.wishes = {{WishKind::moisture, 0.40}};
  CHECK(met(b, 20).by == MetBy::reading);
  b.wishes = {{WishKind::moisture, 0.39}};
  CHECK(met(b, 20).by == MetBy::nothing);
  const double ratio = 0.40 / (0.60 * 178.0 / 425.0);
  b.wishes = {{WishKind::moisture_protein_ratio, ratio + 0.01}};
  CHECK(met(b, 20).by == MetBy::reading);
  CHECK(met(b, 20).found == near_rel(ratio, 1e-12));
  b.wishes = {{WishKind::moisture_protein_ratio, ratio - 0.01}};
  CHECK(met(b, 20).by == MetBy::nothing);
  const Reached none = reached(b, b.pieces[0], day(20), {}, nullptr, counting_ports());
  CHECK_FALSE(none.wishes[0].found);
}

TEST_CASE("least days are reached by the calendar; all together on the day of the last") {
  Batch b = batch();
  b.wishes = {{WishKind::loss, 0.2}, {WishKind::least_days, 20.5}};
  const auto all = [&b](int today) {
    return reached(b, b.pieces[0], day(today), green(), nullptr, counting_ports());
  };
  CHECK_FALSE(all(20).by_measurement());
  CHECK(all(20).wishes[1].on == day(21));
  CHECK(all(21).by_measurement());
  REQUIRE(all(21).last() != nullptr);
  CHECK(all(21).last()->by == MetBy::calendar);
  CHECK(all(21).last()->on == day(21));
  b.wishes = {{WishKind::loss, 0.2}, {WishKind::activity, 0.9}};
  const drying::Forecast there = forecast_at(0.36, {0.2, 0.35});
  // The water activity is met by estimate alone.
  CHECK_FALSE(reached(b, b.pieces[0], day(20), green(), &there, counting_ports()).by_measurement());
  b.hung = false;
  CHECK(all(21).wishes.empty());
}

TEST_CASE("ready is what stands released, and nothing that is held") {
  safety::Evidence evidence;
  const auto act = [](safety::Standing to, const char* piece = "") {
    return safety::StandingAct{Id{"a"}, Id{piece}, to, day(40), "tasted", "weighed"};
  };
  CHECK_FALSE(ready_since(evidence, {}, Id{"one"}));
  evidence.acts = {act(safety::Standing::released)};
  CHECK(ready_since(evidence, {}, Id{"one"}) == day(40));
  safety::Finding stop;
  stop.level = safety::Level::not_met;
  stop.stop = safety::Stop::with_reason;
  CHECK_FALSE(ready_since(evidence, {stop}, Id{"one"}));
  evidence.acts.push_back(act(safety::Standing::held, "one"));
  CHECK_FALSE(ready_since(evidence, {}, Id{"one"}));
  CHECK(ready_since(evidence, {}, Id{"two"}));
}

TEST_CASE("before a release each piece needs a weight of its own within a week, or its take-down") {
  Batch b = batch();  // weighed on days 14 and 7
  CHECK(release_stops(b, {}, day(14)).empty());
  const std::vector<safety::Finding> stops = release_stops(b, {}, day(15));
  REQUIRE(stops.size() == 1);
  CHECK(stops[0].about == Id{"two"});
  CHECK(stops[0].rule == safety::Rule::own_weighing);
  CHECK(safety::stops(stops[0]));
  CHECK(release_stops(b, Id{"one"}, day(15)).empty());
  CHECK(release_stops(b, {}, day(22)).size() == 2);
  // Its share of a bunch does not do.
  drying::Weighing both = weighing("both", "", 15, 1700.0);
  both.bunch = {Id{"one"}, Id{"two"}};
  b.weighings.push_back(both);
  CHECK(release_stops(b, {}, day(15)).size() == 1);
  // It holds the release alone, until it is gone past with a reason.
  const safety::StandingAct release{Id{"x"}, {}, safety::Standing::released, day(15), "done", "weighed"};
  CHECK(safety::check_act(b.evidence, stops, release).error().field == "open_stop");
  const safety::Acknowledged said{Id{"s"}, safety::name_of(stops[0]), day(15), "the scale is broken"};
  CHECK(safety::check_acknowledgement(stops, said).ok());
  b.evidence.acknowledged = {said};
  CHECK(safety::check_act(b.evidence, stops, release).ok());
  TakenDown down;
  down.id = Id{"down"};
  down.piece = Id{"two"};
  down.date = day(10);
  down.mass = Grams(880.0);
  b.taken_down = {down};
  CHECK(release_stops(b, {}, day(15)).empty());
  CHECK(release_stops(b, {}, day(40)).size() == 1);
  b.evidence.acts = {{Id{"a"}, Id{"one"}, safety::Standing::discarded, day(15), "mould", ""}};
  CHECK(release_stops(b, {}, day(40)).empty());
  b.hung = false;
  b.taken_down.clear();
  CHECK(release_stops(b, {}, day(40)).empty());
}

TEST_CASE("more water than there can be is asked about, and what fits its loss is not") {
  CHECK_FALSE(moisture_seen(green(), 0.3, 0.40).odd);
  CHECK(moisture_seen(green(), 0.3, 0.40).expected == near_abs(0.275 / 0.7, 1e-12));
  CHECK(moisture_seen(green(), 0.3, 0.70).odd == OddMoisture::above_hanging);
  CHECK(moisture_seen(green(), 0.3, 0.55).odd == OddMoisture::above);
  CHECK(moisture_seen(green(), 0.3, 0.25).odd == OddMoisture::below);
  CHECK_FALSE(moisture_seen(green(), 0.0, 0.60).odd);
}
