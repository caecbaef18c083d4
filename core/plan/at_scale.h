// What is known of a piece, or of pieces weighed as one, while it lies on the scale: whether its weight looks
// wrong is asked about there and then.
#pragma once

#include <optional>
#include <vector>

#include "core/plan/batch.h"
#include "core/plan/pieces.h"

namespace saltrafter::plan {

struct AtScale {
  Base base;   // of that day; of pieces weighed as one the sums
  Grams most;  // that can be (check_weighing)
  // The newest weight before, on which day; of pieces weighed as one only where each has one, and the newest
  // day. At hanging where nothing was weighed since.
  Grams before;
  Date before_on{};
  bool since_hanging = false;  // `before` is not the weight at hanging
  // What the forecast expects, with casing and string; of pieces weighed as one the sums, which is a little
  // wider than it need be. Nothing where it does not reach that day.
  std::optional<drying::MassBand> expected;

  // Of the weight at hanging; of pieces weighed as one that of all together. 0 where nothing hung.
  double loss(Grams mass) const {
    return base.equivalent_hung.value > 0.0 ? 1.0 - (mass - base.tare) / base.equivalent_hung : 0.0;
  }
};
// `forecast` may be nullptr. Of pieces that are not there nothing is counted.
AtScale at_scale(const Batch& batch, const std::vector<Id>& pieces, Date day,
                 const drying::Forecast* forecast);

enum class Odd {
  light,   // 0.4 of the weight at hanging or less
  gained,  // heavier than before by more than 3 g and 0.3 % of the weight at hanging
  below,   // of what the forecast expects, by more than as much again as the range is wide on that side
  above,
};

// -1: lighter than what the forecast expects, 1: heavier, 0: as expected, give or take what a scale does.
// Nothing where nothing is expected.
std::optional<int> beside_expected(const AtScale& scale, Grams mass);

// Why a weight looks wrong, the gravest reason; nothing where it does not. The first two are drying's own
// doubts (drying::Doubt), said before the weight is kept. A kitchen scale and a string are worth 2 g or 0.5 %
// either way (choice).
std::optional<Odd> odd(const AtScale& scale, Grams mass);

// A share of water that was read of a piece, beside what it should have: nothing where that fits.
enum class OddMoisture {
  above_hanging,  // more than the meat hung with
  above,          // more than its loss leaves
  below,
};
struct MoistureSeen {
  double expected = 0.0;  // g/g, by the loss of that day
  std::optional<OddMoisture> odd;
};
// `at_hanging`: of the sheet; `loss`: of the piece that day, 0..0.9. In doubt beyond 0.08 g/g, more than three times
// what is open of the meat's water and the reading together (choice; drying/offsets.h).
MoistureSeen moisture_seen(const recipe::Composition& at_hanging, double loss, double moisture);

}  // namespace saltrafter::plan
