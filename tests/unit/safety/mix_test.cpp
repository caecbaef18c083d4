#include <doctest/doctest.h>

#include "core/safety/mix_findings.h"
#include "core/safety/safety.h"
#include "tests/unit/recipe/fixture.h"

using namespace saltrafter;
using namespace saltrafter::safety;
using recipe::CuringMix;
using recipe::test::line;
using recipe::test::sample;

namespace {

const Date kDay = std::chrono::year(2026) / 11 / 25;

std::vector<Finding> rule_of(const recipe::Recipe& r, Rule rule, Chosen chosen = Chosen::us) {
  const Result<recipe::Sheet> sheet = recipe::scale(r, Grams(10000.0));
  REQUIRE(sheet.ok());
  std::vector<Finding> found;
  for (const Finding& f : findings(r, sheet.value(), chosen, kDay)) {
    if (f.rule == rule) found.push_back(f);
  }
  REQUIRE_FALSE(found.empty());
  return found;
}

recipe::Recipe days(recipe::Recipe r, double d) {
  recipe::Stage stage;
  stage.id = Id{"dry"};
  stage.days = Days(d);
  r.stages = {stage};
  return r;
}

recipe::Recipe with_mix(const char* name, double nitrite, double nitrate, double dose = 110.0) {
  recipe::Recipe r = sample();
  r.mix = CuringMix{name, nitrite, nitrate};
  r.lines[3].amount = dose;
  return r;
}

recipe::Step step(const char* id, std::vector<Id> lines, bool in_liquid = true) {
  recipe::Step s;
  s.id = Id{id};
  s.kind = recipe::StepKind::add;
  s.lines = std::move(lines);
  s.in_liquid = in_liquid;
  return s;
}

}  // namespace

TEST_CASE("a mix is as its packet says only once it is bound to one") {
  recipe::Recipe r = sample();
  const Finding loose = rule_of(r, Rule::mix_as_packet).front();
  CHECK(loose.level == Level::not_known);
  CHECK(loose.missing == std::vector<std::string>{"mix_packet"});
  CHECK(loose.advice == "bind_mix");
  CHECK(loose.about == r.lines[3].id);
  r.mix.supply = "packet";
  CHECK(rule_of(r, Rule::mix_as_packet).front().level == Level::met);
  r.lines[3].amount = 0.0;
  CHECK(rule_of(r, Rule::mix_as_packet).front().level == Level::does_not_apply);
}

TEST_CASE("strengths that are sold look usual, a tenth or ten times of one does not") {
  CHECK(looks_of(CuringMix{"", 0.0625, 0.0}) == MixLooks::usual);
  CHECK(looks_of(CuringMix{"", 0.0588, 0.0}) == MixLooks::usual);
  CHECK(looks_of(CuringMix{"", 0.005, 0.0}) == MixLooks::usual);
  CHECK(looks_of(CuringMix{"", 0.00625, 0.0}) == MixLooks::tenfold);
  CHECK(looks_of(CuringMix{"", 0.625, 0.0}) == MixLooks::tenfold);
  CHECK(looks_of(CuringMix{"", 0.05, 0.0}) == MixLooks::tenfold);
  CHECK(looks_of(CuringMix{"", 0.03, 0.0}) == MixLooks::unusual);
  CHECK(looks_of(CuringMix{"", 0.0, 1.0}) == MixLooks::usual);
}

TEST_CASE(
    "a name that says another strength or kind is asked about, a weak mix called like a strong one stops") {
  CHECK(looks_of(CuringMix{"Cure 1", 0.0625, 0.0}) == MixLooks::usual);
  CHECK(looks_of(CuringMix{"Cure #2, 6.25 % + 4 %", 0.0625, 0.04}) == MixLooks::usual);
  CHECK(looks_of(CuringMix{"Nitrite salt 0,5 %", 0.005, 0.0}) == MixLooks::usual);
  CHECK(looks_of(CuringMix{"Nitrite salt 0.5\xC2\xA0%", 0.005, 0.0}) == MixLooks::usual);
  CHECK(looks_of(CuringMix{"6.25 %", 0.005, 0.0}) == MixLooks::called_strong);
  CHECK(looks_of(CuringMix{"Cure 1", 0.006, 0.0}) == MixLooks::called_strong);
  CHECK(looks_of(CuringMix{"0.5 %", 0.0625, 0.0}) == MixLooks::called_strong);
  CHECK(looks_of(CuringMix{"5.88 %", 0.0625, 0.0}) == MixLooks::called_other);
  CHECK(looks_of(CuringMix{"Cure 2", 0.0625, 0.0}) == MixLooks::called_other);
  CHECK(looks_of(CuringMix{"Cure 1", 0.0625, 0.04}) == MixLooks::called_other);
  CHECK(looks_of(CuringMix{"93.75 % salt, 6.25 % nitrite", 0.0625, 0.0}) == MixLooks::usual);

  recipe::Recipe r = with_mix("Cure 1", 0.006, 0.0);
  const Finding stop = rule_of(r, Rule::mix_confused).front();
  CHECK(stop.level == Level::not_met);
  CHECK(stop.stop == Stop::with_reason);
  CHECK(stop.advice == "mix_called_strong");
  CHECK(safety::stops(stop));
  // Once somebody has read the packet it is asked about, no more.
  r.mix.supply = "packet";
  CHECK(rule_of(r, Rule::mix_confused).front().level == Level::near);
  CHECK_FALSE(safety::stops(rule_of(r, Rule::mix_confused).front()));
}

TEST_CASE("a tenth of a dose stops, an odd one is asked about, a usual one is not") {
  const auto dose = [](double ppm) {
    return rule_of(with_mix("", 0.0625, 0.0, ppm), Rule::mix_confused).front();
  };
  CHECK(dose(15.0).level == Level::not_met);
  CHECK(dose(15.0).stop == Stop::with_reason);
  CHECK(dose(15.0).advice == "dose_tenfold");
  CHECK(dose(30.0).level == Level::near);
  CHECK(dose(30.0).advice == "dose_low");
  CHECK(dose(120.0).level == Level::does_not_apply);
  CHECK(dose(250.0).level == Level::near);
  CHECK(dose(250.0).advice == "dose_high");
}

TEST_CASE("a slip of the scale is judged as a dose that was asked for would be") {
  const recipe::Recipe r = with_mix("", 0.0625, 0.0, 120.0);
  const auto weighed = [&r](double share) {
    const recipe::Sheet asked = recipe::scale(r, Grams(10000.0)).value();
    recipe::Hands hands;
    hands.weighed = {{r.lines[3].id, asked.mix * share, 0, ""}};
    const recipe::Sheet sheet = recipe::scale(r, Grams(10000.0), nullptr, hands).value();
    for (const Finding& f : findings(r, sheet, Chosen::us, kDay)) {
      if (f.rule == Rule::mix_confused) return f;
    }
    return Finding{};
  };
  CHECK(weighed(1.0).level == Level::does_not_apply);
  CHECK(weighed(0.1).advice == "dose_tenfold");
  CHECK(safety::stops(weighed(0.1)));
  CHECK(weighed(0.3).advice == "dose_low");
  CHECK(weighed(2.0).advice == "dose_high");
}

TEST_CASE("nitrate in what dries shortly, and none in what dries for long, are asked about") {
  const auto advice = [](const recipe::Recipe& r) { return rule_of(r, Rule::mix_confused).front().advice; };
  CHECK(advice(days(with_mix("", 0.0625, 0.04), 20.0)) == "mix_without_nitrate");
  CHECK(advice(days(with_mix("", 0.0625, 0.04), 40.0)).empty());
  CHECK(advice(days(with_mix("", 0.0625, 0.0), 91.0)) == "mix_with_nitrate");
  CHECK(advice(days(with_mix("", 0.0625, 0.0), 90.0)).empty());
  recipe::Recipe soft = days(with_mix("", 0.0625, 0.04), 40.0);
  soft.product_class = recipe::ProductClass::comminuted_semi_dry;
  CHECK(advice(soft) == "mix_without_nitrate");
  CHECK(rule_of(soft, Rule::mix_confused).front().level == Level::near);
}

TEST_CASE("nitrate is for what dries four weeks; practice proves it never, the European clause does") {
  CHECK(rule_of(with_mix("", 0.0625, 0.0), Rule::nitrate_in_short).front().level == Level::does_not_apply);
  const recipe::Recipe no_stages = with_mix("", 0.0625, 0.04);
  CHECK(rule_of(no_stages, Rule::nitrate_in_short).front().missing == std::vector<std::string>{"stages"});
  CHECK(rule_of(days(no_stages, 27.0), Rule::nitrate_in_short).front().level == Level::not_met);
  CHECK(rule_of(days(no_stages, 27.0), Rule::nitrate_in_short).front().advice == "nitrate_needs_time");
  CHECK(rule_of(days(no_stages, 60.0), Rule::nitrate_in_short).front().level == Level::not_known);
  // With nitrite beside it the clause of nitrate alone says nothing.
  CHECK(rule_of(days(no_stages, 60.0), Rule::nitrate_in_short, Chosen::eu).size() == 1);
  recipe::Recipe soft = days(no_stages, 60.0);
  soft.product_class = recipe::ProductClass::comminuted_semi_dry;
  CHECK(rule_of(soft, Rule::nitrate_in_short).front().level == Level::not_met);

  recipe::Recipe r = days(sample(), 60.0);
  Subject subject;
  subject.recipe = &r;
  recipe::Sheet sheet = recipe::scale(r, Grams(1000.0)).value();
  sheet.nitrite = Ppm(0.0);
  sheet.nitrate = Ppm(150.0);
  subject.sheet = &sheet;
  subject.chosen = Chosen::eu;
  subject.today = kDay;
  const std::vector<Finding> alone = short_nitrate_findings(subject);
  REQUIRE(alone.size() == 3);
  int deciding = 0;
  for (const Finding& f : alone) {
    if (!f.decides) continue;
    ++deciding;
    CHECK(f.row == "eu.days.minced.nitrate_alone");
    CHECK(f.level == Level::met);
  }
  CHECK(deciding == 1);
}

TEST_CASE("nitrite and an acid in one liquid stop, one after the other are near, dry or apart they are not") {
  recipe::Recipe r = sample();
  r.lines.push_back(line(recipe::LineKind::additive, "sodium_erythorbate", 0.5));
  const Id cure = r.lines[3].id;
  const Id acid = r.lines.back().id;
  const auto level = [&r] { return rule_of(r, Rule::acid_with_nitrite).front().level; };
  CHECK(level() == Level::not_known);
  r.steps = {step("both", {cure, acid})};
  const Finding both = rule_of(r, Rule::acid_with_nitrite).front();
  CHECK(both.level == Level::not_met);
  CHECK(both.stop == Stop::with_reason);
  CHECK(both.about == Id{"both"});
  CHECK(both.advice == "add_apart");
  r.steps = {step("dry", {cure, acid}, false)};
  CHECK(level() == Level::met);
  r.steps = {step("one", {cure}), step("two", {acid})};
  CHECK(level() == Level::near);
  r.steps = {step("one", {acid}), step("two", {cure})};
  CHECK(level() == Level::near);
  r.steps = {step("one", {cure}), step("between", {r.lines[2].id}, false), step("two", {acid})};
  CHECK(level() == Level::met);
  r.steps = {step("one", {cure})};
  CHECK(level() == Level::not_known);
  r.lines[3].amount = 0.0;
  CHECK(level() == Level::does_not_apply);
}

TEST_CASE("wine and vinegar are acids, pepper is none, and of an own material nobody knows") {
  for (const char* acid : {"red_wine", "wine_vinegar", "citric_acid", "ascorbic_acid", "gdl"}) {
    CAPTURE(acid);
    recipe::Recipe r = sample();
    r.lines.push_back(line(recipe::LineKind::additive, acid, 2.0));
    r.steps = {step("s", {r.lines[3].id, r.lines.back().id})};
    CHECK(rule_of(r, Rule::acid_with_nitrite).front().level == Level::not_met);
  }
  recipe::Recipe pepper = sample();
  pepper.steps = {step("s", {pepper.lines[3].id, pepper.lines[5].id})};
  CHECK(rule_of(pepper, Rule::acid_with_nitrite).front().level == Level::does_not_apply);
  recipe::Recipe own = sample();
  own.lines.push_back(line(recipe::LineKind::additive, "", 2.0));
  own.steps = {step("s", {own.lines[3].id, own.lines.back().id})};
  CHECK(rule_of(own, Rule::acid_with_nitrite).front().level == Level::not_known);
  CHECK(rule_of(own, Rule::acid_with_nitrite).front().missing == std::vector<std::string>{"own_material"});
}
