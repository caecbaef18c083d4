#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "core/plan/plan.h"
#include "tests/near.h"
#include "tests/unit/plan/fixture.h"
#include "tests/unit/recipe/fixture.h"

using namespace saltrafter;
using namespace saltrafter::plan;
using plan::test::batch;
using plan::test::day;
using plan::test::event;
using plan::test::weighing;

namespace {

constexpr double kExact = 1e-12;

TakenDown down(int on, double mass_g) {
  TakenDown d;
  d.id = Id{"down"};
  d.piece = Id{"one"};
  d.date = day(on);
  d.mass = Grams(mass_g);
  return d;
}

safety::Reading activity(const char* id, double value, safety::Site site, std::int64_t at_ms) {
  safety::Reading reading;
  reading.id = Id{id};
  reading.kind = safety::ReadingKind::water_activity;
  reading.value = value;
  reading.site = site;
  reading.at_utc_ms = at_ms;
  reading.piece = Id{"one"};
  return reading;
}

}  // namespace

TEST_CASE("a take-down that cannot be is refused with its field") {
  Batch b = batch();
  b.evidence.readings = {activity("aw", 0.9, safety::Site::core, 1), activity("air", 13.0, safety::Site::not_said, 2),
                         activity("theirs", 0.9, safety::Site::core, 3)};
  b.evidence.readings[1].kind = safety::ReadingKind::chamber_air;
  b.evidence.readings[2].piece = Id{"two"};
  const Date today = day(30);
  const auto fault = [&](const TakenDown& d) {
    const Result<Done> checked = check_taken_down(b, d, today);
    return checked.ok() ? std::string() : checked.error().field;
  };
  TakenDown good = down(30, 650.0);
  good.usable = Grams(600.0);
  good.readings = {Id{"aw"}};
  good.faults = {Fault::hollow, Fault::other};
  good.other = "grey rim";
  CHECK(fault(good) == "");
  for (const auto& [kind, found] : {std::pair(safety::ReadingKind::moisture, ""),
                                    std::pair(safety::ReadingKind::firmness, ""),
                                    std::pair(safety::ReadingKind::cut_look, ""),
                                    std::pair(safety::ReadingKind::core, "readings/0")}) {
    b.evidence.readings[0].kind = kind;
    CHECK(fault(good) == found);
  }
  b.evidence.readings[0].kind = safety::ReadingKind::water_activity;
  const auto with = [&](void (*change)(TakenDown&)) {
    TakenDown d = good;
    change(d);
    return fault(d);
  };
  CHECK(with([](TakenDown& d) { d.piece = Id{"three"}; }) == "piece");
  CHECK(with([](TakenDown& d) { d.mass = Grams(0.0); }) == "mass");
  CHECK(with([](TakenDown& d) { d.mass = Grams(1500.1); }) == "mass");
  CHECK(with([](TakenDown& d) { d.mass = Grams(std::nan("")); }) == "mass");
  CHECK(with([](TakenDown& d) { d.usable = Grams(650.1); }) == "usable");
  CHECK(with([](TakenDown& d) { d.usable = Grams(-1.0); }) == "usable");
  CHECK(with([](TakenDown& d) { d.date = day(31); }) == "date");
  CHECK(with([](TakenDown& d) { d.date = day(13); }) == "date");  // it was weighed on day 14
  CHECK(with([](TakenDown& d) { d.date = day(14); }) == "");
  CHECK(with([](TakenDown& d) { d.readings = {Id{"aw"}, Id{"none"}}; }) == "readings/1");
  CHECK(with([](TakenDown& d) { d.readings = {Id{"air"}}; }) == "readings/0");
  CHECK(with([](TakenDown& d) { d.readings = {Id{"theirs"}}; }) == "readings/0");
  CHECK(with([](TakenDown& d) { d.faults = {Fault::sour, Fault::hollow, Fault::sour}; }) == "faults");
  CHECK(with([](TakenDown& d) { d.other.clear(); }) == "other");
  b.taken_down = {good};
  CHECK(fault(good) == "");  // looked at again
  TakenDown again = good;
  again.id = Id{"again"};
  CHECK(fault(again) == "piece");
  CHECK(check_taken_down(b, again, today).error().found == "down");
  b.hung = false;
  CHECK(fault(good) == "hung_on");
}

TEST_CASE("the weight at take-down is the last one of a piece, and all pieces down take the batch down") {
  Batch b = batch();
  b.taken_down = {down(30, 650.0)};
  CHECK(loss_so_far(b, b.pieces[0], day(29)) == near_rel(0.2, kExact));
  CHECK(loss_so_far(b, b.pieces[0], day(30)) == near_rel(0.35, kExact));
  CHECK(own_weighing_since(b, b.pieces[0], day(30), day(30)));
  CHECK_FALSE(evidence_on(b, day(30)).taken_down);
  b.taken_down.push_back(down(31, 640.0));
  b.taken_down[1].piece = Id{"two"};
  CHECK_FALSE(evidence_on(b, day(30)).taken_down);
  CHECK(evidence_on(b, day(31)).taken_down);
}

TEST_CASE("a take-down teaches how far loss, day and water activity were from what was foreseen") {
  Batch b = batch();  // 10 % on day 7, 20 % on day 14
  b.made_from.wanted_loss = 0.25;
  b.taken_down = {down(24, 700.0)};
  CHECK(taught(b).empty());
  b.taken_down[0].foreseen = Foreseen{0.28, 0.31, 0.34, Days(21.0), WaterActivity(0.90), WaterActivity(0.88), 2};
  std::vector<Taught> lessons = taught(b);
  REQUIRE(lessons.size() == 1);
  CHECK(lessons[0].piece == Id{"one"});
  CHECK(lessons[0].day == 24);
  CHECK(lessons[0].loss.measured == near_rel(0.3, kExact));
  CHECK(lessons[0].loss.off() == near_abs(-0.01, kExact));
  CHECK(lessons[0].within);
  REQUIRE(lessons[0].reached);
  CHECK(lessons[0].reached->measured == near_rel(19.0, 1e-9));  // half-way from day 14 to 24
  CHECK(lessons[0].reached->off() == near_abs(-2.0, 1e-9));
  CHECK_FALSE(lessons[0].activity);

  b.evidence.readings = {activity("core", 0.93, safety::Site::core, 10),
                         activity("mixed", 0.87, safety::Site::mixed, 20),
                         activity("rim", 0.80, safety::Site::surface, 30),
                         activity("broken", 0.99, safety::Site::mixed, 40)};
  b.evidence.readings[3].instrument = safety::InstrumentState::failed;
  b.taken_down[0].readings = {Id{"rim"}, Id{"mixed"}, Id{"core"}, Id{"broken"}};
  lessons = taught(b);
  REQUIRE(lessons[0].activity);
  CHECK(lessons[0].activity->measured == 0.87);
  CHECK(lessons[0].activity->foreseen == 0.88);
  b.taken_down[0].readings = {Id{"core"}};
  CHECK(taught(b)[0].activity->foreseen == 0.90);
  b.taken_down[0].foreseen->core.reset();
  CHECK_FALSE(taught(b)[0].activity);

  b.taken_down[0].foreseen->loss_low = 0.301;
  CHECK_FALSE(taught(b)[0].within);
  b.made_from.wanted_loss = 0.31;  // never reached
  CHECK_FALSE(taught(b)[0].reached);
}

TEST_CASE("what is foreseen is kept of the piece and the day, its inside where the forecast has it") {
  Batch b = batch();
  b.made_from = recipe::test::sample();
  b.meat = Grams(2000.0);
  Result<drying::ForecastTask> made = drying::ForecastTask::make(forecast_input(b, day(14)).value());
  REQUIRE(made.ok());
  drying::ForecastTask task = std::move(made).value();
  while (!task.finished()) task.step();
  const drying::Forecast& forecast = task.result();
  const std::size_t middle = forecast.middle;
  const Id inside = forecast.pieces[middle].piece;
  const std::optional<Foreseen> foreseen = foresee(forecast, inside, 30);
  REQUIRE(foreseen);
  CHECK(foreseen->loss_low == forecast.pieces[middle].days[30].low);
  CHECK(foreseen->loss_likely == forecast.pieces[middle].days[30].likely);
  CHECK(foreseen->loss_high == forecast.pieces[middle].days[30].high);
  CHECK(foreseen->day == forecast.pieces[middle].expected.likely);
  CHECK(foreseen->weighings == forecast.pieces[middle].weighings_used);
  REQUIRE(foreseen->core);
  CHECK(*foreseen->core == forecast.curve[30].state.aw_core);
  CHECK(*foreseen->mean == forecast.curve[30].state.aw_mean);
  CHECK_FALSE(foresee(forecast, inside == Id{"one"} ? Id{"two"} : Id{"one"}, 30)->core);
  CHECK_FALSE(foresee(forecast, inside, -1));
  CHECK_FALSE(foresee(forecast, inside, 100000));
  CHECK_FALSE(foresee(forecast, Id{"three"}, 30));
}
