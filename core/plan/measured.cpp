#include "core/plan/plan.h"

namespace saltrafter::plan {
namespace {

// Share of the weight at hanging that a piece, or where none is named the mean of all, had lost on a day.
std::optional<double> loss_of(const Batch& batch, const Id& piece_id, Date day) {
  double sum = 0.0;
  int count = 0;
  for (const Piece& piece : batch.pieces) {
    if (!piece_id.empty() && !(piece.id == piece_id)) continue;
    const std::optional<double> loss = dried_loss(batch, piece, day);
    if (!loss) continue;
    sum += *loss;
    ++count;
  }
  if (count == 0) return std::nullopt;
  return sum / count;
}

bool tells_of_the_whole(const safety::Reading& reading) {
  return reading.kind == safety::ReadingKind::water_activity &&
         (reading.site == safety::Site::core || reading.site == safety::Site::mixed) &&
         reading.instrument != safety::InstrumentState::failed;
}

}  // namespace

std::vector<recipe::MeasuredActivity> measured_activities(const std::vector<std::shared_ptr<const Batch>>& batches,
                                                          recipe::ProductClass product_class,
                                                          const recipe::Hands& hands, const Ports& ports) {
  std::vector<recipe::MeasuredActivity> found;
  for (const std::shared_ptr<const Batch>& batch : batches) {
    if (!batch || !batch->hung || batch->made_from.product_class != product_class) continue;
    std::optional<recipe::Sheet> sheet;
    for (const safety::Reading& reading : batch->evidence.readings) {
      if (!tells_of_the_whole(reading)) continue;
      const std::optional<double> loss = loss_of(*batch, reading.piece, day_at(ports, reading.at_utc_ms));
      if (!loss) continue;
      if (!sheet) {
        const Result<recipe::Sheet> made = sheet_of(*batch, hands);
        if (!made.ok()) break;
        sheet = made.value();
      }
      found.push_back({recipe::finished(*sheet, *loss), recipe::solutes_of(batch->made_from, *sheet),
                       WaterActivity(reading.value)});
    }
  }
  return found;
}

}  // namespace saltrafter::plan
