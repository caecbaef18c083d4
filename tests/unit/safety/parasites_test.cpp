#include <doctest/doctest.h>

#include <algorithm>
#include <limits>

#include "core/safety/animal_findings.h"
#include "core/safety/safety.h"
#include "tests/near.h"
#include "tests/unit/recipe/fixture.h"

using namespace saltrafter;
using namespace saltrafter::safety;
using recipe::test::line;
using recipe::test::sample;

namespace {

constexpr std::int64_t kDayMs = 86400000;
constexpr double kNan = std::numeric_limits<double>::quiet_NaN();

recipe::Stage stage(const char* id, recipe::StageKind kind, double celsius, double days) {
  recipe::Stage s;
  s.id = Id{id};
  s.kind = kind;
  s.temperature = Celsius(celsius);
  s.days = Days(days);
  return s;
}

recipe::Step mince(std::optional<double> plate_mm) {
  recipe::Step step;
  step.kind = recipe::StepKind::mince;
  step.value = plate_mm;
  return step;
}

// 36 g of salt to the kg of meat, minced through 8 mm, 55 mm thick; soured three days, dried thirty.
recipe::Recipe salty() {
  recipe::Recipe r = sample();
  r.lines[2].amount = 36.0;
  r.steps = {mince(8.0)};
  r.stages = {stage("ferment", recipe::StageKind::ferment, 22.0, 3.0),
              stage("dry", recipe::StageKind::dry, 13.0, 30.0)};
  return r;
}

recipe::Sheet sheet_of(const recipe::Recipe& r) {
  const Result<recipe::Sheet> sheet = recipe::scale(r, Grams(10000.0));
  REQUIRE(sheet.ok());
  return sheet.value();
}

std::vector<Finding> of(const recipe::Recipe& r, const Evidence& evidence = {}, std::int64_t now = 0) {
  return parasite_findings(r, sheet_of(r), evidence, now);
}

Finding only(const recipe::Recipe& r, const Evidence& evidence = {}, std::int64_t now = 0) {
  const std::vector<Finding> all = of(r, evidence, now);
  REQUIRE(all.size() == 1);
  return all.front();
}

MeatLot lot(const char* id, tables::Species species = tables::Species::pork) {
  MeatLot l;
  l.id = Id{id};
  l.species = species;
  return l;
}

MeatLot frozen(double celsius, double days, double thickness_m = 0.1) {
  MeatLot l = lot("lot");
  l.frozen = Frozen{Celsius(celsius), Days(days), Metres(thickness_m), false};
  return l;
}

Evidence with(const MeatLot& l) {
  Evidence evidence;
  evidence.lots = {l};
  return evidence;
}

bool asks(const Finding& f, const char* what) {
  return std::count(f.missing.begin(), f.missing.end(), what) == 1;
}

double figure(const Finding& f, const char* id) {
  for (const Figure& one : f.figures) {
    if (one.id == id) return one.value;
  }
  FAIL("no such figure");
  return 0.0;
}

Reading air(double at_day, double temperature_c = 20.0) {
  Reading r;
  r.kind = ReadingKind::chamber_air;
  r.value = temperature_c;
  r.at_utc_ms = static_cast<std::int64_t>(at_day * static_cast<double>(kDayMs));
  return r;
}

// Soured for `sour` days, then dried for `dry`; the air read every other day and warm enough for anything.
Evidence made(double sour, double dry) {
  const auto ms = [](double days) { return static_cast<std::int64_t>(days * static_cast<double>(kDayMs)); };
  Evidence evidence;
  evidence.stages = {StageDone{Id{"ferment"}, 0, ms(sour)}, StageDone{Id{"dry"}, ms(sour), ms(sour + dry)}};
  for (double day = 0.0; day < sour + dry; day += 2.0) evidence.readings.push_back(air(day));
  return evidence;
}

Reading ph(double value, double at_day, double uncertainty = 0.02) {
  Reading r;
  r.kind = ReadingKind::ph_meter;
  r.value = value;
  r.uncertainty = uncertainty;
  r.at_utc_ms = static_cast<std::int64_t>(at_day * static_cast<double>(kDayMs));
  return r;
}

std::vector<Finding> animals(const recipe::Recipe& r, const Evidence& evidence = {}) {
  const recipe::Sheet sheet = sheet_of(r);
  Subject subject;
  subject.recipe = &r;
  subject.sheet = &sheet;
  subject.evidence = evidence;
  return animal_findings(subject);
}

int count_row(const std::vector<Finding>& all, const char* row) {
  return static_cast<int>(
      std::count_if(all.begin(), all.end(), [row](const Finding& f) { return f.row == row; }));
}

}  // namespace

TEST_CASE("what nobody recorded of pork is not known and no stop, with what would settle it") {
  const Finding f = only(sample());
  CHECK(f.level == Level::not_known);
  CHECK(f.stop == Stop::none);
  CHECK(asks(f, "freezing_record"));
  CHECK(asks(f, "trichinella_test"));
  CHECK(f.advice == "freeze_or_test");
  CHECK(figure(f, "freeze_temperature") == -15.0);
  CHECK(figure(f, "freeze_days") == 20.0);
  CHECK(f.about.empty());
  CHECK_FALSE(f.source.empty());
  const Finding empty_lot = only(sample(), with(lot("lot")));
  CHECK(empty_lot.level == Level::not_known);
  CHECK(empty_lot.about == Id{"lot"});
  CHECK_FALSE(stops(empty_lot));
}

TEST_CASE("a certificate settles any animal, in the maker's word") {
  for (const tables::Species species :
       {tables::Species::pork, tables::Species::game, tables::Species::horse}) {
    MeatLot l = lot("lot", species);
    l.wild = true;
    l.certified_free = true;
    const std::vector<Finding> all = of(sample(), with(l));
    CHECK(all.front().level == Level::met);
    CHECK(all.front().row == "certificate");
    CHECK(all.front().about == Id{"lot"});
  }
}

TEST_CASE("freezing that does not do is a stop that takes a reason, and says what it lacks") {
  const Finding brief = only(sample(), with(frozen(-18.0, 15.0)));
  CHECK(brief.level == Level::not_met);
  CHECK(brief.stop == Stop::with_reason);
  CHECK(brief.advice == "freeze_longer");
  CHECK(figure(brief, "days_left") == 5.0);
  CHECK(*brief.margin == -5.0);
  const Finding warm = only(sample(), with(frozen(-12.0, 60.0)));
  CHECK(stops(warm));
  CHECK(warm.advice == "freeze_colder");
  CHECK(*warm.margin == -3.0);
  const Finding thick = only(sample(), with(frozen(-30.0, 60.0, 0.7)));
  CHECK(stops(thick));
  CHECK(thick.advice == "freeze_thinner");
  CHECK(figure(thick, "thickness_most") == near_abs(685.8, 1e-9));
  CHECK(name_of(brief) != name_of(warm));
  const Finding unsaid = only(sample(), with(frozen(-18.0, 60.0, 0.0)));
  CHECK(unsaid.level == Level::not_known);
  CHECK(asks(unsaid, "freezing_thickness"));
}

TEST_CASE("a record of freezing that holds no numbers proves nothing and stops nothing") {
  for (const MeatLot& l :
       {frozen(kNan, 30.0), frozen(-18.0, kNan), frozen(-18.0, 30.0, kNan), frozen(-18.0, -1.0)}) {
    const Finding f = only(sample(), with(l));
    CHECK(f.level == Level::not_known);
    CHECK_FALSE(stops(f));
    CHECK(asks(f, "freezing_record"));
  }
  CHECK_FALSE(freezing_days(Celsius(kNan), Metres(0.1), false).has_value());
  CHECK_FALSE(curing_method(kNan, Metres(0.05), false).has_value());
  CHECK_FALSE(curing_method(0.04, Metres(0.0), false).has_value());
  CHECK_FALSE(souring_days(kNan, 0.03).has_value());
}

TEST_CASE("cold is no treatment of boar, horse and what was shot; deer of a farm stay not known") {
  struct Case {
    tables::Species species;
    bool wild;
    Level level;
  };
  for (const Case& c :
       {Case{tables::Species::pork, true, Level::not_met}, Case{tables::Species::game, true, Level::not_met},
        Case{tables::Species::horse, false, Level::not_met},
        Case{tables::Species::game, false, Level::not_known}}) {
    MeatLot l = frozen(-30.0, 100.0);
    l.species = c.species;
    l.wild = c.wild;
    Evidence evidence = with(l);
    const Finding f = of(salty(), evidence).front();
    CHECK(f.level == c.level);
    CHECK(stops(f) == (c.level == Level::not_met));
    CHECK(f.advice == "heat_or_test");
    evidence.lots[0].frozen.reset();
    CHECK(of(salty(), evidence).front().level == Level::not_known);
    // Salt and drying are published for pork alone.
    Evidence dried = made(3.0, 40.0);
    dried.lots = evidence.lots;
    CHECK(of(salty(), dried).front().level == Level::not_known);
  }
}

TEST_CASE("a lot that says pork of a line of boar is taken as boar") {
  recipe::Recipe r = sample();
  r.lines[0].material = "wild_boar";
  MeatLot l = frozen(-30.0, 100.0);
  l.line = r.lines[0].id;
  const std::vector<Finding> all = of(r, with(l));
  REQUIRE(all.size() == 2);
  CHECK(all[0].about == Id{"lot"});
  CHECK(stops(all[0]));
  CHECK(all[1].row == "pork");  // the back fat, of which no lot is recorded
}

TEST_CASE("where a lot and the cut of its line name two animals, the one with more to fear counts") {
  recipe::Recipe r = sample();
  MeatLot l = frozen(-30.0, 100.0);
  l.line = r.lines[0].id;
  l.species = tables::Species::beef;
  CHECK(of(r, with(l)).front().row == "chamber.-28.9.group_1");
  r.lines[0].material = "horse";
  l.species = tables::Species::pork;
  CHECK(of(r, with(l)).front().row == "horse");
  r.lines[0].material = "beef_chuck";
  CHECK(of(r, with(l)).front().level == Level::met);  // of pork, as the lot says
}

TEST_CASE("beef, lamb and poultry carry no Trichinella, and Toxoplasma is spoken of") {
  recipe::Recipe r = sample();
  r.lines[0].material = "chicken_breast";
  const std::vector<Finding> all = of(r);
  REQUIRE(all.size() == 2);
  CHECK(all[0].level == Level::does_not_apply);
  CHECK(all[0].advice == "toxoplasma");
  CHECK(figure(all[0], "freeze_temperature") == -12.0);
  CHECK_FALSE(tables::is_evidence(all[0].known));
  for (const tables::Species species : {tables::Species::beef, tables::Species::veal, tables::Species::lamb,
                                        tables::Species::goat, tables::Species::poultry}) {
    CHECK(of(sample(), with(lot("lot", species))).front().level == Level::does_not_apply);
  }
}

TEST_CASE("each lot has a finding of its own, and an own cut without an animal is asked after") {
  Evidence evidence;
  evidence.lots = {frozen(-18.0, 20.0), lot("other")};
  const std::vector<Finding> two = of(sample(), evidence);
  REQUIRE(two.size() == 2);
  CHECK(two[0].level == Level::met);
  CHECK(two[1].level == Level::not_known);
  recipe::Recipe own = sample();
  own.lines[0].material = "own_row";
  own.lines[0].parts = recipe::cut_parts("pork_ham_lean");
  const std::vector<Finding> all = of(own);
  REQUIRE(all.size() == 2);
  CHECK(all[0].about == own.lines[0].id);
  CHECK(all[0].level == Level::not_known);
  CHECK(asks(all[0], "meat_species"));
}

TEST_CASE("a curing method is not known while it is planned and met when its days are done") {
  const Finding planned = only(salty());
  CHECK(planned.level == Level::not_known);
  CHECK(planned.advice == "dry_by_method");
  CHECK(asks(planned, "drying_days"));
  CHECK(figure(planned, "drying_days") == 20.0);
  CHECK(figure(planned, "total_days") == 25.0);
  CHECK(figure(planned, "drying_planned") == 30.0);
  CHECK(figure(planned, "total_planned") == 33.0);
  const Finding done = only(salty(), made(5.0, 20.0));
  CHECK(done.level == Level::met);
  CHECK(done.row == "1.to_89");
  CHECK(done.known == tables::Known::read);
  CHECK(only(salty(), made(5.0, 19.9)).level == Level::not_known);
  CHECK(only(salty(), made(4.9, 20.0)).level == Level::not_known);  // 24.9 days in all
}

TEST_CASE("drying counts as warm as the method asks, unsealed, until now where it is still on") {
  recipe::Recipe cold = salty();
  cold.stages[1].temperature = Celsius(7.1);
  CHECK(only(cold, made(5.0, 40.0)).level == Level::not_known);
  cold.stages[1].temperature = Celsius(7.2);
  CHECK(only(cold, made(5.0, 40.0)).level == Level::met);
  cold.stages[1].sealed = true;
  CHECK(only(cold, made(5.0, 40.0)).level == Level::not_known);
  Evidence logged = made(5.0, 40.0);
  logged.readings.push_back(air(10.0, 6.0));
  CHECK(only(salty(), logged).level == Level::not_known);
  logged.readings.back().value = 8.0;
  CHECK(only(salty(), logged).level == Level::met);
  Evidence on = made(5.0, 20.0);
  on.stages[1].ended_utc_ms.reset();
  CHECK(only(salty(), on).level == Level::not_known);
  CHECK(only(salty(), on, 24 * kDayMs).level == Level::not_known);
  CHECK(only(salty(), on, 25 * kDayMs).level == Level::met);
  Evidence twice = made(13.0, 12.0);
  twice.stages.push_back(twice.stages[1]);  // the same days twice are the same days
  CHECK(only(salty(), twice).level == Level::not_known);
  CHECK(figure(only(salty(), twice), "drying_done") == near_abs(12.0, 1e-9));
}

TEST_CASE("days of drying count where the air was read at least every three days, and it says so where it was not") {
  Evidence evidence = made(5.0, 20.0);
  const std::vector<Reading> all = evidence.readings;
  CHECK(only(salty(), evidence).level == Level::met);
  evidence.readings.clear();
  const Finding none = only(salty(), evidence);
  CHECK(none.level == Level::not_known);
  CHECK(asks(none, "temperature_log"));
  CHECK(figure(none, "drying_done") == 0.0);
  // A gap from the tenth day to the fourteenth; read once more in it, it is none.
  evidence.readings = all;
  evidence.readings.erase(evidence.readings.begin() + 6);
  CHECK(asks(only(salty(), evidence), "temperature_log"));
  evidence.readings.push_back(air(13.0));
  CHECK(only(salty(), evidence).level == Level::met);
  evidence.readings.back().instrument = InstrumentState::failed;
  CHECK(asks(only(salty(), evidence), "temperature_log"));
  // Before anything is done nothing is missing of a log.
  CHECK_FALSE(asks(only(salty()), "temperature_log"));
}

TEST_CASE("what lies in store after drying adds nothing to the days in all") {
  recipe::Recipe stored = salty();
  recipe::Stage store;
  store.id = Id{"store"};
  store.kind = recipe::StageKind::store;
  store.temperature = Celsius(10.0);
  store.days = Days(30.0);
  stored.stages.push_back(store);
  Evidence evidence = made(4.0, 20.0);
  evidence.stages.push_back(StageDone{Id{"store"}, 24 * kDayMs, 40 * kDayMs});
  const Finding f = only(stored, evidence);
  CHECK(f.level == Level::not_known);
  CHECK(figure(f, "total_done") == near_abs(24.0, 1e-9));
}

TEST_CASE("a coarse or unnamed plate, too little salt or a whole piece is under no curing method") {
  recipe::Recipe r = salty();
  r.steps = {mince(8.0), mince(20.0)};
  CHECK(only(r, made(5.0, 40.0)).level == Level::not_known);
  CHECK_FALSE(asks(only(r, made(5.0, 40.0)), "plate_size"));
  r.steps = {mince(std::nullopt)};
  CHECK(asks(only(r, made(5.0, 40.0)), "plate_size"));
  CHECK(only(r, made(5.0, 40.0)).level == Level::not_known);
  r = salty();
  r.lines[2].amount = 30.0;
  CHECK(only(r, made(5.0, 40.0)).level == Level::not_known);
  r = salty();
  r.product_class = recipe::ProductClass::whole_muscle_dry;
  CHECK(only(r, made(5.0, 40.0)).level == Level::not_known);
  r = salty();
  r.casing_diameter = Metres(0.11);  // only the remembered methods go so far
  CHECK(only(r, made(5.0, 400.0)).level == Level::not_known);
}

TEST_CASE("too little freezing waits for a curing method under way, and is a stop once the sausage is down") {
  Evidence evidence = made(5.0, 10.0);
  evidence.lots = {frozen(-18.0, 5.0)};
  CHECK(only(salty(), evidence).level == Level::not_known);
  evidence.taken_down = true;
  CHECK(stops(only(salty(), evidence)));
  evidence.stages[1].ended_utc_ms = 25 * kDayMs;
  for (double day = 14.0; day < 25.0; day += 2.0) evidence.readings.push_back(air(day));
  CHECK(only(salty(), evidence).level == Level::met);
}

TEST_CASE("the study of 2017 counts from a measured pH, as warm as it was made") {
  recipe::Recipe r = salty();
  r.lines[2].amount = 27.0;  // 2.6 % of the mix: nine days
  r.stages[1].temperature = Celsius(16.0);
  const auto level = [&](const std::vector<Reading>& readings, double dried = 20.0) {
    Evidence evidence = made(3.0, dried);
    evidence.readings.insert(evidence.readings.end(), readings.begin(), readings.end());
    return only(r, evidence).level;
  };
  CHECK(level({}) == Level::not_known);
  CHECK(level({ph(5.0, 2.0)}) == Level::met);
  CHECK(level({ph(5.0, 2.0)}, 8.0) == Level::met);  // a day of souring and eight of drying
  CHECK(level({ph(5.0, 2.0)}, 7.9) == Level::not_known);
  CHECK(level({ph(5.19, 2.0)}) == Level::near);  // its uncertainty reaches over 5.2
  CHECK(level({ph(5.3, 2.0)}) == Level::not_known);
  CHECK(level({ph(5.3, 2.0), ph(5.0, 2.02)}) == Level::not_known);  // the highest of three pieces counts
  CHECK(level({ph(5.0, 2.0), ph(5.4, 5.0)}) == Level::not_known);   // it did not stay down
  CHECK(level({ph(5.0, 2.0), ph(5.4, 15.0)}) == Level::met);
  CHECK(level({ph(4.4, 2.0)}) == Level::not_known);  // the study claims nothing there
  Reading strip = ph(5.0, 2.0);
  strip.kind = ReadingKind::ph_strip;
  CHECK(level({strip}) == Level::not_known);
  Reading failed = ph(5.0, 2.0);
  failed.instrument = InstrumentState::failed;
  CHECK(level({failed}) == Level::near);
  r.stages[1].temperature = Celsius(13.0);
  CHECK(level({ph(5.0, 2.0)}) == Level::not_known);
}

TEST_CASE("nothing that is only remembered or chosen makes any lot met") {
  for (double salt_share = 0.0; salt_share < 0.08; salt_share += 0.002) {
    for (double diameter = 0.01; diameter < 0.2; diameter += 0.004) {
      for (const bool smoked : {false, true}) {
        const std::optional<DryingMethod> method = curing_method(salt_share, Metres(diameter), smoked, true);
        if (!method) continue;
        CHECK(tables::is_evidence(tables::find_curing_method(method->row)->origin.known));
      }
    }
  }
}

TEST_CASE("the kill of bacteria is never shown, and asked for harder where a ruminant is in it") {
  CHECK(animals(sample()).front().rule == Rule::kill_not_shown);
  CHECK(animals(sample()).front().advice == "kill_raw");
  for (const char* cut : {"beef_trim_90", "lamb_leg", "venison"}) {
    CAPTURE(cut);
    REQUIRE(tables::find_cut(cut) != nullptr);
    recipe::Recipe r = sample();
    r.lines[1].material = cut;
    const std::vector<Finding> all = animals(r);
    CHECK(all.front().advice == "kill_beef");
    CHECK(all.front().level == Level::not_known);
    CHECK(all.front().figures.empty());
  }
  Evidence evidence = made(5.0, 40.0);
  evidence.lots = {lot("lot", tables::Species::beef)};
  evidence.taken_down = true;
  CHECK(animals(sample(), evidence).front().advice == "kill_beef");
  CHECK(animals(sample(), evidence).front().level == Level::not_known);
}

TEST_CASE("poultry, liver, game, horse and what was shot have each its caution, without a figure") {
  CHECK(animals(sample()).size() == 1);
  const struct {
    const char* cut;
    const char* row;
  } cuts[] = {{"chicken_breast", "poultry"},
              {"pork_liver", "liver"},
              {"venison", "game"},
              {"horse", "horse"},
              {"wild_boar", "wild"}};
  for (const auto& one : cuts) {
    CAPTURE(one.cut);
    recipe::Recipe r = sample();
    r.lines[1].material = one.cut;
    const std::vector<Finding> all = animals(r);
    CHECK(count_row(all, one.row) == 1);
    for (std::size_t i = 1; i < all.size(); ++i) {
      CHECK(all[i].rule == Rule::species);
      CHECK(all[i].level == Level::not_known);
      CHECK(all[i].about == r.lines[1].id);
      CHECK(all[i].advice == "species_" + all[i].row);
      CHECK_FALSE(all[i].limit.has_value());
    }
  }
  MeatLot l = lot("lot");
  l.liver = true;
  l.wild = true;
  const std::vector<Finding> all = animals(sample(), with(l));
  REQUIRE(all.size() == 3);
  CHECK(all[1].row == "liver");
  CHECK(all[2].row == "wild");
  CHECK(all[2].about == Id{"lot"});
}

TEST_CASE("findings of parasites and animals are among those of a batch, in the order of the rules") {
  recipe::Recipe r = sample();
  r.lines[1].material = "wild_boar";
  const recipe::Sheet sheet = sheet_of(r);
  Rule last = Rule::fermentation;
  int seen = 0;
  for (const Finding& f : findings(r, sheet, Chosen::us, Date{})) {
    if (f.rule < Rule::fermentation) continue;
    CHECK(f.rule >= last);
    last = f.rule;
    seen += f.rule == Rule::parasites || f.rule == Rule::kill_not_shown || f.rule == Rule::species ? 1 : 0;
  }
  CHECK(seen == 5);  // pork, boar; kill; game, wild
}
