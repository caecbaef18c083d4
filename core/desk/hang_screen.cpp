// Hanging: what a recipe makes, or what a batch that was weighed out has come to.
#include "core/air/air.h"
#include "core/desk/batch_forms.h"
#include "core/desk/chamber_view.h"

namespace saltrafter::desk {
namespace {

using Say = words::Id;

constexpr Pascal kSeaLevel{101325.0};  // dew point and deficit do not depend on it

// The form, of whichever of the two. `stops` stand against it; `hang` does it, and `finish` adds the reason.
struct HangForm {
  parts::Key here;
  HangDraft& draft;
  const safety::Subject& subject;
  Grams mix;
  bool refused = false;
  plan::Batch batch;  // before it hangs
  std::function<Result<Done>(const std::function<void(plan::Batch&)>& finish)> hang;
};

// The gate before the stage that begins with the hanging, and before its air.
std::vector<safety::Finding> gate_of(const safety::Subject& subject, Celsius air) {
  const std::optional<std::size_t> stage = plan::hanging_stage(*subject.recipe, air);
  if (!stage) return safety::gate_to_air(subject, air, std::nullopt);
  return safety::gate_to_air(subject, air, subject.recipe->stages[*stage].id);
}

// With ids that are none, at noon: the same each time it is asked for.
plan::Batch as_it_would_hang(const Screen& s, const HangForm& form) {
  const plan::Hanging hanging = s.session.hanging(form.draft, *form.subject.recipe);
  Ports ports = s.session.book.ports();
  ports.random_bits = [] { return std::uint64_t{0}; };
  ports.now_utc_ms = [noon_ms = instant_of(ports, hanging.day, 720)] { return noon_ms; };
  plan::Batch batch = form.batch;
  plan::hang(batch, ports, form.mix, hanging);
  return batch;
}

void draw_form(Screen& s, const HangForm& form) {
  Session& session = s.session;
  HangDraft& draft = form.draft;
  const plan::Hanging as_it_stands = session.hanging(draft, *form.subject.recipe);
  const std::vector<safety::Finding> stops = gate_of(form.subject, as_it_stands.air.temperature);
  if (form.batch.pieces.empty()) {
    const int pieces = plan::piece_count(form.mix, as_it_stands.casing);
    parts::lead(s.page,
                s.say(Say::hang_lead, {words::arg("mass", grams(s.l, form.mix)), words::count("n", pieces),
                                       words::arg("each", grams(s.l, Grams(form.mix.value / pieces)))}));
  } else {
    Grams all;
    for (const plan::Piece& piece : as_it_would_hang(s, form).pieces) all = all + piece.hung;
    parts::lead(s.page, s.say(Say::hang_pieces, {words::count("n", static_cast<int>(form.batch.pieces.size())),
                                                 words::arg("mass", grams(s.l, all))}));
  }
  if (const auto casing = number_entry(s, form.here / "casing", Say::casing,
                                       {"casing", NumberKind::length, "mm", 0.015, 0.200},
                                       as_it_stands.casing.value, 1, {"mm", "in"}, 1.0)) {
    draft.casing = Metres(*casing);
  }
  if (const auto t = number_entry(s, form.here / "temperature", Say::temperature,
                                  {"temperature", NumberKind::temperature, "°C", 0.0, 30.0},
                                  as_it_stands.air.temperature.value, 1, {"°C", "°F"}, 0.5)) {
    draft.temperature = Celsius(*t);
  }
  if (const auto rh = number_entry(s, form.here / "humidity", Say::humidity,
                                   {"humidity", NumberKind::humidity, "%", 0.40, 0.98},
                                   as_it_stands.air.humidity.value, 1, {}, 1.0)) {
    draft.humidity = RelativeHumidity(*rh);
  }
  const plan::Air in = session.hanging(draft, *form.subject.recipe).air;
  const auto air = air::moist_air(in.temperature, in.humidity, kSeaLevel, air::Over::water);
  if (air.ok()) {
    parts::reason(s.page, s.say(Say::air_says, {words::arg("dew", celsius(s.l, air.value().dew_point)),
                                                words::arg("pull", pascal(s.l, air.value().deficit))}));
  }
  parts::gap(s.page, 24.0);
  if (const std::optional<Date> day = parts::date_field(
          s.page,
          {form.here / "day", s.say(Say::day_of_hanging), as_it_stands.day, session.today(), true, {}})) {
    draft.day = *day;
  }
  if (!form.refused) draw_beside(s, form.here, as_it_would_hang(s, form), in);
  bool pressed = false;
  if (!form.refused && !stops.empty()) {
    pressed = draw_stops(s, form.here, stops, Say::stage_go_on, draft.reason);
  } else {
    parts::gap(s.page, 24.0);
    pressed = parts::act(s.page, {form.here / "do", s.say(Say::hang_in_chamber), parts::ActKind::main,
                                  !form.refused, s.say(Say::refused_title)});
  }
  if (pressed) {
    const std::string reason = draft.reason;  // the draft ends with the hanging
    const Result<Done> hung = form.hang([&](plan::Batch& batch) { acknowledge(s, batch, stops, reason); });
    if (!hung.ok()) session.tell_wrong(words::sentence(s.l, hung.error()));
  }
  draw_notice(s);
  draw_history(s);
}

}  // namespace

void draw_hang(Screen& s) {
  Session& session = s.session;
  const auto recipe = open_recipe(s, Say::hang_title);
  if (recipe == nullptr) return;
  const Id id = session.view.recipe;
  const Result<recipe::Sheet> sheet = recipe::scale(*recipe, session.meat(id), nullptr, session.hands());
  if (!sheet.ok()) {
    parts::trouble(s.page, s.say(Say::sheet_problem), words::sentence(s.l, sheet.error()), std::nullopt);
    return;
  }
  const Ground ground = session.ground();
  draw_form(s, {key("hang") / id, session.drafts.recipes[id].hang, subject_of(ground, *recipe, sheet.value()),
                sheet.value().total, sheet.value().refused.has_value(), session.new_batch(id),
                [&](const auto& finish) { return session.hang_recipe(id, finish); }});
}

void draw_hang_batch(Screen& s) {
  const auto open = open_batch(s, Say::hang_title);
  if (!open) return;
  Session& session = s.session;
  const Ground ground = session.ground();
  const recipe::Sheet& sheet = open->judged->sheet;
  draw_form(s, {key("hang") / open->id, session.drafts.batches[open->id].hang,
                subject_of(ground, open->batch->made_from, sheet, open->judged->evidence), sheet.total,
                sheet.refused.has_value(), *open->batch,
                [&](const auto& finish) { return session.hang_batch(open->id, finish); }});
}

}  // namespace saltrafter::desk
