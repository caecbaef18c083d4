#include <algorithm>
#include <cmath>

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

std::optional<std::size_t> hanging_stage(const recipe::Recipe& recipe, Celsius air) {
  constexpr CelsiusDelta kAsCold{2.0};  // choice
  for (std::size_t i = 0; i < recipe.stages.size(); ++i) {
    const recipe::Stage& stage = recipe.stages[i];
    if (stage.kind == recipe::StageKind::dry) return i;
    const bool cold_enough = safety::is_cold(air) && air <= stage.temperature + kAsCold;
    if (stage.kind == recipe::StageKind::cold_dry && cold_enough) return i;
  }
  return std::nullopt;
}

void hang(Batch& batch, const Ports& ports, Grams mix, const Hanging& hanging) {
  batch.hung = true;
  batch.hung_on = hanging.day;
  batch.air = hanging.air;
  const Metres planned = batch.made_from.casing_diameter;
  batch.made_from.casing_diameter = hanging.casing;
  // Whole muscle comes in the pieces that were trimmed and cured.
  const bool in_pieces = !batch.pieces.empty();
  if (!in_pieces) batch.pieces = split_into_pieces(ports, mix, hanging.casing);
  for (Piece& piece : batch.pieces) {
    if (in_pieces && piece.diameter == planned) piece.diameter = hanging.casing;
    if (in_pieces && !(piece.hung.value > 0.0)) {
      piece.hung = piece.after_cure.value_or(Grams(mix.value / static_cast<double>(batch.pieces.size())));
    }
    // A piece is hung by the scale, and a scale shows whole grams here.
    piece.hung = Grams(std::round(piece.hung.value));
  }
  const std::optional<std::size_t> stage = hanging_stage(batch.made_from, hanging.air.temperature);
  if (!stage) return;
  // At this hour of the day: the form asks for no time.
  const std::int64_t now_ms = ports.now_utc_ms();
  begin_stage(batch, batch.made_from.stages[*stage].id,
              std::min(now_ms, instant_of(ports, hanging.day, minute_at(ports, now_ms))));
}

namespace {

constexpr double kMsADay = 86400000.0;

double begin_of(Date date) { return kMsADay * static_cast<double>(date.time_since_epoch().count()); }

// Whether it hung in the chamber's air at a moment: hung, in no bag, and not all of it down.
bool in_air_at(const Batch& batch, std::int64_t at_utc_ms) {
  const auto at_ms = static_cast<double>(at_utc_ms);
  if (!batch.hung || at_ms < begin_of(batch.hung_on)) return false;
  for (const safety::StageDone& done : batch.evidence.stages) {
    const bool lasts = at_utc_ms >= done.began_utc_ms && (!done.ended_utc_ms || at_utc_ms < *done.ended_utc_ms);
    if (!lasts) continue;
    for (const recipe::Stage& stage : batch.made_from.stages) {
      if (stage.id == done.stage && stage.sealed) return false;
    }
  }
  return batch.pieces.empty() || std::any_of(batch.pieces.begin(), batch.pieces.end(), [&](const Piece& piece) {
           const TakenDown* down = find_taken_down(batch, piece.id);
           return down == nullptr || at_ms < begin_of(down->date) + kMsADay;
         });
}

}  // namespace

safety::Evidence evidence_on(const Batch& batch, Date day, const AirLog& log) {
  safety::Evidence evidence = batch.evidence;
  for (const AirReading& read : log) {
    if (!in_air_at(batch, read.at_utc_ms)) continue;
    safety::Reading reading;
    reading.id = read.id;
    reading.kind = safety::ReadingKind::chamber_air;
    reading.at_utc_ms = read.at_utc_ms;
    reading.value = read.temperature.value;
    evidence.readings.push_back(reading);
  }
  double thickest_m = 0.0;
  evidence.loss_now = 0.0;
  if (batch.hung) evidence.hangs_in = batch.air.temperature;
  for (const Piece& piece : batch.pieces) {
    const double lost = std::max(0.0, loss_so_far(batch, piece, day));
    const bool thicker = piece.diameter.value > thickest_m;
    if (thicker || (piece.diameter.value == thickest_m && lost < evidence.loss_now)) evidence.loss_now = lost;
    thickest_m = std::max(thickest_m, piece.diameter.value);
  }
  const auto is_down = [&](const Piece& piece) {
    const TakenDown* down = find_taken_down(batch, piece.id);
    return down != nullptr && down->date <= day;
  };
  const std::vector<Piece>& pieces = batch.pieces;
  if (!pieces.empty() && std::all_of(pieces.begin(), pieces.end(), is_down)) evidence.taken_down = true;
  return evidence;
}

void begin_stage(Batch& batch, const Id& stage, std::int64_t at_utc_ms) {
  if (stage_done(batch, stage) != nullptr) return;
  for (safety::StageDone& done : batch.evidence.stages) {
    if (!done.ended_utc_ms) done.ended_utc_ms = std::max(done.began_utc_ms, at_utc_ms);
  }
  batch.evidence.stages.push_back({stage, at_utc_ms, std::nullopt});
}

}  // namespace saltrafter::plan
