#include "core/plan/reached.h"

#include <algorithm>
#include <cmath>

#include "core/plan/pieces.h"

namespace saltrafter::plan {
namespace {

using drying::Wish;
using drying::WishKind;
using safety::Reading;
using safety::ReadingKind;

bool at_least(double value, double limit) { return std::round(value * 1e9) >= std::round(limit * 1e9); }

// One measurement after the other, oldest first.
class Run {
 public:
  explicit Run(MetBy by) : by_(by) {}

  void take(double value, bool holds, Date day) {
    if (!holds || met_.by == MetBy::nothing) met_.on = day;
    met_.found = value;
    met_.by = holds ? by_ : MetBy::nothing;
  }
  const WishMet& met() const { return met_; }

 private:
  MetBy by_;
  WishMet met_;
};

// The readings of a kind that tell of the whole piece, oldest first.
std::vector<const Reading*> readings_of(const Batch& batch, const Piece& piece, ReadingKind kind, Date today,
                                        const Ports& ports) {
  std::vector<const Reading*> found;
  for (const Reading& reading : batch.evidence.readings) {
    const bool its = reading.piece == piece.id || (reading.piece.empty() && batch.pieces.size() == 1);
    const bool sound = reading.instrument != safety::InstrumentState::failed;
    const bool whole = kind != ReadingKind::water_activity || reading.site == safety::Site::core ||
                       reading.site == safety::Site::mixed;
    if (reading.kind != kind || !its || !sound || !whole) continue;
    const Date day = day_at(ports, reading.at_utc_ms);
    if (day >= batch.hung_on && day <= today) found.push_back(&reading);
  }
  std::stable_sort(found.begin(), found.end(),
                   [](const Reading* a, const Reading* b) { return a->at_utc_ms < b->at_utc_ms; });
  return found;
}

WishMet by_weighings(const Batch& batch, const Piece& piece, const Wish& wish, Date today) {
  Run run(MetBy::weighing);
  for (const PieceMass& mass : masses_of(batch, piece)) {
    if (mass.estimated || mass.date > today) continue;
    run.take(mass.loss, at_least(mass.loss, wish.value), mass.date);
  }
  return run.met();
}

WishMet by_readings(const Batch& batch, const Piece& piece, const Wish& wish, Date today,
                    const recipe::Composition& at_hanging, const Ports& ports) {
  const ReadingKind kind =
      wish.kind == WishKind::activity ? ReadingKind::water_activity : ReadingKind::moisture;
  const double dry_g = at_hanging.total_g() - at_hanging.water_g;
  Run run(MetBy::reading);
  for (const Reading* reading : readings_of(batch, piece, kind, today, ports)) {
    double value = reading->value;
    if (wish.kind == WishKind::moisture_protein_ratio) {
      const double protein = dry_g > 0.0 ? (1.0 - value) * at_hanging.protein_g / dry_g : 0.0;
      if (!(protein > 0.0)) continue;
      value = value / protein;
    }
    run.take(value, at_least(wish.value, value), day_at(ports, reading->at_utc_ms));
  }
  return run.met();
}

WishMet by_calendar(const Batch& batch, const Wish& wish, Date today) {
  WishMet met;
  met.on = add_days(batch.hung_on, Days(std::ceil(wish.value)));
  if (*met.on <= today) met.by = MetBy::calendar;
  return met;
}

// The loss that is taken for today's: as weighed today, by itself or with others, else as the forecast has it.
std::optional<double> likely_loss(const Batch& batch, const Piece& piece, Date today,
                                  const drying::Forecast* forecast) {
  const std::optional<PieceMass> mass = last_mass(batch, piece, today);
  if (mass && mass->date == today) return mass->loss;
  if (forecast != nullptr) {
    for (const drying::PieceOutlook& outlook : forecast->pieces) {
      if (outlook.piece == piece.id) return outlook.loss_now.likely;
    }
  }
  if (!mass) return std::nullopt;
  return mass->loss;
}

}  // namespace

bool Reached::by_measurement() const {
  return !wishes.empty() && std::all_of(wishes.begin(), wishes.end(), [](const WishMet& met) {
    return met.by != MetBy::nothing && met.by != MetBy::estimate;
  });
}

const WishMet* Reached::last() const {
  const WishMet* last = nullptr;
  for (const WishMet& met : wishes) {
    if (met.on && (last == nullptr || *met.on > *last->on)) last = &met;
  }
  return last;
}

Reached reached(const Batch& batch, const Piece& piece, Date today, const recipe::Composition& at_hanging,
                const drying::Forecast* forecast, const Ports& ports) {
  Reached out;
  if (!batch.hung) return out;
  std::vector<Wish> wishes = batch.wishes;
  if (wishes.empty()) {
    const Result<double> wanted = wanted_loss(batch, piece);
    if (!wanted.ok()) return out;
    wishes.push_back({WishKind::loss, wanted.value()});
  }
  const std::optional<double> likely = likely_loss(batch, piece, today, forecast);
  for (std::size_t i = 0; i < wishes.size(); ++i) {
    const Wish& wish = wishes[i];
    WishMet met = wish.kind == WishKind::least_days ? by_calendar(batch, wish, today)
                  : wish.kind == WishKind::loss
                      ? by_weighings(batch, piece, wish, today)
                      : by_readings(batch, piece, wish, today, at_hanging, ports);
    met.wish = wish;
    std::optional<double> from_loss;  // on it holds
    if (wish.kind == WishKind::loss) {
      from_loss = wish.value;
    } else if (wish.kind != WishKind::least_days && forecast != nullptr && i < forecast->needed.each.size()) {
      from_loss = forecast->needed.each[i];
    }
    if (met.by == MetBy::nothing && likely && from_loss && at_least(*likely, *from_loss)) met.by = MetBy::estimate;
    out.wishes.push_back(met);
  }
  return out;
}

std::optional<Date> ready_since(const safety::Evidence& evidence, const std::vector<safety::Finding>& findings,
                                const Id& piece) {
  const safety::Stands stands = safety::stands(evidence, findings, piece);
  if (stands.standing != safety::Standing::released || stands.act == nullptr) return std::nullopt;
  return stands.act->on;
}

}  // namespace saltrafter::plan
