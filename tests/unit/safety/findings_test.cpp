#include <doctest/doctest.h>

#include <algorithm>

#include "core/safety/safety.h"
#include "tests/near.h"
#include "tests/unit/recipe/fixture.h"

using namespace saltrafter;
using namespace saltrafter::safety;
using recipe::test::sample;

namespace {

const Date kDay = std::chrono::year(2026) / 11 / 25;

std::vector<Finding> of(const recipe::Recipe& r, Chosen chosen, double meat_g = 10000.0, Date day = kDay) {
  const Result<recipe::Sheet> sheet = recipe::scale(r, Grams(meat_g));
  REQUIRE(sheet.ok());
  return findings(r, sheet.value(), chosen, day);
}

const Finding* row_of(const std::vector<Finding>& all, const std::string& row) {
  for (const Finding& f : all) {
    if (f.row == row) return &f;
  }
  return nullptr;
}

const Finding& rule_in(const std::vector<Finding>& all, Rule rule) {
  for (const Finding& f : all) {
    if (f.rule == rule) return f;
  }
  FAIL("no such rule");
  return all.front();
}

recipe::Recipe with_dose(double ppm) {
  recipe::Recipe r = sample();
  r.lines[3].amount = ppm;
  return r;
}

}  // namespace

TEST_CASE("the European limit is held against the ion, and both expressions are given") {
  const std::vector<Finding> all = of(with_dose(125.0), Chosen::eu);
  const Finding* f = row_of(all, "eu.nitrite.comminuted_dry.ingoing");
  REQUIRE(f != nullptr);
  CHECK(f->level == Level::not_met);
  REQUIRE((f->found && f->found_also && f->limit && f->limit_also && f->margin));
  CHECK(f->found->of == "NO2-");
  CHECK(f->found->value == near_abs(83.35, 0.01));
  CHECK(f->found_also->of == "NaNO2");
  CHECK(f->found_also->value == near_abs(125.0, 1e-9));
  CHECK(f->limit->value == 80.0);
  CHECK(f->limit_also->value == near_abs(119.98, 0.01));
  CHECK(*f->margin == near_abs(80.0 - f->found->value, 1e-8));
  CHECK(row_of(of(with_dose(119.0), Chosen::eu), "eu.nitrite.comminuted_dry.ingoing")->level == Level::near);
  CHECK(row_of(of(with_dose(100.0), Chosen::eu), "eu.nitrite.comminuted_dry.ingoing")->level == Level::met);
}

TEST_CASE("the American limit is held against the salt") {
  const std::vector<Finding> all = of(with_dose(140.0), Chosen::us);
  const Finding* f = row_of(all, "us.nitrite.comminuted_dry.ingoing");
  REQUIRE(f != nullptr);
  CHECK(f->level == Level::met);
  CHECK(f->found->of == "NaNO2");
  CHECK(f->found->value == near_abs(140.0, 1e-9));
  CHECK(f->found_also->of == "NO2-");
  CHECK_FALSE(f->source.empty());
  CHECK(row_of(of(with_dose(152.0), Chosen::us), "us.nitrite.comminuted_dry.ingoing")->level == Level::near);
  CHECK(row_of(of(with_dose(157.5), Chosen::us), "us.nitrite.comminuted_dry.ingoing")->level ==
        Level::not_met);
  // 2.5 g of a 6.25 % mix to the kg is a quarter ounce of nitrite to 100 lb: exactly at the limit.
  const Finding quarter_ounce =
      *row_of(of(with_dose(156.25), Chosen::us), "us.nitrite.comminuted_dry.ingoing");
  CHECK(quarter_ounce.level == Level::near);
  CHECK(*quarter_ounce.margin == 0.0);
  recipe::Recipe semi_dry = with_dose(157.5);
  semi_dry.product_class = recipe::ProductClass::comminuted_semi_dry;
  CHECK(row_of(of(semi_dry, Chosen::us), "us.nitrite.comminuted_dry.ingoing")->level == Level::not_met);
}

TEST_CASE(
    "a chosen jurisdiction brings its own rows and those of none, and of each question the strictest "
    "decides") {
  for (const auto& [chosen, jurisdiction] :
       {std::pair(Chosen::us, tables::Jurisdiction::us), std::pair(Chosen::eu, tables::Jurisdiction::eu),
        std::pair(Chosen::ca, tables::Jurisdiction::ca)}) {
    int rows = 0;
    for (const Finding& f : of(with_dose(120.0), chosen)) {
      if (!f.jurisdiction) continue;
      ++rows;
      CHECK(*f.jurisdiction == jurisdiction);
      CHECK(f.decides);
    }
    CHECK(rows > 0);
  }
  // Canada's 25 g/kg of salt stands over the 23 of trade practice, which is listed beside it.
  const std::vector<Finding> all = of(with_dose(120.0), Chosen::ca);
  CHECK(row_of(all, "ca.salt.comminuted_dry.ingoing")->decides);
  CHECK_FALSE(row_of(all, "any.salt.comminuted_dry.ingoing")->decides);
  CHECK(row_of(of(with_dose(120.0), Chosen::us), "any.salt.comminuted_dry.ingoing")->decides);
}

TEST_CASE("until a jurisdiction is chosen the strictest row of each rule decides and the others are listed") {
  for (const Chosen chosen : {Chosen::not_chosen, Chosen::none_of_these}) {
    const std::vector<Finding> all = of(with_dose(110.0), chosen);
    CHECK(row_of(all, "eu.nitrite.comminuted_dry.ingoing")->decides);
    REQUIRE(row_of(all, "us.nitrite.comminuted_dry.ingoing") != nullptr);
    CHECK_FALSE(row_of(all, "us.nitrite.comminuted_dry.ingoing")->decides);
    // A most and a least of one rule are two questions.
    CHECK(row_of(all, "ca.nitrite_and_nitrate.any.ingoing")->decides);
    CHECK(row_of(all, "ca.nitrite_and_nitrate.any.ingoing.least")->decides);
  }
}

TEST_CASE("a row counts from its first day to the day before its last") {
  const Date before = std::chrono::year(2025) / 10 / 8;
  const Date after = std::chrono::year(2025) / 10 / 9;
  CHECK(row_of(of(with_dose(100.0), Chosen::eu, 1000.0, before), "eu.nitrite.comminuted_dry.ingoing") ==
        nullptr);
  CHECK(row_of(of(with_dose(100.0), Chosen::eu, 1000.0, before), "eu.nitrite.comminuted_dry.ingoing.2008") !=
        nullptr);
  CHECK(row_of(of(with_dose(100.0), Chosen::eu, 1000.0, after), "eu.nitrite.comminuted_dry.ingoing") !=
        nullptr);
  CHECK(row_of(of(with_dose(100.0), Chosen::eu, 1000.0, after), "eu.nitrite.comminuted_dry.ingoing.2008") ==
        nullptr);
}

TEST_CASE("a least is missed below, near at it and met above") {
  const char* row = "ca.nitrite_and_nitrate.any.ingoing.least";
  CHECK(row_of(of(with_dose(99.0), Chosen::ca), row)->level == Level::not_met);
  CHECK(row_of(of(with_dose(100.0), Chosen::ca), row)->level == Level::near);
  CHECK(row_of(of(with_dose(120.0), Chosen::ca), row)->level == Level::met);
  CHECK(row_of(of(with_dose(0.0), Chosen::ca), row)->level == Level::not_met);
}

TEST_CASE("half a scale step across the limit makes a finding near") {
  const char* row = "us.nitrite.comminuted_dry.ingoing";
  // 145 mg/kg: 7 % below 156.25. Half of 0.1 g of mix is 3.1 mg/kg on 1 kg, 15.6 on 200 g.
  CHECK(row_of(of(with_dose(145.0), Chosen::us, 10000.0), row)->level == Level::met);
  recipe::Recipe r = with_dose(146.0);
  CHECK(row_of(of(r, Chosen::us, 215.0), row)->found->value < 147.0);
  CHECK(row_of(of(r, Chosen::us, 215.0), row)->level == Level::near);
}

TEST_CASE("a row of memory is never met: not known within it, not met beyond") {
  recipe::Recipe r = with_dose(600.0);
  r.product_class = recipe::ProductClass::whole_muscle_dry;
  r.mix = recipe::CuringMix{"both", 0.0625, 0.04};
  const Finding* f = row_of(of(r, Chosen::us), "us.nitrate.whole_muscle_rubbed.ingoing");
  REQUIRE(f != nullptr);
  CHECK(f->known == tables::Known::memory);
  CHECK(f->level == Level::not_known);
  CHECK(f->missing.empty());
  r.mix = recipe::CuringMix{"both", 0.0625, 0.30};
  CHECK(row_of(of(r, Chosen::us), "us.nitrate.whole_muscle_rubbed.ingoing")->level == Level::not_met);
}

TEST_CASE("the rows of salting dry and of brine are of their method alone") {
  recipe::Recipe r = with_dose(110.0);
  r.product_class = recipe::ProductClass::whole_muscle_dry;
  const char* dry = "us.nitrite.whole_muscle_rubbed.ingoing";
  const char* wet = "us.nitrite.whole_muscle_brined.ingoing";
  CHECK(row_of(of(r, Chosen::us), dry) != nullptr);
  CHECK(row_of(of(r, Chosen::us), wet) == nullptr);
  r.method = recipe::CureMethod::brine;
  r.brine = recipe::Brine{800.0, 0.25, Days(7.0)};
  r.lines.pop_back();
  r.lines.push_back(recipe::test::line(recipe::LineKind::additive, "red_wine", 20.0));
  CHECK(row_of(of(r, Chosen::us), dry) == nullptr);
  CHECK(row_of(of(r, Chosen::us), wet) != nullptr);
}

TEST_CASE("a residual limit asks for an analysis, a mix without nitrate has no nitrate limit") {
  recipe::Recipe r = with_dose(110.0);
  r.product_class = recipe::ProductClass::whole_muscle_dry;
  const std::vector<Finding> all = of(r, Chosen::eu);
  const Finding* residual = row_of(all, "eu.nitrite.whole_muscle_dry.residual");
  REQUIRE(residual != nullptr);
  CHECK(residual->level == Level::not_known);
  CHECK_FALSE(residual->found.has_value());
  REQUIRE(residual->missing.size() == 1);
  CHECK(residual->missing[0] == "residual_analysis");
  CHECK(row_of(all, "eu.nitrate.whole_muscle_dry.residual")->level == Level::does_not_apply);
  // The class is not said more closely: the stricter of the two that it may be rules, the other is listed.
  CHECK_FALSE(residual->decides);
  CHECK(row_of(all, "eu.nitrite.whole_muscle_dry.residual.other")->decides);
  CHECK(row_of(all, "eu.nitrite.whole_muscle_dry.ingoing")->level == Level::met);
}

TEST_CASE("nitrite above 625 mg/kg is a stop whatever the jurisdiction, and none below") {
  for (const Chosen chosen :
       {Chosen::not_chosen, Chosen::us, Chosen::eu, Chosen::ca, Chosen::none_of_these}) {
    const Finding above = of(with_dose(626.0), chosen).front();
    CHECK(above.rule == Rule::nitrite_ceiling);
    CHECK(above.level == Level::not_met);
    CHECK(safety::stops(above));
    CHECK(above.found->value == near_abs(626.0, 1e-9));
    const Finding below = of(with_dose(120.0), chosen).front();
    CHECK(below.level == Level::met);
    CHECK_FALSE(safety::stops(below));
  }
  CHECK(of(with_dose(625.0), Chosen::us).front().level == Level::near);
}

TEST_CASE("what nobody recorded is not known: fermentation, parasites, water activity") {
  const std::vector<Finding> all = of(sample(), Chosen::us);
  for (const Rule rule : {Rule::fermentation, Rule::parasites, Rule::water_activity}) {
    CHECK(rule_in(all, rule).level == Level::not_known);
    CHECK_FALSE(rule_in(all, rule).missing.empty());
  }
  recipe::Recipe whole = sample();
  whole.product_class = recipe::ProductClass::whole_muscle_dry;
  CHECK(rule_in(of(whole, Chosen::us), Rule::fermentation).level == Level::does_not_apply);
}

TEST_CASE("freezing is asked of pork, not of game, which it does not make safe") {
  const auto asks = [](const recipe::Recipe& r, const char* what) {
    const std::vector<Finding> all = of(r, Chosen::us);
    const std::vector<std::string>& missing = rule_in(all, Rule::parasites).missing;
    return std::count(missing.begin(), missing.end(), what) == 1;
  };
  CHECK(asks(sample(), "freezing_record"));
  CHECK(asks(sample(), "trichinella_test"));
  recipe::Recipe boar = sample();
  for (std::size_t i = 0; i < 2; ++i) boar.lines[i].material = "wild_boar";
  CHECK_FALSE(asks(boar, "freezing_record"));
  CHECK(asks(boar, "trichinella_test"));
}

TEST_CASE("an estimate never proves a water activity; a measured core does, a loose sample does not") {
  const recipe::Recipe r = sample();
  const recipe::Sheet sheet = recipe::scale(r, Grams(4200.0)).value();
  const auto finding = [&](std::optional<WaterActivityFound> given) {
    const std::vector<Finding> all = findings(r, sheet, Chosen::us, kDay, given);
    return rule_in(all, Rule::water_activity);
  };
  const Finding bound = finding(std::nullopt);
  CHECK(bound.found->unit == "aw");
  CHECK(bound.place == Place::mean);
  CHECK(bound.way == Way::bound);
  CHECK(bound.found->value > 0.80);
  CHECK(bound.found->value < 0.97);
  CHECK(finding(WaterActivityFound{WaterActivity(0.80), Place::core, Way::estimate, ""}).level ==
        Level::not_known);
  CHECK(finding(WaterActivityFound{WaterActivity(0.80), Place::core, Way::measured, ""}).level == Level::met);
  CHECK(finding(WaterActivityFound{WaterActivity(0.905), Place::core, Way::measured, ""}).level ==
        Level::near);
  CHECK(finding(WaterActivityFound{WaterActivity(0.92), Place::core, Way::measured, ""}).level ==
        Level::not_met);
  CHECK(finding(WaterActivityFound{WaterActivity(0.80), Place::mean, Way::measured, ""}).level ==
        Level::not_known);
  CHECK(finding(WaterActivityFound{WaterActivity(0.80), Place::mean, Way::measured, "end slice"}).level ==
        Level::met);
}

TEST_CASE(
    "findings stand by rule, then those that decide, then by row; the order does not depend on the dose") {
  const std::vector<Finding> low = of(with_dose(110.0), Chosen::not_chosen);
  const std::vector<Finding> high = of(with_dose(300.0), Chosen::not_chosen);
  const auto amounts = [](const std::vector<Finding>& all) {
    std::vector<std::string> names;
    for (const Finding& f : all) {
      if (f.rule != Rule::mix_confused) names.push_back(name_of(f));
    }
    return names;
  };
  CHECK(amounts(low) == amounts(high));
  CHECK(low.front().rule == Rule::nitrite_ceiling);
  int listed = 0;
  for (std::size_t i = 1; i < low.size(); ++i) {
    const Finding& a = low[i - 1];
    const Finding& b = low[i];
    CHECK_FALSE(b.rule < a.rule);
    if (a.rule != b.rule) continue;
    CHECK_FALSE((b.decides && !a.decides));
    if (a.decides == b.decides) CHECK(a.row <= b.row);
    listed += b.decides ? 0 : 1;
  }
  CHECK(listed > 0);
}

TEST_CASE("every rule and every level has a key of its own") {
  std::vector<Rule> rules;
  for (int i = 0; i <= static_cast<int>(Rule::species); ++i) rules.push_back(static_cast<Rule>(i));
  for (const Rule& a : rules) {
    for (const Rule& b : rules) CHECK((key_of(a) == key_of(b)) == (a == b));
  }
  for (const tables::Limit& row : tables::limits()) {
    CAPTURE(row.id);
    CHECK(std::count_if(rules.begin(), rules.end(), [&row](Rule rule) { return key_of(rule) == row.rule; }) ==
          1);
  }
  CHECK(key_of(Level::not_met) == "not_met");
  CHECK(key_of(Level::does_not_apply) == "does_not_apply");
}

TEST_CASE("a recipe to begin with misses no limit, whoever's rules are chosen") {
  for (const recipe::Recipe& r : recipe::starter_recipes(recipe::test::counting_ports())) {
    CAPTURE(r.name);
    for (const Chosen chosen : {Chosen::not_chosen, Chosen::us, Chosen::eu, Chosen::ca}) {
      for (const double meat_g : {1000.0, 4200.0, 20000.0}) {
        CAPTURE(meat_g);
        for (const Finding& f : of(r, chosen, meat_g)) {
          CAPTURE(f.row);
          CHECK(f.level != Level::not_met);
        }
      }
    }
  }
}
