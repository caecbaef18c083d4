#include "core/desk/scale_form.h"

#include <algorithm>
#include <cmath>

namespace saltrafter::desk {
namespace {

using Say = words::Id;

void draw_before(Screen& s, const ScaleForm& form, const plan::AtScale& scale) {
  const words::Arg hung_on = words::arg("date", words::day_month(s.l, form.batch->hung_on));
  const words::Arg hung = words::arg("hung", grams(s.l, scale.base.equivalent_hung + scale.base.tare));
  if (!scale.since_hanging) {
    parts::paragraph(s.page, s.say(Say::weigh_was_new, {hung_on, hung}));
  } else {
    const words::Arg last = words::arg("last", grams(s.l, scale.before));
    const int ago = days_between(scale.before_on, form.day);
    parts::paragraph(s.page, ago == 0 ? s.say(Say::weigh_was_today, {hung_on, hung, last})
                                      : s.say(Say::weigh_was, {hung_on, hung, last, words::count("n", ago)}));
  }
  if (!scale.expected) return;
  // On the day of hanging nothing is expected but what was hung.
  const Grams low(std::floor(scale.expected->low.value));
  const Grams high(std::ceil(scale.expected->high.value));
  if (days_between(form.batch->hung_on, form.day) == 0 || !(high > low)) return;
  parts::paragraph(s.page, s.say(Say::weigh_expected, {words::arg("low", words::number(s.l, low.value, 0)),
                                                       words::arg("high", grams(s.l, high))}));
}

// Of this day's weighings of a piece the newest: a new one is put in beside it, and counts.
void draw_weighed_already(Screen& s, const ScaleForm& form) {
  if (form.pieces.size() != 1) return;
  const drying::Weighing* last = plan::last_weighing(*form.batch, form.pieces[0], form.day);
  if (last == nullptr || last->date != form.day) return;
  parts::paragraph(s.page, s.say(Say::weighed_already, {words::arg("mass", grams(s.l, last->mass))}));
}

drying::Weighing weighing_of(const Screen& s, const ScaleForm& form, Grams mass) {
  const Ports& ports = s.session.book.ports();
  drying::Weighing weighing{{}, {}, form.day, mass};
  weighing.tare = form.tray;
  if (form.pieces.size() == 1) {
    weighing.piece = form.pieces[0];
  } else {
    weighing.bunch = form.pieces;
  }
  if (form.day == s.session.today()) weighing.minute = minute_at(ports, ports.now_utc_ms());
  return weighing;
}

}  // namespace

words::Text odd_words(const Screen& s, const plan::Batch& batch, Date day, const plan::AtScale& scale,
                      Grams mass) {
  const std::optional<plan::Odd> odd = plan::odd(scale, mass);
  if (!odd) return {};
  if (*odd == plan::Odd::light) {
    const Grams hung = scale.base.equivalent_hung + scale.base.tare;
    return s.say(Say::odd_light, {words::arg("hung", grams(s.l, hung))});
  }
  if (*odd == plan::Odd::gained) {
    return s.say(Say::odd_gained, {words::arg("gain", words::measure(s.l, (mass - scale.before).value, 0, "g")),
                                   words::arg("before", grams(s.l, scale.before)),
                                   words::arg("date", words::day_month(s.l, scale.before_on))});
  }
  if (days_between(batch.hung_on, day) == 0) return s.say(Say::odd_at_hanging);
  return s.say(*odd == plan::Odd::below ? Say::odd_below : Say::odd_above,
               {words::arg("low", words::number(s.l, std::floor(scale.expected->low.value), 0)),
                words::arg("high", grams(s.l, Grams(std::ceil(scale.expected->high.value))))});
}

parts::Key scale_field(const std::vector<Id>& pieces) {
  parts::Key field = key("weigh");
  for (const Id& piece : pieces) field = field / piece;
  return field / "weight";
}

ScaleDone draw_scale(Screen& s, const ScaleForm& form, WeighDraft& draft) {
  Session& session = s.session;
  const plan::AtScale scale =
      plan::at_scale(*form.batch, form.pieces, form.day, forecast_of(s, form.batch_id, form.batch));
  draw_before(s, form, scale);
  draw_weighed_already(s, form);

  MassEntry entry;
  entry.key = scale_field(form.pieces);
  entry.label = Say::weight;
  entry.least = form.tray + Grams(1.0);
  entry.most = scale.most + form.tray;
  entry.large = true;
  entry.pad_act = s.say(form.keep);
  if (scale.since_hanging) entry.last = typed_number(s.l, (scale.before + form.tray).value, 1);
  const words::Language language = s.l;
  entry.answer = [language, scale, tray = form.tray](Grams typed) {
    const Grams mass = typed - tray;
    // What looks wrong is asked beneath.
    const bool odd = plan::odd(scale, mass).has_value();
    const std::optional<int> beside = odd ? std::nullopt : plan::beside_expected(scale, mass);
    const Say say = !beside        ? Say::weigh_lost
                    : *beside < 0  ? Say::weigh_more
                    : *beside == 0 ? Say::weigh_as_expected
                                   : Say::weigh_less;
    return words::text(language, say, {words::arg("loss", per_cent(language, scale.loss(mass), 1))});
  };
  const MassTyped typed = mass_entry(s, entry, draft.weight);

  // While it is typed nothing is asked; once it stands there, what looks wrong is, before anything is kept.
  std::optional<drying::Weighing> weighing;
  if (typed.mass) weighing = weighing_of(s, form, *typed.mass - form.tray);
  const bool stands = weighing && !typed.editing;
  std::vector<words::Text> questions;
  Id instead;
  words::Text fault;
  if (stands) {
    if (words::Text odd = odd_words(s, *form.batch, form.day, scale, weighing->mass); !odd.empty())
      questions.push_back(std::move(odd));
    const Result<Done> sound = plan::check_weighing(*form.batch, *weighing, session.today());
    if (!sound.ok() && sound.error().code == ErrorCode::duplicate_key) {
      instead = Id{sound.error().found};
      questions.push_back(s.say(Say::odd_same_minute));
    } else if (!sound.ok()) {
      fault = piece_fault(s, *form.batch, form.pieces[0], form.day, sound.error());
    }
  }
  if (!fault.empty()) parts::trouble(s.page, fault, s.say(Say::not_kept_yet), std::nullopt);
  ScaleDone done;
  const parts::Key here = key("weigh") / form.batch_id;
  bool keep = false;
  parts::gap(s.page, 16.0);
  if (questions.empty() || !fault.empty()) {
    words::Text reason = fault;
    if (reason.empty()) reason = s.say(form.day_refused ? Say::keep_day_first : Say::keep_weight_first);
    const bool ready = weighing && fault.empty() && !form.day_refused;
    std::vector<parts::Act> acts = {{here / "keep", s.say(form.keep), parts::ActKind::main, ready, reason}};
    acts.insert(acts.end(), form.others.begin(), form.others.end());
    const std::optional<int> pressed = parts::acts(s.page, acts);
    keep = ready && (pressed == 0 || typed.acted);
    if (pressed.value_or(0) > 0) done.other = *pressed - 1;
  } else {
    std::vector<words::Text> said;
    for (const words::Text& question : questions) {
      if (!said.empty()) said.push_back(words::verbatim(" "));
      said.push_back(question);
    }
    const double top = s.page.y();
    parts::trouble(s.page, words::join(said), s.say(Say::not_kept_yet), std::nullopt);
    parts::gap(s.page, 24.0);
    const std::optional<int> pressed =
        parts::acts(s.page, {{here / "again", s.say(Say::type_again), parts::ActKind::main, true, {}},
                             {here / "so", s.say(instead.empty() ? Say::it_is_so : Say::put_in_its_place),
                              parts::ActKind::other, !form.day_refused, s.say(Say::keep_day_first)}});
    s.page.bring(here / "asked" / draft.weight, top);
    keep = pressed == 1;
    if (pressed == 0) {
      draft.weight.clear();
      s.page.host().drop_field(entry.key.value());
      s.page.host().focus(entry.key.value(), s.page.host().pressed_by_touch());
    }
  }
  if (!keep) return done;
  weighing->id = make_id(session.book.ports());
  const Result<Done> kept = session.weigh(form.batch_id, *weighing, instead);
  if (!kept.ok()) {
    session.tell_wrong(piece_fault(s, *form.batch, form.pieces[0], form.day, kept.error()));
    return done;
  }
  s.page.host().drop_field(entry.key.value());
  draft = {};
  done.kept = weighing->id;
  done.mass = weighing->mass;
  done.by_touch = typed.acted ? typed.by_pad : s.page.host().pressed_by_touch();
  return done;
}

}  // namespace saltrafter::desk
