#include "core/plan/pieces.h"

#include <algorithm>
#include <cmath>

#include "core/plan/checks.h"

namespace saltrafter::plan {
namespace {

Base base_at_hanging(const Piece& piece) {
  const Grams tare = tare_of(piece);
  return {piece.hung - tare, tare};
}

Base after_event(Base base, const PieceEvent& event) {
  switch (rule_of(event.kind).touched) {
    case Touched::meat: {
      const Grams before = event.before - base.tare;
      const Grams after = event.after - base.tare;
      if (!(before.value > 0.0 && after.value > 0.0)) break;
      base.equivalent_hung = base.equivalent_hung * (after / before);
      break;
    }
    case Touched::tare: base.tare = base.tare + (event.after - event.before); break;
    case Touched::water: break;
  }
  return base;
}

// What was done to a piece, oldest first; of one day as entered.
std::vector<const PieceEvent*> events_of(const Batch& batch, const Id& piece) {
  std::vector<const PieceEvent*> events;
  for (const PieceEvent& event : batch.events) {
    if (event.piece == piece) events.push_back(&event);
  }
  std::stable_sort(events.begin(), events.end(),
                   [](const PieceEvent* a, const PieceEvent* b) { return a->date < b->date; });
  return events;
}

bool weighed_after(const drying::Weighing& weighing, const PieceEvent& event) {
  if (weighing.date != event.date) return weighing.date > event.date;
  const double mass_g = weighing.mass.value;
  return std::abs(mass_g - event.after.value) <= std::abs(mass_g - event.before.value);
}

Base base_before(const Batch& batch, const Piece& piece, Date day) {
  Base base = base_at_hanging(piece);
  for (const PieceEvent* event : events_of(batch, piece.id)) {
    if (event->date < day) base = after_event(base, *event);
  }
  return base;
}

// The share of a piece in a bunch: what all have left is shared by their equivalent weights at hanging.
Grams share_of(const Batch& batch, const drying::Weighing& weighing, const Base& own) {
  double hung_g = 0.0;
  double tare_g = 0.0;
  for (const Id& id : weighing.bunch) {
    const Piece* piece = find_piece(batch, id);
    if (piece == nullptr) continue;
    const Base base = base_before(batch, *piece, weighing.date);
    hung_g += base.equivalent_hung.value;
    tare_g += base.tare.value;
  }
  const double share = hung_g > 0.0 ? own.equivalent_hung.value / hung_g : 0.0;
  return own.tare + Grams(share * (weighing.mass.value - tare_g));
}

bool in_bunch(const drying::Weighing& weighing, const Id& piece) {
  return std::find(weighing.bunch.begin(), weighing.bunch.end(), piece) != weighing.bunch.end();
}

}  // namespace

const Piece* find_piece(const Batch& batch, const Id& id) {
  for (const Piece& piece : batch.pieces) {
    if (piece.id == id) return &piece;
  }
  return nullptr;
}

const TakenDown* find_taken_down(const Batch& batch, const Id& piece) {
  for (const TakenDown& down : batch.taken_down) {
    if (down.piece == piece) return &down;
  }
  return nullptr;
}

Grams tare_of(const Piece& piece) {
  if (piece.tare) return *piece.tare;
  if (piece.after_cure && piece.hung > *piece.after_cure) return piece.hung - *piece.after_cure;
  return Grams(0.0);
}

Base base_on(const Batch& batch, const Piece& piece, Date day) {
  return base_before(batch, piece, day + std::chrono::days(1));
}

std::vector<PieceMass> masses_of(const Batch& batch, const Piece& piece) {
  const std::vector<const PieceEvent*> events = events_of(batch, piece.id);
  std::vector<Base> bases{base_at_hanging(piece)};  // before the first event, after it, after the second ...
  for (const PieceEvent* event : events) bases.push_back(after_event(bases.back(), *event));

  // Where a weight stands within its day: each event has a place for shares and one for weighings before it,
  // then its own two.
  constexpr std::size_t kPlaces = 4;
  struct Placed {
    PieceMass mass;
    std::size_t place;
  };
  std::vector<Placed> placed;
  const auto add = [&](const Id& source, Date date, Grams mass, std::size_t done,
                       std::size_t place) -> PieceMass& {
    const Base& base = bases[done];
    const double loss = 1.0 - (mass - base.tare) / base.equivalent_hung;
    placed.push_back({{source, date, mass, base, loss, false, 1, false}, place});
    return placed.back().mass;
  };
  for (const drying::Weighing& weighing : batch.weighings) {
    if (weighing.piece == piece.id) {
      std::size_t done = 0;
      while (done < events.size() && weighed_after(weighing, *events[done])) ++done;
      PieceMass& own = add(weighing.id, weighing.date, weighing.mass, done, kPlaces * done + 1);
      const PieceEvent* last = done > 0 ? events[done - 1] : nullptr;
      own.wet = last != nullptr && last->date == weighing.date && last->kind == EventKind::wetted;
    } else if (in_bunch(weighing, piece.id)) {
      std::size_t done = 0;
      while (done < events.size() && events[done]->date < weighing.date) ++done;
      const Grams share = share_of(batch, weighing, bases[done]);
      PieceMass& part = add(weighing.id, weighing.date, share, done, kPlaces * done);
      part.estimated = true;
      part.of = static_cast<int>(weighing.bunch.size());
    }
  }
  for (std::size_t i = 0; i < events.size(); ++i) {
    const PieceEvent& event = *events[i];
    add(event.id, event.date, event.before, i, kPlaces * i + 2);
    add(event.id, event.date, event.after, i + 1, kPlaces * i + 3).wet = event.kind == EventKind::wetted;
  }
  if (const TakenDown* down = find_taken_down(batch, piece.id)) {
    add(down->id, down->date, down->mass, events.size(), kPlaces * events.size() + 2);
  }
  std::stable_sort(placed.begin(), placed.end(), [](const Placed& a, const Placed& b) {
    return a.mass.date != b.mass.date ? a.mass.date < b.mass.date : a.place < b.place;
  });
  std::vector<PieceMass> masses;
  for (Placed& each : placed) {
    const bool sound = each.mass.base.equivalent_hung.value > 0.0 && std::isfinite(each.mass.loss);
    if (sound) masses.push_back(each.mass);
  }
  return masses;
}

std::optional<PieceMass> last_mass(const Batch& batch, const Piece& piece, Date day) {
  std::optional<PieceMass> last;
  for (PieceMass& mass : masses_of(batch, piece)) {
    if (mass.date <= day) last = std::move(mass);
  }
  return last;
}

std::optional<double> dried_loss(const Batch& batch, const Piece& piece, Date day) {
  const std::optional<PieceMass> last = last_mass(batch, piece, day);
  if (!last) return std::nullopt;
  return last->loss;
}

std::optional<double> loss_between(const Batch& batch, const Piece& piece, Date day, Date today) {
  if (day < batch.hung_on) return std::nullopt;
  double before_d = 0.0;
  double before = 0.0;
  bool weighed = day == batch.hung_on;
  const double at = days_between(batch.hung_on, day);
  for (const PieceMass& mass : masses_of(batch, piece)) {
    if (mass.wet || mass.date > today) continue;
    const double mass_d = days_between(batch.hung_on, mass.date);
    if (mass_d > at) return before + (at - before_d) / (mass_d - before_d) * (mass.loss - before);
    weighed = true;
    before_d = mass_d;
    before = mass.loss;
  }
  if (!weighed) return std::nullopt;
  return before;
}

double loss_so_far(const Batch& batch, const Piece& piece, Date day) {
  return dried_loss(batch, piece, day).value_or(0.0);
}

bool own_weighing_since(const Batch& batch, const Piece& piece, Date since, Date day) {
  const std::vector<PieceMass> masses = masses_of(batch, piece);
  return std::any_of(masses.begin(), masses.end(), [&](const PieceMass& mass) {
    return !mass.estimated && mass.date >= since && mass.date <= day;
  });
}

const drying::Weighing* last_weighing(const Batch& batch, const Id& piece, Date day) {
  const drying::Weighing* last = nullptr;
  for (const drying::Weighing& weighing : batch.weighings) {
    if (weighing.piece != piece || weighing.date > day) continue;
    // Of two on one day the one entered later counts: that is how a slip is put right.
    if (last == nullptr || weighing.date >= last->date) last = &weighing;
  }
  return last;
}

Result<double> wanted_loss(const Batch& batch, const Piece& piece) {
  const double wanted = batch.made_from.wanted_loss;
  if (batch.loss_base == LossBase::hung) return wanted;
  const double hung_g = base_at_hanging(piece).equivalent_hung.value;
  if (!piece.trimmed) return Error{ErrorCode::missing, "trimmed", "", "", "g", {}, {}};
  return hung_g > 0.0 ? 1.0 - (1.0 - wanted) * piece.trimmed->value / hung_g : wanted;
}

Result<double> wanted_loss(const Batch& batch) {
  double hung_g = 0.0;
  double lost_g = 0.0;
  for (std::size_t i = 0; i < batch.pieces.size(); ++i) {
    const Result<double> wanted = wanted_loss(batch, batch.pieces[i]);
    if (!wanted.ok()) {
      Error error = wanted.error();
      error.field = "pieces/" + std::to_string(i) + "/" + error.field;
      return error;
    }
    const double piece_g = base_at_hanging(batch.pieces[i]).equivalent_hung.value;
    hung_g += piece_g;
    lost_g += piece_g * wanted.value();
  }
  if (batch.loss_base == LossBase::hung || !(hung_g > 0.0)) return batch.made_from.wanted_loss;
  return lost_g / hung_g;
}

}  // namespace saltrafter::plan
