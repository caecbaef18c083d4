// Hanging: what a recipe makes, or what a batch that was weighed out has come to.
#include "core/air/air.h"
#include "core/desk/batch_forms.h"

namespace saltrafter::desk {
namespace {

using Say = words::Id;

constexpr Pascal kSeaLevel{101325.0};  // dew point and deficit do not depend on it

// The form, of whichever of the two. `stops` stand against it; `hang` does it, with the reason given where there are
// stops.
struct HangForm {
  parts::Key here;
  Grams mix;
  bool refused = false;
  std::vector<safety::Finding> stops;
  std::function<Result<Done>(const std::string& reason)> hang;
};

void draw_form(Screen& s, const HangForm& form) {
  Session& session = s.session;
  plan::Hanging& draft = session.hang;
  const int pieces = plan::piece_count(form.mix, draft.casing);
  parts::lead(s.page, s.say(Say::hang_lead, {words::arg("mass", grams(s.l, form.mix)), words::count("n", pieces),
                                             words::arg("each", grams(s.l, Grams(form.mix.value / pieces)))}));
  if (const auto casing = number_entry(s, form.here / "casing", Say::casing, {"casing", NumberKind::length, "mm", 0.015, 0.200},
                                       draft.casing.value, 1, {"mm", "in"}, 1.0)) {
    draft.casing = Metres(*casing);
  }
  if (const auto t = number_entry(s, form.here / "temperature", Say::temperature,
                                  {"temperature", NumberKind::temperature, "°C", 0.0, 30.0}, draft.air.temperature.value, 1,
                                  {"°C", "°F"}, 0.5)) {
    draft.air.temperature = Celsius(*t);
  }
  if (const auto rh = number_entry(s, form.here / "humidity", Say::humidity, {"humidity", NumberKind::humidity, "%", 0.40, 0.98},
                                   draft.air.humidity.value, 1, {}, 1.0)) {
    draft.air.humidity = RelativeHumidity(*rh);
  }
  const auto air = air::moist_air(draft.air.temperature, draft.air.humidity, kSeaLevel, air::Over::water);
  if (air.ok()) {
    parts::reason(s.page, s.say(Say::air_says, {words::arg("dew", celsius(s.l, air.value().dew_point)),
                                                words::arg("pull", pascal(s.l, air.value().deficit))}));
  }
  parts::gap(s.page, 24.0);
  if (const std::optional<Date> day = parts::date_field(
          s.page, {form.here / "day", s.say(Say::day_of_hanging), draft.day, session.today(), true, {}})) {
    draft.day = *day;
  }
  std::optional<std::string> reason;
  if (!form.refused && !form.stops.empty()) {
    reason = draw_stops(s, form.here, form.stops, Say::stage_go_on);
  } else {
    parts::gap(s.page, 24.0);
    if (parts::act(s.page, {key("hang") / "do", s.say(Say::hang_in_chamber), parts::ActKind::main, !form.refused,
                            s.say(Say::refused_title)})) {
      reason = std::string();
    }
  }
  if (reason) {
    const Result<Done> hung = form.hang(*reason);
    if (!hung.ok()) session.tell_wrong(words::sentence(s.l, hung.error()));
  }
  draw_notice(s);
  draw_history(s);
}

// The gate before the stage that begins with the hanging, and before its air.
std::vector<safety::Finding> gate_of(const safety::Subject& subject, Celsius air) {
  const std::optional<std::size_t> stage = plan::hanging_stage(*subject.recipe, air);
  if (!stage) return safety::gate_to_air(subject, air, std::nullopt);
  return safety::gate_to_air(subject, air, subject.recipe->stages[*stage].id);
}

}  // namespace

void draw_hang(Screen& s) {
  Session& session = s.session;
  const auto recipe = open_recipe(s, Say::hang_title);
  if (recipe == nullptr) return;
  const Result<recipe::Sheet> sheet = recipe::scale(*recipe, session.meat(session.view.recipe), nullptr, session.hands());
  if (!sheet.ok()) {
    parts::trouble(s.page, s.say(Say::sheet_problem), words::sentence(s.l, sheet.error()), std::nullopt);
    return;
  }
  HangForm form{key("hang") / session.view.recipe, sheet.value().total, sheet.value().refused.has_value(), {}, {}};
  form.stops = gate_of(subject_of(session.ground(), *recipe, sheet.value()), session.hang.air.temperature);
  const std::vector<safety::Finding> stops = form.stops;
  form.hang = [&s, &session, stops](const std::string& reason) {
    return session.hang_recipe(session.view.recipe, [&s, &stops, &reason](plan::Batch& hung) {
      if (!reason.empty()) acknowledge(s, hung, stops, reason);
    });
  };
  draw_form(s, form);
}

void draw_hang_batch(Screen& s) {
  const auto open = open_batch(s, Say::hang_title);
  if (!open) return;
  Session& session = s.session;
  HangForm form{key("hang") / open->id, open->judged->sheet.total, open->judged->sheet.refused.has_value(), {}, {}};
  form.stops = gate_of(subject_of(session.ground(), open->batch->made_from, open->judged->sheet, open->judged->evidence), session.hang.air.temperature);
  const std::vector<safety::Finding> stops = form.stops;
  const Id id = open->id;
  form.hang = [&s, &session, stops, id](const std::string& reason) {
    return session.hang_batch(id, [&s, &stops, &reason](plan::Batch& hung) {
      if (!reason.empty()) acknowledge(s, hung, stops, reason);
    });
  };
  draw_form(s, form);
}

}  // namespace saltrafter::desk
