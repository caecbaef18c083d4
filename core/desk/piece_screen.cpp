// The Rails: what is done to a piece while it hangs, and the weights it is reckoned from.
#include <algorithm>
#include <array>
#include <cmath>

#include "core/desk/piece_forms.h"

namespace saltrafter::desk {
namespace {

using Say = words::Id;
using plan::EventKind;

constexpr std::array<Named<EventKind>, 6> kKinds = {
    {{EventKind::cut, Say::event_cut, Say::event_cut_what},
     {EventKind::sampled, Say::event_sampled, Say::event_sampled_what},
     {EventKind::trimmed, Say::event_trimmed, Say::event_trimmed_what},
     {EventKind::retied, Say::event_retied, Say::event_retied_what},
     {EventKind::stripped, Say::event_stripped, Say::event_stripped_what},
     {EventKind::wetted, Say::event_wetted, Say::event_wetted_what}}};

constexpr std::array<Named<plan::LossBase>, 2> kBases = {
    {{plan::LossBase::hung, Say::base_hung, Say::base_hung_what},
     {plan::LossBase::trimmed, Say::base_trimmed, Say::base_trimmed_what}}};

void draw_state(Screen& s, const OpenPiece& at) {
  const plan::Batch& batch = *at.open.batch;
  const Date today = s.session.today();
  const std::optional<plan::PieceMass> last = plan::last_mass(batch, *at.piece, today);
  const words::Arg hung = words::arg("hung", grams(s.l, at.piece->hung));
  const words::Text hung_on = words::day_month(s.l, batch.hung_on);
  if (!last) {
    parts::lead(s.page, s.say(Say::weigh_was_new, {words::arg("date", hung_on), hung}));
    return;
  }
  parts::lead(s.page, s.say(Say::piece_state, {words::arg("now", grams(s.l, last->mass)),
                                               words::arg("loss", per_cent(s.l, last->loss, 1)),
                                               words::arg("on", words::day_month(s.l, last->date)), hung,
                                               words::arg("hung_on", hung_on)}));
  // What is left of it, as it was weighed at hanging, where that is not simply what hung.
  const Grams left = last->base.equivalent_hung + last->base.tare;
  if (std::abs(left.value - at.piece->hung.value) >= 0.05)
    parts::paragraph(s.page, s.say(Say::piece_left, {words::arg("left", grams(s.l, left))}));
}

words::Text wish_name(const Screen& s, const drying::Wish& wish) {
  switch (wish.kind) {
    case drying::WishKind::loss: break;
    case drying::WishKind::moisture_protein_ratio:
      return s.say(Say::wants_ratio, {words::arg("value", words::number(s.l, wish.value, 2))});
    case drying::WishKind::moisture:
      return s.say(Say::wants_moisture, {words::arg("value", per_cent(s.l, wish.value, 1))});
    case drying::WishKind::activity:
      return s.say(Say::wants_activity, {words::arg("value", words::number(s.l, wish.value, 3))});
    case drying::WishKind::least_days:
      return s.say(Say::wants_days, {words::count("n", static_cast<int>(std::ceil(wish.value)))});
  }
  return s.say(Say::wants_loss, {words::arg("value", per_cent(s.l, wish.value, 1))});
}

words::Text found_words(const Screen& s, const plan::WishMet& met) {
  if (!met.found) return {};
  switch (met.wish.kind) {
    case drying::WishKind::loss:
    case drying::WishKind::moisture: return per_cent(s.l, *met.found, 1);
    case drying::WishKind::moisture_protein_ratio: return words::number(s.l, *met.found, 2);
    case drying::WishKind::activity: return words::number(s.l, *met.found, 3);
    case drying::WishKind::least_days: break;
  }
  return {};
}

// What would turn an estimate into a measurement.
Say measure_it(drying::WishKind kind) {
  switch (kind) {
    case drying::WishKind::activity: return Say::measure_activity;
    case drying::WishKind::moisture:
    case drying::WishKind::moisture_protein_ratio: return Say::measure_moisture;
    case drying::WishKind::loss:
    case drying::WishKind::least_days: break;
  }
  return Say::measure_loss;
}

words::Text met_words(const Screen& s, const plan::WishMet& met) {
  const words::Arg wish = words::arg("wish", wish_name(s, met.wish));
  const words::Arg found = words::arg("found", found_words(s, met));
  const words::Arg date = words::arg("date", met.on ? words::day_month(s.l, *met.on) : words::Text());
  switch (met.by) {
    case plan::MetBy::weighing: return s.say(Say::met_weighed, {wish, found, date});
    case plan::MetBy::reading: return s.say(Say::met_measured, {wish, found, date});
    case plan::MetBy::calendar: return s.say(Say::met_calendar, {wish, date});
    case plan::MetBy::estimate:
      return s.say(Say::met_estimated, {wish, words::arg("measure", s.say(measure_it(met.wish.kind)))});
    case plan::MetBy::nothing: break;
  }
  if (met.wish.kind == drying::WishKind::least_days) return s.say(Say::met_on, {wish, date});
  if (!met.found) return s.say(Say::met_not, {wish});
  return s.say(met.wish.kind == drying::WishKind::loss ? Say::met_not_weighed : Say::met_not_measured,
               {wish, found, date});
}

// What is wanted of it, each by what it is met or still to come; and whether it is ready.
void draw_reached(Screen& s, const OpenPiece& at) {
  const BatchJudged& judged = *at.open.judged;
  if (judged.error || !at.open.batch->hung) return;
  const plan::Reached reached =
      plan::reached(*at.open.batch, *at.piece, s.session.today(), judged.sheet.composition,
                    forecast_of(s, at.open.id, at.open.batch), s.session.book.ports());
  if (const auto ready = plan::ready_since(judged.evidence, judged.findings, at.piece->id)) {
    parts::paragraph(s.page, s.say(Say::piece_is_ready, {words::arg("date", words::day_month(s.l, *ready))}));
  } else if (reached.by_measurement()) {
    parts::paragraph(s.page, s.say(Say::piece_is_reached));
  }
  for (const plan::WishMet& met : reached.wishes) parts::paragraph(s.page, met_words(s, met));
}

bool is_felt(safety::ReadingKind kind) {
  return kind == safety::ReadingKind::moisture || kind == safety::ReadingKind::firmness ||
         kind == safety::ReadingKind::cut_look;
}

// What a hand or a meter says of a piece that hangs: the forecast learns from it.
void draw_new_feel(Screen& s, const OpenPiece& at) {
  Session& session = s.session;
  const plan::Batch& batch = *at.open.batch;
  FeelDraft& draft = session.drafts.batches[at.open.id].feels[at.piece->id];
  const parts::Key here = key("feel") / at.piece->id;
  parts::gap(s.page, 36.0);
  parts::second_heading(s.page, s.say(Say::feel_title), s.say(Say::feel_beneath));
  const bool day_good = day_entry(s, here / "day", Say::feel_day, draft.day);
  const Date day = draft.day.value_or(session.today());
  if (const auto feel = choose(s, here / "feel", Say::reading_firmness, kFeelNames, draft.feel)) draft.feel = *feel;
  const std::optional<double> loss = plan::loss_between(batch, *at.piece, day, session.today());
  const MoistureTyped moisture = moisture_entry(s, at, here / "moisture", loss, draft.moisture);
  const bool said = draft.feel >= 0 || moisture.share.has_value();
  words::Text fault;
  if (said && day < batch.hung_on) {
    fault = s.say(Say::fault_before_hanging, {words::arg("date", words::day_month(s.l, batch.hung_on))});
  }
  if (!fault.empty() || !moisture.odd.empty()) {
    parts::trouble(s.page, fault.empty() ? moisture.odd : fault, s.say(Say::not_kept_yet), std::nullopt);
  }
  if (said && fault.empty() && !loss) parts::reason(s.page, s.say(Say::feel_weigh_too));
  parts::gap(s.page, 24.0);
  words::Text reason = fault;
  if (reason.empty()) {
    reason = s.say(!day_good ? Say::keep_day_first : moisture.refused ? Say::keep_moisture_first : Say::feel_first);
  }
  const bool may = said && day_good && !moisture.refused && fault.empty();
  if (!parts::act(s.page, {here / "keep", s.say(moisture.odd.empty() ? Say::feel_keep : Say::feel_keep_so),
                           parts::ActKind::main, may, reason})) {
    return;
  }
  plan::Batch after = batch;
  std::vector<words::Text> kept;
  const auto add = [&](safety::ReadingKind kind, double value) {
    safety::Reading reading;
    reading.id = make_id(session.book.ports());
    reading.kind = kind;
    reading.at_utc_ms = instant_on(s, day);
    reading.value = value;
    reading.piece = at.piece->id;
    if (kind == safety::ReadingKind::moisture) reading.site = safety::Site::mixed;
    kept.push_back(reading_value(s, reading));
    after.evidence.readings.push_back(reading);
  };
  if (draft.feel >= 0) add(safety::ReadingKind::firmness, draft.feel);
  if (moisture.share) add(safety::ReadingKind::moisture, *moisture.share);
  if (!session.change_batch(at.open.id, after, "edit_feel")) return;
  draft = {};
  s.page.host().drop_field((here / "moisture").value());
  session.tell_edit(s.say(Say::feel_kept, {words::count("n", at.piece->number),
                                           words::arg("what", with_commas(kept))}));
}

void draw_past_feels(Screen& s, const OpenPiece& at) {
  std::vector<const safety::Reading*> said;
  for (const safety::Reading& reading : at.open.batch->evidence.readings) {
    if (reading.piece == at.piece->id && is_felt(reading.kind)) said.push_back(&reading);
  }
  if (said.empty()) return;
  std::stable_sort(said.begin(), said.end(), [](const safety::Reading* a, const safety::Reading* b) {
    return a->at_utc_ms > b->at_utc_ms;
  });
  parts::gap(s.page, 36.0);
  parts::second_heading(s.page, s.say(Say::feel_past), s.say(Say::newest_first));
  parts::list_rule(s.page);
  Id& opened = s.session.drafts.batches[at.open.id].event;
  for (const safety::Reading* reading : said) {
    parts::Row row;
    row.key = key("feel") / reading->id;
    row.name = reading_name(s, reading->kind);
    row.fact = day_of(s, reading->at_utc_ms);
    row.figure = reading_value(s, *reading);
    row.selected = opened == reading->id;
    if (parts::row(s.page, row)) opened = row.selected ? Id{} : reading->id;
    if (!row.selected) continue;
    if (parts::act(s.page, {key("feel") / reading->id / "remove", s.say(Say::reading_remove), kBare, true, {}})) {
      plan::Batch after = *at.open.batch;
      remove_reading(after, reading->id);
      if (s.session.change_batch(at.open.id, after, "edit_reading_removed"))
        s.session.tell_edit(s.say(Say::feel_removed));
      return;
    }
  }
}

// How the loss stands when the event is taken in.
words::Text event_answer(const Screen& s, const plan::Batch& batch, const plan::Piece& piece,
                         const plan::PieceEvent& event) {
  plan::Batch after = batch;
  after.events.push_back(event);
  const std::optional<plan::PieceMass> mass = plan::last_mass(after, piece, event.date);
  if (!mass) return {};
  const words::Arg loss = words::arg("loss", per_cent(s.l, mass->loss, 1));
  if (event.kind == EventKind::wetted) return s.say(Say::event_says_wet, {loss});
  return s.say(Say::event_says,
               {loss, words::arg("left", grams(s.l, mass->base.equivalent_hung + mass->base.tare))});
}

void draw_new_event(Screen& s, const OpenPiece& at) {
  Session& session = s.session;
  const plan::Batch& batch = *at.open.batch;
  EventDraft& draft = session.drafts.batches[at.open.id].events[at.piece->id];
  const parts::Key here = key("event") / at.piece->id;
  if (const auto kind = choose(s, here / "kind", Say::event_kind, kKinds, draft.kind)) draft.kind = *kind;
  const bool day_good = day_entry(s, here / "day", Say::day, draft.day);
  plan::PieceEvent event{{}, at.piece->id, draft.kind, draft.day.value_or(session.today()),
                         {}, {},           draft.note};
  const plan::AtScale scale = plan::at_scale(batch, {at.piece->id}, event.date, nullptr);
  MassEntry before;
  before.key = here / "before";
  before.label = Say::event_before;
  before.most = scale.most;
  before.last = typed_number(s.l, scale.before.value, 1);
  const MassTyped was = mass_entry(s, before, draft.before);
  MassEntry after;
  after.key = here / "after";
  after.label = Say::event_after;
  after.most = scale.most;
  const MassTyped is = mass_entry(s, after, draft.after);
  if (const auto note = words_entry(s, here / "note", Say::event_note, draft.note)) draft.note = *note;
  event.note = draft.note;
  words::Text fault;
  if (was.mass && is.mass) {
    event.before = *was.mass;
    event.after = *is.mass;
    const Result<Done> sound = plan::check_event(batch, event, session.today());
    if (!sound.ok()) {
      const bool sides = sound.error().field == "after";
      fault = sides && draft.kind == EventKind::wetted ? s.say(Say::event_not_heavier)
              : sides && event.after >= event.before
                  ? s.say(Say::event_not_lighter)
                  : piece_fault(s, batch, event.piece, event.date, sound.error());
    }
  }
  const bool whole = was.mass && is.mass;
  if (!fault.empty() && !was.editing && !is.editing) {
    parts::trouble(s.page, fault, s.say(Say::not_kept_yet), std::nullopt);
  } else if (whole && fault.empty()) {
    parts::gap(s.page, 16.0);
    parts::paragraph(s.page, event_answer(s, batch, *at.piece, event));
  }
  parts::gap(s.page, 24.0);
  words::Text reason = fault;
  if (reason.empty()) reason = s.say(day_good ? Say::event_weights_first : Say::keep_day_first);
  if (!parts::act(s.page, {here / "keep", s.say(Say::event_keep), parts::ActKind::main,
                           whole && fault.empty() && day_good, reason})) {
    return;
  }
  event.id = make_id(session.book.ports());
  plan::Batch then = batch;
  then.events.push_back(event);
  if (!session.change_batch(at.open.id, then, "edit_event")) return;
  draft = {};
  session.tell_edit(s.say(Say::event_kept, {words::count("n", at.piece->number),
                                            words::arg("what", s.say(name_of(kKinds, event.kind))),
                                            words::arg("after", grams(s.l, event.after))}));
}

void draw_past(Screen& s, const OpenPiece& at) {
  const plan::Batch& batch = *at.open.batch;
  std::vector<const plan::PieceEvent*> events;
  for (const plan::PieceEvent& event : batch.events) {
    if (event.piece == at.piece->id) events.push_back(&event);
  }
  if (events.empty()) return;
  std::stable_sort(events.begin(), events.end(),
                   [](const plan::PieceEvent* a, const plan::PieceEvent* b) { return a->date > b->date; });
  parts::gap(s.page, 36.0);
  parts::second_heading(s.page, s.say(Say::event_past), s.say(Say::newest_first));
  parts::list_rule(s.page);
  Id& opened = s.session.drafts.batches[at.open.id].event;
  for (const plan::PieceEvent* event : events) {
    parts::Row row;
    row.key = key("event") / event->id;
    row.name = s.say(name_of(kKinds, event->kind));
    row.fact = with_commas({words::day_weekday(s.l, event->date), words::verbatim(event->note)});
    row.figure = s.say(Say::from_to, {words::arg("from", words::number(s.l, event->before.value, 0)),
                                      words::arg("to", grams(s.l, event->after))});
    row.selected = opened == event->id;
    if (parts::row(s.page, row)) opened = row.selected ? Id{} : event->id;
    if (!row.selected) continue;
    if (parts::act(s.page,
                   {key("event") / event->id / "remove", s.say(Say::event_remove), kBare, true, {}})) {
      plan::Batch after = batch;
      std::erase_if(after.events, [event](const plan::PieceEvent& other) { return other.id == event->id; });
      if (s.session.change_batch(at.open.id, after, "edit_event_removed"))
        s.session.tell_edit(s.say(Say::event_removed));
      return;
    }
  }
}

// The weights of a piece before the scale of the rail: of whole muscle four in all, the last weighing with
// them.
void draw_weights(Screen& s, const OpenPiece& at) {
  const plan::Piece& piece = *at.piece;
  const parts::Key here = key("weights") / piece.id;
  const bool muscle = at.open.batch->made_from.product_class == recipe::ProductClass::whole_muscle_dry;
  parts::gap(s.page, 36.0);
  parts::second_heading(s.page, s.say(Say::weights_title),
                        muscle ? s.say(Say::weights_muscle) : words::Text());
  const NumberRule rule{"mass", NumberKind::mass, "g", 0.1, recipe::kMostMeat.value};
  plan::Batch after = *at.open.batch;
  plan::Piece& then = after.pieces[*place_of(after.pieces, piece.id)];
  bool changed = false;
  const auto weight = [&](std::string_view name, Say label, std::optional<Grams>& member) {
    NumberEntry entry{here / name, s.say(label), rule, {}, 1, {"g", "kg", "oz", "lb"}};
    if (member) entry.stored = member->value;
    entry.may_stay_empty = true;
    entry.what = s.say(Say::may_stay_empty);
    const auto taken = enter(s, entry);
    if (!taken) return;
    member = *taken ? std::optional<Grams>(Grams(**taken)) : std::nullopt;
    changed = true;
  };
  if (muscle) {
    weight("trimmed", Say::weight_trimmed, then.trimmed);
    weight("after_cure", Say::weight_after_cure, then.after_cure);
  }
  if (at.open.batch->hung) {
    NumberRule hung_rule = rule;
    hung_rule.low = plan::tare_of(piece).value + 1.0;
    if (const auto hung = number_entry(s, here / "hung", Say::weight_hung, hung_rule, piece.hung.value, 1,
                                       {"g", "kg", "oz", "lb"})) {
      then.hung = Grams(*hung);
      changed = true;
    }
  }
  if (const auto thick = number_entry(s, here / "thickness", Say::weight_thickness,
                                      {"thickness", NumberKind::length, "mm", 0.01, 0.5}, piece.diameter.value, 1,
                                      {"mm", "in"}, 1.0)) {
    then.diameter = Metres(*thick);
    changed = true;
  }
  if (muscle && piece.trimmed && piece.after_cure) {
    parts::paragraph(s.page,
                     s.say(Say::weights_cure,
                           {words::arg("loss", per_cent(s.l, 1.0 - *piece.after_cure / *piece.trimmed, 1))}));
  }
  if (changed && s.session.change_batch(at.open.id, after, "edit_piece")) s.session.notice.reset();
  if (!changed && at.open.batch->hung) tare_entry(s, at.open.id, *at.open.batch, piece);
}

// What the wanted loss of a muscle is a share of.
void draw_base(Screen& s, const OpenPiece& at) {
  const plan::Batch& batch = *at.open.batch;
  if (batch.made_from.product_class != recipe::ProductClass::whole_muscle_dry) return;
  parts::gap(s.page, 36.0);
  parts::second_heading(
      s.page, s.say(Say::base_title, {words::arg("loss", per_cent(s.l, batch.made_from.wanted_loss, 0))}));
  if (const Result<double> wanted = plan::wanted_loss(batch, *at.piece); wanted.ok()) {
    if (batch.loss_base == plan::LossBase::trimmed)
      parts::paragraph(s.page,
                       s.say(Say::base_at_hanging, {words::arg("loss", per_cent(s.l, wanted.value(), 1))}));
  }
  const auto base = choose(s, key("base") / at.open.id, Say::base_of, kBases, batch.loss_base);
  if (!base) return;
  plan::Batch after = batch;
  after.loss_base = *base;
  for (const plan::Piece& piece : after.pieces) {
    if (plan::wanted_loss(after, piece).ok()) continue;
    return s.session.tell_wrong(s.say(Say::base_needs_trimmed, {words::count("n", piece.number)}));
  }
  if (s.session.change_batch(at.open.id, after, "edit_base")) s.session.notice.reset();
}

// Before it hangs a piece has the weights of its cure, and may go again.
void draw_not_hung(Screen& s, const OpenPiece& at) {
  Session& session = s.session;
  parts::lead(s.page, s.say(Say::piece_not_hung));
  draw_weights(s, at);
  draw_base(s, at);
  parts::gap(s.page, 24.0);
  if (parts::act(s.page, {key("piece") / "remove", s.say(Say::piece_remove), kBare, true, {}})) {
    plan::Batch after = *at.open.batch;
    std::erase_if(after.pieces, [&at](const plan::Piece& piece) { return piece.id == at.piece->id; });
    const words::Text gone = s.say(Say::piece_removed, {words::count("n", at.piece->number)});
    if (session.change_batch(at.open.id, after, "edit_piece_removed")) {
      session.open_rails(RailsLeaf::batch);
      session.tell_edit(gone);
    }
    return;
  }
  draw_history(s);
}

}  // namespace

void draw_piece(Screen& s) {
  const auto batch = s.session.book.batch(s.session.view.batch);
  const auto at = open_piece(s, batch && batch->hung ? Say::piece_title : Say::piece_n);
  if (!at) return;
  if (!at->open.batch->hung) return draw_not_hung(s, *at);
  draw_state(s, *at);
  draw_reached(s, *at);
  if (const plan::TakenDown* down = plan::find_taken_down(*at->open.batch, at->piece->id)) {
    parts::paragraph(s.page, s.say(Say::piece_is_down, {words::arg("date", words::day_month(s.l, down->date)),
                                                        words::arg("mass", grams(s.l, down->mass))}));
  } else {
    draw_new_event(s, *at);
    draw_new_feel(s, *at);
  }
  draw_past(s, *at);
  draw_past_feels(s, *at);
  draw_history(s);
  s.page.second_column();
  draw_weights(s, *at);
  draw_base(s, *at);
}

}  // namespace saltrafter::desk
