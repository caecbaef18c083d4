#include <algorithm>

#include "core/plan/plan.h"

namespace saltrafter::plan {

const safety::StageDone* stage_done(const Batch& batch, const Id& stage) {
  for (const safety::StageDone& done : batch.evidence.stages) {
    if (done.stage == stage) return &done;
  }
  return nullptr;
}

StagesNow stages_now(const Batch& batch) {
  StagesNow now;
  const std::vector<recipe::Stage>& stages = batch.made_from.stages;
  for (std::size_t i = 0; i < stages.size(); ++i) {
    const safety::StageDone* done = stage_done(batch, stages[i].id);
    if (done == nullptr) {
      if (!now.next) now.next = i;
      continue;
    }
    now.next.reset();
    if (!done->ended_utc_ms) now.on = i;
  }
  return now;
}

safety::Evidence evidence_on(const Batch& batch, Date day) {
  safety::Evidence evidence = batch.evidence;
  double thickest_m = 0.0;
  evidence.loss_now = 0.0;
  for (const Piece& piece : batch.pieces) {
    const double lost = std::max(0.0, loss_so_far(batch, piece, day));
    const bool thicker = piece.diameter.value > thickest_m;
    if (thicker || (piece.diameter.value == thickest_m && lost < evidence.loss_now)) evidence.loss_now = lost;
    thickest_m = std::max(thickest_m, piece.diameter.value);
  }
  return evidence;
}

void begin_stage(Batch& batch, const Id& stage, std::int64_t at_utc_ms) {
  for (safety::StageDone& done : batch.evidence.stages) {
    if (!done.ended_utc_ms) done.ended_utc_ms = std::max(done.began_utc_ms, at_utc_ms);
  }
  batch.evidence.stages.push_back({stage, at_utc_ms, std::nullopt});
}

}  // namespace saltrafter::plan
