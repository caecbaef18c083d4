#include "core/plan/at_scale.h"

#include <algorithm>

#include "core/plan/checks.h"

namespace saltrafter::plan {
namespace {

constexpr double kLight = 0.4;   // as drying::Doubt::too_light
constexpr double kGain = 0.003;  // as drying::Doubt::gain
constexpr Grams kLeastGain{3.0};
constexpr double kSlack = 0.005;
constexpr Grams kLeastSlack{2.0};

struct Before {
  Grams mass;
  Date on{};
  bool since_hanging = false;
};

// A weighing of the same day is one that is being put right: it says nothing of the next.
Before before(const Batch& batch, const Piece& piece, Date day) {
  Before newest{piece.hung, batch.hung_on, false};
  for (const PieceMass& mass : masses_of(batch, piece)) {
    const bool done_to_it = std::any_of(batch.events.begin(), batch.events.end(),
                                        [&mass](const PieceEvent& event) { return event.id == mass.source; });
    if (mass.date < day || (mass.date == day && done_to_it)) newest = {mass.mass, mass.date, true};
  }
  return newest;
}

std::optional<drying::MassBand> expected(const drying::Forecast& forecast, const Id& piece, const Base& base,
                                         int day) {
  for (const drying::PieceOutlook& outlook : forecast.pieces) {
    if (outlook.piece != piece) continue;
    auto band = drying::expected_mass(outlook, base.equivalent_hung, Days(day));
    if (band) band = {band->low + base.tare, band->likely + base.tare, band->high + base.tare};
    return band;
  }
  return std::nullopt;
}

Grams slack_of(const AtScale& scale) { return std::max(kLeastSlack, scale.base.equivalent_hung * kSlack); }

}  // namespace

AtScale at_scale(const Batch& batch, const std::vector<Id>& pieces, Date day,
                 const drying::Forecast* forecast) {
  AtScale all;
  all.before_on = batch.hung_on;
  all.since_hanging = !pieces.empty();
  if (!pieces.empty()) all.expected = drying::MassBand{};
  for (const Id& id : pieces) {
    const Piece* piece = find_piece(batch, id);
    if (piece == nullptr) continue;
    const Base base = base_on(batch, *piece, day);
    all.base.equivalent_hung = all.base.equivalent_hung + base.equivalent_hung;
    all.base.tare = all.base.tare + base.tare;
    all.most = all.most + most_mass(base);
    const Before its = before(batch, *piece, day);
    all.before = all.before + its.mass;
    all.before_on = std::max(all.before_on, its.on);
    all.since_hanging = all.since_hanging && its.since_hanging;
    std::optional<drying::MassBand> band;
    if (forecast != nullptr) band = expected(*forecast, id, base, days_between(batch.hung_on, day));
    if (!band) all.expected.reset();
    if (!all.expected) continue;
    all.expected = {all.expected->low + band->low, all.expected->likely + band->likely,
                    all.expected->high + band->high};
  }
  return all;
}

MoistureSeen moisture_seen(const recipe::Composition& at_hanging, double loss, double moisture) {
  constexpr double kDoubt = 0.08;
  const double hung = at_hanging.total_g() > 0.0 ? at_hanging.water_g / at_hanging.total_g() : 0.0;
  const double lost = std::clamp(loss, 0.0, 0.9);
  MoistureSeen seen;
  seen.expected = std::max(0.0, (hung - lost) / (1.0 - lost));
  if (moisture > hung + kDoubt) {
    seen.odd = OddMoisture::above_hanging;
  } else if (moisture > seen.expected + kDoubt) {
    seen.odd = OddMoisture::above;
  } else if (moisture < seen.expected - kDoubt) {
    seen.odd = OddMoisture::below;
  }
  return seen;
}

std::optional<int> beside_expected(const AtScale& scale, Grams mass) {
  if (!scale.expected) return std::nullopt;
  const Grams slack = slack_of(scale);
  if (mass < scale.expected->low - slack) return -1;
  return mass > scale.expected->high + slack ? 1 : 0;
}

std::optional<Odd> odd(const AtScale& scale, Grams mass) {
  const Grams hung = scale.base.equivalent_hung;
  if (mass - scale.base.tare <= hung * kLight) return Odd::light;
  if (mass - scale.before > std::max(kLeastGain, hung * kGain)) return Odd::gained;
  if (!scale.expected) return std::nullopt;
  const drying::MassBand& band = *scale.expected;
  const Grams slack = slack_of(scale);
  if (mass < band.low - (band.likely - band.low) - slack) return Odd::below;
  if (mass > band.high + (band.high - band.likely) + slack) return Odd::above;
  return std::nullopt;
}

}  // namespace saltrafter::plan
