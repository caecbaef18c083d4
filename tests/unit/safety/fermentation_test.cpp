#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "core/safety/safety.h"
#include "core/safety/souring_findings.h"
#include "tests/near.h"
#include "tests/unit/recipe/fixture.h"

using namespace saltrafter;
using namespace saltrafter::safety;

namespace {

constexpr std::int64_t kStart = 1'795'000'000'000;

std::int64_t at(double hours) { return kStart + std::llround(hours * 3.6e6); }

// A batch of which nothing is recorded yet.
class Batch {
 public:
  Batch& air(double hours, double celsius, InstrumentState state = InstrumentState::checked) {
    return add(ReadingKind::chamber_air, hours, celsius, 0.5, "", state);
  }
  // Every hour from..to, both included.
  Batch& airs(double from, double to, double celsius) {
    for (double h = from; h <= to; h += 1.0) air(h, celsius);
    return *this;
  }
  Batch& ph(double hours, double value, const char* piece = "a", double uncertainty = 0.02,
            InstrumentState state = InstrumentState::checked) {
    return add(ReadingKind::ph_meter, hours, value, uncertainty, piece, state);
  }
  Batch& three(double hours, double value, double uncertainty = 0.02) {
    return ph(hours, value, "a", uncertainty)
        .ph(hours, value - 0.02, "b", uncertainty)
        .ph(hours, value - 0.01, "c", uncertainty);
  }
  Batch& strip(double hours, double value) {
    for (const char* piece : {"a", "b", "c"})
      add(ReadingKind::ph_strip, hours, value, 0.0, piece, InstrumentState::checked);
    return *this;
  }
  Batch& stage(const char* id, double began, std::optional<double> ended = std::nullopt) {
    StageDone done;
    done.stage = Id{id};
    done.began_utc_ms = at(began);
    if (ended) done.ended_utc_ms = at(*ended);
    evidence_.stages.push_back(done);
    return *this;
  }
  Batch& lot(double raw_ph) {
    MeatLot lot;
    lot.ph = raw_ph;
    evidence_.lots.push_back(lot);
    return *this;
  }
  const Evidence& evidence() const { return evidence_; }

 private:
  Batch& add(ReadingKind kind, double hours, double value, double uncertainty, const char* piece,
             InstrumentState state) {
    Reading reading;
    reading.id = Id{"r" + std::to_string(1000 + evidence_.readings.size())};
    reading.kind = kind;
    reading.at_utc_ms = at(hours);
    reading.value = value;
    reading.uncertainty = uncertainty;
    reading.piece = Id{piece};
    reading.instrument = state;
    evidence_.readings.push_back(reading);
    return *this;
  }
  Evidence evidence_;
};

recipe::Stage stage(const char* id, recipe::StageKind kind, double celsius, double days) {
  recipe::Stage s;
  s.id = Id{id};
  s.kind = kind;
  s.temperature = Celsius(celsius);
  s.days = Days(days);
  return s;
}

recipe::Recipe soured(double celsius = 24.0, double days = 2.0) {
  recipe::Recipe r = recipe::test::sample();
  r.wanted_ph = 5.0;
  r.lines.push_back(recipe::test::line(recipe::LineKind::culture, "sakei_mild", 0.2));
  r.stages = {stage("cold", recipe::StageKind::rest, 2.0, 1.0),
              stage("warm", recipe::StageKind::ferment, celsius, days),
              stage("dry", recipe::StageKind::dry, 13.0, 40.0)};
  return r;
}

std::vector<Finding> of(const recipe::Recipe& r, const Evidence& evidence, Chosen chosen = Chosen::us,
                        double now_hours = 0.0, double sugar_g_per_kg = 6.0) {
  recipe::Sheet sheet = recipe::scale(r, Grams(10000.0)).value();
  sheet.composition.sugar_g = sugar_g_per_kg * sheet.composition.total_g() / 1000.0;
  Subject subject;
  subject.recipe = &r;
  subject.sheet = &sheet;
  subject.evidence = evidence;
  subject.chosen = chosen;
  subject.now_utc_ms = at(now_hours);
  return souring_findings(subject);
}

bool lacks(const Finding& finding, const char* what) {
  return std::count(finding.missing.begin(), finding.missing.end(), what) == 1;
}

std::optional<double> figure(const Finding& finding, const char* id) {
  for (const Figure& f : finding.figures) {
    if (f.id == id) return f.value;
  }
  return std::nullopt;
}

DegreeHours us_of(const std::vector<Held>& course) { return degree_hours(DegreeScheme::us, course); }

constexpr double celsius_of(double fahrenheit) { return (fahrenheit - 32.0) / 1.8; }

}  // namespace

TEST_SUITE("safety/degree hours") {
  TEST_CASE("only what is above the base counts, and the hottest hour sets the class of all") {
    const DegreeHours sum = us_of({{10.0, Celsius(celsius_of(80.0))}, {5.0, Celsius(celsius_of(50.0))}});
    CHECK(sum.count == near_abs(200.0, 1e-9));
    CHECK(sum.limit == 1200.0);
    CHECK(us_of({{10.0, Celsius(celsius_of(80.0))}, {0.1, Celsius(celsius_of(95.0))}}).limit == 1000.0);
    CHECK(us_of({{10.0, Celsius(celsius_of(80.0))}, {0.1, Celsius(celsius_of(101.0))}}).limit == 900.0);
    // Met, if for no time at all.
    CHECK(us_of({{10.0, Celsius(celsius_of(80.0))}, {0.0, Celsius(celsius_of(101.0))}}).limit == 900.0);
  }

  TEST_CASE("at or under the base the rule says nothing, which is no pass") {
    for (const double celsius : {-5.0, 10.0, 15.0}) {
      const DegreeHours sum = us_of({{1000.0, Celsius(celsius)}});
      CHECK_FALSE(sum.above_base);
      CHECK(sum.level == Level::does_not_apply);
      CHECK(sum.count == 0.0);
    }
    CHECK_FALSE(longest_hours(DegreeScheme::us, Celsius(celsius_of(60.0))).has_value());
    CHECK_FALSE(longest_hours(DegreeScheme::ca, Celsius(15.6)).has_value());
    CHECK(longest_hours(DegreeScheme::ca, Celsius(15.7)).has_value());
    CHECK(us_of({}).level == Level::not_known);
  }

  TEST_CASE("exactly at the limit is within it and near, a hair beyond is not met") {
    const Celsius at_80{celsius_of(80.0)};
    CHECK(us_of({{60.0, at_80}}).level == Level::near);
    CHECK(us_of({{60.000001, at_80}}).level == Level::not_met);
    CHECK(us_of({{57.0, at_80}}).level == Level::near);
    CHECK(us_of({{56.9, at_80}}).level == Level::met);
  }

  TEST_CASE("a limit from memory is never met, and broken all the same") {
    CHECK(us_of({{10.0, Celsius(celsius_of(95.0))}}).level == Level::not_known);
    CHECK(us_of({{30.0, Celsius(celsius_of(95.0))}}).level == Level::not_met);
    CHECK(degree_hours(DegreeScheme::ca, {{10.0, Celsius(24.0)}}).level == Level::not_known);
  }

  TEST_CASE("an uncertain thermometer makes near what its upper end would break") {
    const Celsius at_80{celsius_of(80.0)};
    CHECK(us_of({{50.0, at_80, 0.5}}).level == Level::met);   // 1000 + 45
    CHECK(us_of({{50.0, at_80, 3.0}}).level == Level::near);  // 1000 + 270
    // 89.6 F may have been 90: 980 counted would break the limit of that class, 1000, with its uncertainty.
    const DegreeHours edge = us_of({{33.0, Celsius(32.0), 0.5}});
    CHECK(edge.limit == 1200.0);
    CHECK(edge.count + edge.uncertainty > 1000.0);
    CHECK(edge.level == Level::near);
    CHECK(us_of({{33.0, Celsius(32.0), 0.0}}).level == Level::met);
  }

  TEST_CASE("what is no number counts nothing") {
    const double nan = std::numeric_limits<double>::quiet_NaN();
    const DegreeHours sum = us_of({{nan, Celsius(30.0)},
                                   {5.0, Celsius(nan)},
                                   {-3.0, Celsius(40.0)},
                                   {10.0, Celsius(celsius_of(80.0))}});
    CHECK(sum.count == near_abs(200.0, 1e-9));
    CHECK(sum.limit == 1200.0);
    CHECK_FALSE(longest_hours(DegreeScheme::us, Celsius(nan)).has_value());
  }

  TEST_CASE("a longer or a warmer course never counts less") {
    double before = 0.0;
    for (int i = 0; i < 60; ++i) {
      const double count = degree_hours(DegreeScheme::ca, {{40.0, Celsius(10.0 + 0.5 * i)}}).count;
      CHECK(count >= before);
      before = count;
    }
  }

  TEST_CASE("the table's pH is the one that ends a count") {
    for (const tables::DegreeHourClass& row : tables::degree_hours()) CHECK(row.ph == kSafePh);
  }
}

TEST_SUITE("safety/souring") {
  TEST_CASE("readings within an hour are one set, and the highest of it counts") {
    const Batch batch = Batch().airs(0, 40, 24.0).ph(40.0, 5.1, "a").ph(40.5, 5.2, "b").ph(41.0, 5.35, "c");
    const std::vector<PhSet> sets = ph_sets(batch.evidence().readings, at(50.0));
    REQUIRE(sets.size() == 1);
    CHECK(sets[0].highest == 5.35);
    CHECK(sets[0].pieces == 3);
    CHECK(sets[0].at_utc_ms == at(41.0));
    CHECK_FALSE(souring(batch.evidence(), Chosen::us, at(42.0)).reached_utc_ms.has_value());
    // An hour and a minute later it is another set, which refutes the one in doubt.
    const Batch apart = Batch().airs(0, 40, 24.0).ph(40.0, 5.1, "a").ph(41.02, 5.35, "b");
    CHECK(ph_sets(apart.evidence().readings, at(50.0)).size() == 2);
    CHECK(souring(apart.evidence(), Chosen::us, at(41.0)).reached_utc_ms == at(40.0));
    CHECK_FALSE(souring(apart.evidence(), Chosen::us, at(42.0)).reached_utc_ms.has_value());
    // One beyond doubt is not: the pH of a ripe sausage rises again.
    const Batch ripe = Batch().airs(0, 40, 24.0).three(40.0, 5.1).three(900.0, 5.6);
    CHECK(souring(ripe.evidence(), Chosen::us, at(900.0)).ended_utc_ms == at(40.0));
    // What is missing is what the last one lacked.
    const Batch twice = Batch().airs(0, 44, 24.0).ph(40.0, 5.1).three(44.0, 5.28, 0.05);
    const Finding f = of(soured(), twice.evidence(), Chosen::us, 44.0).front();
    CHECK(lacks(f, "ph_beyond_doubt"));
    CHECK_FALSE(lacks(f, "ph_of_three_pieces"));
  }

  TEST_CASE("three pieces beyond doubt end the count; what comes later does not count") {
    const Batch batch = Batch().airs(0, 60, 24.0).three(48.0, 5.2);
    const Souring s = souring(batch.evidence(), Chosen::us, at(60.0));
    CHECK(s.began_utc_ms == at(0.0));
    CHECK(s.reached_utc_ms == at(48.0));
    CHECK(s.ended_utc_ms == at(48.0));
    CHECK_FALSE(s.near);
    CHECK(s.pieces_read == 3);
    // 24 C is 75.2 F: 48 h of 15.2 F, and of 8.4 C.
    CHECK(s.us.count == near_abs(48.0 * 15.2, 1e-6));
    CHECK(s.ca.count == near_abs(48.0 * 8.4, 1e-6));
    CHECK(s.us.level == Level::met);
    CHECK(s.ca.level == Level::not_known);  // limit from memory
    CHECK_FALSE(s.hours_left.has_value());
    CHECK_FALSE(s.act_by_utc_ms.has_value());
  }

  TEST_CASE("a set in doubt is near and does not end the count") {
    struct Doubt {
      Batch batch;
      const char* missing;
    };
    const Doubt doubts[] = {
        {Batch().airs(0, 50, 24.0).three(40.0, 5.28, 0.05), "ph_beyond_doubt"},
        {Batch().airs(0, 50, 24.0).ph(40.0, 5.1, "a").ph(40.0, 5.1, "b"), "ph_of_three_pieces"},
        {Batch().airs(0, 50, 24.0).ph(40.0, 5.1, "a").ph(40.1, 5.1, "a").ph(40.2, 5.1, "a"),
         "ph_of_three_pieces"},
        {Batch().airs(0, 50, 24.0).three(40.0, 5.1).ph(40.0, 5.1, "d", 0.02, InstrumentState::overdue),
         "meter_check"},
        {Batch().airs(0, 50, 24.0).three(40.0, 5.1).ph(40.0, 5.1, "d", 0.02, InstrumentState::failed),
         "meter_check"},
    };
    for (const Doubt& doubt : doubts) {
      CAPTURE(doubt.missing);
      const Souring s = souring(doubt.batch.evidence(), Chosen::us, at(50.0));
      CHECK(s.reached_utc_ms.has_value());
      CHECK_FALSE(s.ended_utc_ms.has_value());
      CHECK(s.near);
      CHECK(s.us.level == Level::near);
      CHECK(s.us.count == near_abs(50.0 * 15.2, 1e-6));
      CHECK(s.us_at_reached ==
            near_abs(static_cast<double>(*s.reached_utc_ms - at(0.0)) / 3.6e6 * 15.2, 1e-6));
      REQUIRE(s.hours_left.has_value());
      const Finding f = of(soured(), doubt.batch.evidence(), Chosen::us, 50.0).front();
      CHECK(f.level == Level::near);
      CHECK(lacks(f, doubt.missing));
      CHECK(f.missing.size() == 1);
      CHECK(f.advice == "souring_reached_near");
      CHECK(figure(f, "count_at_reading") == s.us_at_reached);
    }
    // A later set beyond doubt ends it; used up before that it is not met.
    Batch later = doubts[0].batch;
    CHECK(souring(later.three(50.0, 5.2).evidence(), Chosen::us, at(50.0)).us.level == Level::met);
    const Batch late = Batch().airs(0, 80, 24.0).three(40.0, 5.28, 0.05);
    CHECK(souring(late.evidence(), Chosen::us, at(78.0)).us.level == Level::near);
    CHECK(souring(late.evidence(), Chosen::us, at(80.0)).us.level == Level::not_met);
  }

  TEST_CASE("the set's uncertainty decides by a hundredth: 5.28 and 0.02 is shown, 5.28 and 0.03 is not") {
    CHECK(souring(Batch().airs(0, 40, 24.0).three(40.0, 5.28, 0.02).evidence(), Chosen::us, at(40.0))
              .ended_utc_ms.has_value());
    CHECK_FALSE(souring(Batch().airs(0, 40, 24.0).three(40.0, 5.28, 0.03).evidence(), Chosen::us, at(40.0))
                    .ended_utc_ms.has_value());
    // 0 stands for a meter's usual 0.05.
    CHECK_FALSE(souring(Batch().airs(0, 40, 24.0).three(40.0, 5.26, 0.0).evidence(), Chosen::us, at(40.0))
                    .ended_utc_ms.has_value());
    CHECK(souring(Batch().airs(0, 40, 24.0).three(40.0, 5.25, 0.0).evidence(), Chosen::us, at(40.0))
              .ended_utc_ms.has_value());
  }

  TEST_CASE("strips end nothing, and a course that predicts pH 5 does not either") {
    const Batch batch = Batch().airs(0, 60, 24.0).strip(30.0, 4.8);
    const Souring s = souring(batch.evidence(), Chosen::us, at(60.0));
    CHECK_FALSE(s.reached_utc_ms.has_value());
    CHECK_FALSE(s.last_ph.has_value());
    CHECK(s.us.level == Level::not_known);
    CHECK(s.us.count == near_abs(60.0 * 15.2, 1e-6));
    const Finding f = of(soured(), batch.evidence(), Chosen::us, 60.0).front();
    CHECK(f.level == Level::not_known);
    CHECK(lacks(f, "ph_reading"));
  }

  TEST_CASE("hours left and the hour to act by, at the temperature now") {
    // 20 h at 24 C: 304 of 1200 F h used, 896 left at 15.2 F an hour.
    const Batch batch = Batch().airs(0, 20, 24.0);
    const Souring us = souring(batch.evidence(), Chosen::us, at(20.0));
    REQUIRE(us.hours_left);
    CHECK(*us.hours_left == near_abs(896.0 / 15.2, 1e-9));
    CHECK(*us.act_by_utc_ms == at(20.0) + static_cast<std::int64_t>(896.0 / 15.2 * 3.6e6));
    // Canada: 168 of 665, 497 left at 8.4.
    const Souring ca = souring(batch.evidence(), Chosen::ca, at(20.0));
    CHECK(*ca.hours_left == near_abs(497.0 / 8.4, 1e-9));
    for (const Chosen chosen : {Chosen::eu, Chosen::not_chosen, Chosen::none_of_these}) {
      CHECK(*souring(batch.evidence(), chosen, at(20.0)).hours_left ==
            std::min(*us.hours_left, *ca.hours_left));
    }
    // The room has just gone to 40 C (104 F): the third class holds for all, 900 - 304 at 44 F.
    const Souring hot = souring(Batch().airs(0, 19, 24.0).air(20.0, 40.0).evidence(), Chosen::us, at(20.0));
    CHECK(hot.us.limit == 900.0);
    CHECK(*hot.hours_left == near_abs((900.0 - hot.us.count) / 44.0, 1e-9));
    // It has cooled below the base: nothing runs out.
    CHECK_FALSE(souring(Batch().airs(0, 20, 24.0).airs(21, 23, 12.0).evidence(), Chosen::us, at(23.0))
                    .hours_left.has_value());
  }

  TEST_CASE("past the limit the hours left are those since, and the finding is a stop") {
    // 1200 F h at 15.2 F are used up after 78.947 h.
    const Batch batch = Batch().airs(0, 90, 24.0);
    const Souring s = souring(batch.evidence(), Chosen::us, at(90.0));
    CHECK(s.out_of_time);
    CHECK(*s.hours_left == near_abs(1200.0 / 15.2 - 90.0, 1e-6));
    const Finding f = of(soured(), batch.evidence(), Chosen::us, 90.0).front();
    CHECK(f.level == Level::not_met);
    CHECK(f.stop == Stop::with_reason);
    CHECK(stops(f));
    CHECK(f.advice == "souring_out_of_time");
    CHECK(f.row == "us.below_90");
    // A pH reached after that mends nothing.
    Batch late = batch;
    CHECK(of(soured(), late.three(85.0, 5.0).evidence(), Chosen::us, 90.0).front().level == Level::not_met);
    CHECK(
        of(soured(), Batch().airs(0, 90, 24.0).three(78.0, 5.0).evidence(), Chosen::us, 90.0).front().level ==
        Level::near);
  }

  TEST_CASE("between two readings the higher counts, and the first one after the end bounds it") {
    const Souring s =
        souring(Batch().air(0.0, 20.0).air(3.0, 24.0).air(6.0, 20.0).evidence(), Chosen::ca, at(6.0));
    CHECK(s.ca.count == near_abs(6.0 * 8.4, 1e-9));
    const Batch batch = Batch().airs(0, 10, 20.0).air(12.0, 30.0).three(11.0, 5.1);
    CHECK(souring(batch.evidence(), Chosen::ca, at(20.0)).ca.count == near_abs(10.0 * 4.4 + 14.4, 1e-9));
  }

  TEST_CASE("a gap of over four hours counts at the highest that is credible, and is said") {
    const std::vector<recipe::Stage> plan = {stage("warm", recipe::StageKind::ferment, 26.0, 2.0)};
    const Batch hole = Batch().stage("warm", 0.0).airs(0, 10, 20.0).airs(15, 20, 22.0);
    const Souring s = souring(hole.evidence(), Chosen::ca, at(20.0), plan);
    CHECK(s.gap);
    // 10 h at 20, the five of the gap at the planned 26, 5 h at 22.
    CHECK(s.ca.count == near_abs(10.0 * 4.4 + 5.0 * 10.4 + 5.0 * 6.4, 1e-9));
    // Without a plan at the higher reading.
    const Souring blind = souring(hole.evidence(), Chosen::ca, at(20.0));
    CHECK(blind.gap);
    CHECK(blind.ca.count == near_abs(10.0 * 4.4 + 10.0 * 6.4, 1e-9));
    // Four hours are none.
    CHECK_FALSE(souring(Batch().stage("warm", 0.0).airs(0, 10, 20.0).airs(14, 20, 22.0).evidence(),
                        Chosen::ca, at(20.0), plan)
                    .gap);
    // With a gap nothing is better than near.
    Batch done = hole;
    const Finding f = of(soured(26.0), done.three(20.0, 5.0).evidence(), Chosen::us, 20.0).front();
    CHECK(f.level == Level::near);
    CHECK(lacks(f, "temperature_log"));
    // So with an instrument out of date.
    const Finding old =
        of(soured(),
           Batch().airs(0, 19, 24.0).air(20.0, 24.0, InstrumentState::overdue).three(20.0, 5.0).evidence(),
           Chosen::us, 20.0)
            .front();
    CHECK(old.level == Level::near);
    CHECK(lacks(old, "thermometer_check"));
  }

  TEST_CASE("before the first reading and after the last one the plan holds") {
    const std::vector<recipe::Stage> plan = {stage("cold", recipe::StageKind::rest, 2.0, 1.0),
                                             stage("warm", recipe::StageKind::ferment, 26.0, 2.0),
                                             stage("dry", recipe::StageKind::dry, 13.0, 40.0)};
    const Souring head =
        souring(Batch().stage("cold", -24.0, 0.0).stage("warm", 0.0).airs(6, 8, 20.0).evidence(), Chosen::ca,
                at(8.0), plan);
    CHECK(head.gap);
    CHECK(head.ca.count == near_abs(6.0 * 10.4 + 2.0 * 4.4, 1e-9));
    CHECK(head.began_utc_ms == at(0.0));
    // Moved to the drying room, of which nothing is read: the warm room's readings do not speak for it.
    const Souring tail =
        souring(Batch().stage("warm", 0.0, 8.5).stage("dry", 8.5).airs(0, 8, 20.0).evidence(), Chosen::ca,
                at(200.0), plan);
    CHECK(tail.ca.count == near_abs(8.5 * 4.4, 1e-9));
    CHECK_FALSE(tail.gap);
    // Not moved: it goes on at the plan's.
    const Souring stays =
        souring(Batch().stage("warm", 0.0).airs(0, 8, 20.0).evidence(), Chosen::ca, at(20.0), plan);
    CHECK(stays.gap);
    CHECK(stays.ca.count == near_abs(8.0 * 4.4 + 12.0 * 10.4, 1e-9));
  }

  TEST_CASE("without any log the plan is counted and proves nothing, but can be used up") {
    const Batch begun = Batch().stage("warm", 0.0);
    Batch sour = begun;
    const Finding f = of(soured(), sour.three(40.0, 5.0).evidence(), Chosen::us, 45.0).front();
    CHECK(f.level == Level::not_known);
    CHECK(f.found->value == near_abs(40.0 * 15.2, 1e-6));
    CHECK(lacks(f, "temperature_log"));
    const Finding late = of(soured(), begun.evidence(), Chosen::us, 90.0).front();
    CHECK(late.level == Level::not_met);
  }

  TEST_CASE("what is read after now is not there yet, and the order of entry does not matter") {
    Batch batch = Batch().airs(0, 60, 24.0).three(48.0, 5.2);
    CHECK_FALSE(souring(batch.evidence(), Chosen::us, at(47.0)).reached_utc_ms.has_value());
    Evidence turned = batch.evidence();
    std::reverse(turned.readings.begin(), turned.readings.end());
    const Souring a = souring(batch.evidence(), Chosen::us, at(60.0));
    const Souring b = souring(turned, Chosen::us, at(60.0));
    CHECK(a.us.count == b.us.count);
    CHECK(a.ended_utc_ms == b.ended_utc_ms);
  }

  TEST_CASE("nothing recorded gives nothing") {
    const Souring s = souring(Evidence{}, Chosen::not_chosen, at(0.0));
    CHECK_FALSE(s.began_utc_ms.has_value());
    CHECK(s.course.empty());
    CHECK(s.us.level == Level::not_known);
    CHECK(s.gap);
  }
}

TEST_SUITE("safety/souring findings") {
  TEST_CASE("each jurisdiction has its scheme; where none is chosen the one more used up decides") {
    const Evidence evidence = Batch().airs(0, 40, 24.0).three(40.0, 5.0).evidence();
    const std::vector<Finding> us = of(soured(), evidence, Chosen::us, 40.0);
    REQUIRE(us.size() == 1);
    CHECK(us[0].jurisdiction == tables::Jurisdiction::us);
    CHECK(us[0].level == Level::met);
    CHECK(us[0].known == tables::Known::read_copy);
    CHECK(us[0].found->unit == "\u00B0F h");
    CHECK(us[0].found->value == near_abs(608.0, 1e-6));
    CHECK(us[0].limit->value == 1200.0);
    CHECK(*us[0].margin == near_abs(592.0, 1e-6));
    const std::vector<Finding> ca = of(soured(), evidence, Chosen::ca, 40.0);
    REQUIRE(ca.size() == 1);
    CHECK(ca[0].row == "ca.below_33");
    CHECK(ca[0].level == Level::not_known);
    CHECK(ca[0].known == tables::Known::memory);
    CHECK(ca[0].missing.empty());
    for (const Chosen chosen : {Chosen::eu, Chosen::not_chosen, Chosen::none_of_these}) {
      const std::vector<Finding> both = of(soured(), evidence, chosen, 40.0);
      REQUIRE(both.size() == 2);
      CHECK(both[0].decides);
      CHECK_FALSE(both[1].decides);
      CHECK(both[0].row == "us.below_90");  // 608/1200 is more than 336/665
    }
    // At 37.5 C Canada is stricter: 21.9 of 500 an hour against 39.5 of 1000.
    const std::vector<Finding> hot =
        of(soured(37.5), Batch().airs(0, 10, 37.5).three(10.0, 5.0).evidence(), Chosen::eu, 10.0);
    CHECK(hot[0].row == "ca.above_37");
    CHECK(hot[0].decides);
  }

  TEST_CASE("whole muscle is not asked; minced meat is as soon as it is warm, soured on purpose or not") {
    recipe::Recipe whole = soured();
    whole.product_class = recipe::ProductClass::whole_muscle_dry;
    CHECK(of(whole, Evidence{}).front().level == Level::does_not_apply);
    recipe::Recipe plain = recipe::test::sample();
    plain.stages = {stage("dry", recipe::StageKind::dry, 13.0, 40.0)};
    CHECK(of(plain, Evidence{}).front().level == Level::does_not_apply);
    plain.stages = {stage("dry", recipe::StageKind::dry, 18.0, 2.0)};
    const Finding warm = of(plain, Evidence{}).front();
    CHECK(warm.level == Level::not_known);
    CHECK(lacks(warm, "ph_reading"));
    // Forty days of it without souring are out of all time.
    plain.stages[0].days = Days(40.0);
    CHECK(of(plain, Evidence{}).front().level == Level::not_met);
    // A warm log makes the cold plan no excuse.
    plain.stages[0].temperature = Celsius(13.0);
    CHECK(of(plain, Batch().airs(0, 90, 24.0).evidence(), Chosen::us, 90.0).front().level == Level::not_met);
    // A batch kept cold: the rule says nothing.
    CHECK(of(plain, Batch().stage("dry", 0.0).airs(0, 50, 12.0).evidence(), Chosen::us, 50.0).front().level ==
          Level::does_not_apply);
  }

  TEST_CASE("a batch still cold before its warm stage is not known") {
    const Finding f =
        of(soured(), Batch().stage("cold", 0.0).airs(0, 10, 3.0).evidence(), Chosen::us, 10.0).front();
    CHECK(f.level == Level::not_known);
    CHECK(f.advice == "souring_not_begun");
  }

  TEST_CASE("a plan gives an estimate that proves nothing, with what is missing") {
    const Finding f = of(soured(), Evidence{}).front();
    CHECK(f.level == Level::not_known);
    CHECK(lacks(f, "ph_reading"));
    CHECK(lacks(f, "temperature_log"));
    REQUIRE(figure(f, "estimated_hours"));
    CHECK(f.found->value == near_abs(*figure(f, "estimated_hours") * 15.2, 1e-6));
    CHECK(*figure(f, "longest_hours") == near_abs(1200.0 / 15.2, 1e-9));
    CHECK(*figure(f, "estimated_hours_late") > *figure(f, "estimated_hours"));
    CHECK(f.advice.empty());
    // Recipes without stages: nothing is known of the warmth.
    const Finding bare = of(recipe::test::sample(), Evidence{}).front();
    CHECK(bare.level == Level::not_known);
    CHECK(bare.row.empty());
    CHECK(bare.missing.size() == 2);
  }

  TEST_CASE("a plan that cannot sour in time is not met, and says what to change") {
    // No sugar: the culture has nothing to sour with, four warm days are over the limit.
    const Finding dry = of(soured(24.0, 4.0), Evidence{}, Chosen::us, 0.0, 0.0).front();
    CHECK(dry.level == Level::not_met);
    CHECK(dry.advice == "souring_more_sugar");
    // A warmth that the mild culture can hardly bear: the likely course takes longer than the rule allows.
    const Finding slow = of(soured(38.5, 4.0), Evidence{}).front();
    CHECK(slow.level == Level::not_met);
    CHECK(slow.advice == "souring_plan_too_slow");
    CHECK(*figure(slow, "estimated_hours") > *figure(slow, "longest_hours"));
    // So too where the stage ends before the hours are used up: it would have to go on.
    const Finding cut = of(soured(38.5, 0.5), Evidence{}).front();
    CHECK(cut.found->value < cut.limit->value);
    CHECK(cut.level == Level::not_met);
    // A stage too short for the likely course breaks no limit, but is said.
    const Finding brief = of(soured(20.0, 0.5), Evidence{}).front();
    CHECK(brief.level == Level::not_known);
    CHECK(brief.advice == "souring_plan_too_slow");
    // A culture that no table has may sour in time for all that is known.
    recipe::Recipe own = soured(24.0, 4.0);
    own.lines.back().material = "";
    CHECK(of(own, Evidence{}).front().level == Level::not_known);
  }

  TEST_CASE("the estimate goes by the lot's pH, the culture and the sheet") {
    const recipe::Recipe r = soured(22.0);
    const recipe::Sheet sheet = recipe::scale(r, Grams(1000.0)).value();
    const PhStart start = ph_start(r, sheet, Batch().lot(5.6).lot(5.9).lot(20.0).evidence());
    CHECK(start.ph0 == 5.9);
    CHECK(start.culture == "sakei_mild");
    CHECK(start.temperature == Celsius(22.0));
    CHECK(start.lean_share ==
          near_rel(sheet.composition.protein_g / sheet.composition.total_g() / 0.16, 1e-12));
    CHECK(ph_start(r, sheet, Evidence{}).ph0 == 5.75);
  }
}

TEST_SUITE("safety/course of pH") {
  PhStart usual() {
    PhStart start;
    start.sugar_g_per_kg = 5.0;
    start.lean_share = 1.0;
    start.culture = "sakei_mild";
    start.temperature = Celsius(22.0);
    return start;
  }

  TEST_CASE("it falls, within its band, from the start to what the sugar allows") {
    const PhCourse course = ph_course(usual());
    REQUIRE(course.points.size() == 97);
    CHECK(course.points[0].likely == 5.75);
    for (std::size_t i = 0; i < course.points.size(); ++i) {
      const PhPoint& p = course.points[i];
      CHECK(p.hours == static_cast<double>(i));
      CHECK(p.low <= p.likely);
      CHECK(p.likely <= p.high);
      if (i > 0) CHECK(p.likely <= course.points[i - 1].likely);
      CHECK(p.likely >= course.final_ph - 1e-9);
    }
    REQUIRE(course.hours_to_safe);
    REQUIRE(course.hours_to_safe_late);
    const auto before = static_cast<std::size_t>(std::floor(*course.hours_to_safe));
    CHECK(course.points[before].likely > 5.3);
    CHECK(course.points[before + 1].likely <= 5.3);
    CHECK(course.known == tables::Known::practice);
  }

  TEST_CASE("the end is where the acid of the sugar meets the buffer") {
    // 11.1 mmol/g of 4 g/kg against 52 mmol per kg and pH: the same balance that sugar_for turns round.
    PhStart little = usual();
    little.sugar_g_per_kg = 4.0;
    CHECK(sugar_for(5.75, ph_course(little).final_ph, 0.16).value().least == near_abs(4.0, 1e-6));
    PhStart more = usual();
    more.sugar_g_per_kg = 30.0;  // a mild culture stops by itself
    CHECK(ph_course(more).final_ph == 4.8);
    PhStart none = usual();
    none.sugar_g_per_kg = 0.0;
    CHECK(ph_course(none).final_ph == near_abs(5.75, 1e-9));
    CHECK_FALSE(ph_course(none).hours_to_safe.has_value());
  }

  TEST_CASE(
      "warmer is faster up to the culture's best, thicker is slower, and out of its range nothing sours") {
    PhStart start = usual();
    double before = 1e9;
    for (const double celsius : {20.0, 22.0, 24.0, 28.0}) {
      start.temperature = Celsius(celsius);
      const std::optional<double> hours = ph_course(start).hours_to_safe;
      REQUIRE(hours);
      CHECK(*hours < before);
      before = *hours;
    }
    start.temperature = Celsius(36.0);
    CHECK(*ph_course(start).hours_to_safe > before);
    for (const double celsius : {2.0, 41.0}) {
      start.temperature = Celsius(celsius);
      CHECK_FALSE(ph_course(start).hours_to_safe.has_value());
      CHECK(ph_course(start).points.back().likely == 5.75);
    }
    PhStart thick = usual();
    thick.diameter = Metres(0.100);
    CHECK(*ph_course(thick).hours_to_safe > *ph_course(usual()).hours_to_safe);
  }

  TEST_CASE("usual sausages sour in the time that the trade knows") {
    // Common practice, no source: mild cultures at 22..24 C in 24 to 48 h, fast ones at 38 C in 10 to 20 h.
    for (const double celsius : {22.0, 24.0}) {
      PhStart mild = usual();
      mild.temperature = Celsius(celsius);
      CHECK(*ph_course(mild).hours_to_safe >= 18.0);
      CHECK(*ph_course(mild).hours_to_safe <= 48.0);
    }
    PhStart fast = usual();
    fast.culture = "acidilactici_fast";
    fast.temperature = Celsius(38.0);
    CHECK(*ph_course(fast).hours_to_safe >= 8.0);
    CHECK(*ph_course(fast).hours_to_safe <= 20.0);
  }

  TEST_CASE("without a culture that sours nothing is expected to") {
    for (const char* culture : {"", "unicorn", "carnosus_colour"}) {
      PhStart start = usual();
      start.culture = culture;
      const PhCourse course = ph_course(start);
      CHECK(course.points.back().likely == 5.75);
      CHECK_FALSE(course.hours_to_safe.has_value());
    }
  }

  TEST_CASE("a reading draws the course through itself and narrows the band") {
    const PhCourse plain = ph_course(usual());
    for (const double value : {5.65, 5.45, 5.25, 5.1}) {
      CAPTURE(value);
      const Batch batch = Batch().ph(24.0, value);
      const PhCourse course = ph_course(usual(), batch.evidence().readings, at(0.0));
      CHECK(course.points[24].likely == near_abs(value, 0.05));
      CHECK(course.points[24].high - course.points[24].low < plain.points[24].high - plain.points[24].low);
    }
    // One that agrees with what was expected leaves the likely hour and draws the late one nearer.
    const PhCourse same =
        ph_course(usual(), Batch().ph(16.0, plain.points[16].likely).evidence().readings, at(0.0));
    CHECK(*same.hours_to_safe == near_abs(*plain.hours_to_safe, 1.0));
    CHECK(*same.hours_to_safe_late - *same.hours_to_safe <
          0.7 * (*plain.hours_to_safe_late - *plain.hours_to_safe));
    // Slower than expected: later at 5.3.
    const PhCourse slow = ph_course(usual(), Batch().ph(24.0, 5.65).evidence().readings, at(0.0));
    CHECK((!slow.hours_to_safe || *slow.hours_to_safe > *plain.hours_to_safe));
    // Run flat at 5.45: the end comes up, and 5.3 is no longer expected.
    const PhCourse flat =
        ph_course(usual(), Batch().ph(24.0, 5.47).ph(36.0, 5.45).ph(48.0, 5.45).evidence().readings, at(0.0));
    CHECK(flat.final_ph > plain.final_ph + 0.1);
    CHECK(flat.points[48].likely == near_abs(5.45, 0.05));
    // One at the start is the pH to start from; a strip is not looked at.
    CHECK(ph_course(usual(), Batch().ph(0.5, 5.9).evidence().readings, at(0.0)).points[0].likely == 5.9);
    CHECK(ph_course(usual(), Batch().strip(24.0, 5.0).evidence().readings, at(0.0)).points[24].likely ==
          plain.points[24].likely);
  }

  TEST_CASE("nonsense gives no points and no number that is none") {
    const double nan = std::numeric_limits<double>::quiet_NaN();
    const auto empty = [](auto change) {
      PhStart start = usual();
      change(start);
      return ph_course(start).points.empty();
    };
    CHECK(empty([&](PhStart& s) { s.ph0 = nan; }));
    CHECK(empty([](PhStart& s) { s.ph0 = 3.0; }));
    CHECK(empty([](PhStart& s) { s.sugar_g_per_kg = -1.0; }));
    CHECK(empty([&](PhStart& s) { s.lean_share = nan; }));
    CHECK(empty([&](PhStart& s) { s.temperature = Celsius(nan); }));
    CHECK(empty([](PhStart& s) { s.diameter = Metres(2.0); }));
    for (double ph0 = 4.0; ph0 <= 8.0; ph0 += 0.5) {
      for (const double sugar : {0.0, 1.0, 60.0}) {
        for (const double celsius : {-5.0, 4.001, 20.0, 39.999, 60.0}) {
          for (const double read : {3.0, 5.0, 7.9}) {
            PhStart start = usual();
            start.ph0 = ph0;
            start.sugar_g_per_kg = sugar;
            start.temperature = Celsius(celsius);
            const Batch batch = Batch().ph(3.0, read).ph(200.0, read);
            const PhCourse course = ph_course(start, batch.evidence().readings, at(0.0));
            REQUIRE(course.points.size() == 97);
            for (const PhPoint& p : course.points) {
              REQUIRE(std::isfinite(p.low));
              REQUIRE(std::isfinite(p.high));
              REQUIRE(std::isfinite(p.likely));
            }
          }
        }
      }
    }
  }

  TEST_CASE("sugar for a pH: least, advised, most; out of range by field") {
    const SugarNeed need = sugar_for(5.75, 5.2, 0.16).value();
    CHECK(need.least < need.advised);
    CHECK(need.advised <= need.most);
    CHECK(sugar_for(5.75, 5.2, 0.08).value().least == near_rel(0.5 * need.least, 1e-12));
    const SugarNeed rich = sugar_for(5.75, 4.2, 0.30).value();
    CHECK(rich.most >= rich.advised);
    CHECK(sugar_for(5.3, 5.3, 0.16).value().least == 0.0);
    CHECK(sugar_for(4.4, 4.3, 0.16).error().field == "ph0");
    CHECK(sugar_for(5.75, 5.8, 0.16).error().field == "wanted_ph");
    CHECK(sugar_for(5.75, 4.1, 0.16).error().field == "wanted_ph");
    CHECK(sugar_for(5.75, 5.0, 0.0).error().field == "protein_share");
    CHECK_FALSE(sugar_for(std::numeric_limits<double>::quiet_NaN(), 5.0, 0.16).ok());
  }
}

TEST_SUITE("safety/souring advice") {
  SouringAdvice advice(const Batch& batch, double now_hours, double wanted_ph = 5.0,
                       std::string_view culture = "sakei_mild", double sugar_g_per_kg = 6.0) {
    recipe::Recipe r = soured();
    r.wanted_ph = wanted_ph;
    PhStart start;
    start.sugar_g_per_kg = sugar_g_per_kg;
    start.lean_share = 1.0;
    start.culture = culture;
    start.temperature = Celsius(24.0);
    const Souring s = souring(batch.evidence(), Chosen::us, at(now_hours), r.stages);
    return souring_advice(r, s, ph_course(start), batch.evidence().readings, at(now_hours));
  }

  TEST_CASE("each advice has its case") {
    CHECK(advice(Batch(), 0.0) == SouringAdvice::not_begun);
    CHECK(advice(Batch().stage("cold", 0.0).airs(0, 5, 2.0), 5.0) == SouringAdvice::not_begun);
    CHECK(advice(Batch().stage("warm", 0.0), 10.0) == SouringAdvice::nothing_logged);
    CHECK(advice(Batch().airs(0, 10, 24.0), 10.0) == SouringAdvice::goes_on);
    CHECK(advice(Batch().airs(0, 20, 24.0).three(20.0, 5.4), 20.0) == SouringAdvice::goes_on);
    CHECK(advice(Batch().airs(0, 40, 24.0).three(40.0, 4.95), 40.0) == SouringAdvice::end_now);
    // At 5.3 beyond doubt, but the recipe wants 5.0.
    CHECK(advice(Batch().airs(0, 24, 24.0).three(24.0, 5.2), 24.0) == SouringAdvice::goes_on);
    CHECK(advice(Batch().airs(0, 24, 24.0).three(24.0, 5.2), 24.0, 5.3) == SouringAdvice::end_now);
    // A wish above 5.3 is no leave to end above it.
    CHECK(advice(Batch().airs(0, 24, 24.0).three(24.0, 5.45), 24.0, 5.6) != SouringAdvice::end_now);
    CHECK(advice(Batch().airs(0, 40, 24.0).ph(40.0, 4.9), 40.0) == SouringAdvice::reached_near);
    CHECK(advice(Batch().airs(0, 46, 24.0).three(30.0, 5.75).three(46.0, 5.6), 46.0) == SouringAdvice::slow);
    CHECK(advice(Batch().airs(0, 46, 24.0).three(30.0, 5.62).three(46.0, 5.6), 46.0) ==
          SouringAdvice::stalled);
    CHECK(advice(Batch().airs(0, 90, 24.0).three(30.0, 5.6), 90.0) == SouringAdvice::out_of_time);
  }

  TEST_CASE("no fall early on is the culture's start, later on it is a stall") {
    CHECK(advice(Batch().airs(0, 13, 24.0).three(0.0, 5.75).three(12.5, 5.73), 13.0) ==
          SouringAdvice::goes_on);
    // Spent: the sugar's end is reached above the wanted pH.
    CHECK(advice(Batch().airs(0, 70, 24.0).three(50.0, 5.28).three(70.0, 5.27), 70.0, 4.8, "sakei_mild",
                 2.5) == SouringAdvice::stalled);
    // Of a course that nobody can expect, a day without a fall.
    CHECK(advice(Batch().airs(0, 30, 24.0).three(5.0, 5.75).three(30.0, 5.74), 30.0, 5.0, "") ==
          SouringAdvice::stalled);
    CHECK(advice(Batch().airs(0, 30, 24.0).three(5.0, 5.75).three(15.0, 5.74), 15.0, 5.0, "") ==
          SouringAdvice::goes_on);
  }

  TEST_CASE("each has a word of its own") {
    const SouringAdvice all[] = {SouringAdvice::not_begun,   SouringAdvice::goes_on,
                                 SouringAdvice::end_now,     SouringAdvice::reached_near,
                                 SouringAdvice::slow,        SouringAdvice::stalled,
                                 SouringAdvice::out_of_time, SouringAdvice::nothing_logged};
    for (const SouringAdvice a : all) {
      CHECK(key_of(a).substr(0, 8) == "souring_");
      for (const SouringAdvice b : all) CHECK((key_of(a) == key_of(b)) == (a == b));
    }
  }
}
