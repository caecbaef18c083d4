// What is seen of a batch while it dries, what to do about it, which pieces to weigh, and what would bring it sooner.
#include <algorithm>
#include <cmath>

#include "core/desk/forms.h"
#include "core/desk/screens.h"

namespace saltrafter::desk {
namespace {

using Say = words::Id;
using drying::Cure;
using drying::Trouble;

std::vector<std::vector<Id>> bunches_of(const plan::Batch& batch) {
  std::vector<std::vector<Id>> all;
  for (const drying::Weighing& weighing : batch.weighings) {
    if (weighing.bunch.size() < 2) continue;
    const bool clear = std::none_of(all.begin(), all.end(), [&weighing](const std::vector<Id>& one) {
      return std::any_of(one.begin(), one.end(), [&weighing](const Id& id) {
        return std::find(weighing.bunch.begin(), weighing.bunch.end(), id) != weighing.bunch.end();
      });
    });
    if (clear) all.push_back(weighing.bunch);
  }
  return all;
}

words::Text pieces_words(const Screen& s, const plan::Batch& batch, const std::vector<Id>& ids) {
  std::vector<words::Text> numbers;
  for (const Id& id : ids) {
    if (const plan::Piece* piece = plan::find_piece(batch, id)) {
      numbers.push_back(s.say(Say::piece_n, {words::count("n", piece->number)}));
    }
  }
  return with_commas(numbers);
}

words::Text remedy_words(const Screen& s, const plan::Batch& batch, const drying::Advice& advice,
                         const drying::Remedy& remedy) {
  const words::Arg rh = words::arg("rh", per_cent(s.l, remedy.humidity.value_or(RelativeHumidity(0.0)).value, 0));
  const int days = remedy.days ? static_cast<int>(std::lround(remedy.days->value)) : 0;
  switch (remedy.cure) {
    case Cure::raise_humidity:
      return remedy.days ? s.say(Say::cure_raise_for, {rh, words::count("n", days)}) : s.say(Say::cure_raise, {rh});
    case Cure::lower_humidity: return s.say(Say::cure_lower, {rh});
    case Cure::equalise:
      return s.say(Say::cure_equalise, {words::arg("temperature", celsius(s.l, remedy.temperature.value_or(drying::Sealing{}.temperature))),
                                        words::count("n", days)});
    case Cure::swap_places:
      if (advice.pieces.size() < 2) return {};
      return s.say(Say::cure_swap, {words::arg("first", pieces_words(s, batch, {advice.pieces.front()})),
                                    words::arg("last", pieces_words(s, batch, {advice.pieces.back()}))});
  }
  return {};
}

words::Text figure_words(const Screen& s, const drying::Advice& advice, double value) {
  return advice.unit == "1/d" ? per_cent(s.l, value, value < 0.002 ? 2 : 1) : words::number(s.l, value, 2);
}

void draw_trouble_of(Screen& s, const plan::Batch& batch, const drying::Advice& advice) {
  const words::Arg found = words::arg("found", figure_words(s, advice, advice.found));
  const words::Arg limit = words::arg("limit", figure_words(s, advice, advice.limit));
  const words::Arg which = words::arg("pieces", pieces_words(s, batch, advice.pieces));
  const words::Arg date = words::arg("date", words::day_month(s.l, add_days(batch.hung_on, advice.day)));
  Say heading = Say::pace_fast;
  Say says = Say::pace_fast_says;
  switch (advice.trouble) {
    case Trouble::too_fast: break;
    case Trouble::hardening:
      heading = advice.urgency == drying::Urgency::act ? Say::pace_hard : Say::pace_hard_watch;
      says = advice.unit == "aw"                           ? Say::pace_rim_says
             : advice.urgency == drying::Urgency::act ? Say::pace_hard_says
                                                      : Say::pace_hard_watch_says;
      break;
    case Trouble::stalled:
      heading = Say::pace_stalled;
      says = Say::pace_stalled_says;
      break;
    case Trouble::uneven:
      heading = Say::pace_uneven;
      says = Say::pace_uneven_says;
      break;
    case Trouble::fine:
      parts::paragraph(s.page, s.say(Say::pace_fine, {found, limit}));
      return;
  }
  parts::gap(s.page, 16.0);
  parts::second_heading(s.page, s.say(heading));
  parts::paragraph(s.page, s.say(says, {found, limit, which, date}));
  if (advice.remedies.empty()) parts::paragraph(s.page, s.say(Say::cure_none));
  for (const drying::Remedy& remedy : advice.remedies) {
    parts::paragraph(s.page, remedy_words(s, batch, advice, remedy));
  }
  parts::reason(s.page, s.say(Say::pace_known, {words::arg("known", known(s.l, advice.known))}));
}

double width_of(const drying::Window& window) {
  return window.earliest && window.latest ? window.latest->value - window.earliest->value : 0.0;
}

void draw_which(Screen& s, const plan::Batch& batch, const drying::WhichToWeigh& which) {
  if (which.picks.empty() || which.prior_only) return;
  std::vector<Id> all;
  for (const drying::Pick& pick : which.picks) all.insert(all.end(), pick.pieces.begin(), pick.pieces.end());
  const int before = static_cast<int>(std::lround(width_of(which.before)));
  const int after = static_cast<int>(std::lround(width_of(which.picks.back().batch)));
  const words::Arg pieces = words::arg("pieces", pieces_words(s, batch, all));
  parts::gap(s.page, 16.0);
  parts::paragraph(s.page, before > after ? s.say(Say::which_says, {pieces, words::count("before", before),
                                                                     words::count("after", after)})
                                          : s.say(Say::which_little, {pieces}));
}

words::Text value_words(const Screen& s, drying::Lever lever, double value) {
  switch (lever) {
    case drying::Lever::humidity: return s.say(Say::lever_humidity, {words::arg("value", per_cent(s.l, value, 0))});
    case drying::Lever::temperature: return celsius(s.l, Celsius(value));
    case drying::Lever::speed: return words::measure(s.l, value, 2, "m/s");
    case drying::Lever::size:
      return s.say(Say::lever_size, {words::arg("value", millimetres(s.l, Metres(value)))});
  }
  return {};
}

void draw_levers(Screen& s, const drying::Levers& levers) {
  if (!levers.planned.expected) return;
  std::vector<parts::TableRow> rows;
  for (const drying::LeverWay& way : levers.ways) {
    if (way.steps.empty()) continue;
    // The nearest step, and the furthest that keeps within the limits.
    for (const drying::LeverStep* step : {&way.steps.front(), &way.steps.back()}) {
      if (step == &way.steps.back() && way.steps.size() < 2) continue;
      parts::TableRow row;
      words::Text by = s.say(Say::lever_never);
      if (step->expected) {
        const int days = static_cast<int>(std::lround(levers.planned.expected->value - step->expected->value));
        by = days == 0 ? s.say(Say::lever_same)
                       : s.say(days > 0 ? Say::lever_sooner : Say::lever_later, {words::count("n", std::abs(days))});
      }
      const bool binds = way.bound && step == &way.steps.back();
      row.cells = {value_words(s, way.lever, step->value), by, per_cent(s.l, step->daily_loss, 1),
                   binds ? s.say(*way.bound == drying::Bound::daily_loss ? Say::lever_bound_loss : Say::lever_bound_hard)
                         : words::Text()};
      rows.push_back(std::move(row));
    }
  }
  if (rows.empty()) return;
  parts::gap(s.page, 24.0);
  parts::second_heading(s.page, s.say(Say::levers_title), s.say(Say::levers_beneath));
  parts::table(s.page,
               {{s.say(Say::levers_change), false}, {s.say(Say::levers_days), true}, {s.say(Say::levers_daily), true},
                {s.say(Say::levers_bound), false}},
               rows, s.say(Say::levers_order));
}

const Counsel* counsel_of(Screen& s, const Id& id, const plan::Batch& batch) {
  const std::shared_ptr<const BatchJudged> judged = s.session.judged(id);
  if (!judged || judged->error) return nullptr;
  return s.session.forecasts.counsel(id, judged->sealing, bunches_of(batch));
}

}  // namespace

void draw_counsel(Screen& s, const Id& id, const plan::Batch& batch) {
  const Counsel* counsel = counsel_of(s, id, batch);
  if (counsel == nullptr) return;
  if (counsel->advice) {
    for (const drying::Advice& advice : *counsel->advice) draw_trouble_of(s, batch, advice);
  }
  if (counsel->which) draw_which(s, batch, *counsel->which);
}

void draw_levers_of(Screen& s, const Id& id, const plan::Batch& batch) {
  const Counsel* counsel = counsel_of(s, id, batch);
  if (counsel != nullptr && counsel->levers) draw_levers(s, *counsel->levers);
}

}  // namespace saltrafter::desk
