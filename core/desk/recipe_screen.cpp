// The Bench: the list of recipes, one recipe scaled to the meat at hand, a friend's recipe looked at, and hanging.
#include <algorithm>
#include <array>

#include "core/air/air.h"
#include "core/desk/screens.h"

namespace saltrafter::desk {
namespace {

using Say = words::Id;

// The lines of the nitrite's working, in words.
constexpr std::array<std::pair<std::string_view, Say>, 6> kWorkingWords = {
    {{"nitrite.meat", Say::working_meat},
     {"nitrite.mix", Say::working_mix},
     {"nitrite.strength", Say::working_strength},
     {"nitrite.ingoing", Say::working_ingoing},
     {"nitrite.ion_per_salt", Say::working_ion_per_salt},
     {"nitrite.ingoing_ion", Say::working_ingoing_ion}}};

constexpr NumberKind kMass = NumberKind::mass;
constexpr Pascal kSeaLevel{101325.0};  // dew point and deficit do not depend on it

words::Text curing_name(const Screen& s, const recipe::Recipe& recipe) {
  return s.say(Say::mix_strength, {words::arg("name", recipe.mix.name),
                                   words::arg("strength", per_cent(s.l, recipe.mix.nitrite, 2))});
}

// The finding under the curing line: the nearest limit that decides.
void tell_dose(const Screen& s, const std::vector<safety::Finding>& findings, const recipe::Sheet& sheet,
               parts::RecipeLine& line) {
  const safety::Finding* worst = nullptr;
  for (const safety::Finding& finding : findings) {
    if (finding.rule != safety::Rule::nitrite_ingoing || !finding.decides || !finding.limit) continue;
    if (worst == nullptr || finding.margin.value_or(0.0) < worst->margin.value_or(0.0)) worst = &finding;
  }
  if (worst == nullptr) return;
  line.level = static_cast<parts::Level>(worst->level);
  line.finding = s.say(Say::dose_finding, {words::arg("dose", mg_per_kg(s.l, sheet.nitrite)),
                                           words::arg("level", parts::level_word(s.l, line.level)),
                                           words::arg("limit", amount(s.l, worst->limit_also ? *worst->limit_also : *worst->limit)),
                                           words::arg("whose", whose(s.l, *worst))});
}

void draw_lines(Screen& s, const recipe::Recipe& recipe, const recipe::Sheet& sheet,
                const std::vector<safety::Finding>& findings) {
  for (std::size_t i = 0; i < sheet.lines.size(); ++i) {
    const recipe::SheetLine& from = sheet.lines[i];
    parts::RecipeLine line;
    line.name = words::verbatim(from.name);
    line.share = share_of_meat(s.l, from.share_of_meat);
    line.grams = grams(s.l, from.weighed);
    if (from.kind == recipe::LineKind::cure) {
      line.name = curing_name(s, recipe);
      line.note = s.say(Say::weigh_nitrite);
      tell_dose(s, findings, sheet, line);
    } else if (from.kind == recipe::LineKind::salt && sheet.salt_from_mix.value > 0.0) {
      line.note = s.say(Say::mix_brings, {words::arg("mass", grams(s.l, sheet.salt_from_mix))});
    } else if (!from.parts_known && from.kind == recipe::LineKind::additive) {
      line.note = s.say(Say::own_material);
    }
    parts::recipe_line(s.page, line);
  }
}

void draw_working(Screen& s, const recipe::Recipe& recipe, Grams meat) {
  recipe::Working lines;
  if (!recipe::scale(recipe, meat, &lines).ok()) return;
  parts::WorkingView view;
  view.key = key("recipe") / "working";
  view.name = s.say(Say::how_worked_out);
  for (const recipe::WorkingLine& line : lines) {
    for (const auto& [id, say] : kWorkingWords) {
      if (line.id != id) continue;
      const words::Text value = say == Say::working_strength ? per_cent(s.l, line.value, 2)
                                : line.unit == "1"
                                    ? words::number(s.l, line.value, 4)
                                    : words::measure(s.l, line.value, line.value < 1000.0 ? 1 : 0, line.unit);
      view.lines.push_back(s.say(say, {words::arg("value", value)}));
    }
  }
  parts::working(s.page, view);
}

// The sheet with its findings; both for the maker's own recipe and for a friend's.
struct Worked {
  parts::Key key;  // of what is looked at: what is typed for one recipe never stands in another's field
  const recipe::Recipe& recipe;
  Grams meat;
  std::function<void(Grams)> set_meat;
  std::function<void(const recipe::Sheet&)> acts;
};

void draw_worked(Screen& s, const Worked& worked) {
  parts::Field meat;
  meat.key = worked.key / "meat";
  meat.label = s.say(Say::meat_on_tray);
  meat.value = typed_number(s.l, worked.meat.value, 1);
  meat.unit = words::verbatim("g");
  const NumberRule rule{"meat", kMass, "g", 1.0, recipe::kMostMeat.value};
  meat.judge = judge_number(s.l, rule);
  meat.units = {"g", "kg", "oz", "lb"};
  meat.may_stay_empty = false;
  parts::gap(s.page, 16.0);
  const parts::Typed typed = parts::number_field(s.page, meat);
  if (typed.committed) {
    const Result<TypedNumber> number = parse_number(*typed.committed, rule);
    if (number.ok()) worked.set_meat(Grams(number.value().value));
  }
  parts::gap(s.page, 16.0);

  const Result<recipe::Sheet> sheet = recipe::scale(worked.recipe, worked.meat);
  if (!sheet.ok()) {
    parts::trouble(s.page, s.say(Say::sheet_problem), words::sentence(s.l, sheet.error()), std::nullopt);
    draw_notice(s);
    return;
  }
  const std::vector<safety::Finding> findings =
      safety::findings(worked.recipe, sheet.value(), safety::Chosen::not_chosen, s.session.today());
  if (sheet.value().refused) {
    parts::trouble(s.page, s.say(Say::refused_title),
                   s.say(Say::refused_what, {words::arg("found", mg_per_kg(s.l, sheet.value().nitrite_wanted)),
                                             words::arg("limit", mg_per_kg(s.l, recipe::kNitriteCeiling))}),
                   std::nullopt);
  }
  draw_lines(s, worked.recipe, sheet.value(), findings);
  if (sheet.value().too_salty) {
    const Error& salty = *sheet.value().too_salty;
    parts::trouble(s.page,
                   s.say(Say::too_salty, {words::arg("brings", words::measure(s.l, salty.low.value_or(0.0), 1, "g")),
                                          words::arg("wanted", words::verbatim(salty.found + " g"))}),
                   {}, std::nullopt);
  }
  parts::gap(s.page, 16.0);
  worked.acts(sheet.value());
  draw_notice(s);
  draw_working(s, worked.recipe, worked.meat);
  draw_history(s);

  s.page.second_column();
  draw_composition(s, sheet.value(), worked.recipe.wanted_loss);
  draw_findings(s, findings);
  parts::gap(s.page, 16.0);
  parts::reason(s.page, s.say(Say::cautions_raw));
}

}  // namespace

void draw_recipes(Screen& s) {
  Session& session = s.session;
  std::vector<Id> ids = session.book.ids(book::Kind::recipe);
  std::stable_sort(ids.begin(), ids.end(), [&session](const Id& a, const Id& b) {
    const auto first = session.book.recipe(a);
    const auto second = session.book.recipe(b);
    return words::folded(first ? first->name : std::string()) < words::folded(second ? second->name : std::string());
  });
  parts::heading(s.page, s.say(Say::recipes));
  draw_notice(s);
  if (ids.empty()) {
    if (parts::empty_state(s.page, s.say(Say::no_recipe), s.say(Say::no_recipe_what),
                           parts::Act{key("recipes") / "first", s.say(Say::bring_first_recipes),
                                      parts::ActKind::other, true, {}})) {
      session.bring_first_recipes();
    }
  } else {
    parts::lead(s.page, s.say(Say::recipes_lead, {words::count("n", static_cast<int>(ids.size()))}));
    parts::List list{key("recipes"), {}};
    std::vector<Id> listed;
    for (const Id& id : ids) {
      const auto recipe = session.book.recipe(id);
      if (!recipe) continue;
      Ppm dose;
      for (const recipe::Line& line : recipe->lines) {
        if (line.kind == recipe::LineKind::cure) dose = Ppm(line.amount);
      }
      parts::Row row;
      row.key = key("recipes") / id;
      row.name = words::verbatim(recipe->name);
      row.fact = s.say(Say::recipe_fact, {words::arg("diameter", millimetres(s.l, recipe->casing_diameter)),
                                          words::arg("loss", per_cent(s.l, recipe->wanted_loss, 0)),
                                          words::arg("dose", mg_per_kg(s.l, dose))});
      list.rows.push_back(std::move(row));
      listed.push_back(id);
    }
    if (const auto pressed = parts::list(s.page, list)) session.view.recipe = listed[static_cast<std::size_t>(*pressed)];
  }
  parts::gap(s.page, 24.0);
  if (parts::act(s.page, {key("recipes") / "open", s.say(Say::open_recipe_file), parts::ActKind::other, true, {}})) {
    session.ask_for_file();
  }
  draw_history(s);
}

void draw_recipe(Screen& s) {
  Session& session = s.session;
  const Id id = session.view.recipe;
  const auto recipe = session.book.recipe(id);
  if (!recipe) {
    session.view.recipe = {};
    return;
  }
  const auto record = session.book.find(id);
  if (parts::way_back(s.page, {key("recipe") / "back", s.say(Say::all_recipes),
                               parts::ActKind::bare, true, {}})) {
    session.view.recipe = {};
  }
  parts::over_heading(s.page, s.say(record && record->read_only() ? Say::looking_only : Say::recipe_label));
  parts::heading(s.page, words::verbatim(recipe->name));
  draw_worked(s, {key("recipe") / id, *recipe, session.meat(id), [&session, id](Grams meat) { session.set_meat(id, meat); },
                  [&s, &session, &recipe](const recipe::Sheet& sheet) {
                    const bool allowed = !sheet.refused;
                    const words::Text why = s.say(Say::refused_title);
                    const std::optional<int> pressed = parts::acts(
                        s.page, {{key("recipe") / "hang", s.say(Say::hang_it), parts::ActKind::main, allowed, why},
                                 {key("recipe") / "send", s.say(Say::send_to_friend), parts::ActKind::other, allowed, why}});
                    if (pressed == 0) session.begin_hanging(*recipe);
                    if (pressed == 1) session.send_recipe(*recipe);
                  }});
}

void draw_offer(Screen& s) {
  Session& session = s.session;
  const recipe::Recipe recipe = session.offer->file.recipe;
  const bool read_only = session.offer->file.read_only;
  parts::over_heading(s.page, s.say(Say::offer_label));
  parts::heading(s.page, words::verbatim(recipe.name));
  parts::lead(s.page, s.say(read_only ? Say::looking_only : Say::offer_lead));
  draw_worked(s, {key("offer") / session.offer->file_name, recipe, session.offer->meat, [&session](Grams meat) { session.offer->meat = meat; },
                  [&s, &session, read_only](const recipe::Sheet&) {
                    const std::optional<int> pressed = parts::acts(
                        s.page, {{key("offer") / "keep", s.say(Say::keep_recipe), parts::ActKind::main, !read_only,
                                  s.say(Say::looking_only)},
                                 {key("offer") / "leave", s.say(Say::leave_recipe), parts::ActKind::other, true, {}}});
                    if (pressed == 0) session.keep_offer();
                    if (pressed == 1) session.leave_offer();
                  }});
}

void draw_hang(Screen& s) {
  Session& session = s.session;
  const auto recipe = session.book.recipe(session.view.recipe);
  if (!recipe) {
    session.view = {};
    return;
  }
  if (parts::way_back(s.page, {key("hang") / "back", s.say(Say::back_to, {words::arg("where", recipe->name)}),
                               parts::ActKind::bare, true, {}})) {
    session.view.hanging = false;
  }
  parts::heading(s.page, s.say(Say::hang_title, {words::arg("name", recipe->name)}));
  const Result<recipe::Sheet> sheet = recipe::scale(*recipe, session.meat(session.view.recipe));
  if (!sheet.ok()) {
    parts::trouble(s.page, s.say(Say::sheet_problem), words::sentence(s.l, sheet.error()), std::nullopt);
    return;
  }
  HangDraft& draft = session.hang;
  const int pieces = plan::piece_count(sheet.value().total, draft.casing);
  parts::lead(s.page, s.say(Say::hang_lead, {words::arg("mass", grams(s.l, sheet.value().total)),
                                             words::count("n", pieces),
                                             words::arg("each", grams(s.l, Grams(sheet.value().total.value / pieces)))}));

  const parts::Key here = key("hang") / session.view.recipe;
  const auto number = [&s, here](std::string_view name, Say label, NumberRule rule, double shown, std::string_view unit,
                           int decimals, double step, std::vector<std::string> units, auto&& take) {
    parts::Field field;
    field.key = here / name;
    field.label = s.say(label);
    field.value = typed_number(s.l, shown, decimals);
    field.unit = words::verbatim(unit);
    field.judge = judge_number(s.l, rule);
    field.step = step;
    field.units = std::move(units);
    field.may_stay_empty = false;
    parts::gap(s.page, 24.0);
    const parts::Typed typed = parts::number_field(s.page, field);
    if (!typed.committed) return;
    const Result<TypedNumber> value = parse_number(*typed.committed, rule);
    if (value.ok()) take(value.value().value);
  };
  number("casing", Say::casing, {"casing", NumberKind::length, "mm", 0.015, 0.200}, draft.casing.value * 1000.0, "mm",
         1, 1.0, {"mm", "in"}, [&draft](double value) { draft.casing = Metres(value); });
  number("temperature", Say::temperature, {"temperature", NumberKind::temperature, "°C", 0.0, 30.0},
         draft.air.temperature.value, "°C", 1, 0.5, {"°C", "°F"},
         [&draft](double value) { draft.air.temperature = Celsius(value); });
  number("humidity", Say::humidity, {"humidity", NumberKind::humidity, "%", 0.40, 0.98},
         draft.air.humidity.value * 100.0, "% RH", 1, 1.0, {},
         [&draft](double value) { draft.air.humidity = RelativeHumidity(value); });
  const auto air = air::moist_air(draft.air.temperature, draft.air.humidity, kSeaLevel, air::Over::water);
  if (air.ok()) {
    parts::reason(s.page, s.say(Say::air_says, {words::arg("dew", celsius(s.l, air.value().dew_point)),
                                                words::arg("pull", pascal(s.l, air.value().deficit))}));
  }
  parts::gap(s.page, 24.0);
  if (const std::optional<Date> day = parts::date_field(
          s.page, {here / "day", s.say(Say::day_of_hanging), draft.day, session.today(), true, {}})) {
    draft.day = *day;
  }
  parts::gap(s.page, 24.0);
  if (parts::act(s.page, {key("hang") / "do", s.say(Say::hang_in_chamber), parts::ActKind::main,
                          !sheet.value().refused, s.say(Say::refused_title)})) {
    const Result<Done> hung = session.hang_recipe(session.view.recipe);
    if (!hung.ok()) session.tell_wrong(words::sentence(s.l, hung.error()));
  }
  draw_notice(s);
  draw_history(s);
}

}  // namespace saltrafter::desk
