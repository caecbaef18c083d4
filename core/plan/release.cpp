#include "core/plan/release.h"

#include "core/plan/pieces.h"

namespace saltrafter::plan {

std::vector<safety::Finding> release_stops(const Batch& batch, const Id& piece, Date day) {
  std::vector<safety::Finding> stops;
  if (!batch.hung) return stops;
  const Date since = add_days(day, Days(-kWeighedWithin.value));
  for (const Piece& one : batch.pieces) {
    if (!piece.empty() && one.id != piece) continue;
    if (safety::stands(batch.evidence, {}, one.id).standing == safety::Standing::discarded) continue;
    if (find_taken_down(batch, one.id) != nullptr || own_weighing_since(batch, one, since, day)) continue;
    safety::Finding stop;
    stop.rule = safety::Rule::own_weighing;
    stop.level = safety::Level::not_met;
    stop.stop = safety::Stop::with_reason;
    stop.about = one.id;
    stop.known = tables::Known::choice;
    stop.missing = {"own_weighing"};
    stop.figures = {{"piece", static_cast<double>(one.number), ""}, {"within", kWeighedWithin.value, "d"}};
    stops.push_back(stop);
  }
  return stops;
}

}  // namespace saltrafter::plan
