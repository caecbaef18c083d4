#include "core/recipe/starters.h"

#include <string>
#include <utility>

#include "core/recipe/starter_rows.h"

namespace saltrafter::recipe {
namespace {

CuringMix usual_mix() { return CuringMix{"Cure 1", 0.0625, 0.0}; }

// What the kitchen keeps to; common practice (choices).
constexpr Celsius kChilled{1.0};
constexpr Celsius kMostMinced{5.0};
constexpr Celsius kMostMixed{7.0};
constexpr Celsius kMostPickle{3.0};
constexpr double kRehydrateHours = 0.5;
constexpr double kRinsedRestHours = 12.0;

// The method of one recipe, step by step, tied to the lines that it already has.
class Method {
 public:
  Method(const Ports& ports, Recipe& recipe) : ports_(ports), recipe_(recipe) {}

  void minced(double plate_mm, double minutes) {
    add(StepKind::chill, lines(LineKind::meat)).most = kChilled;
    last().asks = Asked::temperature;
    add(StepKind::cut);
    add(StepKind::mince).value = plate_mm;
    last().most = kMostMinced;
    last().asks = Asked::temperature;
    // In water of its own, and never with salt or cure: both harm it.
    add(StepKind::rehydrate, lines(LineKind::culture)).value = kRehydrateHours;
    last().in_liquid = true;
    add(StepKind::add, salt_and_cure());
    add(StepKind::add, dry_additives());
    add(StepKind::add, lines(LineKind::culture));
    // Wine is sour: last, when the cure is spread in the meat.
    if (!wines().empty()) add(StepKind::add, wines());
    add(StepKind::mix).value = minutes;
    last().most = kMostMixed;
    last().asks = Asked::temperature;
    add(StepKind::stuff);
    add(StepKind::prick);
    add(StepKind::tie);
    add(StepKind::rest);
    in_stage(StageKind::ferment, StepKind::ferment, Asked::ph);
    in_stage(StageKind::dry, StepKind::hang, Asked::mass);
  }

  void whole_muscle() {
    add(StepKind::chill, lines(LineKind::meat)).most = kChilled;
    last().asks = Asked::temperature;
    add(StepKind::cut);
    if (recipe_.method == CureMethod::brine) {
      add(StepKind::add, salt_and_cure()).in_liquid = true;
      add(StepKind::add, dry_additives()).in_liquid = true;
      add(StepKind::chill).most = kMostPickle;
      last().asks = Asked::temperature;
    } else {
      add(StepKind::rub, salt_and_cure());
      add(StepKind::rub, dry_additives());
    }
    in_stage(StageKind::cure, StepKind::turn, Asked::nothing);
    // A bag leaves nothing to wash off; a box and a brine do.
    const bool bag = recipe_.method == CureMethod::equilibrium;
    const StageKind out_of_salt =
        recipe_.method == CureMethod::salt_box ? StageKind::rest : StageKind::cold_dry;
    if (!bag) in_stage(out_of_salt, StepKind::rinse, Asked::nothing);
    in_stage(StageKind::cold_dry, StepKind::rest, Asked::nothing);
    last().value = kRinsedRestHours;
    if (!recipe_.casing.empty()) in_stage(StageKind::cold_dry, StepKind::stuff, Asked::nothing);
    in_stage(StageKind::cold_dry, StepKind::tie, Asked::nothing);
    in_stage(StageKind::cold_dry, StepKind::hang, Asked::mass);
  }

 private:
  using Ids = std::vector<Id>;

  // In the kitchen, before the first stage.
  Step& add(StepKind kind, Ids with = {}) {
    Step step;
    step.id = make_id(ports_);
    step.kind = kind;
    step.stage = recipe_.stages.front().kind;
    step.lines = std::move(with);
    recipe_.steps.push_back(std::move(step));
    return last();
  }
  void in_stage(StageKind stage, StepKind kind, Asked asks) {
    Step& step = add(kind);
    step.stage = stage;
    step.before_stage = false;
    step.asks = asks;
  }
  Step& last() { return recipe_.steps.back(); }

  Ids lines(LineKind kind) const {
    Ids ids;
    for (const Line& line : recipe_.lines) {
      if (line.kind == kind) ids.push_back(line.id);
    }
    return ids;
  }
  Ids salt_and_cure() const {
    Ids ids = lines(LineKind::salt);
    for (const Id& id : lines(LineKind::cure)) ids.push_back(id);
    return ids;
  }
  static bool is_wine(const Line& line) { return line.material.find("wine") != std::string::npos; }
  Ids additives(bool wine) const {
    Ids ids;
    for (const Line& line : recipe_.lines) {
      if (line.kind == LineKind::additive && is_wine(line) == wine) ids.push_back(line.id);
    }
    return ids;
  }
  Ids dry_additives() const { return additives(false); }
  Ids wines() const { return additives(true); }

  const Ports& ports_;
  Recipe& recipe_;
};

Line made_line(const Ports& ports, const StarterLine& row) {
  Line line;
  line.id = make_id(ports);
  line.kind = row.kind;
  line.name = row.name;
  line.material = row.material;
  line.basis = row.kind == LineKind::meat ? Basis::percent_of_meat : Basis::g_per_kg;
  line.amount = row.amount;
  return line;
}

Stage made_stage(const Ports& ports, const StarterStage& row) {
  Stage stage;
  stage.id = make_id(ports);
  stage.kind = row.kind;
  stage.temperature = Celsius(row.celsius);
  stage.sealed = !(row.humidity > 0.0);
  if (!stage.sealed) stage.humidity = RelativeHumidity(row.humidity);
  stage.days = Days(row.days);
  if (row.until_loss > 0.0) stage.until_loss = row.until_loss;
  return stage;
}

Recipe made_recipe(const Ports& ports, const StarterRow& row) {
  Recipe recipe;
  recipe.name = row.name;
  recipe.product_class = row.product_class;
  recipe.method = row.method;
  recipe.mix = usual_mix();
  recipe.casing = row.casing;
  recipe.form = row.form;
  recipe.casing_diameter = Metres(row.diameter_mm / 1000.0);
  recipe.piece_length = Metres(row.length_mm / 1000.0);
  recipe.skin_on = row.skin_on;
  recipe.wanted_loss = row.wanted_loss;
  if (row.wanted_ph > 0.0) recipe.wanted_ph = row.wanted_ph;
  if (row.brine_g_per_kg > 0.0) {
    recipe.brine = Brine{};
    recipe.brine->g_per_kg = row.brine_g_per_kg;
    recipe.brine->days = Days(row.brine_days);
  }
  for (const StarterLine& line : row.lines) recipe.lines.push_back(made_line(ports, line));
  for (const StarterStage& stage : row.stages) recipe.stages.push_back(made_stage(ports, stage));
  Method method(ports, recipe);
  if (row.plate_mm > 0.0) {
    method.minced(row.plate_mm, row.mix_minutes);
  } else {
    method.whole_muscle();
  }
  return recipe;
}

}  // namespace

Recipe new_recipe(const Ports& ports) {
  Recipe recipe;
  recipe.mix = usual_mix();
  for (const StarterLine& line : {StarterLine{LineKind::meat, "Pork shoulder", "pork_shoulder", 1.0},
                                  StarterLine{LineKind::salt, "Salt", "", 26.0},
                                  StarterLine{LineKind::cure, "Cure 1", "", kStarterNitritePpm}}) {
    recipe.lines.push_back(made_line(ports, line));
  }
  return recipe;
}

std::vector<Recipe> starter_recipes(const Ports& ports) {
  std::vector<Recipe> recipes;
  for (const StarterRow& row : minced_starters()) recipes.push_back(made_recipe(ports, row));
  for (const StarterRow& row : muscle_starters()) recipes.push_back(made_recipe(ports, row));
  return recipes;
}

}  // namespace saltrafter::recipe
