#include <algorithm>
#include <cmath>

#include "core/plan/plan.h"

namespace saltrafter::plan {
namespace {

constexpr double kFarShort = 0.7;  // of the wanted loss: what is taken down before it tells little of the end (choice)

bool all_down(const Batch& batch) {
  return batch.hung && !batch.pieces.empty() &&
         std::all_of(batch.pieces.begin(), batch.pieces.end(),
                     [&batch](const Piece& piece) { return find_taken_down(batch, piece.id) != nullptr; });
}

bool kept_back(const Batch& batch) {
  safety::Standing last = safety::Standing::in_work;
  for (const safety::StandingAct& act : batch.evidence.acts) last = act.to;
  return last == safety::Standing::held || last == safety::Standing::discarded;
}

}  // namespace

std::optional<drying::FinishedBatch> finished_batch(const Batch& batch, const drying::Forecast& forecast) {
  if (!all_down(batch)) return std::nullopt;
  drying::FinishedBatch out;
  out.kind = batch.made_from.product_class == recipe::ProductClass::whole_muscle_dry ? drying::Kind::whole_muscle
                                                                                      : drying::Kind::minced;
  out.ln_factor = forecast.batch_ln_factor;
  out.sd = forecast.batch_sd;
  out.held = kept_back(batch);
  const bool faults = std::any_of(batch.taken_down.begin(), batch.taken_down.end(),
                                  [](const TakenDown& down) { return !down.faults.empty(); });
  const bool wetted = std::any_of(batch.events.begin(), batch.events.end(),
                                  [](const PieceEvent& event) { return event.kind == EventKind::wetted; });
  out.odd = faults || wetted;
  double loss = 0.0;
  for (const TakenDown& down : batch.taken_down) {
    loss = std::max(loss, dried_loss(batch, *find_piece(batch, down.piece), down.date).value_or(0.0));
  }
  out.extrapolated = loss < kFarShort * forecast.needed.loss;
  return out;
}

void mark_changes(drying::FinishedBatch& finished, const Chamber& chamber, Date then, Date now) {
  for (const ChamberChange& change : chamber.changes) {
    if (change.on <= then || change.on > now) continue;
    switch (change.kind) {
      case ChamberChangeKind::fan: finished.other_fan = true; break;
      case ChamberChangeKind::cooler: finished.other_cooler = true; break;
      case ChamberChangeKind::layout: finished.other_layout = true; break;
      case ChamberChangeKind::season: finished.other_season = true; break;
      case ChamberChangeKind::other: finished.other_cooler = finished.other_layout = true; break;
    }
  }
}

}  // namespace saltrafter::plan
