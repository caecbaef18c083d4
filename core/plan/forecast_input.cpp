#include <algorithm>

#include "core/air/air.h"
#include "core/plan/plan.h"

namespace saltrafter::plan {
namespace {

constexpr double kHorizon_d = 200.0;     // of the curve, at least; a chart shows less where the window ends sooner
constexpr double kLeastLoss = 0.01;      // that ForecastInput takes

drying::Form form_of(recipe::Form form) {
  switch (form) {
    case recipe::Form::round: break;
    case recipe::Form::slab: return drying::Form::slab_open;
    case recipe::Form::slab_closed: return drying::Form::slab_skin_closed;
    case recipe::Form::rolled: return drying::Form::rolled;
    case recipe::Form::ham: return drying::Form::ham;
  }
  return drying::Form::cylinder;
}

// The ends of a muscle dry; those of a sausage are gathered and tied, and the level of its diffusivity was set on
// curves without them (TRUTH.md). What is said to be shorter than the model takes counts as just so long.
drying::Geometry geometry_of(const Batch& batch, bool whole_muscle) {
  const recipe::Recipe& recipe = batch.made_from;
  drying::Geometry out;
  out.form = form_of(recipe.form);
  out.diameter = recipe.casing_diameter;
  if (!whole_muscle || recipe.form == recipe::Form::ham) return out;
  drying::Geometry thickest = out;
  for (const Piece& piece : batch.pieces) {
    thickest.diameter = std::max(thickest.diameter, piece.diameter);
  }
  const Metres least = drying::least_side(thickest);
  out.length = std::max(recipe.piece_length, least);
  if (recipe::is_flat(recipe.form) && recipe.piece_width) out.width = std::max(*recipe.piece_width, least);
  return out;
}

// What a reading says of the whole cross-section; nothing where it says nothing of it.
std::optional<drying::ReadingKind> tells(const safety::Reading& reading) {
  if (reading.instrument == safety::InstrumentState::failed) return std::nullopt;
  switch (reading.kind) {
    case safety::ReadingKind::water_activity:
      if (reading.site != safety::Site::mixed) return std::nullopt;
      return drying::ReadingKind::activity;
    case safety::ReadingKind::moisture: return drying::ReadingKind::moisture;
    case safety::ReadingKind::firmness:
    case safety::ReadingKind::cut_look: return drying::ReadingKind::feel;
    case safety::ReadingKind::ph_meter:
    case safety::ReadingKind::ph_strip:
    case safety::ReadingKind::chamber_air:
    case safety::ReadingKind::core: break;
  }
  return std::nullopt;
}

// What weighings cannot see: each at the loss of its piece when it was taken.
std::vector<drying::Reading> readings_of(const Batch& batch, Date today) {
  constexpr double kWidest = 0.2;  // that drying::Reading takes
  std::vector<drying::Reading> out;
  for (const safety::Reading& reading : batch.evidence.readings) {
    const std::optional<drying::ReadingKind> kind = tells(reading);
    const Date day{std::chrono::floor<std::chrono::days>(std::chrono::milliseconds(reading.at_utc_ms))};
    if (!kind || day > today) continue;
    for (const Piece& piece : batch.pieces) {
      if (piece.id != reading.piece) continue;
      const std::optional<double> loss = loss_between(batch, piece, day, today);
      if (!loss) continue;
      const double sd = *kind == drying::ReadingKind::feel ? 0.0 : std::min(reading.uncertainty, kWidest);
      out.push_back({*kind, std::clamp(*loss, 0.0, 0.9), reading.value, sd});
    }
  }
  return out;
}

// Water put on a piece in the last two days may still stand on it: so much is the weight in doubt (choice: a wiped
// or sprayed surface is as dry as before after about that long).
Grams may_still_be_wet(const Batch& batch, const PieceMass& mass, const Id& piece) {
  constexpr int kWet_d = 2;
  Grams water;
  for (const PieceEvent& event : batch.events) {
    const int since = days_between(event.date, mass.date);
    if (event.kind != EventKind::wetted || event.piece != piece || since <= 0 || since > kWet_d) continue;
    water = water + (event.after - event.before);
  }
  return water;
}

}  // namespace

Metres least_side(const recipe::Recipe& recipe) {
  drying::Geometry geometry;
  geometry.form = form_of(recipe.form);
  geometry.diameter = recipe.casing_diameter;
  return drying::least_side(geometry);
}

Result<drying::ForecastInput> forecast_input(const Batch& batch, Date today, const recipe::Hands& hands,
                                             const WhatIf& what_if, const AirLog& log) {
  if (!batch.hung) return Error{ErrorCode::missing, "hung_on", "", "", "", {}, {}};
  const Result<recipe::Sheet> sheet = sheet_of(batch, hands);
  if (!sheet.ok()) return sheet.error();
  drying::ForecastInput input;
  input.composition = sheet.value().composition;
  input.solutes = recipe::solutes_of(batch.made_from, sheet.value());
  const bool whole = batch.made_from.product_class == recipe::ProductClass::whole_muscle_dry;
  input.kind = whole ? drying::Kind::whole_muscle : drying::Kind::minced;
  // A muscle without a casing hangs bare; minced meat is always in one.
  input.wrap = whole && batch.made_from.casing.empty() ? drying::Wrap::naked : drying::Wrap::cased;
  input.geometry = geometry_of(batch, whole);
  bool asked = false;
  for (const ProgrammeStage& stage : programme(batch, today, log)) {
    drying::Stage air = stage.air;
    if (!asked && ahead_and_open(stage)) {
      asked = true;
      air.temperature = what_if.temperature.value_or(air.temperature);
      air.humidity = what_if.humidity.value_or(air.humidity);
      air.speed = what_if.speed.value_or(air.speed);
    }
    if (!input.stages.empty()) {
      // What was and what is planned in the same air is one stage to the model.
      drying::Stage& before = input.stages.back();
      const Days lasted = before.duration;
      before.duration = air.duration;
      const bool same = before == air;
      before.duration = lasted;
      if (same) {
        before.duration = before.duration + air.duration;
        continue;
      }
    }
    input.stages.push_back(air);
  }
  for (const Piece& piece : batch.pieces) {
    drying::ForecastPiece part;
    part.id = piece.id;
    part.hung = base_on(batch, piece, today).equivalent_hung;
    part.diameter = piece.diameter;
    part.hangs = find_taken_down(batch, piece.id) == nullptr;
    for (const PieceMass& mass : masses_of(batch, piece)) {
      const double day = days_between(batch.hung_on, mass.date);
      // Water that stands on a piece tells nothing of how it dries.
      if (day < 1.0 || mass.wet) continue;
      if (!part.weighings.empty() && part.weighings.back().day == day) part.weighings.pop_back();
      const Grams meat = mass.mass - mass.base.tare;
      const double to_base = part.hung / mass.base.equivalent_hung;
      part.weighings.push_back(
          {mass.source, day, meat * to_base, mass.of, may_still_be_wet(batch, mass, piece.id) * to_base});
    }
    input.pieces.push_back(std::move(part));
  }
  const Result<double> wanted = wanted_loss(batch);
  if (!wanted.ok()) return wanted.error();
  input.wanted_loss = wanted.value();
  // The cure may have taken all that was wanted of the trimmed weight.
  if (batch.loss_base == LossBase::trimmed) input.wanted_loss = std::max(kLeastLoss, input.wanted_loss);
  input.wishes = batch.wishes;
  input.readings = readings_of(batch, today);
  input.now = Days(std::max(0, days_between(batch.hung_on, today)));
  input.horizon = Days(std::min(400.0, std::max(kHorizon_d, input.now.value + 60.0)));
  input.saturation = {air::saturation_pressure_pa, air::saturation_pressure_slope_pa_k};
  return input;
}

}  // namespace saltrafter::plan
