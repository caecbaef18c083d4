// The first recipes as data: whole, within the strictest limits, and done as the kitchen does it.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <set>

#include "core/recipe/recipe.h"
#include "core/tables/tables.h"
#include "tests/near.h"
#include "tests/unit/recipe/fixture.h"

using namespace saltrafter;
using namespace saltrafter::recipe;

namespace {

std::vector<Recipe> starters() { return starter_recipes(recipe::test::counting_ports()); }

bool has_step(const Recipe& r, StepKind kind) {
  return std::any_of(r.steps.begin(), r.steps.end(), [kind](const Step& s) { return s.kind == kind; });
}

const Step* step_of(const Recipe& r, StepKind kind) {
  for (const Step& step : r.steps) {
    if (step.kind == kind) return &step;
  }
  return nullptr;
}

const Line* line_by(const Recipe& r, const Id& id) {
  for (const Line& line : r.lines) {
    if (line.id == id) return &line;
  }
  return nullptr;
}

bool is_minced(const Recipe& r) { return r.product_class != ProductClass::whole_muscle_dry; }

}  // namespace

TEST_CASE("twelve first recipes of different kinds, with names and ids of their own") {
  std::set<std::string> names;
  std::set<std::string> ids;
  std::set<CureMethod> methods;
  std::set<ProductClass> classes;
  std::set<Form> forms;
  std::size_t given = 0;
  for (const Recipe& r : starters()) {
    names.insert(r.name);
    methods.insert(r.method);
    classes.insert(r.product_class);
    forms.insert(r.form);
    for (const Line& line : r.lines) ids.insert(line.id.text);
    for (const Stage& stage : r.stages) ids.insert(stage.id.text);
    for (const Step& step : r.steps) ids.insert(step.id.text);
    given += r.lines.size() + r.stages.size() + r.steps.size();
  }
  CHECK(names.size() == 12);
  for (const char* name : {"Caraway salami", "Coriander and wine salami", "Juniper loin"}) {
    CHECK(names.count(name) == 1);
  }
  CHECK(ids.size() == given);
  CHECK(methods.size() == 4);
  CHECK(classes.size() == 3);
  CHECK(forms.size() == 2);
}

TEST_CASE("the first recipes are within every ingoing limit of the tables, at every scale of a kitchen") {
  for (const Recipe& r : starters()) {
    CAPTURE(r.name);
    for (double meat_g = 900.0; meat_g < 50000.0; meat_g *= 1.37) {
      CAPTURE(meat_g);
      const Sheet sheet = scale(r, Grams(meat_g)).value();
      CHECK_FALSE(sheet.refused.has_value());
      CHECK_FALSE(sheet.too_salty.has_value());
      for (const SheetLine& line : sheet.lines) CHECK(line.parts_known);
      for (const tables::Limit& limit : tables::limits()) {
        if (limit.basis != tables::LimitBasis::ingoing) continue;
        CAPTURE(limit.id);
        const bool ion = limit.expressed == tables::Expressed::ion;
        double found = -1.0;
        if (limit.agent == tables::Agent::nitrite) found = (ion ? sheet.nitrite_ion : sheet.nitrite).value;
        if (limit.agent == tables::Agent::nitrate) found = (ion ? sheet.nitrate_ion : sheet.nitrate).value;
        if (limit.agent == tables::Agent::nitrite_and_nitrate) {
          found = sheet.nitrite.value + sheet.nitrate.value;
        }
        if (limit.agent == tables::Agent::ascorbate) found = sheet.ascorbate.value;
        if (found < 0.0) continue;
        if (limit.sense == tables::LimitSense::most) CHECK(found <= limit.value);
        if (limit.sense == tables::LimitSense::least) CHECK(found >= limit.value);
      }
    }
  }
}

TEST_CASE("each line of a first recipe goes in by a step, and each step's lines are the recipe's") {
  for (const Recipe& r : starters()) {
    CAPTURE(r.name);
    std::set<std::string> in;
    for (const Step& step : r.steps) {
      for (const Id& id : step.lines) {
        REQUIRE(line_by(r, id) != nullptr);
        in.insert(id.text);
      }
    }
    CHECK(in.size() == r.lines.size());
  }
}

TEST_CASE(
    "no step of a first recipe brings nitrite and wine or an acid together, nor cure to a culture in water") {
  for (const Recipe& r : starters()) {
    CAPTURE(r.name);
    for (const Step& step : r.steps) {
      bool cure = false;
      bool sour = false;
      bool culture = false;
      for (const Id& id : step.lines) {
        const Line& line = *line_by(r, id);
        cure = cure || line.kind == LineKind::cure;
        culture = culture || line.kind == LineKind::culture;
        for (const char* word : {"wine", "vinegar", "acid", "ascorbate", "erythorbate"}) {
          sour = sour || line.material.find(word) != std::string::npos;
        }
      }
      CHECK_FALSE((cure && sour));
      CHECK_FALSE((cure && culture));
    }
  }
}

TEST_CASE("wine goes into a mince after all else") {
  int with_wine = 0;
  for (const Recipe& r : starters()) {
    if (!is_minced(r)) continue;
    CAPTURE(r.name);
    bool wine_in = false;
    for (const Step& step : r.steps) {
      int wines = 0;
      for (const Id& id : step.lines) {
        if (line_by(r, id)->material.find("wine") != std::string::npos) ++wines;
      }
      if (wine_in) CHECK(step.lines.empty());
      if (wines == 0) continue;
      CHECK(step.lines.size() == 1);
      wine_in = true;
      ++with_wine;
    }
  }
  CHECK(with_wine == 1);
}

TEST_CASE("a minced first recipe asks for the temperature before and after the plate, sours, then dries") {
  for (const Recipe& r : starters()) {
    if (!is_minced(r)) continue;
    CAPTURE(r.name);
    CHECK(r.method == CureMethod::mixed_in);
    for (const StepKind kind : {StepKind::chill, StepKind::mince, StepKind::mix}) {
      REQUIRE(step_of(r, kind) != nullptr);
      CHECK(step_of(r, kind)->asks == Asked::temperature);
      CHECK(step_of(r, kind)->most.has_value());
    }
    CHECK(step_of(r, StepKind::mince)->value.value_or(0.0) > 2.0);
    CHECK(step_of(r, StepKind::mix)->value.value_or(0.0) > 2.0);
    for (const StepKind kind : {StepKind::rehydrate, StepKind::add, StepKind::rest, StepKind::stuff,
                                StepKind::prick, StepKind::tie, StepKind::ferment, StepKind::hang}) {
      CHECK(has_step(r, kind));
    }
    CHECK(step_of(r, StepKind::rehydrate)->in_liquid);
    CHECK(step_of(r, StepKind::ferment)->asks == Asked::ph);
    REQUIRE(r.wanted_ph.has_value());
    CHECK(*r.wanted_ph <= 5.3);
    bool fermented = false;
    for (const Stage& stage : r.stages) {
      if (stage.kind == StageKind::ferment) fermented = true;
      if (stage.sealed) {
        CHECK(fermented);
        CHECK(stage.temperature.value <= 3.0);
      }
    }
    CHECK(fermented);
  }
}

// Sugar by the buffer model of the references: 52 mmol per kg and pH, scaled by protein / 0.16; from pH 5.75.
TEST_CASE("a soured first recipe has the sugar for its pH, and a culture at home at its temperature") {
  for (const Recipe& r : starters()) {
    if (!r.wanted_ph) continue;
    CAPTURE(r.name);
    const Composition mix = scale(r, Grams(10000.0)).value().composition;
    const double total_g = mix.total_g();
    const double dissociated = 1.0 / (1.0 + std::pow(10.0, 3.86 - *r.wanted_ph));
    const double model =
        52.0 * mix.protein_g / total_g / 0.16 * (5.75 - *r.wanted_ph) / (11.10 * dissociated);
    const double sugar = 1e3 * mix.sugar_g / total_g;
    CHECK(sugar >= 1.2 * model);
    CHECK(sugar <= 2.0 * model);
    int souring = 0;
    for (const Line& line : r.lines) {
      if (line.kind != LineKind::culture) continue;
      const tables::Culture* culture = tables::find_culture(line.material);
      REQUIRE(culture != nullptr);
      for (const Stage& stage : r.stages) {
        if (stage.kind != StageKind::ferment) continue;
        CHECK(stage.temperature.value >= culture->use_low.value);
        CHECK(stage.temperature.value <= culture->use_high.value);
      }
      if (!culture->sours()) continue;
      ++souring;
      CHECK(culture->ph_low.value_or(9.0) <= *r.wanted_ph);
    }
    CHECK(souring == 1);
  }
}

// 4.5 % salt in the water is from memory; 0.9 of the mean at the centre is what the days in the cold are set
// for.
TEST_CASE(
    "a whole muscle of the first recipes stays cold until its water has its salt, sealed at most at 3") {
  for (const Recipe& r : starters()) {
    if (is_minced(r)) continue;
    CAPTURE(r.name);
    CHECK(r.method != CureMethod::mixed_in);
    REQUIRE(r.stages.size() >= 3);
    CHECK(r.stages[0].kind == StageKind::cure);
    double cold_days = 0.0;
    double cold_loss = 0.0;
    bool left = false;
    for (const Stage& stage : r.stages) {
      if (stage.sealed) CHECK(stage.temperature.value <= 3.0);
      left = left || stage.temperature.value > 5.0;
      if (left) continue;
      cold_days += stage.days.value;
      if (stage.kind == StageKind::cold_dry) cold_loss = stage.until_loss.value_or(0.0);
    }
    CHECK(left);
    CHECK(cold_days >= 30.0);
    Composition centre = finished(scale(r, Grams(5000.0)).value(), cold_loss);
    centre.salt_g *= 0.9;
    CHECK(water_phase_salt(centre) >= 0.045);
    for (const StepKind kind :
         {StepKind::chill, StepKind::turn, StepKind::rest, StepKind::tie, StepKind::hang}) {
      CHECK(has_step(r, kind));
    }
    CHECK(has_step(r, StepKind::rinse) == (r.method != CureMethod::equilibrium));
    CHECK(has_step(r, StepKind::rub) == (r.method != CureMethod::brine));
  }
}

TEST_CASE("losses rise from stage to stage to the one wanted, and casings fit") {
  for (const Recipe& r : starters()) {
    CAPTURE(r.name);
    double before = 0.0;
    for (const Stage& stage : r.stages) {
      CHECK(stage.sealed != stage.humidity.has_value());
      if (!stage.until_loss) continue;
      CHECK(*stage.until_loss > before);
      before = *stage.until_loss;
    }
    CHECK(before == r.wanted_loss);
    if (r.casing.empty()) continue;
    const tables::Casing* casing = tables::find_casing(r.casing);
    REQUIRE(casing != nullptr);
    CHECK(r.casing_diameter.value >= casing->diameter_low.value - 1e-9);
    CHECK(r.casing_diameter.value <= casing->diameter_high.value + 1e-9);
  }
}
