#include <doctest/doctest.h>

#include <cmath>

#include "core/safety/safety.h"
#include "tests/near.h"
#include "tests/unit/recipe/fixture.h"

using namespace saltrafter;
using namespace saltrafter::safety;
using recipe::test::line;
using recipe::test::sample;

namespace {

const Date kDay = std::chrono::year(2026) / 11 / 25;

struct Asked {
  recipe::Recipe recipe;
  Chosen chosen = Chosen::us;
  double meat_g = 10000.0;
  std::vector<OwnLimit> own = {};
};

std::vector<Finding> all_of(const Asked& asked) {
  const Result<recipe::Sheet> sheet = recipe::scale(asked.recipe, Grams(asked.meat_g));
  REQUIRE(sheet.ok());
  Subject subject;
  subject.recipe = &asked.recipe;
  subject.sheet = &sheet.value();
  subject.chosen = asked.chosen;
  subject.own = asked.own;
  subject.today = kDay;
  return findings(subject);
}

Finding one_of(const Asked& asked, const std::string& row) {
  for (const Finding& f : all_of(asked)) {
    if (f.row == row) return f;
  }
  FAIL(row);
  return {};
}

const double* figure(const Finding& f, const std::string& id) {
  for (const Figure& x : f.figures) {
    if (x.id == id) return &x.value;
  }
  return nullptr;
}

recipe::Recipe with(recipe::LineKind kind, double amount) {
  recipe::Recipe r = sample();
  for (recipe::Line& l : r.lines) {
    if (l.kind == kind) l.amount = amount;
  }
  return r;
}

recipe::Recipe with_additive(const char* material, double g_per_kg) {
  recipe::Recipe r = sample();
  r.lines.push_back(line(recipe::LineKind::additive, material, g_per_kg));
  return r;
}

OwnLimit own(tables::Agent agent, double value, tables::LimitSense sense = tables::LimitSense::most) {
  OwnLimit o;
  o.id = Id{"mine"};
  o.agent = agent;
  o.value = value;
  o.sense = sense;
  return o;
}

}  // namespace

TEST_CASE("each piece is as it was last read, and the worst of them counts; what is read later counts later") {
  const recipe::Recipe r = sample();
  const recipe::Sheet sheet = recipe::scale(r, Grams(10000.0)).value();
  Subject subject;
  subject.recipe = &r;
  subject.sheet = &sheet;
  subject.chosen = Chosen::eu;
  subject.today = kDay;
  subject.now_utc_ms = 10 * 86400000LL;
  const auto read = [&subject](const char* piece, double day, double value) {
    Reading reading;
    reading.kind = ReadingKind::water_activity;
    reading.site = Site::core;
    reading.piece = Id{piece};
    reading.at_utc_ms = static_cast<std::int64_t>(day * 86400000.0);
    reading.value = value;
    subject.evidence.readings.push_back(reading);
  };
  const auto found = [&subject] {
    for (const Finding& f : findings(subject)) {
      if (f.row == "any.water_activity.minced.keeps" && f.rule == Rule::water_activity) return f.found->value;
    }
    return 0.0;
  };
  read("a", 2.0, 0.95);
  CHECK(found() == 0.95);
  read("b", 5.0, 0.90);
  CHECK(found() == 0.95);  // piece a is still as wet
  read("a", 6.0, 0.91);
  CHECK(found() == 0.91);
  read("b", 11.0, 0.97);  // tomorrow
  CHECK(found() == 0.91);
}

TEST_CASE("ascorbate and its acid have a figure each, and together each counts the other") {
  const char* salts = "us.ascorbate.any.ingoing";
  const char* acid = "us.ascorbic_acid.any.ingoing";
  CHECK(one_of({sample()}, salts).level == Level::does_not_apply);
  CHECK(one_of({sample()}, acid).level == Level::does_not_apply);
  // 547 is only remembered.
  CHECK(one_of({with_additive("sodium_erythorbate", 0.5)}, salts).level == Level::not_known);
  CHECK(one_of({with_additive("sodium_erythorbate", 0.5)}, salts).found->value == near_abs(500.0, 1e-9));
  CHECK(one_of({with_additive("sodium_erythorbate", 0.6)}, salts).level == Level::not_met);
  CHECK(one_of({with_additive("sodium_erythorbate", 0.6)}, salts).advice == "less_ascorbate");
  CHECK(one_of({with_additive("ascorbic_acid", 0.4)}, acid).level == Level::met);
  CHECK(one_of({with_additive("ascorbic_acid", 0.46)}, acid).level == Level::near);
  CHECK(one_of({with_additive("ascorbic_acid", 0.5)}, acid).level == Level::not_met);
  CHECK(one_of({with_additive("ascorbic_acid", 0.4)}, salts).level == Level::does_not_apply);
  recipe::Recipe both = with_additive("ascorbic_acid", 0.3);
  both.lines.push_back(line(recipe::LineKind::additive, "sodium_ascorbate", 0.3));
  CHECK(one_of({both}, salts).found->value == near_abs(300.0 + 350.0, 1e-6));
  CHECK(one_of({both}, salts).level == Level::not_met);
  CHECK(one_of({both}, acid).found->value == near_abs(300.0 + 300.0 * 6.0 / 7.0, 1e-6));
}

TEST_CASE("least salt: practice never proves it, a rule that was read does, and what is wanting is said") {
  const char* practice = "any.salt.comminuted_dry.ingoing";
  const char* canada = "ca.salt.comminuted_dry.ingoing";
  CHECK(one_of({sample()}, practice).level == Level::not_known);
  CHECK(one_of({sample(), Chosen::ca}, canada).level == Level::met);
  const Finding low = one_of({with(recipe::LineKind::salt, 20.0)}, practice);
  CHECK(low.level == Level::not_met);
  CHECK(low.advice == "more_salt");
  CHECK(low.found->of == "NaCl");
  REQUIRE(figure(low, "salt_more") != nullptr);
  CHECK(*figure(low, "salt_more") == near_abs(30.0, 1e-9));
  recipe::Recipe whole = with(recipe::LineKind::salt, 21.0);
  whole.product_class = recipe::ProductClass::whole_muscle_dry;
  CHECK(one_of({whole}, "any.salt.whole_muscle_dry.ingoing").level == Level::not_met);
  // Bone takes no salt, and the sheet brings none for it.
  whole.bone_share = 0.2;
  CHECK(one_of({whole}, "any.salt.whole_muscle_dry.ingoing").found->value == near_abs(21.0, 0.1));
}

TEST_CASE("salt in the water of the finished product follows the loss, and says both ends") {
  const char* row = "any.water_phase_salt.comminuted_dry.finished";
  const Finding dry = one_of({sample()}, row);
  CHECK(dry.level == Level::not_known);
  CHECK(dry.found->unit == "%");
  CHECK(dry.limit->value == near_abs(5.0, 1e-9));
  REQUIRE(figure(dry, "salt_in_water_now") != nullptr);
  CHECK(*figure(dry, "salt_in_water_now") < dry.found->value);
  CHECK(*figure(dry, "wanted_loss") == near_abs(35.0, 1e-9));
  recipe::Recipe soft = sample();
  soft.wanted_loss = 0.01;
  CHECK(one_of({soft}, row).level == Level::not_met);
  CHECK(one_of({soft}, row).advice == "more_salt_or_loss");
}

TEST_CASE("a limit that is not kept says how much of the mix would keep it, never more than that") {
  for (const double meat_g : {1000.0, 1234.0, 10000.0, 17500.0}) {
    const Finding f = one_of({with(recipe::LineKind::cure, 300.0), Chosen::eu, meat_g},
                             "eu.nitrite.comminuted_dry.ingoing");
    REQUIRE(f.level == Level::not_met);
    CHECK(f.advice == "lower_dose");
    REQUIRE(figure(f, "mix_at_most") != nullptr);
    const double as_ion = *figure(f, "mix_at_most") * 0.0625 * 1e6 / meat_g *
                          recipe::ion_per_salt(recipe::CureSalt::sodium_nitrite);
    CHECK(as_ion <= 80.0 + 1e-9);
    CHECK(as_ion > 80.0 - 1.01 * 0.0625 * 1e6 / meat_g);
  }
  const Finding least =
      one_of({with(recipe::LineKind::cure, 60.0), Chosen::ca}, "ca.nitrite_and_nitrate.any.ingoing.least");
  CHECK(least.advice == "raise_dose");
  CHECK(*figure(least, "mix_at_least") == near_abs(16.0, 1e-9));
}

TEST_CASE("water to protein falls into the narrowest class of the label, and breaks none") {
  const auto class_of = [](double loss) {
    recipe::Recipe r = sample();
    r.wanted_loss = loss;
    for (const Finding& f : all_of({r})) {
      if (f.rule == Rule::moisture_protein_ratio) return f;
    }
    FAIL("no class");
    return Finding{};
  };
  CHECK(class_of(0.35).row == "us.moisture_protein_ratio.minced.pepperoni");
  CHECK(class_of(0.35).level == Level::met);
  CHECK(class_of(0.25).row == "us.moisture_protein_ratio.minced.dry");
  // 2.3 is only remembered.
  CHECK(class_of(0.19).row == "us.moisture_protein_ratio.minced.genoa");
  CHECK(class_of(0.19).level == Level::not_known);
  CHECK(class_of(0.10).row == "us.moisture_protein_ratio.minced.summer");
  recipe::Recipe fat = sample();
  fat.lines[0].amount = 0.01;
  fat.lines[1].amount = 0.99;
  fat.lines.push_back(line(recipe::LineKind::additive, "water", 200.0));
  fat.wanted_loss = 0.01;
  for (const Finding& f : all_of({fat})) {
    if (f.rule != Rule::moisture_protein_ratio) continue;
    CHECK(f.level == Level::does_not_apply);
    CHECK(f.advice == "no_label_class");
  }
  CHECK(*figure(class_of(0.35), "loss_for_class") < 35.0);
}

TEST_CASE("the one class of whole muscle is of beef") {
  const auto has_class = [](const char* cut) {
    recipe::Recipe r = sample();
    r.product_class = recipe::ProductClass::whole_muscle_dry;
    r.lines.erase(r.lines.begin() + 1);
    r.lines[0] = line(recipe::LineKind::meat, cut, 1.0);
    const std::vector<Finding> all = all_of({r});
    return std::any_of(all.begin(), all.end(),
                       [](const Finding& f) { return f.rule == Rule::moisture_protein_ratio; });
  };
  CHECK(has_class("beef_eye_of_round_lean"));
  CHECK_FALSE(has_class("pork_loin_lean"));
}

TEST_CASE("an own limit tightens, is met like any other, and loosens nothing") {
  const Asked tight{
      with(recipe::LineKind::cure, 120.0), Chosen::us, 10000.0, {own(tables::Agent::nitrite, 110.0)}};
  const Finding mine = one_of(tight, "own.mine");
  CHECK(mine.own);
  CHECK(mine.rule == Rule::nitrite_ingoing);
  CHECK(mine.level == Level::not_met);
  CHECK(mine.decides);
  CHECK(one_of(tight, "us.nitrite.comminuted_dry.ingoing").decides);
  CHECK(
      one_of({with(recipe::LineKind::cure, 90.0), Chosen::us, 10000.0, {own(tables::Agent::nitrite, 110.0)}},
             "own.mine")
          .level == Level::met);
  const Asked loose{
      with(recipe::LineKind::cure, 170.0), Chosen::us, 10000.0, {own(tables::Agent::nitrite, 400.0)}};
  CHECK(one_of(loose, "own.mine").level == Level::met);
  CHECK_FALSE(one_of(loose, "own.mine").decides);
  CHECK(one_of(loose, "own.mine").advice == "own_looser");
  CHECK(one_of(loose, "us.nitrite.comminuted_dry.ingoing").level == Level::not_met);
  CHECK(one_of(loose, "us.nitrite.comminuted_dry.ingoing").decides);
}

TEST_CASE("what is looser depends on the side, the expression and whose rules are chosen") {
  using tables::Agent;
  using tables::LimitSense;
  const auto decides = [](const OwnLimit& o, Chosen chosen) {
    return one_of({sample(), chosen, 10000.0, {o}}, "own.mine").decides;
  };
  // 80 mg/kg as ion are 119.98 as salt.
  CHECK(decides(own(Agent::nitrite, 119.0), Chosen::eu));
  CHECK_FALSE(decides(own(Agent::nitrite, 121.0), Chosen::eu));
  CHECK(decides(own(Agent::nitrite, 121.0), Chosen::us));
  CHECK_FALSE(decides(own(Agent::nitrite, 121.0), Chosen::not_chosen));
  CHECK(decides(own(Agent::salt, 26.0, LimitSense::least), Chosen::ca));
  CHECK_FALSE(decides(own(Agent::salt, 22.0, LimitSense::least), Chosen::us));
  CHECK(decides(own(Agent::salt, 30.0), Chosen::us));  // a most beside a least
  CHECK(decides(own(Agent::ph, 5.1), Chosen::us));
  CHECK_FALSE(decides(own(Agent::ph, 5.4), Chosen::us));
  CHECK_FALSE(decides(own(Agent::water_activity, 0.93), Chosen::us));
  CHECK(decides(own(Agent::water_phase_salt, 0.06, LimitSense::least), Chosen::us));
}

TEST_CASE("an own limit on stages counts the warmest or the coldest, and the days before the store") {
  recipe::Recipe r = sample();
  recipe::Stage ferment;
  ferment.kind = recipe::StageKind::ferment;
  ferment.temperature = Celsius(24.0);
  ferment.days = Days(3.0);
  recipe::Stage dry;
  dry.days = Days(40.0);
  recipe::Stage store;
  store.kind = recipe::StageKind::store;
  store.temperature = Celsius(3.0);
  store.days = Days(90.0);
  const OwnLimit warm = own(tables::Agent::temperature, 22.0);
  CHECK(one_of({r, Chosen::us, 1e4, {warm}}, "own.mine").level == Level::not_known);
  CHECK(one_of({r, Chosen::us, 1e4, {warm}}, "own.mine").missing == std::vector<std::string>{"stages"});
  r.stages = {ferment, dry, store};
  CHECK(one_of({r, Chosen::us, 1e4, {warm}}, "own.mine").level == Level::not_met);
  CHECK(one_of({r, Chosen::us, 1e4, {own(tables::Agent::days, 45.0)}}, "own.mine").found->value ==
        near_abs(43.0, 1e-9));
  CHECK(one_of({r, Chosen::us, 1e4, {own(tables::Agent::temperature, 4.0, tables::LimitSense::least)}},
               "own.mine")
            .level == Level::not_met);
}

TEST_CASE("rounding to the scale never hides the ceiling, nor calls met what a half step would break") {
  for (const double meat_g : {37.0, 100.0, 333.0, 1000.0, 2750.0, 9999.0, 40000.0}) {
    for (const double dose : {624.99, 625.0, 625.01, 627.0, 640.0, 700.0, 1000.0, 1560.0}) {
      CAPTURE(meat_g);
      CAPTURE(dose);
      const std::vector<Finding> all = all_of({with(recipe::LineKind::cure, dose), Chosen::us, meat_g});
      CHECK(safety::stops(all.front()) == (dose > 625.0));
    }
    for (double dose = 60.0; dose < 200.0; dose += 3.7) {
      CAPTURE(meat_g);
      CAPTURE(dose);
      const Finding f = one_of({with(recipe::LineKind::cure, dose), Chosen::us, meat_g},
                               "us.nitrite.comminuted_dry.ingoing");
      if (f.level == Level::does_not_apply) continue;
      CHECK((f.level == Level::not_met) == (f.found->value > 156.25 + 1e-9));
      if (f.level == Level::met) CHECK(f.found->value + f.uncertainty < 156.25);
    }
  }
}
