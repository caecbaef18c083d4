// The Bench: how a recipe is made. Its steps in the kitchen, its stages until it is done, and one of each.
#include <algorithm>
#include <array>
#include <cmath>

#include "core/desk/forms.h"

namespace saltrafter::desk {
namespace {

using Say = words::Id;
using recipe::Asked;
using recipe::StageKind;
using recipe::StepKind;
using recipe::Surface;

constexpr std::array<Named<StepKind>, 16> kSteps = {{{StepKind::chill, Say::step_chill},
                                                              {StepKind::cut, Say::step_cut},
                                                              {StepKind::mince, Say::step_mince},
                                                              {StepKind::add, Say::step_add},
                                                              {StepKind::rehydrate, Say::step_rehydrate},
                                                              {StepKind::mix, Say::step_mix},
                                                              {StepKind::rest, Say::step_rest},
                                                              {StepKind::stuff, Say::step_stuff},
                                                              {StepKind::prick, Say::step_prick},
                                                              {StepKind::tie, Say::step_tie},
                                                              {StepKind::rub, Say::step_rub},
                                                              {StepKind::turn, Say::step_turn},
                                                              {StepKind::rinse, Say::step_rinse},
                                                              {StepKind::ferment, Say::step_ferment},
                                                              {StepKind::hang, Say::step_hang},
                                                              {StepKind::other, Say::step_other}}};
constexpr std::array<Named<Asked>, 6> kAsked = {{{Asked::nothing, Say::asks_nothing},
                                                          {Asked::temperature, Say::asks_temperature},
                                                          {Asked::ph, Say::asks_ph},
                                                          {Asked::mass, Say::asks_mass},
                                                          {Asked::minutes, Say::asks_minutes},
                                                          {Asked::words, Say::asks_words}}};
constexpr std::array<Named<StageKind>, 6> kStages = {{{StageKind::cure, Say::stage_cure},
                                                               {StageKind::rest, Say::stage_rest},
                                                               {StageKind::ferment, Say::stage_ferment},
                                                               {StageKind::cold_dry, Say::stage_cold_dry},
                                                               {StageKind::dry, Say::stage_dry},
                                                               {StageKind::store, Say::stage_store}}};

constexpr std::array<Named<std::optional<Surface>>, 4> kSurfaces = {
    {{std::nullopt, Say::surface_as_before},
     {Surface::naked, Say::surface_naked, Say::surface_naked_what},
     {Surface::cased, Say::surface_cased},
     {Surface::larded, Say::surface_larded, Say::surface_larded_what}}};
constexpr std::array<Named<Surface>, 3> kSurfaceFacts = {{{Surface::naked, Say::stage_fact_naked},
                                                         {Surface::cased, Say::stage_fact_cased},
                                                         {Surface::larded, Say::stage_fact_larded}}};

bool takes_hours(StepKind kind) {
  return kind == StepKind::rest || kind == StepKind::chill || kind == StepKind::ferment ||
         kind == StepKind::rehydrate;
}

words::Text days_words(const Screen& s, Days days) {
  const double hours = days.value * 24.0;
  if (hours < 96.0) return s.say(Say::hours_n, {words::count("n", static_cast<int>(std::lround(hours)))});
  return s.say(Say::days_n, {words::count("n", static_cast<int>(std::lround(days.value)))});
}

}  // namespace

// What stands with a step: the plate, the time, the lines that come in, what it asks for.
words::Text step_fact(const Screen& s, const recipe::Recipe& recipe, const recipe::Step& step) {
  std::vector<words::Text> facts;
  for (const Id& id : step.lines) {
    if (const auto at = place_of(recipe.lines, id)) facts.push_back(words::verbatim(recipe.lines[*at].name));
  }
  if (step.value) {
    const bool whole = std::abs(*step.value - std::round(*step.value)) < 1e-9;
    if (step.kind == StepKind::mince || step.kind == StepKind::cut) {
      facts.push_back(s.say(Say::step_fact_plate,
                            {words::arg("value", words::measure(s.l, *step.value, whole ? 0 : 1, "mm"))}));
    } else {
      const bool hours = takes_hours(step.kind);
      facts.push_back(s.say(hours ? Say::step_fact_hours : Say::step_fact_minutes,
                            {words::arg("value", words::number(s.l, *step.value, whole ? 0 : 1))}));
    }
  }
  if (step.in_liquid) facts.push_back(s.say(Say::step_fact_liquid));
  if (step.most) facts.push_back(s.say(Say::step_fact_most, {words::arg("value", celsius(s.l, *step.most))}));
  if (step.asks != Asked::nothing) {
    facts.push_back(s.say(Say::step_fact_asks, {words::arg("what", s.say(name_of(kAsked, step.asks)))}));
  }
  return with_commas(facts);
}

words::Text step_name(const Screen& s, const recipe::Step& step) {
  const words::Text kind = s.say(name_of(kSteps, step.kind));
  if (step.words.empty()) return kind;
  if (step.kind == StepKind::other) return words::verbatim(step.words);
  return words::join({kind, words::verbatim(": "), words::verbatim(step.words)});
}

words::Text stage_name(const Screen& s, const recipe::Stage& stage) {
  return s.say(name_of(kStages, stage.kind));
}

words::Text stage_fact(const Screen& s, const recipe::Stage& stage) {
  const words::Arg days = words::arg("days", days_words(s, stage.days));
  const words::Arg temperature = words::arg("temperature", celsius(s.l, stage.temperature));
  std::vector<words::Text> facts = {
      stage.sealed ? s.say(Say::stage_fact_sealed, {days, temperature})
      : stage.humidity
          ? s.say(Say::stage_fact,
                  {days, temperature, words::arg("humidity", per_cent(s.l, stage.humidity->value, 0))})
          : s.say(Say::stage_fact_bare, {days, temperature})};
  if (stage.until_loss) {
    facts.push_back(s.say(Say::stage_fact_until, {words::arg("loss", per_cent(s.l, *stage.until_loss, 0))}));
  }
  if (stage.surface) facts.push_back(s.say(name_of(kSurfaceFacts, *stage.surface)));
  return with_commas(facts);
}

void draw_method(Screen& s) {
  Session& session = s.session;
  const auto recipe = open_recipe(s, Say::method_title);
  if (recipe == nullptr) return;
  draw_notice(s);
  if (recipe->steps.empty() && recipe->stages.empty()) {
    parts::lead(s.page, s.say(Say::method_none));
  } else {
    parts::lead(s.page,
                s.say(Say::method_lead, {words::count("n", static_cast<int>(recipe->steps.size())),
                                         words::count("m", static_cast<int>(recipe->stages.size()))}));
  }
  parts::second_heading(s.page, s.say(Say::method_steps));
  int number = 0;
  for (const recipe::Step& step : recipe->steps) {
    parts::Row row;
    row.key = key("method") / step.id;
    row.name = words::join({words::verbatim(std::to_string(++number) + ". "), step_name(s, step)});
    row.fact = step_fact(s, *recipe, step);
    if (parts::row(s.page, row)) session.open_leaf(BenchLeaf::step, step.id);
  }
  parts::gap(s.page, 16.0);
  if (parts::act(s.page,
                 {key("method") / "add_step", s.say(Say::add_step), parts::ActKind::other, true, {}})) {
    recipe::Recipe changed = *recipe;
    recipe::Step step;
    step.id = make_id(session.book.ports());
    changed.steps.push_back(step);
    if (session.change_recipe(session.view.recipe, changed)) session.open_leaf(BenchLeaf::step, step.id);
  }
  parts::gap(s.page, 36.0);
  parts::second_heading(s.page, s.say(Say::method_stages));
  const Result<recipe::Sheet> sheet = recipe::scale(*recipe, Grams(1000.0), nullptr, session.hands());
  std::vector<safety::Finding> findings;
  if (sheet.ok()) findings = session.findings(*recipe, sheet.value());
  number = 0;
  for (const recipe::Stage& stage : recipe->stages) {
    parts::Row row;
    row.key = key("method") / stage.id;
    row.name = words::join({words::verbatim(std::to_string(++number) + ". "), stage_name(s, stage)});
    row.fact = stage_fact(s, stage);
    if (parts::row(s.page, row)) session.open_leaf(BenchLeaf::stage, stage.id);
    draw_findings_about(s, findings, stage.id);
  }
  parts::gap(s.page, 16.0);
  if (parts::act(s.page,
                 {key("method") / "add_stage", s.say(Say::add_stage), parts::ActKind::other, true, {}})) {
    recipe::Recipe changed = *recipe;
    recipe::Stage stage;
    if (!changed.stages.empty()) stage = changed.stages.back();
    stage.surface.reset();
    stage.id = make_id(session.book.ports());
    changed.stages.push_back(stage);
    if (session.change_recipe(session.view.recipe, changed)) session.open_leaf(BenchLeaf::stage, stage.id);
  }
  draw_history(s);
}

namespace {

// Up, down and out, for a member of one of the recipe's lists.
template <class Thing>
void draw_order(Screen& s, parts::Key here, recipe::Recipe recipe, std::vector<Thing> recipe::Recipe::*list,
                Say remove) {
  std::vector<Thing>& things = recipe.*list;
  const auto at = place_of(things, s.session.view.item);
  if (!at) return;
  parts::gap(s.page, 36.0);
  const std::optional<int> act = parts::acts(
      s.page, {{here / "up", s.say(Say::line_up), parts::ActKind::other, *at > 0, {}},
               {here / "down", s.say(Say::line_down), parts::ActKind::other, *at + 1 < things.size(), {}},
               {here / "remove", s.say(remove), parts::ActKind::bare, true, {}}});
  if (!act) return;
  if (act == 0) std::swap(things[*at], things[*at - 1]);
  if (act == 1) std::swap(things[*at], things[*at + 1]);
  if (act == 2) things.erase(things.begin() + static_cast<std::ptrdiff_t>(*at));
  s.session.change_recipe(s.session.view.recipe, recipe);
  if (act == 2) s.session.open_leaf(BenchLeaf::method);
}

}  // namespace

void draw_step(Screen& s) {
  Session& session = s.session;
  const auto found = open_recipe(s, Say::step_title, BenchLeaf::method);
  if (found == nullptr) return;
  recipe::Recipe recipe = *found;
  const auto at = place_of(recipe.steps, session.view.item);
  if (!at) {
    session.open_leaf(BenchLeaf::method);
    return;
  }
  recipe::Step& step = recipe.steps[*at];
  const parts::Key here = key("step") / session.view.recipe / step.id;  // as lines have it
  bool changed = false;
  if (const auto kind = choose(s, here / "kind", Say::step_kind, kSteps, step.kind)) {
    step.kind = *kind;
    step.value.reset();
    changed = true;
  }
  if (const auto text = words_entry(s, here / "words", Say::step_words, step.words)) {
    step.words = *text;
    changed = true;
  }
  const bool plate = step.kind == StepKind::mince || step.kind == StepKind::cut;
  const bool hours = takes_hours(step.kind);
  if (plate) {
    std::optional<double> shown;
    if (step.value) shown = *step.value / 1000.0;
    if (const auto mm =
            number_entry(s, here / "plate", Say::step_plate, {"plate", NumberKind::length, "mm", 0.001, 0.1},
                         shown, 1, {"mm", "in"})) {
      step.value = *mm * 1000.0;
      changed = true;
    }
  } else if (const auto time = number_entry(s, here / (hours ? "hours" : "minutes"),
                                            hours ? Say::step_hours : Say::step_minutes,
                                            {"time", NumberKind::plain, "", 0.0, 1000.0}, step.value, 1)) {
    step.value = *time;
    changed = true;
  }
  std::optional<double> most;
  if (step.most) most = step.most->value;
  if (const auto t =
          number_entry(s, here / "most", Say::step_most, {"most", NumberKind::temperature, "°C", -5.0, 45.0},
                       most, 1, {"°C", "°F"})) {
    step.most = Celsius(*t);
    changed = true;
  }
  std::vector<parts::Chip> chips;
  for (const recipe::Line& line : recipe.lines) {
    const bool in = std::find(step.lines.begin(), step.lines.end(), line.id) != step.lines.end();
    chips.push_back({here / "in" / line.id, words::verbatim(line.name), in});
  }
  parts::gap(s.page, 24.0);
  if (const auto pressed = parts::chips(s.page, s.say(Say::step_lines), chips)) {
    const Id& id = recipe.lines[static_cast<std::size_t>(*pressed)].id;
    if (std::erase(step.lines, id) == 0) step.lines.push_back(id);
    changed = true;
  }
  parts::gap(s.page, 16.0);
  if (parts::tick_box(s.page, here / "liquid", s.say(Say::step_liquid), step.in_liquid)) {
    step.in_liquid = !step.in_liquid;
    changed = true;
  }
  const Result<recipe::Sheet> sheet = recipe::scale(recipe, Grams(1000.0), nullptr, session.hands());
  if (sheet.ok()) draw_findings_about(s, session.findings(recipe, sheet.value()), step.id);
  if (const auto asks = choose(s, here / "asks", Say::step_asks, kAsked, step.asks)) {
    step.asks = *asks;
    changed = true;
  }
  if (changed) session.change_recipe(session.view.recipe, recipe);
  draw_order(s, here, recipe, &recipe::Recipe::steps, Say::step_remove);
  draw_history(s);
}

void draw_stage(Screen& s) {
  Session& session = s.session;
  const auto found = open_recipe(s, Say::stage_title, BenchLeaf::method);
  if (found == nullptr) return;
  recipe::Recipe recipe = *found;
  const auto at = place_of(recipe.stages, session.view.item);
  if (!at) {
    session.open_leaf(BenchLeaf::method);
    return;
  }
  recipe::Stage& stage = recipe.stages[*at];
  const parts::Key here = key("stage") / session.view.recipe / stage.id;  // as lines have it
  bool changed = false;
  if (const auto kind = choose(s, here / "kind", Say::stage_kind, kStages, stage.kind)) {
    stage.kind = *kind;
    changed = true;
  }
  if (const auto t = number_entry(s, here / "temperature", Say::temperature,
                                  {"temperature", NumberKind::temperature, "°C", -5.0, 45.0},
                                  stage.temperature.value, 1, {"°C", "°F"}, 0.5)) {
    stage.temperature = Celsius(*t);
    changed = true;
  }
  if (const auto days = number_entry(s, here / "days", Say::stage_days,
                                     {"days", NumberKind::days, "d", 0.02, 1000.0}, stage.days.value, 2)) {
    stage.days = Days(*days);
    changed = true;
  }
  parts::gap(s.page, 16.0);
  if (parts::tick_box(s.page, here / "sealed", s.say(Say::stage_sealed), stage.sealed)) {
    stage.sealed = !stage.sealed;
    if (stage.sealed) {
      stage.humidity.reset();
      stage.surface.reset();
    }
    changed = true;
  }
  if (!stage.sealed) {
    std::optional<double> humidity;
    if (stage.humidity) humidity = stage.humidity->value;
    if (const auto rh = number_entry(s, here / "humidity", Say::humidity,
                                     {"humidity", NumberKind::humidity, "%", 0.30, 0.99}, humidity, 0)) {
      stage.humidity = RelativeHumidity(*rh);
      changed = true;
    }
    if (const auto until =
            number_or_nothing(s, here / "until", Say::stage_until, Say::stage_until_what,
                              {"loss", NumberKind::share, "%", 0.0, 0.9}, stage.until_loss, 1)) {
      stage.until_loss = *until;
      changed = true;
    }
    if (const auto surface = choose(s, here / "surface", Say::stage_surface, kSurfaces, stage.surface)) {
      stage.surface = *surface;
      changed = true;
    }
  }
  const Result<recipe::Sheet> sheet = recipe::scale(recipe, Grams(1000.0), nullptr, session.hands());
  if (sheet.ok()) draw_findings_about(s, session.findings(recipe, sheet.value()), stage.id);
  if (changed) session.change_recipe(session.view.recipe, recipe);
  draw_order(s, here, recipe, &recipe::Recipe::stages, Say::stage_remove);
  draw_history(s);
}

}  // namespace saltrafter::desk
