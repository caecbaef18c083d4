// The Rails: one piece being weighed.
#include <algorithm>
#include <cmath>

#include "core/desk/screens.h"

namespace saltrafter::desk {
namespace {

using Say = words::Id;

}  // namespace

void draw_weigh(Screen& s) {
  Session& session = s.session;
  const auto batch = session.book.batch(session.view.batch);
  const plan::Piece* piece = nullptr;
  if (batch) {
    for (const plan::Piece& each : batch->pieces) {
      if (each.id == session.view.piece) piece = &each;
    }
  }
  if (piece == nullptr) {
    session.view.piece = {};
    return;
  }
  const Date today = session.today();
  WeighDraft& draft = session.drafts.batches[session.view.batch].pieces[piece->id];
  const parts::Key here = key("weigh") / piece->id;
  const parts::Key day_key = here / "day";
  const Date date = draft.day.value_or(today);
  if (parts::way_back(s.page, {key("weigh") / "leave", s.say(Say::leave), parts::ActKind::bare, true, {}})) {
    session.view.piece = {};
  }
  parts::over_heading(s.page, words::verbatim(batch->name));
  parts::heading(s.page, s.say(Say::piece_n, {words::count("n", piece->number)}));
  const words::Arg hung = words::arg("hung", grams(s.l, piece->hung));
  const words::Arg hung_on = words::arg("date", words::day_month(s.l, batch->hung_on));
  const drying::Weighing* last = plan::last_weighing(*batch, piece->id, today);
  const int ago = last == nullptr ? 0 : days_between(last->date, today);
  parts::paragraph(
      s.page, last == nullptr ? s.say(Say::weigh_was_new, {hung_on, hung})
              : ago == 0
                  ? s.say(Say::weigh_was_today, {hung_on, hung, words::arg("last", grams(s.l, last->mass))})
                  : s.say(Say::weigh_was, {hung_on, hung, words::arg("last", grams(s.l, last->mass)),
                                           words::count("n", ago)}));

  std::optional<drying::MassBand> expected;
  const Forecasts::Answer answer = session.forecasts.ask(session.view.batch, batch, today, session.hands());
  if (answer.forecast != nullptr) {
    for (const drying::PieceOutlook& outlook : answer.forecast->pieces) {
      if (outlook.piece != piece->id) continue;
      expected = drying::expected_mass(
          outlook, piece->hung, Days(static_cast<double>(std::max(0, days_between(batch->hung_on, date)))));
    }
  }
  // On the day of hanging nothing is expected but what was hung.
  if (expected && std::ceil(expected->high.value) > std::floor(expected->low.value)) {
    const words::Text low = words::number(s.l, std::floor(expected->low.value), 0);
    parts::paragraph(s.page, s.say(Say::weigh_expected,
                                   {words::arg("low", low),
                                    words::arg("high", grams(s.l, Grams(std::ceil(expected->high.value))))}));
  }
  parts::gap(s.page, 16.0);
  const double hung_g = piece->hung.value;
  const NumberRule rule{"mass", NumberKind::mass, "g", 1.0, 1.5 * hung_g};
  parts::Field field;
  field.key = here / "weight";
  field.label = s.say(Say::weight);
  field.value = draft.weight;
  field.unit = words::verbatim("g");
  field.large = true;
  field.pad_act = s.say(Say::keep_weight);
  field.units = {"g", "oz", "lb"};
  if (last != nullptr) field.last = typed_number(s.l, last->mass.value, 1);
  const words::Language language = s.l;
  field.judge = [language, rule, hung_g, expected](const std::string& typed) {
    parts::Judged judged;
    const Result<TypedNumber> number = parse_number(typed, rule);
    if (!number.ok()) {
      judged.error = words::sentence(language, number.error());
      return judged;
    }
    const double mass_g = number.value().value;
    Say say = Say::weigh_lost;
    if (expected) {
      // A kitchen scale and a string are worth a gram or two either way.
      const double slack_g = std::max(2.0, 0.005 * hung_g);
      say = mass_g < expected->low.value - slack_g    ? Say::weigh_more
            : mass_g > expected->high.value + slack_g ? Say::weigh_less
                                                      : Say::weigh_as_expected;
    }
    judged.answer =
        words::text(language, say, {words::arg("loss", per_cent(language, 1.0 - mass_g / hung_g, 1))});
    return judged;
  };
  const parts::Typed typed = parts::number_field(s.page, field);
  if (typed.committed) {
    // What was typed in another unit stands in the field's own from now on.
    const Result<TypedNumber> taken = parse_number(*typed.committed, rule);
    const bool in_grams = !taken.ok() || taken.value().unit == rule.unit;
    draft.weight = in_grams ? *typed.committed : typed_number(s.l, taken.value().value, 1);
  }
  const std::string text = typed.editing ? typed.judged : draft.weight;
  const Result<TypedNumber> number = parse_number(text, rule);
  parts::gap(s.page, 24.0);
  // The weight comes first: it is today's nearly always.
  if (const std::optional<Date> chosen =
          parts::date_field(s.page, {day_key, s.say(Say::day), date, today, true, {}})) {
    draft.day = *chosen;
  }
  parts::gap(s.page, 24.0);
  const parts::FieldState* day_field = s.page.host().field(day_key.value());
  const bool day_wrong = day_field != nullptr && day_field->kept;
  const bool pressed = parts::act(
      s.page, {key("weigh") / "keep", s.say(Say::keep_weight), parts::ActKind::main,
               number.ok() && !day_wrong, s.say(day_wrong ? Say::keep_day_first : Say::keep_weight_first)});
  if (pressed && number.ok() && !day_wrong) {
    const drying::Weighing weighing{make_id(session.book.ports()), piece->id, date,
                                    Grams(number.value().value)};
    const int which = piece->number;
    const Result<Done> done = session.weigh(session.view.batch, weighing);
    if (done.ok()) {
      s.page.host().drop_field(field.key.value());
      draft = {};
      session.view.piece = {};
      session.tell_edit(
          s.say(Say::weight_kept, {words::count("n", which), words::arg("mass", grams(s.l, weighing.mass))}));
    } else {
      session.tell_wrong(words::sentence(s.l, done.error()));
    }
  }
  draw_notice(s);
  draw_history(s);
}

}  // namespace saltrafter::desk
