// Findings of stages, and the gate at the move.
#include "core/safety/stage_findings.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "tests/near.h"
#include "tests/unit/safety/whole_muscle.h"

using namespace saltrafter;
using namespace saltrafter::safety;
using recipe::StageKind;
using test::muscle;
using test::sheet_of;
using test::stage;

namespace {

constexpr std::int64_t kDayMs = 86400000;
constexpr std::int64_t kBegan = 1790000000000;

std::int64_t at(double days) {
  return kBegan + static_cast<std::int64_t>(days * static_cast<double>(kDayMs));
}

// A recipe with its sheet, and what is recorded of it, kept together.
struct Case {
  recipe::Recipe recipe;
  recipe::Sheet sheet;
  Evidence evidence;
  double now_days = 0.0;

  explicit Case(recipe::Recipe r) : recipe(std::move(r)), sheet(sheet_of(recipe)) {}

  Subject subject() const {
    Subject s;
    s.recipe = &recipe;
    s.sheet = &sheet;
    s.evidence = evidence;
    s.now_utc_ms = at(now_days);
    return s;
  }
  std::vector<Finding> all(Rule rule) const {
    std::vector<Finding> out;
    for (Finding& f : stage_findings(subject())) {
      if (f.rule == rule) out.push_back(f);
    }
    return out;
  }
  Finding one(Rule rule) const {
    const std::vector<Finding> found = all(rule);
    REQUIRE(found.size() == 1);
    return found.front();
  }
  std::vector<Finding> gate_to(const char* id) const { return gate(subject(), Id{id}); }
  void did(const char* id, double from_days, double to_days) {
    evidence.stages.push_back(StageDone{Id{id}, at(from_days), at(to_days)});
    now_days = to_days;
  }
  Reading& read(ReadingKind kind, double at_days, double value) {
    Reading r;
    r.id = Id{"r" + std::to_string(evidence.readings.size())};
    r.kind = kind;
    r.at_utc_ms = at(at_days);
    r.value = value;
    evidence.readings.push_back(r);
    return evidence.readings.back();
  }
};

double figure(const Finding& f, const char* id) {
  for (const Figure& one : f.figures) {
    if (one.id == id) return one.value;
  }
  FAIL("no figure ", id);
  return 0.0;
}

// Loin of 60 mm: 16 days sealed at 3 °C, cold drying, drying at 13 °C.
Case loin(double salt_g_per_kg = 30.0, double cold_loss = 0.0) {
  recipe::Recipe r = muscle(0.06, salt_g_per_kg);
  r.stages = {stage("cure", StageKind::cure, 3.0, 16.0, true)};
  if (cold_loss > 0.0) {
    recipe::Stage cold = stage("cold", StageKind::cold_dry, 4.0, 30.0);
    cold.until_loss = cold_loss;
    r.stages.push_back(cold);
  }
  r.stages.push_back(stage("dry", StageKind::dry, 13.0, 40.0));
  return Case(r);
}

Case salami() {
  recipe::Recipe r = recipe::test::sample();
  r.wanted_ph = 5.0;
  r.stages = {stage("sour", StageKind::ferment, 22.0, 2.5), stage("dry", StageKind::dry, 13.0, 30.0),
              stage("bag", StageKind::store, 3.0, 60.0, true)};
  return Case(r);
}

}  // namespace

TEST_CASE("a usual dose does not leave the cold by curing alone, and is told the way") {
  const Case c = loin();
  const Finding f = c.one(Rule::cold_until_salted);
  CHECK(f.level == Level::not_met);
  CHECK(stops(f));
  CHECK(f.stop == Stop::with_reason);
  CHECK(f.about.text == "dry");
  CHECK(f.known == tables::Known::memory);
  CHECK(f.advice == "cold_way");
  REQUIRE((f.found && f.limit && f.margin));
  CHECK(f.limit->value == near_abs(4.5, 1e-12));
  CHECK(f.found->value < 3.95);
  CHECK(figure(f, "salt_centre") == f.found->value);
  CHECK(figure(f, "salt_mean") == near_abs(3.95, 0.01));
  const ColdWay way = cold_way(c.recipe, c.sheet).value();
  CHECK(figure(f, "cold_days") == way.dry.value);
  CHECK(figure(f, "cold_loss") == near_abs(100.0 * way.loss, 1e-9));
  CHECK(figure(f, "day_met") == 16.0 + way.dry.value);

  // With the loss of that way among its stages it is not stopped; a limit from memory is never met.
  const Finding passes = loin(30.0, way.loss + 0.02).one(Rule::cold_until_salted);
  CHECK(passes.level == Level::not_known);
  CHECK_FALSE(stops(passes));
  REQUIRE(passes.missing.size() == 1);
  CHECK(passes.missing.front() == "core_water_activity");
  CHECK(loin(30.0, way.loss - 0.03).one(Rule::cold_until_salted).level == Level::not_met);
}

TEST_CASE("salt that has only not arrived yet is waited for") {
  Case c = loin(40.0);
  c.recipe.stages[0].days = Days(4.0);
  const Finding f = c.one(Rule::cold_until_salted);
  CHECK(f.level == Level::not_met);
  CHECK(f.advice == "wait_cold");
  const double met = figure(f, "day_met");
  CHECK(met > 4.0);
  CHECK(figure(f, "days_left") == met - 4.0);
  c.recipe.stages[0].days = Days(met);
  CHECK_FALSE(stops(c.one(Rule::cold_until_salted)));
  c.recipe.stages[0].days = Days(met - 1.0);
  CHECK(stops(c.one(Rule::cold_until_salted)));
}

TEST_CASE("the gate judges what is recorded and not what is planned") {
  Case c = loin(30.0, 0.17);
  CHECK_FALSE(stops(c.one(Rule::cold_until_salted)));
  REQUIRE(c.gate_to("dry").size() == 1);  // nothing done: no salt at the centre
  CHECK(c.gate_to("dry").front().rule == Rule::cold_until_salted);
  CHECK(c.gate_to("cold").empty());
  CHECK(c.gate_to("no such stage").empty());

  c.did("cure", 0.0, 16.0);
  c.did("cold", 16.0, 46.0);
  c.evidence.loss_now = 0.17;
  CHECK(c.gate_to("dry").empty());
  c.evidence.loss_now = 0.10;  // dried less than was planned
  const std::vector<Finding> against = c.gate_to("dry");
  REQUIRE(against.size() == 1);
  CHECK(against.front().advice == "cold_way");
  CHECK(figure(against.front(), "days_left") >= 1.0);
  CHECK(figure(against.front(), "cold_loss") > 10.0);
  // A colder fridge than planned slows the salt: the same days at -1 °C leave less at the centre.
  Case young = loin(40.0);
  young.did("cure", 0.0, 9.0);
  const double planned = young.gate_to("dry").front().found->value;
  young.read(ReadingKind::chamber_air, 1.0, -1.0);
  young.read(ReadingKind::chamber_air, 5.0, -1.0);
  CHECK(young.gate_to("dry").front().found->value < planned - 0.05);
  young.evidence.readings[0].instrument = InstrumentState::failed;
  young.evidence.readings[1].instrument = InstrumentState::failed;
  CHECK(young.gate_to("dry").front().found->value == near_abs(planned, 1e-12));
}

TEST_CASE("a batch on its way is judged by what is done and what is still planned") {
  Case c = loin(30.0, 0.17);
  c.did("cure", 0.0, 16.0);
  c.evidence.stages.push_back(StageDone{Id{"cold"}, kBegan + 16 * kDayMs, std::nullopt});
  c.now_days = 20.0;
  c.evidence.loss_now = 0.03;
  CHECK_FALSE(stops(c.one(Rule::cold_until_salted)));  // 26 more days of cold drying are planned
  CHECK(c.gate_to("dry").size() == 1);                 // but not now
  // What ended early does not come again.
  Case early = loin(40.0);
  CHECK_FALSE(stops(early.one(Rule::cold_until_salted)));
  early.did("cure", 0.0, 4.0);
  CHECK(stops(early.one(Rule::cold_until_salted)));
  // Once it has gone over, what it had lost by then is no more than was planned.
  c.evidence.stages.back().ended_utc_ms = kBegan + 20 * kDayMs;
  c.evidence.stages.push_back(StageDone{Id{"dry"}, kBegan + 20 * kDayMs, std::nullopt});
  c.now_days = 60.0;
  c.evidence.loss_now = 0.30;
  CHECK(stops(c.one(Rule::cold_until_salted)));
}

TEST_CASE(
    "a water activity measured in the core opens the gate; elsewhere or by a failed meter it does not") {
  Case c = loin();
  c.did("cure", 0.0, 16.0);
  REQUIRE(c.gate_to("dry").size() == 1);
  c.read(ReadingKind::water_activity, 16.0, 0.955).site = Site::core;
  CHECK(c.gate_to("dry").empty());
  const Finding f = cold_finding(c.subject(), 1, Moment::move);
  CHECK(f.level == Level::not_known);  // the limit is remembered
  CHECK(f.row == "any.water_activity.whole_muscle_dry.centre");
  REQUIRE(f.way);
  CHECK(*f.way == Way::measured);
  c.evidence.readings[0].instrument = InstrumentState::failed;
  CHECK(c.gate_to("dry").size() == 1);
  c.evidence.readings[0].instrument = InstrumentState::checked;
  for (const Site site : {Site::not_said, Site::surface, Site::mixed}) {
    c.evidence.readings[0].site = site;
    CHECK(c.gate_to("dry").size() == 1);
  }
  c.evidence.readings[0].site = Site::core;
  Reading& other = c.read(ReadingKind::water_activity, 15.0, 0.970);  // another piece, wetter
  other.site = Site::core;
  other.piece = Id{"p2"};
  CHECK(c.gate_to("dry").size() == 1);
}

TEST_CASE("the gate is for whole muscle that goes warm") {
  CHECK(salami().one(Rule::cold_until_salted).level == Level::does_not_apply);
  Case cold = loin();
  cold.recipe.stages[1].temperature = Celsius(5.0);
  CHECK(cold.one(Rule::cold_until_salted).level == Level::does_not_apply);
  cold.recipe.stages[1].temperature = Celsius(5.1);
  CHECK(cold.one(Rule::cold_until_salted).level == Level::not_met);
  cold.recipe.stages.clear();
  const Finding f = cold.one(Rule::cold_until_salted);
  CHECK(f.level == Level::not_known);
  CHECK(f.missing.front() == "stages");
  CHECK(cold.one(Rule::cure_time).missing.front() == "stages");
  CHECK(cold.one(Rule::sealing).missing.front() == "stages");
  CHECK(cold.one(Rule::staging).missing.front() == "stages");
}

TEST_CASE("a bag is cold, or what is in it is salted, dry or sour enough") {
  Case c = loin();
  const Finding f = c.one(Rule::sealing);
  CHECK(f.level == Level::not_known);
  CHECK(f.row == "any.temperature.any.sealing");
  CHECK(f.about.text == "cure");
  CHECK(c.gate_to("cure").empty());
  c.recipe.stages[0].temperature = Celsius(3.1);
  const Finding warm = c.one(Rule::sealing);
  CHECK(stops(warm));
  CHECK(warm.advice == "seal_colder");
  CHECK(figure(warm, "salt_throughout") == near_abs(0.0, 1e-6));
  CHECK(c.gate_to("cure").size() == 1);

  // To even out after drying, at 12 °C: salted enough throughout.
  Case late = loin(30.0, 0.17);
  late.recipe.stages.push_back(stage("even", StageKind::rest, 12.0, 20.0, true));
  late.recipe.stages[2].until_loss = 0.35;
  const std::vector<Finding> two = late.all(Rule::sealing);
  REQUIRE(two.size() == 2);
  CHECK(two[1].row == "any.water_phase_salt.any.sealing");
  CHECK(two[1].level == Level::not_known);

  // Recorded warmer than planned while it lies there.
  Case fridge = loin();
  fridge.evidence.stages.push_back(StageDone{Id{"cure"}, kBegan, std::nullopt});
  fridge.now_days = 3.0;
  fridge.read(ReadingKind::chamber_air, 1.0, 2.5);
  CHECK_FALSE(stops(fridge.one(Rule::sealing)));
  fridge.read(ReadingKind::chamber_air, 2.0, 4.0);
  CHECK(stops(fridge.one(Rule::sealing)));
  // What is measured in the bag does not speak for the days before it.
  fridge.read(ReadingKind::water_activity, 2.5, 0.965).site = Site::core;
  CHECK(stops(fridge.one(Rule::sealing)));
  fridge.read(ReadingKind::water_activity, -0.5, 0.965).site = Site::core;
  CHECK(fridge.one(Rule::sealing).row == "any.water_activity.any.sealing");

  Case none = loin();
  none.recipe.stages[0].sealed = false;
  CHECK(none.one(Rule::sealing).level == Level::does_not_apply);
}

TEST_CASE("a fermented product is not sealed before its pH is measured") {
  Case c = salami();
  c.now_days = 3.0;
  const Finding planned = c.one(Rule::sealing);
  CHECK(planned.level == Level::not_known);
  CHECK(planned.missing.front() == "ph_reading");
  const std::vector<Finding> against = c.gate_to("bag");
  REQUIRE(against.size() == 1);
  CHECK(against.front().advice == "seal_after_souring");
  // A strip, a failed meter, and two pieces of which one is not there: none of them opens it.
  c.read(ReadingKind::ph_strip, 2.0, 5.0);
  CHECK(c.gate_to("bag").size() == 1);
  c.read(ReadingKind::ph_meter, 2.1, 5.0).instrument = InstrumentState::failed;
  CHECK(c.gate_to("bag").size() == 1);
  c.read(ReadingKind::ph_meter, 2.2, 5.31);
  c.read(ReadingKind::ph_meter, 2.21, 5.25);
  CHECK(c.gate_to("bag").size() == 1);
  c.read(ReadingKind::ph_meter, 2.4, 5.3);
  CHECK(c.gate_to("bag").empty());

  Case early = salami();
  std::swap(early.recipe.stages[0], early.recipe.stages[2]);
  CHECK(stops(early.one(Rule::sealing)));
}

TEST_CASE("a batch is as good as its worst lot") {
  Case c = loin();
  CHECK(c.all(Rule::meat_ph).front().missing.front() == "meat_ph");
  const auto lot = [](const char* id, std::optional<double> ph) {
    MeatLot l;
    l.id = Id{id};
    l.ph = ph;
    return l;
  };
  c.evidence.lots = {lot("a", 5.6)};
  CHECK(c.one(Rule::meat_ph).level == Level::not_known);  // within a limit of practice
  CHECK(c.one(Rule::meat_ph).missing.empty());
  c.evidence.lots = {lot("a", 5.78)};
  CHECK(c.one(Rule::meat_ph).level == Level::near);  // the meter's error reaches over 5.8
  c.evidence.lots = {lot("a", 5.6), lot("b", 6.0), lot("c", std::nullopt)};
  const std::vector<Finding> three = c.all(Rule::meat_ph);
  REQUIRE(three.size() == 3);
  CHECK(three[0].about.text == "b");
  CHECK(three[0].level == Level::near);
  CHECK(three[0].decides);
  CHECK(three[1].about.text == "c");
  CHECK_FALSE(three[1].decides);
  c.evidence.lots.push_back(lot("d", 6.21));
  const Finding worst = c.all(Rule::meat_ph).front();
  CHECK(worst.about.text == "d");
  CHECK(stops(worst));
  CHECK(c.gate_to("cure").size() == 1);
  c.evidence.lots.back().ph = 6.2;
  CHECK(c.all(Rule::meat_ph).front().level == Level::near);
  // Minced meat is told, not stopped.
  Case minced = salami();
  minced.evidence.lots = {lot("d", 6.3)};
  CHECK(minced.one(Rule::meat_ph).level == Level::not_met);
  CHECK_FALSE(stops(minced.one(Rule::meat_ph)));
}

TEST_CASE("cure time is held against the days in which salt evens out") {
  Case c = loin();
  const auto with_days = [&](double days) {
    c.recipe.stages[0].days = Days(days);
    return c.one(Rule::cure_time);
  };
  const Finding enough = with_days(16.0);
  CHECK(enough.level == Level::not_known);  // a chosen range proves nothing
  CHECK(enough.advice.empty());
  const double slow = figure(enough, "evened_slow");
  const double likely = figure(enough, "evened_likely");
  CHECK(slow == 16.0);
  CHECK(likely < slow);
  CHECK(with_days(slow - 1.0).level == Level::near);
  CHECK(with_days(likely).level == Level::near);
  const Finding little = with_days(likely - 1.0);
  CHECK(little.level == Level::not_met);
  CHECK(little.advice == "more_rest");
  CHECK_FALSE(stops(little));
  CHECK(salami().one(Rule::cure_time).level == Level::does_not_apply);
}

TEST_CASE("stages out of their usual temperature or time are named one by one") {
  Case c = salami();
  const Finding usual = c.one(Rule::staging);
  CHECK(usual.level == Level::not_known);
  CHECK(usual.about.empty());
  c.recipe.stages[0].temperature = Celsius(30.0);
  c.recipe.stages[0].days = Days(4.0);
  c.recipe.stages[1].temperature = Celsius(9.0);
  const std::vector<Finding> out = c.all(Rule::staging);
  REQUIRE(out.size() == 3);
  CHECK(out[0].advice == "stage_cooler");
  CHECK(out[1].advice == "stage_shorter");
  CHECK(out[1].found->value == near_abs(96.0, 1e-12));
  CHECK(out[2].advice == "stage_warmer");
  CHECK(out[2].about.text == "dry");
  for (const Finding& f : out) {
    CHECK(f.level == Level::not_met);
    CHECK_FALSE(stops(f));
  }
  // A culture that is used so warm makes the temperature usual.
  c.recipe.lines.push_back(recipe::test::line(recipe::LineKind::culture, "pentosaceus_medium", 0.2));
  c.recipe.stages[0].days = Days(2.0);
  CHECK(c.all(Rule::staging).size() == 1);
  CHECK(c.all(Rule::staging).front().about.text == "dry");
}

TEST_CASE("a stop of the plan has another name than the same stop at the move") {
  Case c = loin();
  c.did("cure", 0.0, 16.0);
  const Finding planned = c.one(Rule::cold_until_salted);
  CHECK(planned.planned);
  const std::vector<Finding> against = c.gate_to("dry");
  REQUIRE(against.size() == 1);
  CHECK_FALSE(against.front().planned);
  CHECK(name_of(planned) != name_of(against.front()));
  // Once the stage has begun the finding is the one that stood at the move.
  c.evidence.stages.push_back(StageDone{Id{"dry"}, at(16.0), std::nullopt});
  CHECK(name_of(c.one(Rule::cold_until_salted)) == name_of(against.front()));

  Case warm = loin();
  warm.recipe.stages[0].temperature = Celsius(3.1);
  CHECK(warm.one(Rule::sealing).planned);
  REQUIRE(warm.gate_to("cure").size() == 1);
  CHECK_FALSE(warm.gate_to("cure").front().planned);
  Case sour = salami();
  CHECK(sour.one(Rule::sealing).planned);
  CHECK_FALSE(sour.gate_to("bag").front().planned);
}

TEST_CASE("what is measured after a move does not open it") {
  Case c = loin();
  c.did("cure", 0.0, 16.0);
  c.evidence.stages.push_back(StageDone{Id{"dry"}, at(16.0), std::nullopt});
  c.now_days = 20.0;
  c.read(ReadingKind::water_activity, 19.0, 0.93).site = Site::core;
  CHECK(stops(c.one(Rule::cold_until_salted)));
  c.read(ReadingKind::water_activity, 15.0, 0.93).site = Site::core;
  CHECK_FALSE(stops(c.one(Rule::cold_until_salted)));

  Case s = salami();
  s.now_days = 4.0;
  s.evidence.stages.push_back(StageDone{Id{"bag"}, at(2.0), std::nullopt});
  s.read(ReadingKind::ph_meter, 3.0, 4.9);
  CHECK(stops(s.one(Rule::sealing)));
  s.read(ReadingKind::ph_meter, 1.5, 4.9);
  CHECK_FALSE(stops(s.one(Rule::sealing)));
}

TEST_CASE("a pH meter that failed its check opens no bag") {
  Case c = salami();
  c.now_days = 3.0;
  c.recipe.wanted_ph.reset();
  c.recipe.stages = {stage("dry", StageKind::dry, 13.0, 30.0), stage("bag", StageKind::store, 12.0, 60.0, true)};
  c.recipe.lines[2].amount = 15.0;
  c.sheet = sheet_of(c.recipe);
  REQUIRE(c.gate_to("bag").size() == 1);
  CHECK(c.gate_to("bag").front().row == "any.temperature.any.sealing");
  Case sour = c;
  sour.read(ReadingKind::ph_meter, 2.5, 4.8);
  CHECK(sour.gate_to("bag").empty());
  c.read(ReadingKind::ph_meter, 2.5, 4.8).instrument = InstrumentState::failed;
  CHECK(c.gate_to("bag").size() == 1);
}

TEST_CASE("a cold stage whose log says it was warm is a stop until the centre has its salt") {
  Case c = loin(30.0, 0.17);
  c.did("cure", 0.0, 16.0);
  c.evidence.stages.push_back(StageDone{Id{"cold"}, at(16.0), std::nullopt});
  c.now_days = 20.0;
  for (const double day : {17.0, 17.3, 17.6}) c.read(ReadingKind::chamber_air, day, 3.0);
  CHECK(c.all(Rule::cold_until_salted).size() == 1);
  c.read(ReadingKind::chamber_air, 18.0, 6.5);  // the swing of a fridge
  CHECK(c.all(Rule::cold_until_salted).size() == 1);
  c.read(ReadingKind::chamber_air, 19.0, 7.2);
  const std::vector<Finding> warm = c.all(Rule::cold_until_salted);
  REQUIRE(warm.size() == 2);
  CHECK(stops(warm.front()));
  CHECK(warm.front().about.text == "cold");
  CHECK(warm.front().advice == "back_to_cold");
  CHECK(figure(warm.front(), "air") == 7.2);
  CHECK_FALSE(warm.front().planned);
  c.evidence.readings.back().instrument = InstrumentState::failed;
  CHECK(c.all(Rule::cold_until_salted).size() == 1);
  c.evidence.readings.back().instrument = InstrumentState::not_said;
  c.read(ReadingKind::water_activity, 18.5, 0.94).site = Site::core;
  CHECK_FALSE(stops(c.all(Rule::cold_until_salted).front()));
  // Warm on the whole: no swing.
  Case mild = loin(30.0, 0.17);
  mild.did("cure", 0.0, 16.0);
  mild.evidence.stages.push_back(StageDone{Id{"cold"}, at(16.0), std::nullopt});
  mild.now_days = 20.0;
  mild.read(ReadingKind::chamber_air, 17.0, 5.5);
  CHECK(stops(mild.all(Rule::cold_until_salted).front()));
}

TEST_CASE("hung in warm air whole muscle is asked for its salt, whatever the stages are called") {
  Case c = loin();
  c.recipe.stages[1].temperature = Celsius(4.0);  // all of it planned cold
  c.did("cure", 0.0, 16.0);
  CHECK(gate_to_air(c.subject(), Celsius(5.0), std::nullopt).empty());
  const std::vector<Finding> against = gate_to_air(c.subject(), Celsius(13.0), std::nullopt);
  REQUIRE(against.size() == 1);
  CHECK(against.front().rule == Rule::cold_until_salted);
  CHECK(gate_to_air(c.subject(), Celsius(13.0), Id{"dry"}).size() == 1);
  c.evidence.hangs_in = Celsius(13.0);
  CHECK(stops(c.all(Rule::cold_until_salted).front()));
  CHECK(name_of(c.all(Rule::cold_until_salted).front()) == name_of(against.front()));
  c.evidence.hangs_in = Celsius(5.0);
  CHECK(c.one(Rule::cold_until_salted).level == Level::does_not_apply);
  // A warm stage that has begun speaks for itself, once.
  Case plain = loin();
  plain.did("cure", 0.0, 16.0);
  CHECK(gate_to_air(plain.subject(), Celsius(13.0), Id{"dry"}).size() == 1);
  plain.evidence.stages.push_back(StageDone{Id{"dry"}, at(16.0), std::nullopt});
  plain.evidence.hangs_in = Celsius(13.0);
  CHECK(plain.all(Rule::cold_until_salted).size() == 1);
  Case minced = salami();
  CHECK(gate_to_air(minced.subject(), Celsius(13.0), std::nullopt).empty());
}

TEST_CASE("what only a forecast learns from is counted by no rule, whatever it reads") {
  // A recipe that sours and dries, with a log that rules do count.
  recipe::Recipe recipe = recipe::test::sample();
  recipe.stages = {stage("warm", StageKind::ferment, 22.0, 2.0), stage("dry", StageKind::dry, 13.0, 30.0),
                   stage("bag", StageKind::rest, 3.0, 10.0, true)};
  Case of(recipe);
  of.did("warm", 0.0, 2.0);
  of.did("dry", 2.0, 20.0);
  for (const double day : {0.0, 1.0, 2.0}) of.read(ReadingKind::chamber_air, day, 22.0);
  of.read(ReadingKind::ph_meter, 1.5, 5.1);
  of.read(ReadingKind::water_activity, 19.0, 0.91).site = Site::core;
  const auto said = [&of] {
    std::vector<std::string> all;
    for (const Finding& f : findings(of.subject())) {
      all.push_back(name_of(f) + " " + std::string(key_of(f.level)) + " " +
                    (f.found ? std::to_string(f.found->value) : "-"));
      for (const std::string& missing : f.missing) all.push_back(missing);
      for (const Figure& figure : f.figures) all.push_back(figure.id + std::to_string(figure.value));
    }
    for (const Finding& f : of.gate_to("bag")) all.push_back(name_of(f));
    return all;
  };
  const std::vector<std::string> before = said();
  REQUIRE(before.size() > 10);
  for (const ReadingKind kind : {ReadingKind::moisture, ReadingKind::firmness, ReadingKind::cut_look}) {
    for (const double value : {0.0, 0.5, 1.0, 3.0}) {
      for (const double day : {0.5, 1.5, 19.0, 19.9}) of.read(kind, day, value).site = Site::core;
    }
  }
  CHECK(said() == before);
}
