// The Rails: a piece comes off its rail: its weight, what was measured, what was found; and what it taught.
#include <algorithm>
#include <array>
#include <cmath>

#include "core/desk/scale_form.h"

namespace saltrafter::desk {
namespace {

using Say = words::Id;
using plan::Fault;
using plan::TakenDown;
using safety::InstrumentState;
using safety::Reading;
using safety::ReadingKind;
using safety::Site;

constexpr std::array<Named<Fault>, 9> kFaults = {{{Fault::case_hardened, Say::fault_case_hardened},
                                                  {Fault::hollow, Say::fault_hollow},
                                                  {Fault::smear, Say::fault_smear},
                                                  {Fault::mould_unwanted, Say::fault_mould},
                                                  {Fault::sour, Say::fault_sour},
                                                  {Fault::soft_core, Say::fault_soft_core},
                                                  {Fault::uneven, Say::fault_uneven},
                                                  {Fault::rancid, Say::fault_rancid},
                                                  {Fault::other, Say::fault_other}}};
bool has(const std::vector<Fault>& faults, Fault fault) {
  return std::find(faults.begin(), faults.end(), fault) != faults.end();
}

// A reading that may stay empty, its draft as typed. Nothing: none.
std::optional<double> reading_entry(Screen& s, parts::Key at, Say label, Say what, const NumberRule& rule,
                                    std::string& draft, int decimals) {
  const Result<TypedNumber> kept = parse_number(draft, rule);
  const std::optional<double> stored = kept.ok() ? std::optional<double>(kept.value().value) : std::nullopt;
  const auto taken = number_or_nothing(s, at, label, what, rule, stored, decimals);
  if (!taken) return stored;
  draft = *taken ? typed_number(s.l, **taken, decimals) : std::string();
  return *taken;
}

// What stands on the form beside the piece's weight: the reading's id is empty until it is kept.
struct Form {
  TakenDown down;
  std::vector<Reading> readings;
  bool day_good = true;
  bool readings_good = true;
  bool whole = false;  // a weight is there
  words::Text odd;     // why it looks wrong
  bool editing = false;
};

Form draw_form(Screen& s, const OpenPiece& at) {
  const plan::Batch& batch = *at.open.batch;
  TakeDownDraft& draft = s.session.drafts.batches[at.open.id].take_downs[at.piece->id];
  const parts::Key here = key("take_down") / at.piece->id;
  Form form;
  form.down.piece = at.piece->id;
  form.down.date = draft.day.value_or(s.session.today());
  const plan::AtScale scale =
      plan::at_scale(batch, {at.piece->id}, form.down.date, forecast_of(s, at.open.id, at.open.batch));
  if (scale.expected) {
    parts::paragraph(s.page,
                     s.say(Say::weigh_expected,
                           {words::arg("low", words::number(s.l, std::floor(scale.expected->low.value), 0)),
                            words::arg("high", grams(s.l, Grams(std::ceil(scale.expected->high.value))))}));
  }
  MassEntry mass;
  mass.key = here / "mass";
  mass.label = Say::weight;
  mass.most = scale.most;
  mass.large = true;
  if (scale.since_hanging) mass.last = typed_number(s.l, scale.before.value, 1);
  const words::Language language = s.l;
  mass.answer = [language, scale](Grams typed) {
    return words::text(language, Say::weigh_lost,
                       {words::arg("loss", per_cent(language, scale.loss(typed), 1))});
  };
  const MassTyped typed = mass_entry(s, mass, draft.mass);
  form.whole = typed.mass.has_value();
  form.editing = typed.editing;
  if (typed.mass) {
    form.down.mass = *typed.mass;
    form.odd = odd_words(s, batch, form.down.date, scale, *typed.mass);
  }
  form.day_good = day_entry(s, here / "day", Say::taken_down_on, draft.day);
  MassEntry usable;
  usable.key = here / "usable";
  usable.label = Say::usable;
  usable.most = typed.mass.value_or(scale.most);
  usable.what = s.say(Say::usable_what);
  const MassTyped sliceable = mass_entry(s, usable, draft.usable);
  form.down.usable = sliceable.mass;

  parts::gap(s.page, 36.0);
  parts::second_heading(s.page, s.say(Say::take_down_measured), s.say(Say::may_stay_empty));
  const auto add = [&form, &draft, &at](ReadingKind kind, double value, Site site) {
    Reading reading;
    reading.kind = kind;
    reading.value = value;
    reading.piece = at.piece->id;
    reading.site = site;
    reading.instrument = draft.instrument;
    form.readings.push_back(reading);
  };
  const auto activity = reading_entry(s, here / "aw", Say::reading_activity, Say::take_down_activity_what,
                                      {"aw", NumberKind::plain, "", 0.4, 1.0}, draft.activity, 3);
  if (activity) {
    if (const auto site = choose(s, here / "site", Say::reading_site, kSites, draft.site)) draft.site = *site;
    if (draft.site == Site::not_said) parts::reason(s.page, s.say(Say::take_down_site_what));
    add(ReadingKind::water_activity, *activity, draft.site);
  }
  const auto ph = reading_entry(s, here / "ph", Say::reading_ph_meter, Say::may_stay_empty,
                                {"ph", NumberKind::plain, "", 3.5, 8.0}, draft.ph, 2);
  if (ph) add(ReadingKind::ph_meter, *ph, Site::not_said);
  std::optional<double> loss;
  if (typed.mass) loss = scale.loss(*typed.mass);
  const MoistureTyped moisture = moisture_entry(s, at, here / "moisture", loss, draft.moisture);
  if (moisture.share) add(ReadingKind::moisture, *moisture.share, Site::mixed);
  form.readings_good = !moisture.refused;
  if (form.odd.empty()) form.odd = moisture.odd;
  if (activity || ph || moisture.share) {
    if (const auto state =
            choose(s, here / "instrument", Say::reading_instrument, kInstruments, draft.instrument))
      draft.instrument = *state;
  }

  parts::gap(s.page, 36.0);
  parts::second_heading(s.page, s.say(Say::faults_title), s.say(Say::faults_what));
  std::vector<parts::Chip> chips;
  for (const Named<Fault>& fault : kFaults)
    chips.push_back(
        {here / "fault" / static_cast<int>(fault.value), s.say(fault.name), has(draft.faults, fault.value)});
  if (const auto pressed = parts::chips(s.page, s.say(Say::faults_which), chips)) {
    const Fault fault = kFaults[static_cast<std::size_t>(*pressed)].value;
    if (has(draft.faults, fault)) {
      std::erase(draft.faults, fault);
    } else {
      draft.faults.push_back(fault);
    }
  }
  if (const auto cut = choose(s, here / "cut", Say::cut_firmness, kFeelNames, draft.cut)) draft.cut = *cut;
  if (draft.cut >= 0) {
    // No instrument: a hand and an eye.
    add(ReadingKind::cut_look, draft.cut, Site::mixed);
    form.readings.back().instrument = InstrumentState::not_said;
  }
  if (has(draft.faults, Fault::other)) {
    if (const auto other = words_entry(s, here / "other", Say::fault_other_words, draft.other))
      draft.other = *other;
    form.down.other = draft.other;
  }
  if (const auto note = words_entry(s, here / "note", Say::event_note, draft.note)) draft.note = *note;
  form.down.faults = draft.faults;
  form.down.note = draft.note;
  return form;
}

words::Text why_not(const Screen& s, const OpenPiece& at, const TakenDown& down, const Error& error) {
  if (error.field == "other") return s.say(Say::fault_other_first);
  if (error.field == "usable")
    return s.say(Say::usable_too_much, {words::arg("mass", grams(s.l, down.mass))});
  return piece_fault(s, *at.open.batch, down.piece, down.date, error);
}

void keep(Screen& s, const OpenPiece& at, Form& form) {
  Session& session = s.session;
  const Ports& ports = session.book.ports();
  plan::Batch after = *at.open.batch;
  form.down.id = make_id(ports);
  for (Reading& reading : form.readings) {
    reading.id = make_id(ports);
    reading.at_utc_ms = instant_on(s, form.down.date);
    form.down.readings.push_back(reading.id);
    after.evidence.readings.push_back(reading);
  }
  if (const drying::Forecast* forecast = forecast_of(s, at.open.id, at.open.batch)) {
    form.down.foreseen = plan::foresee(*forecast, at.piece->id, days_between(after.hung_on, form.down.date));
  }
  after.taken_down.push_back(form.down);
  if (const Result<Done> sound = plan::check_taken_down(after, form.down, session.today()); !sound.ok())
    return session.tell_wrong(why_not(s, at, form.down, sound.error()));
  if (!session.change_batch(at.open.id, after, "edit_take_down")) return;
  session.drafts.batches[at.open.id].take_downs.erase(at.piece->id);
  session.tell_edit(s.say(Say::taken_down_kept, {words::count("n", at.piece->number),
                                                 words::arg("mass", grams(s.l, form.down.mass))}));
}

// Once it is down: what was kept, and what was foreseen beside it.
void draw_record(Screen& s, const OpenPiece& at, const TakenDown& down) {
  const plan::Batch& batch = *at.open.batch;
  parts::lead(s.page, s.say(Say::piece_is_down, {words::arg("date", words::day_month(s.l, down.date)),
                                                 words::arg("mass", grams(s.l, down.mass))}));
  if (const auto loss = plan::dried_loss(batch, *at.piece, down.date))
    parts::paragraph(s.page, s.say(Say::weigh_lost, {words::arg("loss", per_cent(s.l, *loss, 1))}));
  if (down.usable)
    parts::paragraph(s.page, s.say(Say::usable_is, {words::arg("mass", grams(s.l, *down.usable))}));
  std::vector<words::Text> faults;
  for (const Fault fault : down.faults)
    faults.push_back(fault == Fault::other ? words::verbatim(down.other) : s.say(name_of(kFaults, fault)));
  parts::paragraph(s.page, faults.empty()
                               ? s.say(Say::faults_none)
                               : s.say(Say::faults_found, {words::arg("faults", with_commas(faults))}));
  for (const Reading& reading : batch.evidence.readings) {
    if (std::find(down.readings.begin(), down.readings.end(), reading.id) == down.readings.end()) continue;
    parts::paragraph(s.page, s.say(Say::reading_said, {words::arg("what", reading_name(s, reading.kind)),
                                                       words::arg("value", reading_value(s, reading))}));
  }
  if (!down.note.empty()) parts::reason(s.page, words::verbatim(down.note));
  bool told = false;
  for (const plan::Taught& lesson : plan::taught(batch)) {
    if (lesson.piece != down.piece) continue;
    told = true;
    draw_lesson(s, lesson);
  }
  if (!told) parts::reason(s.page, s.say(Say::taught_nothing));
  parts::gap(s.page, 24.0);
  const std::optional<int> pressed = parts::acts(
      s.page, {{key("take_down") / "yield", s.say(Say::batch_yield), parts::ActKind::other, true, {}},
               {key("take_down") / "again", s.say(Say::hang_again), kBare, true, {}}});
  if (pressed == 0) {
    s.session.notice.reset();
    s.session.open_rails(RailsLeaf::yield);
  }
  if (pressed != 1) return;
  plan::Batch after = batch;
  const TakenDown gone = down;
  std::erase_if(after.evidence.readings, [&gone](const Reading& reading) {
    return std::find(gone.readings.begin(), gone.readings.end(), reading.id) != gone.readings.end();
  });
  std::erase_if(after.taken_down, [&gone](const TakenDown& other) { return other.id == gone.id; });
  if (s.session.change_batch(at.open.id, after, "edit_hung_again"))
    s.session.tell_edit(s.say(Say::hung_again, {words::count("n", at.piece->number)}));
}

}  // namespace

void draw_lesson(Screen& s, const plan::Taught& lesson) {
  const auto loss = [&s](double share) { return per_cent(s.l, share, 1); };
  parts::paragraph(s.page, s.say(lesson.within ? Say::taught_within : Say::taught_outside,
                                 {words::arg("foreseen", loss(lesson.loss.foreseen)),
                                  words::arg("measured", loss(lesson.loss.measured))}));
  if (lesson.reached) {
    const auto day = [&s](double days) { return words::number(s.l, days, 0); };
    parts::paragraph(s.page,
                     s.say(Say::taught_reached, {words::arg("foreseen", day(lesson.reached->foreseen)),
                                                 words::arg("measured", day(lesson.reached->measured))}));
  }
  if (lesson.activity) {
    const auto aw = [&s](double value) { return words::number(s.l, value, 3); };
    parts::paragraph(s.page,
                     s.say(Say::taught_activity, {words::arg("foreseen", aw(lesson.activity->foreseen)),
                                                  words::arg("measured", aw(lesson.activity->measured))}));
  }
}

void draw_take_down(Screen& s) {
  const auto batch = s.session.book.batch(s.session.view.batch);
  const bool is_down = batch && plan::find_taken_down(*batch, s.session.view.piece) != nullptr;
  const auto at = open_piece(s, is_down ? Say::taken_down_title : Say::take_down_title);
  if (!at) return;
  if (const TakenDown* down = plan::find_taken_down(*at->open.batch, at->piece->id)) {
    draw_record(s, *at, *down);
    draw_history(s);
    return;
  }
  parts::paragraph(s.page, s.say(Say::take_down_caution));
  Form form = draw_form(s, *at);
  const Result<Done> sound = plan::check_taken_down(*at->open.batch, form.down, s.session.today());
  words::Text fault;
  if (form.whole && !sound.ok()) fault = why_not(s, *at, form.down, sound.error());
  const words::Text& asked = fault.empty() ? form.odd : fault;
  if (!asked.empty() && !form.editing) parts::trouble(s.page, asked, s.say(Say::not_kept_yet), std::nullopt);
  parts::gap(s.page, 24.0);
  words::Text reason = fault;
  if (reason.empty()) {
    reason = s.say(!form.readings_good ? Say::keep_moisture_first
                   : form.day_good     ? Say::keep_weight_first
                                       : Say::keep_day_first);
  }
  if (parts::act(s.page, {key("take_down") / at->piece->id / "keep",
                          s.say(form.odd.empty() ? Say::take_it_down : Say::take_down_so),
                          parts::ActKind::main, form.whole && form.day_good && form.readings_good && fault.empty(), reason})) {
    keep(s, *at, form);
  }
  draw_history(s);
}

}  // namespace saltrafter::desk
