// The Rails: what is in work, one batch with its forecast, and one piece being weighed.
#include <algorithm>
#include <array>
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
      return s.say(Say::window_never,
                   {loss, words::arg("rh", per_cent(s.l, middle.reaching_humidity->value, 0))});
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
        parts::paragraph(s.page,
                         s.say(Say::check_weighing, {words::arg("date", words::day_month(s.l, weighing.date)),
                                                     words::arg("mass", grams(s.l, weighing.mass))}));
      }
    }
  }
  if (answer.progress.total > 0 && answer.forecast == nullptr) {
    const double share = static_cast<double>(answer.progress.done) / answer.progress.total;
    if (parts::progress(s.page, key("batch") / "forecast", s.say(Say::forecasting), share))
      s.session.forecasts.stop();
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
  parts::paragraph(s.page,
                   s.say(Say::rim_says, {words::arg("surface", words::number(s.l, state.aw_surface.value, 2)),
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
    row.fact =
        last == nullptr
            ? s.say(Say::piece_fact_new, {words::arg("hung", grams(s.l, piece.hung))})
            : s.say(Say::piece_fact,
                    {words::arg("hung", grams(s.l, piece.hung)), words::arg("now", grams(s.l, last->mass)),
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

words::Text batch_fact(const Screen& s, const plan::Batch& batch) {
  if (!batch.hung)
    return s.say(Say::batch_begun_fact, {words::arg("date", words::day_month(s.l, batch.begun_on))});
  const Date today = s.session.today();
  double lost = 0.0;
  for (const plan::Piece& piece : batch.pieces) lost = std::max(lost, plan::loss_so_far(batch, piece, today));
  const words::Arg day = words::count("day", days_between(batch.hung_on, today));
  const words::Arg pieces = words::count("n", static_cast<int>(batch.pieces.size()));
  return batch.weighings.empty()
             ? s.say(Say::batch_fact_new, {day, pieces})
             : s.say(Say::batch_fact, {day, pieces, words::arg("loss", loss_words(s, lost))});
}

// Where it stands, the stage it is in and the one to come; the way to its other pages.
void draw_work(Screen& s, const Id& id, const plan::Batch& batch) {
  Session& session = s.session;
  const std::shared_ptr<const BatchJudged> judged = session.judged(id);
  const safety::Stands& stands = judged->stands;
  if (const words::Text sentence = standing_sentence(s, stands); !sentence.empty())
    parts::lead(s.page, sentence);
  const plan::StagesNow now = plan::stages_now(batch);
  const std::vector<recipe::Stage>& stages = batch.made_from.stages;
  const auto stage_words = [&](Say say, std::size_t i) {
    return s.say(
        say, {words::arg("stage", stage_name(s, stages[i])), words::arg("fact", stage_fact(s, stages[i]))});
  };
  if (now.on) parts::paragraph(s.page, stage_words(Say::batch_in_stage, *now.on));
  if (now.next && (!batch.hung || now.on))
    parts::paragraph(s.page, stage_words(Say::batch_next_stage, *now.next));
  if (!batch.hung) {
    const bool hangs_next = !now.next || stages[*now.next].kind == recipe::StageKind::dry ||
                            stages[*now.next].kind == recipe::StageKind::cold_dry;
    const std::optional<int> pressed =
        parts::acts(s.page, {{key("batch") / "next", s.say(Say::batch_to_stage),
                              hangs_next ? parts::ActKind::other : parts::ActKind::main, now.next.has_value(),
                              s.say(Say::batch_next_hang)},
                             {key("batch") / "hang",
                              s.say(Say::hang_it),
                              hangs_next ? parts::ActKind::main : parts::ActKind::other,
                              true,
                              {}}});
    if (pressed == 0) session.open_rails(RailsLeaf::stages);
    if (pressed == 1) {
      session.notice.reset();
      session.open_rails(RailsLeaf::hang);
    }
  }
  const std::optional<int> leaf = parts::acts(
      s.page, {{key("batch") / "stages", s.say(Say::batch_stages), parts::ActKind::bare, true, {}},
               {key("batch") / "souring", s.say(Say::batch_souring), parts::ActKind::bare, true, {}},
               {key("batch") / "lots", s.say(Say::batch_lots), parts::ActKind::bare, true, {}},
               {key("batch") / "steps", s.say(Say::batch_steps), parts::ActKind::bare, true, {}},
               {key("batch") / "standing", s.say(Say::batch_standing), parts::ActKind::bare, true, {}},
               {key("batch") / "weigh_out",
                s.say(Say::batch_weigh_out),
                parts::ActKind::bare,
                !batch.weighed.empty() || !batch.hung,
                {}}});
  constexpr std::array<RailsLeaf, 5> kLeaves = {RailsLeaf::stages, RailsLeaf::souring, RailsLeaf::lots,
                                                RailsLeaf::steps, RailsLeaf::standing};
  if (leaf && *leaf < 5) session.open_rails(kLeaves[static_cast<std::size_t>(*leaf)]);
  if (leaf == 5) session.go_to_weigh_out(id);
}

}  // namespace

void draw_batches(Screen& s) {
  Session& session = s.session;
  const std::vector<Id> ids = session.book.ids(book::Kind::batch);
  parts::heading(s.page, s.say(Say::in_work));
  draw_notice(s);
  if (ids.empty()) {
    if (parts::empty_state(
            s.page, s.say(Say::nothing_hangs), s.say(Say::nothing_hangs_what),
            parts::Act{key("rails") / "bench", s.say(Say::go_to_bench), parts::ActKind::other, true, {}})) {
      session.go_to(Place::bench);
    }
  } else {
    parts::lead(s.page, s.say(Say::in_work_lead, {words::count("n", static_cast<int>(ids.size()))}));
    for (const Id& id : ids) {
      const auto batch = session.book.batch(id);
      if (!batch) continue;
      parts::Row row;
      row.key = key("rails") / id;
      row.name = words::verbatim(batch->name);
      row.fact = batch_fact(s, *batch);
      row.fact = with_standing(s, id, row.fact);
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
  if (batch->hung) {
    parts::over_heading(
        s.page, s.say(Say::batch_label,
                      {words::count("day", day), words::arg("date", words::day_month(s.l, batch->hung_on))}));
    parts::heading(s.page,
                   s.say(Say::batch_title, {words::arg("name", batch->name),
                                            words::count("n", static_cast<int>(batch->pieces.size()))}));
  } else {
    parts::over_heading(
        s.page, s.say(Say::batch_begun, {words::arg("date", words::day_month(s.l, batch->begun_on))}));
    parts::heading(s.page, words::verbatim(batch->name));
  }
  draw_notice(s);
  draw_work(s, id, *batch);
  if (batch->hung) {
    const Forecasts::Answer answer = session.forecasts.ask(id, batch, session.today(), session.hands());
    draw_forecast(s, *batch, answer);
    parts::reason(s.page,
                  s.say(Say::air_of_batch,
                        {words::arg("temperature", celsius(s.l, batch->air.temperature)),
                         words::arg("humidity", per_cent(s.l, batch->air.humidity.value, 0)),
                         words::arg("diameter", millimetres(s.l, batch->made_from.casing_diameter))}));
    draw_pieces(s, *batch, answer.forecast);
    if (answer.forecast != nullptr) {
      parts::gap(s.page, 24.0);
      draw_rim(s, *batch, *answer.forecast);
    }
  }
  draw_history(s);

  s.page.second_column();
  const std::shared_ptr<const BatchJudged> judged = session.judged(id);
  if (judged->error) {
    parts::trouble(s.page, s.say(Say::sheet_problem), words::sentence(s.l, *judged->error), std::nullopt);
    return;
  }
  draw_findings(s, judged->findings);
  parts::gap(s.page, 16.0);
  parts::paragraph(s.page, s.say(Say::not_known_lead));
  draw_composition(s, key("batch") / id, session.drafts.batches[id].loss, batch->made_from, judged->sheet);
}

}  // namespace saltrafter::desk
