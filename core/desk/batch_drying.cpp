// How a batch dries: when it is expected, its chart, a slice through a piece on the day that is read, its programme,
// its pieces, and what another air would do.
#include <algorithm>
#include <cmath>

#include "core/desk/chamber_view.h"
#include "core/desk/forms.h"
#include "core/desk/programme_view.h"

namespace saltrafter::desk {
namespace {

using Say = words::Id;
using drying::Forecast;

constexpr int kRings = 12;
constexpr double kSection_px = 196.0;

words::Text day_month(const Screen& s, const plan::Batch& batch, Days day) {
  return words::day_month(s.l, add_days(batch.hung_on, day));
}

double now_days(const Screen& s, const plan::Batch& batch) {
  return static_cast<double>(days_between(batch.hung_on, s.session.today()));
}

// What is wanted, as it stands in a sentence: "35 %", or all the wishes by one word.
words::Text wanted_words(const Screen& s, const plan::Batch& batch, const Forecast& forecast) {
  const words::Arg loss = words::arg("loss", per_cent(s.l, forecast.needed.loss, 0));
  return s.say(batch.wishes.empty() ? Say::wanted_loss_only : Say::wanted_all, {loss});
}

// What is expected, in one sentence.
words::Text window_words(const Screen& s, const plan::Batch& batch, const Forecast& forecast) {
  const drying::PieceOutlook& middle = forecast.pieces[forecast.middle];
  const words::Arg wanted = words::arg("wanted", wanted_words(s, batch, forecast));
  const drying::Window& window = middle.expected;
  if (!window.earliest) {
    if (middle.reaching_humidity) {
      return s.say(Say::window_never,
                   {wanted, words::arg("rh", per_cent(s.l, middle.reaching_humidity->value, 0))});
    }
    return s.say(Say::window_never_at_all,
                 {wanted, words::arg("days", words::number(s.l, forecast.searched_days.value, 0))});
  }
  if (window.latest && window.latest->value < now_days(s, batch)) return s.say(Say::window_past, {wanted});
  const words::Arg from = words::arg("from", day_month(s, batch, *window.earliest));
  if (!window.latest) return s.say(Say::window_open, {wanted, from});
  return s.say(Say::window_lead, {wanted, from, words::arg("to", day_month(s, batch, *window.latest))});
}

words::Text odds_words(const Screen& s, double odds) {
  return odds < 0.01 ? s.say(Say::odds_hardly) : odds > 0.99 ? s.say(Say::odds_nearly) : per_cent(s.l, odds, 0);
}

int how_many_hang(const Forecast& forecast) {
  return static_cast<int>(std::count_if(forecast.pieces.begin(), forecast.pieces.end(),
                                        [](const drying::PieceOutlook& piece) { return piece.hangs; }));
}

// By when all that hangs has what is wanted, 8 times in 10: "1 December to 9 December".
words::Text all_by_words(const Screen& s, const plan::Batch& batch, const Forecast& forecast) {
  if (!forecast.all) return {};
  const words::Arg from = words::arg("from", day_month(s, batch, forecast.all->tenth));
  if (forecast.all->ninetieth > forecast.searched_days) return s.say(Say::all_by_open, {from});
  return s.say(Say::from_to, {from, words::arg("to", day_month(s, batch, forecast.all->ninetieth))});
}

words::Text all_words(const Screen& s, const plan::Batch& batch, const Forecast& forecast) {
  if (!forecast.all) return {};
  const words::Arg n = words::count("n", how_many_hang(forecast));
  if (forecast.all->ninetieth.value < now_days(s, batch)) return s.say(Say::all_by_now, {n});
  return s.say(Say::all_by, {n, words::arg("when", all_by_words(s, batch, forecast))});
}

// What readings have made of water and isotherm, where there are any.
words::Text moved_words(const Screen& s, const Forecast& forecast) {
  const double water = forecast.offsets.mean[0];
  const double holding = forecast.offsets.mean[1];
  if (water == 0.0 && holding == 0.0) return {};
  constexpr double kLeastWater = 0.001;
  constexpr double kLeastHolding = 0.01;
  const words::Text amount = per_cent(s.l, std::abs(water), 1);
  const words::Text of_water = std::abs(water) < kLeastWater ? s.say(Say::moved_water_same)
                               : water > 0.0 ? s.say(Say::moved_water_more, {words::arg("points", amount)})
                                             : s.say(Say::moved_water_less, {words::arg("points", amount)});
  const Say holds = std::abs(holding) < kLeastHolding ? Say::moved_holds_same
                    : holding > 0.0                   ? Say::moved_holds_more
                                                      : Say::moved_holds_less;
  return s.say(Say::window_moved, {words::arg("water", of_water), words::arg("holds", s.say(holds))});
}

// How each piece stands to what is wanted, in the order of the batch.
struct Standings {
  std::vector<plan::Reached> reached;
  std::vector<std::optional<Date>> ready;
  int hang = 0, hang_reached = 0;
};
Standings standings(Screen& s, const Id& id, const plan::Batch& batch, const Forecast* forecast) {
  Standings all;
  const std::shared_ptr<const BatchJudged> judged = s.session.judged(id);
  const recipe::Composition composition = judged && !judged->error ? judged->sheet.composition : recipe::Composition{};
  for (const plan::Piece& piece : batch.pieces) {
    all.reached.push_back(
        plan::reached(batch, piece, s.session.today(), composition, forecast, s.session.book.ports()));
    all.ready.push_back(judged && !judged->error ? plan::ready_since(judged->evidence, judged->findings, piece.id)
                                                 : std::nullopt);
    if (plan::find_taken_down(batch, piece.id) != nullptr) continue;
    ++all.hang;
    all.hang_reached += all.reached.back().by_measurement() ? 1 : 0;
  }
  return all;
}

// What stands in the place of the expected days: ready, down, reached; nothing while it is expected.
words::Text stands_words(const Screen& s, const plan::Batch& batch, const Standings& all, std::size_t piece) {
  if (all.ready[piece])
    return s.say(Say::piece_ready, {words::arg("date", words::day_month(s.l, *all.ready[piece]))});
  const bool down = plan::find_taken_down(batch, batch.pieces[piece].id) != nullptr;
  words::Text reached;
  const plan::WishMet* last = all.reached[piece].last();
  if (all.reached[piece].by_measurement() && last != nullptr) {
    const Say how = last->by == plan::MetBy::weighing  ? Say::piece_reached_weighed
                    : last->by == plan::MetBy::reading ? Say::piece_reached_measured
                                                       : Say::piece_reached;
    reached = s.say(how, {words::arg("date", words::day_month(s.l, *last->on))});
  }
  return with_commas({down ? s.say(Say::piece_down) : words::Text(), reached});
}

void draw_suspicions(Screen& s, const plan::Batch& batch, const Forecast& forecast) {
  std::vector<Id> told;  // each weighing once, also of a bunch
  for (const drying::Suspicion& doubt : forecast.suspicions) {
    if (std::find(told.begin(), told.end(), doubt.weighing) != told.end()) continue;
    told.push_back(doubt.weighing);
    for (const drying::Weighing& weighing : batch.weighings) {
      if (weighing.id != doubt.weighing) continue;
      parts::paragraph(s.page, s.say(Say::check_weighing, {words::arg("date", words::day_month(s.l, weighing.date)),
                                                           words::arg("mass", grams(s.l, weighing.mass))}));
    }
  }
}

void draw_lead(Screen& s, const plan::Batch& batch, const Forecast& forecast, const Standings& all) {
  const bool all_reached = all.hang > 0 && all.hang_reached == all.hang;
  parts::lead(s.page, all_reached ? s.say(Say::window_reached, {words::count("n", all.hang)})
                                  : window_words(s, batch, forecast));
  int used = 0;
  for (const drying::PieceOutlook& piece : forecast.pieces) used += piece.weighings_used;
  std::vector<words::Text> trust;
  const auto add = [&trust](words::Text text) {
    if (text.empty()) return;
    if (!trust.empty()) trust.push_back(words::verbatim(" "));
    trust.push_back(std::move(text));
  };
  if (used > 0) add(s.say(Say::window_learnt, {words::count("n", used)}));
  if (!all_reached) {
    add(all_words(s, batch, forecast));
    if (all.hang_reached > 0) {
      add(s.say(Say::some_reached, {words::arg("reached", words::number(s.l, all.hang_reached, 0)),
                                    words::count("n", all.hang)}));
    }
  }
  add(moved_words(s, forecast));
  if (forecast.prior_only) add(s.say(Say::window_prior));
  if (!trust.empty()) parts::paragraph(s.page, words::join(trust));
  draw_suspicions(s, batch, forecast);
}

// Loss over what is wanted, from the centre to the rim (of a slab to its open face) in even rings.
std::vector<double> rings_of(const std::vector<drying::Layer>& layers, double wanted) {
  std::vector<double> rings;
  std::size_t at = 0;
  for (int i = 0; i < kRings && !layers.empty(); ++i) {
    const double place = (i + 0.5) / kRings;
    while (at + 1 < layers.size() && layers[at].outer < place) ++at;
    rings.push_back(wanted > 0.0 ? layers[at].loss / wanted : 0.0);
  }
  return rings;
}

figure::SectionForm section_form(recipe::Form form) {
  switch (form) {
    case recipe::Form::round:
    case recipe::Form::rolled:
    case recipe::Form::ham: break;
    case recipe::Form::slab: return figure::SectionForm::slab;
    case recipe::Form::slab_closed: return figure::SectionForm::slab_closed;
  }
  return figure::SectionForm::round;
}

// A slice through the middle piece on a day of the curve, and how far its rim is ahead.
void draw_section(Screen& s, const plan::Batch& batch, const Forecast& forecast, int day) {
  const auto at = static_cast<std::size_t>(std::clamp(day, 0, static_cast<int>(forecast.curve.size()) - 1));
  const drying::CurveDay& one = forecast.curve[at];
  const drying::DayState& state = one.state;
  const double wanted = forecast.needed.loss;
  const words::Text date = words::day_month(s.l, add_days(batch.hung_on, Days(static_cast<double>(at))));
  const Say amount = state.case_hardening < drying::kCalmBelow   ? Say::rim_calm
                     : state.case_hardening < drying::kActAbove ? Say::rim_watch
                                                                 : Say::rim_act;
  parts::gap(s.page, 24.0);
  parts::second_heading(s.page, s.say(Say::rim_title, {words::arg("date", date), words::arg("amount", s.say(amount))}));
  parts::paragraph(s.page, s.say(Say::rim_says, {words::arg("surface", words::number(s.l, state.aw_surface.value, 2)),
                                                 words::arg("core", words::number(s.l, state.aw_core.value, 2)),
                                                 words::arg("mean", words::number(s.l, state.aw_mean.value, 2))}));
  const plan::Piece& piece = batch.pieces[forecast.middle];
  const recipe::Composition made_of = recipe::after_loss(forecast.composition, state.loss);
  const double total_g = made_of.total_g();
  const Grams mass = plan::base_on(batch, piece, s.session.today()).equivalent_hung * (1.0 - state.loss);
  const auto share = [&](double part_g) { return per_cent(s.l, part_g / total_g, 1); };
  parts::paragraph(
      s.page, s.say(Say::rim_made_of,
                    {words::arg("mass", grams(s.l, mass)), words::arg("water", share(made_of.water_g)),
                     words::arg("protein", share(made_of.protein_g)), words::arg("fat", share(made_of.fat_g)),
                     words::arg("salt", share(made_of.salt_g)),
                     words::arg("mpr", words::number(s.l, recipe::moisture_protein_ratio(made_of), 2)),
                     words::arg("brine", per_cent(s.l, recipe::water_phase_salt(made_of), 1))}));
  if (!one.layers.empty()) {
    const words::Text says =
        s.say(Say::section_says, {words::arg("date", date), words::arg("loss", per_cent(s.l, state.loss, 1)),
                                  words::arg("rim", per_cent(s.l, one.layers.back().loss, 0)),
                                  words::arg("core", per_cent(s.l, one.layers.front().loss, 0))});
    figure::SectionInput section;
    section.form = section_form(batch.made_from.form);
    section.diameter_mm = std::min(kSection_px, s.page.width()) * figure::kMmPerPx;
    const double green_m = forecast.curve.front().state.outer.value;
    section.radius_share = green_m > 0.0 ? state.outer.value / green_m : 1.0;
    section.loss_over_wanted = rings_of(one.layers, wanted);
    parts::figure_view(s.page, figure::cross_section(section), says);
    parts::paragraph(s.page, says);
  }
  const drying::Window& window = forecast.pieces[forecast.middle].expected;
  const double end = window.latest     ? window.latest->value
                     : window.earliest ? window.earliest->value * 1.3
                                       : static_cast<double>(forecast.curve.size()) - 1.0;
  if (!(end > 0.0) || !(wanted > 0.0)) return;
  figure::MeatStripInput strip;
  for (std::size_t i = 0; i < forecast.curve.size() && static_cast<double>(i) <= end; ++i) {
    const double loss = forecast.curve[i].state.loss;
    strip.moments.push_back({static_cast<double>(i) / end, 1.0 - loss, loss / wanted});
  }
  strip.now = std::min(1.0, now_days(s, batch) / end);
  strip.window_from = window.earliest ? std::min(1.0, window.earliest->value / end) : 1.0;
  parts::meat_strip(s.page, s.say(Say::strip_says), strip, words::day_month(s.l, batch.hung_on),
                    day_month(s, batch, Days(end)));
}

// What is left of a piece, as it weighed at hanging.
Grams left_of(const plan::PieceMass& mass) { return mass.base.equivalent_hung + mass.base.tare; }

// Pieces, the soonest first.
void draw_pieces(Screen& s, const plan::Batch& batch, const Forecast* forecast, const Standings& all) {
  const Date today = s.session.today();
  parts::gap(s.page, 24.0);
  struct Line {
    std::size_t piece;
    double likely;
  };
  std::vector<Line> lines;
  for (std::size_t i = 0; i < batch.pieces.size(); ++i) {
    const bool known = forecast != nullptr && i < forecast->pieces.size() && forecast->pieces[i].expected.likely;
    lines.push_back({i, known ? forecast->pieces[i].expected.likely->value : 1e9});
  }
  std::stable_sort(lines.begin(), lines.end(), [](const Line& a, const Line& b) { return a.likely < b.likely; });
  std::vector<parts::TableRow> rows;
  bool estimated = false;
  for (const Line& line : lines) {
    const plan::Piece& piece = batch.pieces[line.piece];
    parts::TableRow row;
    row.key = key("batch") / piece.id;
    const std::optional<plan::PieceMass> last = plan::last_mass(batch, piece, today);
    const drying::PieceOutlook* outlook =
        forecast != nullptr && line.piece < forecast->pieces.size() ? &forecast->pieces[line.piece] : nullptr;
    const bool down = plan::find_taken_down(batch, piece.id) != nullptr;
    words::Text lost;
    if (last && (last->date == today || down || outlook == nullptr)) {
      lost = per_cent(s.l, last->loss, 1);
    } else if (outlook != nullptr) {
      estimated = true;
      lost = s.say(Say::piece_lost_estimated, {words::arg("loss", per_cent(s.l, outlook->loss_now.likely, 0))});
    }
    words::Text when = stands_words(s, batch, all, line.piece);
    words::Text odds;
    if (when.empty() && outlook != nullptr) {
      const drying::Window& window = outlook->expected;
      if (window.earliest && window.latest) {
        when = s.say(Say::piece_expected, {words::arg("from", day_month(s, batch, *window.earliest)),
                                           words::arg("to", day_month(s, batch, *window.latest))});
      }
      if (const std::optional<double> by_now = drying::odds_by(*outlook, Days(now_days(s, batch)))) {
        odds = odds_words(s, *by_now);
      }
    }
    row.cells = {s.say(Say::piece_n, {words::count("n", piece.number)}),
                 last ? s.say(Say::piece_weighed, {words::arg("now", grams(s.l, last->mass)),
                                                   words::arg("hung", grams(s.l, left_of(*last))),
                                                   words::arg("date", words::day_month(s.l, last->date))})
                      : s.say(Say::piece_hung, {words::arg("hung", grams(s.l, piece.hung))}),
                 lost, when, odds};
    rows.push_back(std::move(row));
  }
  if (forecast != nullptr && forecast->all && all.hang_reached < all.hang) {
    const std::optional<double> by_now = drying::odds_of_all(*forecast, Days(now_days(s, batch)));
    rows.push_back({std::nullopt,
                    {s.say(Say::pieces_all_row, {words::count("n", how_many_hang(*forecast))}), words::Text(),
                     words::Text(), s.say(Say::all_expected, {words::arg("when", all_by_words(s, batch, *forecast))}),
                     odds_words(s, by_now.value_or(0.0))}});
  }
  const words::Text wanted = forecast != nullptr ? wanted_words(s, batch, *forecast) : words::Text();
  parts::second_heading(s.page, s.say(Say::pieces),
                        forecast == nullptr ? words::Text()
                                            : s.say(estimated ? Say::pieces_estimated : Say::pieces_all_weighed,
                                                    {words::arg("wanted", wanted)}));
  const std::optional<int> pressed = parts::table(
      s.page,
      {{s.say(Say::pieces_piece), false}, {s.say(Say::pieces_weighed), false}, {s.say(Say::pieces_lost), true},
       {s.say(Say::pieces_expected), true}, {s.say(Say::pieces_odds), true}},
      rows, s.say(Say::pieces_order));
  if (!pressed) return;
  s.session.view.piece = batch.pieces[lines[static_cast<std::size_t>(*pressed)].piece].id;
  s.session.notice.reset();
}

// The most a day loses from a day on, share of the weight at hanging.
double most_daily(const Forecast& forecast, std::size_t from) {
  double most = 0.0;
  for (std::size_t i = std::max<std::size_t>(1, from + 1); i < forecast.curve.size(); ++i) {
    most = std::max(most, forecast.curve[i].state.loss - forecast.curve[i - 1].state.loss);
  }
  return most;
}

double most_hardened(const Forecast& forecast, std::size_t from) {
  double most = 0.0;
  for (std::size_t i = from; i < forecast.curve.size(); ++i) {
    most = std::max(most, forecast.curve[i].state.case_hardening);
  }
  return most;
}

void say_what_if(Screen& s, const plan::Batch& batch, const Forecast& as_is, const Forecast& other) {
  const drying::Window& window = other.pieces[other.middle].expected;
  const drying::Window& before = as_is.pieces[as_is.middle].expected;
  if (!window.earliest) {
    parts::lead(s.page, s.say(Say::what_if_never));
    return;
  }
  const words::Arg from = words::arg("from", day_month(s, batch, *window.earliest));
  if (!window.latest) {
    parts::lead(s.page, s.say(Say::what_if_open, {from}));
    return;
  }
  const words::Arg to = words::arg("to", day_month(s, batch, *window.latest));
  if (!before.likely || !window.likely) {
    parts::lead(s.page, s.say(Say::what_if_says, {from, to}));
  } else {
    const int sooner = static_cast<int>(std::lround(before.likely->value - window.likely->value));
    parts::lead(s.page, sooner == 0 ? s.say(Say::what_if_same, {from, to})
                        : sooner > 0
                            ? s.say(Say::what_if_sooner, {from, to, words::count("n", sooner)})
                            : s.say(Say::what_if_later, {from, to, words::count("n", -sooner)}));
  }
  const auto now = static_cast<std::size_t>(std::max(0.0, now_days(s, batch)));
  const double hardened = most_hardened(other, now);
  const Say amount = hardened < drying::kCalmBelow   ? Say::rim_calm
                     : hardened < drying::kActAbove ? Say::rim_watch
                                                     : Say::rim_act;
  parts::paragraph(s.page, s.say(Say::what_if_price, {words::arg("loss", per_cent(s.l, most_daily(other, now), 1)),
                                                      words::arg("before", per_cent(s.l, most_daily(as_is, now), 1)),
                                                      words::arg("amount", s.say(amount))}));
}

void draw_what_if(Screen& s, const Id& id, const plan::Batch& batch, const Forecasts::Answer& answer,
                  const Forecasts::Answer& other) {
  plan::WhatIf& draft = s.session.drafts.batches[id].what_if;
  const drying::Stage now = plan::air_ahead(batch, s.session.today());
  const parts::Key here = key("what_if") / id;
  parts::gap(s.page, 24.0);
  parts::second_heading(s.page, s.say(Say::what_if_title), s.say(Say::what_if_beneath));
  if (const auto t = number_entry(s, here / "temperature", Say::temperature,
                                  {"temperature", NumberKind::temperature, "°C", 0.0, 30.0},
                                  draft.temperature.value_or(now.temperature).value, 1, {"°C", "°F"}, 0.5)) {
    draft.temperature = Celsius(*t);
  }
  if (const auto rh = number_entry(s, here / "humidity", Say::humidity,
                                   {"humidity", NumberKind::humidity, "%", 0.40, 0.98},
                                   draft.humidity.value_or(now.humidity).value, 1, {}, 1.0)) {
    draft.humidity = RelativeHumidity(*rh);
  }
  if (const auto speed = number_entry(s, here / "speed", Say::what_if_speed, {"speed", NumberKind::speed, "m/s", 0.01, 2.0},
                                      draft.speed.value_or(now.speed).value, 2, {}, 0.05)) {
    draft.speed = MetresPerSecond(*speed);
  }
  if (draft == plan::WhatIf{}) return;
  if (other.forecast != nullptr && answer.forecast != nullptr) {
    say_what_if(s, batch, *answer.forecast, *other.forecast);
    say_damp_if(s, batch, *answer.forecast, draft.humidity.value_or(now.humidity));
  } else {
    draw_under_way(s, here, other.stopped, other.progress, s.say(Say::forecasting));
  }
  parts::gap(s.page, 8.0);
  if (parts::act(s.page, {here / "back", s.say(Say::what_if_back), parts::ActKind::other, true, {}})) draft = {};
}

}  // namespace

void draw_drying(Screen& s, const Id& id, const std::shared_ptr<const plan::Batch>& shared) {
  Session& session = s.session;
  const plan::Batch& batch = *shared;
  const Forecasts::Answer answer = session.forecasts.ask(id, shared, session.today(), session.hands());
  if (answer.error) {
    parts::trouble(s.page, s.say(Say::sheet_problem), words::sentence(s.l, *answer.error), std::nullopt);
    return;
  }
  if (answer.forecast == nullptr) {
    draw_under_way(s, key("batch") / id, answer.stopped, answer.progress, s.say(Say::forecasting));
    draw_programme(s, batch, nullptr, 0.0);
    draw_pieces(s, batch, nullptr, standings(s, id, batch, nullptr));
    return;
  }
  if (answer.stopped) draw_under_way(s, key("batch") / id, true, {}, {});
  const plan::WhatIf what_if = session.drafts.batches[id].what_if;
  Forecasts::Answer other;
  if (!(what_if == plan::WhatIf{})) {
    other = session.forecasts.ask(id, shared, session.today(), session.hands(), what_if);
  }
  const Standings all = standings(s, id, batch, answer.forecast);
  draw_lead(s, batch, *answer.forecast, all);
  parts::gap(s.page, 16.0);
  parts::ChartView view = drying_view(s, batch, *answer.forecast, other.forecast);
  const double to_day = view.chart.to_day;
  const int day = parts::chart(s.page, std::move(view));
  draw_section(s, batch, *answer.forecast, day);
  draw_counsel(s, id, batch);
  draw_pieces(s, batch, answer.forecast, all);
  draw_programme(s, batch, answer.forecast, to_day);
  draw_what_if(s, id, batch, answer, other);
  draw_levers_of(s, id, batch);
}

}  // namespace saltrafter::desk
