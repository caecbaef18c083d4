// Expected, reached, ready. Expected is the forecast's window; reached is what was measured; ready is what the maker
// has released. A target met by estimate alone stays expected.
#pragma once

#include <optional>
#include <vector>

#include "core/plan/batch.h"

namespace saltrafter::plan {

enum class MetBy {
  nothing,   // it is not met
  estimate,  // by the forecast, or by its share of a bunch
  weighing,  // of its own
  reading,   // of a core or mixed sample of it, by an instrument that has not failed
  calendar,
};

struct WishMet {
  drying::Wish wish;            // a loss is of this piece's own weight at hanging
  MetBy by = MetBy::nothing;
  std::optional<double> found;  // by the newest measurement, in the wish's unit; nothing: none
  // Of the first measurement since when it has held without a break; where it does not hold, of the newest; of
  // least_days the day on which it holds, which may be to come.
  std::optional<Date> on;
};

struct Reached {
  std::vector<WishMet> wishes;  // in the order of the batch's

  bool by_measurement() const;  // all of them are met, and not one by estimate alone
  // What was met last, and when. Of what is reached by measurement.
  const WishMet* last() const;
};

// A loss by the newest own weighing, water that stands on the piece counted as loss undone; water activity and moisture
// by the newest reading of this piece; water to protein by a moisture reading with the protein that the dry matter of
// `at_hanging` has. Readings that name no piece are of a batch's only one. `forecast` may be nullptr. No wishes where
// what is wanted is a share of a weight that the piece does not have.
Reached reached(const Batch& batch, const Piece& piece, Date today, const recipe::Composition& at_hanging,
                const drying::Forecast* forecast, const Ports& ports);

// The day it was released on; nothing unless it stands released now. `findings`: of the batch.
std::optional<Date> ready_since(const safety::Evidence& evidence, const std::vector<safety::Finding>& findings,
                                const Id& piece);

}  // namespace saltrafter::plan
