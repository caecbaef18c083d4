// What weighings cannot see: how much water the meat came with, and how firmly its solids hold it. Learnt from a
// measured water activity, a moisture reading, or a hand on the piece, each at a known loss.
#pragma once

#include <array>
#include <string_view>
#include <vector>

#include "core/base/base.h"
#include "core/drying/body.h"

namespace saltrafter::drying {

enum class ReadingKind {
  activity,  // value: water activity of a sample of the whole cross-section, 0..1
  moisture,  // value: g water per g, 0..1
  feel,      // value: index into kFeels, by hand or cut open
};

// How firm a piece is, in steps a hand can tell, and the mean water activity that goes with each. Choice, by the
// order of what makers say of half-dry and dry sausage; hence the wide error.
struct Feel {
  std::string_view id;
  double activity;
};
inline constexpr std::array<Feel, 4> kFeels{{{"soft", 0.95}, {"springy", 0.925}, {"firm", 0.89}, {"hard", 0.84}}};

struct Reading {
  ReadingKind kind = ReadingKind::activity;
  double loss = 0.0;   // of the sample's piece when it was taken, of the weight at hanging, 0..0.9
  double value = 0.0;
  double sd = 0.0;     // of the value; 0: the usual one of its kind (kReading...)
};
inline constexpr Assumption kReadingActivity{"drying.reading_activity_sd", 0.005, "", "choice", 0.003, 0.01};
inline constexpr Assumption kReadingMoisture{"drying.reading_moisture_sd", 0.01, "", "choice", 0.005, 0.02};
inline constexpr Assumption kReadingFeel{"drying.reading_feel_sd", 0.025, "", "choice", 0.02, 0.04};
// Before any reading. The second gives 0.014 of water activity at 35 % loss, 0.005 at hanging.
inline constexpr Assumption kWaterSpread{"drying.water_sd", 0.015, "g/g", "choice", 0.01, 0.03};
inline constexpr Assumption kHoldingSpread{"drying.holding_sd", 0.12, "", "choice", 0.08, 0.2};

// Two unknowns of a batch: [0] share of water at hanging, over the recipe's; [1] ln of the water its solids hold,
// over the isotherm's. Normal, with their covariance.
struct Offsets {
  std::array<double, 2> mean{0.0, 0.0};
  double water_variance = kWaterSpread.value * kWaterSpread.value;
  double holding_variance = kHoldingSpread.value * kHoldingSpread.value;
  double both = 0.0;

  double along(const std::array<double, 2>& g) const {
    return g[0] * g[0] * water_variance + g[1] * g[1] * holding_variance + 2.0 * g[0] * g[1] * both;
  }
};

// What a sample would read after `loss`, with the two unknowns at `offsets`; `body` stands at none.
double expected_reading(ReadingKind kind, const Body& body, double loss, const std::array<double, 2>& offsets);

// The two unknowns after the readings: Gauss-Newton on a linear model about where it stands. No readings: the
// prior. Errors: out_of_range for "readings/<i>/loss", ".../value", ".../sd" (0..0.2).
Result<Offsets> learn_offsets(const Body& body, const std::vector<Reading>& readings);

// The composition with its share of water moved by this much (to 0.05..0.95), the masses of all else kept.
recipe::Composition with_water(const recipe::Composition& composition, double share);

}  // namespace saltrafter::drying
