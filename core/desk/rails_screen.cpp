// The Rails: what is in work, one batch with its forecast, and one piece being weighed.
#include <algorithm>
#include <cmath>

#include "core/desk/screens.h"

namespace saltrafter::desk {
namespace {

using Say = words::Id;
using drying::Forecast;

words::Text day_month(const Screen& s, const plan::Batch& batch, Days day) {
  return words::day_month(s.l, add_days(batch.hung_on, day));
}

words::Text loss_words(const Screen& s, double loss) { return per_cent(s.l, loss, 1); }

// What is expected, in one sentence.
words::Text window_words(const Screen& s, const plan::Batch& batch, const Forecast& forecast) {
  const drying::PieceOutlook& middle = forecast.pieces[forecast.middle];
  const words::Arg loss = words::arg("loss", per_cent(s.l, batch.made_from.wanted_loss, 0));
  const double now_d = static_cast<double>(days_between(batch.hung_on, s.session.today()));
  const drying::Window& window = middle.expected;
  if (!window.earliest) {
    if (middle.reaching_humidity) {
      return s.say(Say::window_never, {loss, words::arg("rh", per_cent(s.l, middle.reaching_humidity->value, 0))});
    }
    return s.say(Say::window_never_at_all,
                 {loss, words::arg("days", words::number(s.l, forecast.searched_days.value, 0))});
  }
  if (window.latest && window.latest->value < now_d) return s.say(Say::window_past, {loss});
  const words::Arg from = words::arg("from", day_month(s, batch, *window.earliest));
  if (!window.latest) return s.say(Say::window_open, {loss, from});
  return s.say(Say::window_lead, {loss, from, words::arg("to", day_month(s, batch, *window.latest))});
}

void draw_forecast(Screen& s, const plan::Batch& batch, const Forecasts::Answer& answer) {
  if (answer.error) {
    parts::trouble(s.page, s.say(Say::sheet_problem), words::sentence(s.l, *answer.error), std::nullopt);
    return;
  }
  if (answer.forecast != nullptr) {
    const Forecast& forecast = *answer.forecast;
    parts::lead(s.page, window_words(s, batch, forecast));
    int used = 0;
    for (const drying::PieceOutlook& piece : forecast.pieces) used += piece.weighings_used;
    words::Text trust = used > 0 ? s.say(Say::window_learnt, {words::count("n", used)}) : words::Text();
    if (forecast.prior_only) {
      const words::Text prior = s.say(Say::window_prior);
      trust = trust.empty() ? prior : words::join({trust, words::verbatim(" "), prior});
    }
    parts::paragraph(s.page, trust);
    for (const drying::Suspicion& doubt : forecast.suspicions) {
      for (const drying::Weighing& weighing : batch.weighings) {
        if (weighing.id != doubt.weighing) continue;
        parts::paragraph(s.page, s.say(Say::check_weighing, {words::arg("date", words::day_month(s.l, weighing.date)),
                                                             words::arg("mass", grams(s.l, weighing.mass))}));
      }
    }
  }
  if (answer.progress.total > 0 && answer.forecast == nullptr) {
    const double share = static_cast<double>(answer.progress.done) / answer.progress.total;
    if (parts::progress(s.page, key("batch") / "forecast", s.say(Say::forecasting), share)) s.session.forecasts.stop();
  }
  if (answer.forecast == nullptr) return;
  parts::gap(s.page, 16.0);
  parts::chart(s.page, drying_view(s, batch, *answer.forecast));
}

// How far the rim is ahead of the centre, today.
void draw_rim(Screen& s, const plan::Batch& batch, const Forecast& forecast) {
  const auto now = static_cast<std::size_t>(std::max(0, days_between(batch.hung_on, s.session.today())));
  if (now >= forecast.curve.size()) return;
  const drying::DayState& state = forecast.curve[now].state;
  const Say amount = state.case_hardening < drying::kCalmBelow   ? Say::rim_calm
                     : state.case_hardening < drying::kActAbove ? Say::rim_watch
                                                                 : Say::rim_act;
  parts::second_heading(s.page, s.say(Say::rim_title, {words::arg("amount", s.say(amount))}));
  parts::paragraph(s.page, s.say(Say::rim_says, {words::arg("surface", words::number(s.l, state.aw_surface.value, 2)),
                                                 words::arg("core", words::number(s.l, state.aw_core.value, 2))}));
}

void draw_pieces(Screen& s, const plan::Batch& batch, const Forecast* forecast) {
  const Date today = s.session.today();
  parts::gap(s.page, 24.0);
  const auto has_dates = [](const drying::PieceOutlook& piece) {
    return piece.expected.earliest && piece.expected.latest;
  };
  const bool dated =
      forecast != nullptr && std::any_of(forecast->pieces.begin(), forecast->pieces.end(), has_dates);
  parts::second_heading(
      s.page, s.say(Say::pieces),
      dated ? s.say(Say::pieces_when, {words::arg("loss", per_cent(s.l, batch.made_from.wanted_loss, 0))})
            : words::Text());
  for (std::size_t i = 0; i < batch.pieces.size(); ++i) {
    const plan::Piece& piece = batch.pieces[i];
    parts::Row row;
    row.key = key("batch") / piece.id;
    row.name = s.say(Say::piece_n, {words::count("n", piece.number)});
    const drying::Weighing* last = plan::last_weighing(batch, piece.id, today);
    row.fact = last == nullptr
                   ? s.say(Say::piece_fact_new, {words::arg("hung", grams(s.l, piece.hung))})
                   : s.say(Say::piece_fact, {words::arg("hung", grams(s.l, piece.hung)),
                                             words::arg("now", grams(s.l, last->mass)),
                                             words::arg("loss", loss_words(s, plan::loss_so_far(batch, piece, today)))});
    if (forecast != nullptr && i < forecast->pieces.size()) {
      const drying::Window& window = forecast->pieces[i].expected;
      if (window.earliest && window.latest) {
        row.figure = s.say(Say::piece_expected, {words::arg("from", day_month(s, batch, *window.earliest)),
                                                 words::arg("to", day_month(s, batch, *window.latest))});
      }
    }
    if (parts::row(s.page, row)) {
      s.session.view.piece = piece.id;
      s.session.notice.reset();
    }
  }
}

}  // namespace

void draw_batches(Screen& s) {
  Session& session = s.session;
  const std::vector<Id> ids = session.book.ids(book::Kind::batch);
  parts::heading(s.page, s.say(Say::in_work));
  draw_notice(s);
  if (ids.empty()) {
    if (parts::empty_state(s.page, s.say(Say::nothing_hangs), s.say(Say::nothing_hangs_what),
                           parts::Act{key("rails") / "bench", s.say(Say::go_to_bench), parts::ActKind::other, true, {}})) {
      session.go_to(Place::bench);
    }
  } else {
    parts::lead(s.page, s.say(Say::in_work_lead, {words::count("n", static_cast<int>(ids.size()))}));
    const Date today = session.today();
    for (const Id& id : ids) {
      const auto batch = session.book.batch(id);
      if (!batch) continue;
      const int day = days_between(batch->hung_on, today);
      double lost = 0.0;
      for (const plan::Piece& piece : batch->pieces) lost = std::max(lost, plan::loss_so_far(*batch, piece, today));
      parts::Row row;
      row.key = key("rails") / id;
      row.name = words::verbatim(batch->name);
      const words::Arg day_arg = words::count("day", day);
      const words::Arg pieces = words::count("n", static_cast<int>(batch->pieces.size()));
      row.fact = batch->weighings.empty()
                     ? s.say(Say::batch_fact_new, {day_arg, pieces})
                     : s.say(Say::batch_fact, {day_arg, pieces, words::arg("loss", loss_words(s, lost))});
      if (parts::row(s.page, row)) session.view.batch = id;
    }
  }
  draw_history(s);
}

void draw_batch(Screen& s) {
  Session& session = s.session;
  const Id id = session.view.batch;
  const auto batch = session.book.batch(id);
  if (!batch) {
    session.view.batch = {};
    return;
  }
  const int day = days_between(batch->hung_on, session.today());
  if (parts::way_back(s.page, {key("batch") / "back", s.say(Say::all_batches),
                               parts::ActKind::bare, true, {}})) {
    session.view.batch = {};
  }
  parts::over_heading(s.page, s.say(Say::batch_label, {words::count("day", day),
                                                       words::arg("date", words::day_month(s.l, batch->hung_on))}));
  parts::heading(s.page, s.say(Say::batch_title, {words::arg("name", batch->name),
                                                  words::count("n", static_cast<int>(batch->pieces.size()))}));
  draw_notice(s);
  const Forecasts::Answer answer = session.forecasts.ask(id, batch, session.today());
  draw_forecast(s, *batch, answer);
  parts::reason(s.page, s.say(Say::air_of_batch,
                              {words::arg("temperature", celsius(s.l, batch->air.temperature)),
                               words::arg("humidity", per_cent(s.l, batch->air.humidity.value, 0)),
                               words::arg("diameter", millimetres(s.l, batch->made_from.casing_diameter))}));
  draw_pieces(s, *batch, answer.forecast);
  draw_history(s);
  if (answer.forecast != nullptr) {
    parts::gap(s.page, 24.0);
    draw_rim(s, *batch, *answer.forecast);
  }

  s.page.second_column();
  const Result<recipe::Sheet> sheet = recipe::scale(batch->made_from, batch->meat);
  if (!sheet.ok()) return;
  draw_findings(s, safety::findings(batch->made_from, sheet.value(), safety::Chosen::not_chosen, session.today()));
  parts::gap(s.page, 16.0);
  parts::paragraph(s.page, s.say(Say::not_known_lead));
  draw_composition(s, sheet.value(), batch->made_from.wanted_loss);
}

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
  WeighDraft& draft = session.weigh_draft;
  if (draft.piece != piece->id) draft = {piece->id, std::nullopt, {}};
  const parts::Key here = key("weigh") / piece->id;
  const parts::Key day_key = here / "day";
  const Date date = draft.day.value_or(today);
  if (parts::way_back(s.page, {key("weigh") / "leave", s.say(Say::leave), parts::ActKind::bare, true, {}})) {
    session.view.piece = {};
    s.page.host().drop_field((here / "weight").value());
  }
  parts::over_heading(s.page, words::verbatim(batch->name));
  parts::heading(s.page, s.say(Say::piece_n, {words::count("n", piece->number)}));
  const words::Arg hung = words::arg("hung", grams(s.l, piece->hung));
  const words::Arg hung_on = words::arg("date", words::day_month(s.l, batch->hung_on));
  const drying::Weighing* last = plan::last_weighing(*batch, piece->id, today);
  const int ago = last == nullptr ? 0 : days_between(last->date, today);
  parts::paragraph(
      s.page, last == nullptr ? s.say(Say::weigh_was_new, {hung_on, hung})
              : ago == 0      ? s.say(Say::weigh_was_today, {hung_on, hung, words::arg("last", grams(s.l, last->mass))})
                              : s.say(Say::weigh_was, {hung_on, hung, words::arg("last", grams(s.l, last->mass)),
                                                       words::count("n", ago)}));

  std::optional<drying::MassBand> expected;
  const Forecasts::Answer answer = session.forecasts.ask(session.view.batch, batch, today);
  if (answer.forecast != nullptr) {
    for (const drying::PieceOutlook& outlook : answer.forecast->pieces) {
      if (outlook.piece != piece->id) continue;
      expected = drying::expected_mass(outlook, piece->hung,
                                       Days(static_cast<double>(std::max(0, days_between(batch->hung_on, date)))));
    }
  }
  // On the day of hanging nothing is expected but what was hung.
  if (expected && std::ceil(expected->high.value) > std::floor(expected->low.value)) {
    const words::Text low = words::number(s.l, std::floor(expected->low.value), 0);
    parts::paragraph(s.page, s.say(Say::weigh_expected, {words::arg("low", low),
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
    judged.answer = words::text(language, say, {words::arg("loss", per_cent(language, 1.0 - mass_g / hung_g, 1))});
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
  const bool pressed =
      parts::act(s.page, {key("weigh") / "keep", s.say(Say::keep_weight), parts::ActKind::main, number.ok() && !day_wrong,
                          s.say(day_wrong ? Say::keep_day_first : Say::keep_weight_first)});
  if (pressed && number.ok() && !day_wrong) {
    const drying::Weighing weighing{make_id(session.book.ports()), piece->id, date, Grams(number.value().value)};
    const int which = piece->number;
    const Result<Done> done = session.weigh(session.view.batch, weighing);
    if (done.ok()) {
      s.page.host().drop_field(field.key.value());
      draft = {};
      session.view.piece = {};
      session.tell_edit(s.say(Say::weight_kept, {words::count("n", which), words::arg("mass", grams(s.l, weighing.mass))}));
    } else {
      session.tell_wrong(words::sentence(s.l, done.error()));
    }
  }
  draw_notice(s);
  draw_history(s);
}

}  // namespace saltrafter::desk
