#include <algorithm>

#include "core/air/air.h"
#include "core/plan/plan.h"

namespace saltrafter::plan {
namespace {

constexpr double kHorizon_d = 200.0;     // of the curve, at least; a chart shows less where the window ends sooner
constexpr double kLongestHang_d = 300.0;

drying::Form form_of(recipe::Form form) {
  switch (form) {
    case recipe::Form::round: break;
    case recipe::Form::slab: return drying::Form::slab_open;
    case recipe::Form::slab_closed: return drying::Form::slab_skin_closed;
  }
  return drying::Form::cylinder;
}

}  // namespace

Result<drying::ForecastInput> forecast_input(const Batch& batch, Date today, const recipe::Hands& hands) {
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
  drying::Stage stage;
  stage.duration = Days(kLongestHang_d);
  stage.temperature = batch.air.temperature;
  stage.humidity = batch.air.humidity;
  stage.speed = batch.air.speed;
  input.stages = {stage};
  for (const Piece& piece : batch.pieces) {
    drying::ForecastPiece part;
    part.id = piece.id;
    part.hung = piece.hung;
    part.diameter = piece.diameter;
    for (const drying::Weighing& weighing : batch.weighings) {
      if (weighing.piece != piece.id) continue;
      const int day = days_between(batch.hung_on, weighing.date);
      if (day < 1) continue;
      part.weighings.push_back({weighing.id, static_cast<double>(day), weighing.mass});
    }
    // Of two on one day the one entered later counts, as for the loss so far.
    std::stable_sort(part.weighings.begin(), part.weighings.end(),
                     [](const auto& a, const auto& b) { return a.day < b.day; });
    std::vector<drying::PieceWeighing> last_of_day;
    for (const drying::PieceWeighing& weighing : part.weighings) {
      if (!last_of_day.empty() && last_of_day.back().day == weighing.day) last_of_day.pop_back();
      last_of_day.push_back(weighing);
    }
    part.weighings = std::move(last_of_day);
    input.pieces.push_back(std::move(part));
  }
  input.wanted_loss = batch.made_from.wanted_loss;
  input.now = Days(std::max(0, days_between(batch.hung_on, today)));
  input.horizon = Days(std::min(400.0, std::max(kHorizon_d, input.now.value + 60.0)));
  input.saturation = {air::saturation_pressure_pa, air::saturation_pressure_slope_pa_k};
  return input;
}

}  // namespace saltrafter::plan
