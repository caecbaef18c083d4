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
  }
  return drying::Form::cylinder;
}

// What was measured on samples of the whole cross-section: what weighings cannot see.
std::vector<drying::Reading> readings_of(const Batch& batch, Date today) {
  std::vector<drying::Reading> out;
  for (const safety::Reading& reading : batch.evidence.readings) {
    const bool whole = reading.kind == safety::ReadingKind::water_activity && reading.site == safety::Site::mixed &&
                       reading.instrument != safety::InstrumentState::failed;
    const Date day{std::chrono::floor<std::chrono::days>(std::chrono::milliseconds(reading.at_utc_ms))};
    if (!whole || day > today) continue;
    for (const Piece& piece : batch.pieces) {
      if (piece.id != reading.piece) continue;
      const std::optional<double> loss = dried_loss(batch, piece, day);
      if (!loss) continue;
      out.push_back({drying::ReadingKind::activity, std::clamp(*loss, 0.0, 0.9), reading.value, reading.uncertainty});
    }
  }
  return out;
}

}  // namespace

Result<drying::ForecastInput> forecast_input(const Batch& batch, Date today, const recipe::Hands& hands,
                                             const WhatIf& what_if) {
  if (!batch.hung) return Error{ErrorCode::missing, "hung_on", "", "", "", {}, {}};
  const Result<recipe::Sheet> sheet = sheet_of(batch, hands);
  if (!sheet.ok()) return sheet.error();
  drying::ForecastInput input;
  input.composition = sheet.value().composition;
  input.solutes = recipe::solutes_of(batch.made_from, sheet.value());
  const bool whole = batch.made_from.product_class == recipe::ProductClass::whole_muscle_dry;
  input.kind = whole ? drying::Kind::whole_muscle : drying::Kind::minced;
  input.wrap = drying::Wrap::cased;
  input.geometry.form = form_of(batch.made_from.form);
  input.geometry.diameter = batch.made_from.casing_diameter;
  bool asked = false;
  for (const ProgrammeStage& stage : programme(batch, today)) {
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
    for (const PieceMass& mass : masses_of(batch, piece)) {
      const double day = days_between(batch.hung_on, mass.date);
      // Water that stands on a piece tells nothing of how it dries.
      if (day < 1.0 || mass.wet) continue;
      if (!part.weighings.empty() && part.weighings.back().day == day) part.weighings.pop_back();
      const Grams meat = mass.mass - mass.base.tare;
      part.weighings.push_back({mass.source, day, meat * (part.hung / mass.base.equivalent_hung)});
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
