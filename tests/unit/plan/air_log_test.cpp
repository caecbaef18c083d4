// The chamber's air as it was read: what a log says of a time, and what the programme takes from it.
#include <doctest/doctest.h>

#include <cmath>
#include <string>
#include <utility>
#include <vector>

#include "core/air/air.h"
#include "core/plan/plan.h"
#include "tests/near.h"
#include "tests/unit/plan/fixture.h"
#include "tests/unit/recipe/fixture.h"

using namespace saltrafter;
using namespace saltrafter::plan;
using namespace saltrafter::plan::test;

namespace {

constexpr double kExact = 1e-12;

double ms(double since_hanging_d) {
  return static_cast<double>(kHung.time_since_epoch().count()) * 86400000.0 + since_hanging_d * 86400000.0;
}

AirReading read(double since_hanging_d, double t_c, double humidity) {
  AirReading reading;
  reading.id = Id{"r" + std::to_string(since_hanging_d)};
  reading.at_utc_ms = std::llround(ms(since_hanging_d));
  reading.temperature = Celsius(t_c);
  reading.humidity = RelativeHumidity(humidity);
  return reading;
}

double vapour_pa(double t_c, double humidity) { return humidity * air::saturation_pressure_pa(t_c); }

// Hung in 12 °C and 80 %, in no stage of its recipe.
Batch hanging() {
  Batch b = batch();
  b.made_from = recipe::test::sample();
  b.made_from.stages.clear();
  b.meat = Grams(2000.0);
  b.air = {Celsius(12.0), RelativeHumidity(0.80), MetresPerSecond(0.1)};
  return b;
}

double days_of(const std::vector<ProgrammeStage>& all, bool recorded) {
  double days = 0.0;
  for (const ProgrammeStage& stage : all) days += stage.recorded == recorded ? stage.air.duration.value : 0.0;
  return days;
}

}  // namespace

TEST_CASE(
    "a reading is refused for what cannot be read, for a time that has not come, and twice in a minute") {
  const std::int64_t now_ms = std::llround(ms(5.0));
  const AirLog log = {read(2.0, 12.0, 0.80)};
  const auto field = [&](const AirReading& reading) {
    return check_air_reading(log, reading, now_ms).error().field;
  };
  CHECK(check_air_reading(log, read(3.0, -5.0, 0.999), now_ms).ok());
  CHECK(check_air_reading(log, read(5.0, 45.0, 0.0), now_ms).ok());
  CHECK(field(read(3.0, 12.0, 1.0)) == "humidity");
  CHECK(field(read(3.0, 12.0, std::nan(""))) == "humidity");
  CHECK(field(read(3.0, 45.1, 0.8)) == "temperature");
  CHECK(field(read(5.001, 12.0, 0.8)) == "at_utc_ms");
  AirReading again = read(2.0, 11.0, 0.7);
  CHECK(check_air_reading(log, again, now_ms).ok());  // it stands in for itself
  again.id = Id{"other"};
  const Result<Done> twice = check_air_reading(log, again, now_ms);
  REQUIRE_FALSE(twice.ok());
  CHECK(twice.error().code == ErrorCode::duplicate_key);
  again.at_utc_ms += 60000;
  CHECK(check_air_reading(log, again, now_ms).ok());
}

TEST_CASE("the mean of a time is that of temperature and vapour pressure on lines between readings") {
  const ReadAir air({read(2.0, 10.0, 0.90), read(0.0, 14.0, 0.70), read(3.0, 10.0, 0.60)}, {ms(0), ms(3)});
  CHECK(air.holes().empty());
  const MeanAir first = air.mean({ms(0), ms(2)});
  CHECK(first.temperature.value == near_rel(12.0, kExact));
  CHECK(first.humidity.value ==
        near_rel(0.5 * (vapour_pa(14.0, 0.70) + vapour_pa(10.0, 0.90)) / air::saturation_pressure_pa(12.0),
                 kExact));
  // Two days of the one and one of the other.
  const MeanAir all = air.mean({ms(0), ms(3)});
  CHECK(all.temperature.value == near_rel(34.0 / 3.0, kExact));
  const double sum_pa =
      vapour_pa(14.0, 0.70) + vapour_pa(10.0, 0.90) + 0.5 * (vapour_pa(10.0, 0.90) + vapour_pa(10.0, 0.60));
  CHECK(all.humidity.value == near_rel(sum_pa / 3.0 / air::saturation_pressure_pa(34.0 / 3.0), kExact));
  // A part of a line.
  CHECK(air.mean({ms(0), ms(1)}).temperature.value == near_rel(13.0, kExact));
  CHECK(air.mean({ms(2.25), ms(2.75)}).humidity.value == near_rel(0.75, kExact));
  // Air that is nearly full all the time does not come out over what can be read.
  const ReadAir damp({read(0.0, 5.0, 0.999), read(2.0, 25.0, 0.999)}, {ms(0), ms(2)});
  CHECK(damp.mean({ms(0), ms(2)}).humidity == kDampestRead);
}

TEST_CASE(
    "more than three days without a reading are a hole, at the ends too; a log without readings has none") {
  const auto holes = [](const AirLog& log, double from, double to) {
    std::vector<std::pair<double, double>> days;
    const ReadAir air(log, {ms(from), ms(to)});
    for (const TimeSpan& hole : air.holes())
      days.emplace_back(hole.from_ms / 86400000.0 - ms(0) / 86400000.0,
                        hole.to_ms / 86400000.0 - ms(0) / 86400000.0);
    return days;
  };
  using Spans = std::vector<std::pair<double, double>>;
  CHECK(holes({}, 0, 20).empty());
  CHECK(holes({read(3, 12, 0.8), read(6, 12, 0.8), read(9, 12, 0.8)}, 0, 12).empty());
  CHECK(holes({read(3, 12, 0.8), read(6.5, 12, 0.8)}, 0, 9) == Spans{{3.0, 6.5}});
  CHECK(holes({read(4, 12, 0.8)}, 0, 8) == Spans{{0.0, 4.0}, {4.0, 8.0}});
  // What lies outside the time asked about is no hole in it.
  CHECK(holes({read(-9, 12, 0.8), read(1, 12, 0.8), read(14, 12, 0.8)}, 0, 10) ==
        Spans{{0.0, 1.0}, {1.0, 10.0}});
  const ReadAir air({read(3, 12, 0.8), read(6.5, 12, 0.8)}, {ms(0), ms(9)});
  CHECK_FALSE(air.in_hole(ms(2.9)));
  CHECK(air.in_hole(ms(3.0)));
  CHECK(air.in_hole(ms(6.4)));
  CHECK_FALSE(air.in_hole(ms(6.5)));
  // Before its first reading and after its last the air stands.
  CHECK(air.mean({ms(0), ms(3)}).humidity.value == near_rel(0.8, kExact));
  CHECK(air.mean({ms(6.5), ms(9)}).temperature.value == near_rel(12.0, kExact));
  CHECK(ReadAir({}, {ms(0), ms(9)}).in_hole(ms(1)));
}

TEST_CASE("the newest reading counts as long as the air is taken to stand") {
  const AirLog log = {read(4, 12, 0.8), read(5, 13, 0.7), read(1, 9, 0.9)};
  const auto at = [](double day) { return std::llround(ms(day)); };
  REQUIRE(newest_reading(log, at(7.5)) != nullptr);
  CHECK(newest_reading(log, at(7.5))->temperature == Celsius(13.0));
  CHECK(newest_reading(log, at(4.5))->temperature == Celsius(12.0));
  CHECK(newest_reading(log, at(8.1)) == nullptr);
  CHECK(newest_reading({}, at(1)) == nullptr);
}

TEST_CASE("what was follows the log in spans that were steady, what is planned does not") {
  AirLog log;
  for (int d = 0; d <= 6; ++d) log.push_back(read(d, 13.0, 0.80));
  for (int d = 7; d <= 12; ++d) log.push_back(read(d, 13.0, 0.70));
  const std::vector<ProgrammeStage> all = programme(hanging(), day(12), log);
  REQUIRE(all.size() == 4);
  CHECK(all[0].measured);
  CHECK(all[0].air.duration.value == near_abs(6.0, 1e-9));
  CHECK(all[0].air.humidity.value == near_rel(0.80, kExact));
  CHECK(all[0].air.temperature.value == near_rel(13.0, kExact));
  CHECK(all[0].air.speed.value == 0.1);
  CHECK(all[1].air.duration.value == near_abs(1.0, 1e-9));  // the day it fell
  CHECK(all[1].air.humidity.value == near_rel(0.75, kExact));
  CHECK(all[2].air.duration.value == near_abs(5.0, 1e-9));
  CHECK(all[2].air.humidity.value == near_rel(0.70, kExact));
  CHECK_FALSE(all[3].recorded);
  CHECK_FALSE(all[3].measured);
  CHECK(all[3].air.humidity.value == 0.80);
  // The forecast goes through the same air.
  const std::vector<drying::Stage> stages = forecast_input(hanging(), day(12), {}, {}, log).value().stages;
  REQUIRE(stages.size() == 4);
  CHECK(stages[2] == all[2].air);
  CHECK(forecast_input(hanging(), day(12)).value().stages.size() == 1);
  // A drift is followed once a meter can tell it.
  AirLog drift;
  for (int d = 0; d <= 10; ++d) drift.push_back(read(d, 13.0, 0.80 - 0.003 * d));
  const std::vector<ProgrammeStage> slow = programme(hanging(), day(10), drift);
  CHECK(slow.size() == 3);
  CHECK(days_of(slow, true) == near_abs(10.0, 1e-9));
}

TEST_CASE("in a hole of the log the air as planned counts, and what the batch's own readings tell of it") {
  const AirLog log = {read(0, 15, 0.70), read(1, 15, 0.70), read(2, 15, 0.70), read(8, 15, 0.70),
                      read(10, 15, 0.70)};
  Batch b = hanging();
  std::vector<ProgrammeStage> all = programme(b, day(10), log);
  REQUIRE(all.size() == 4);
  CHECK(all[0].measured);
  CHECK(all[0].air.duration.value == near_abs(2.0, 1e-9));
  CHECK_FALSE(all[1].measured);
  CHECK(all[1].recorded);
  CHECK(all[1].air.duration.value == near_abs(6.0, 1e-9));
  CHECK(all[1].air.temperature.value == 12.0);
  CHECK(all[1].air.humidity.value == 0.80);
  CHECK(all[2].measured);
  CHECK(all[2].air.duration.value == near_abs(2.0, 1e-9));
  for (const auto& [on, t_c] : {std::pair(1, 3.0), std::pair(4, 9.0), std::pair(6, 10.0)}) {
    safety::Reading own;
    own.kind = safety::ReadingKind::chamber_air;
    own.at_utc_ms = std::llround(ms(on));
    own.value = t_c;
    b.evidence.readings.push_back(own);
  }
  all = programme(b, day(10), log);
  REQUIRE(all.size() == 4);
  CHECK(all[0].air.temperature.value == near_rel(15.0, kExact));  // the chamber's own log goes first
  CHECK(all[1].air.temperature.value == near_rel(9.5, kExact));
  CHECK(all[1].air.humidity.value == 0.80);
  // The same without a log: all that was is one hole.
  all = programme(b, day(10));
  REQUIRE(all.size() == 2);
  CHECK(all[0].air.temperature.value == near_rel(22.0 / 3.0, kExact));
}

TEST_CASE("a bag stays sealed at its own temperature, whatever the chamber's log says") {
  Batch b = hanging();
  recipe::Stage dry;
  dry.id = Id{"dry"};
  dry.kind = recipe::StageKind::dry;
  dry.temperature = Celsius(12.0);
  dry.days = Days(10.0);
  recipe::Stage bag = dry;
  bag.id = Id{"bag"};
  bag.kind = recipe::StageKind::rest;
  bag.temperature = Celsius(3.0);
  bag.sealed = true;
  recipe::Stage after = dry;
  after.id = Id{"after"};
  b.made_from.stages = {dry, bag, after};
  b.evidence.stages = {{dry.id, std::llround(ms(0)), std::llround(ms(4))},
                       {bag.id, std::llround(ms(4)), std::llround(ms(9))},
                       {after.id, std::llround(ms(9)), std::nullopt}};
  AirLog log;
  for (int d = 0; d <= 12; ++d) log.push_back(read(d, 14.0, 0.75));
  const std::vector<ProgrammeStage> all = programme(b, day(12), log);
  REQUIRE(all.size() == 4);
  CHECK(all[0].measured);
  CHECK(all[0].air.duration.value == near_abs(4.0, 1e-9));
  CHECK(all[1].air.sealed);
  CHECK_FALSE(all[1].measured);
  CHECK(all[1].air.temperature.value == 3.0);
  CHECK(all[1].air.duration.value == near_abs(5.0, 1e-9));
  CHECK(all[2].measured);
  CHECK_FALSE(all[2].air.sealed);
  CHECK(all[2].air.duration.value == near_abs(3.0, 1e-9));
  CHECK(all[2].air.humidity.value == near_rel(0.75, kExact));
}

TEST_CASE("in the chamber's air hang the pieces that are on their rails, of a batch that lies in no bag") {
  Batch b = hanging();
  CHECK(pieces_in_air(b) == std::vector<Id>{Id{"one"}, Id{"two"}});
  TakenDown down;
  down.piece = Id{"one"};
  b.taken_down = {down};
  CHECK(pieces_in_air(b) == std::vector<Id>{Id{"two"}});
  recipe::Stage bag;
  bag.id = Id{"bag"};
  bag.sealed = true;
  b.made_from.stages = {bag};
  CHECK_FALSE(pieces_in_air(b).empty());
  begin_stage(b, bag.id, std::llround(ms(3)));
  CHECK(pieces_in_air(b).empty());
  b.evidence.stages[0].ended_utc_ms = std::llround(ms(6));
  CHECK_FALSE(pieces_in_air(b).empty());
  safety::StandingAct act;
  act.to = safety::Standing::held;
  b.evidence.acts = {act};
  CHECK_FALSE(pieces_in_air(b).empty());
  act.to = safety::Standing::discarded;
  b.evidence.acts.push_back(act);
  CHECK(pieces_in_air(b).empty());
  b.evidence.acts.clear();
  b.hung = false;
  CHECK(pieces_in_air(b).empty());
}

TEST_CASE("what was read of the chamber is evidence of a batch while it hangs in its air") {
  Batch b = hanging();
  b.evidence.readings.clear();
  const AirLog log = {read(-2.0, 20.0, 0.6), read(1.5, 12.0, 0.8), read(4.5, 9.0, 0.8), read(12.5, 13.0, 0.8)};
  const auto temperatures = [&] {
    std::vector<double> out;
    for (const safety::Reading& reading : evidence_on(b, kHung + std::chrono::days(20), log).readings) {
      CHECK(reading.kind == safety::ReadingKind::chamber_air);
      CHECK(reading.piece.empty());
      out.push_back(reading.value);
    }
    return out;
  };
  CHECK(temperatures() == std::vector<double>{12.0, 9.0, 13.0});
  recipe::Stage bag;
  bag.id = Id{"bag"};
  bag.sealed = true;
  b.made_from.stages = {bag};
  b.evidence.stages = {{bag.id, std::llround(ms(4.0)), std::llround(ms(6.0))}};
  CHECK(temperatures() == std::vector<double>{12.0, 13.0});
  for (const Piece& piece : b.pieces) {
    TakenDown down;
    down.piece = piece.id;
    down.date = kHung + std::chrono::days(9);
    down.mass = Grams(600.0);
    b.taken_down.push_back(down);
  }
  CHECK(temperatures() == std::vector<double>{12.0});
  b.hung = false;
  CHECK(temperatures().empty());
}

TEST_CASE("a piece that was discarded is in the air no more, and leaves the others there") {
  Batch b = hanging();
  REQUIRE(b.pieces.size() == 2);
  safety::StandingAct act;
  act.piece = b.pieces[0].id;
  act.to = safety::Standing::discarded;
  act.reason = "mould";
  b.evidence.acts = {act};
  CHECK(pieces_in_air(b) == std::vector<Id>{b.pieces[1].id});
  b.evidence.acts[0].piece = {};
  CHECK(pieces_in_air(b).empty());
}
