#include "core/recipe/brine.h"

#include <algorithm>
#include <cmath>

namespace saltrafter::recipe {

namespace {

// -ln(aw), and its derivative by the molality.
struct LogActivity {
  double value;
  double slope;
};

LogActivity minus_log_activity(double m) {
  const double root = std::sqrt(m);
  const double below = 1.0 + 1.2 * root;
  const double decay = std::exp(-2.0 * root);
  const double phi = 1.0 - 0.3915 * root / below + m * (0.0765 + 0.2664 * decay) + 0.00127 * m * m;
  // d(m phi)/dm; with root = sqrt(m), d root/dm = 1/(2 root), so that m * d/dm stays finite at 0.
  const double m_dphi = -0.3915 * 0.5 * root / (below * below) + m * (0.0765 + 0.2664 * decay) -
                        0.2664 * m * root * decay + 2.0 * 0.00127 * m * m;
  return {2.0 * m * phi * kWaterKgMol, 2.0 * kWaterKgMol * (phi + m_dphi)};
}

}  // namespace

Result<WaterActivity> brine_activity(double molality) {
  if (!(molality >= 0.0 && molality <= kBrineMostMolal)) {
    return out_of_range("molality", molality, 0.0, kBrineMostMolal, "mol/kg");
  }
  return WaterActivity(std::exp(-minus_log_activity(molality).value));
}

Result<double> brine_molality(WaterActivity activity) {
  const double least = std::exp(-minus_log_activity(kBrineMostMolal).value);
  if (!(activity.value >= least && activity.value <= 1.0)) {
    return out_of_range("water_activity", activity.value, least, 1.0, "");
  }
  const double wanted = -std::log(activity.value);
  // -ln(aw) grows with the molality and is nearly a line: Newton from the ideal solution settles in a few turns.
  double m = std::min(wanted / (2.0 * kWaterKgMol), kBrineMostMolal);
  for (int i = 0; i < 12; ++i) {
    const LogActivity at = minus_log_activity(m);
    m = std::clamp(m - (at.value - wanted) / at.slope, 0.0, 1.01 * kBrineMostMolal);
  }
  return m;
}

Result<WaterActivity> brine_activity_of_water_phase(double salt_share) {
  const double brine = kBrineMostMolal * kSodiumChlorideKgMol;
  const double most = brine / (1.0 + brine);
  if (!(salt_share >= 0.0 && salt_share <= most)) {
    return out_of_range("water_phase_salt", salt_share, 0.0, most, "");
  }
  return brine_activity(std::min(salt_share / (1.0 - salt_share) / kSodiumChlorideKgMol, kBrineMostMolal));
}

Result<double> water_per_salt(WaterActivity activity) {
  if (!(activity.value < 1.0)) {
    return out_of_range("water_activity", activity.value, 0.75, 1.0, "");
  }
  Result<double> molality = brine_molality(activity);
  if (!molality.ok()) {
    return molality;
  }
  return 1.0 / (kSodiumChlorideKgMol * molality.value());
}

}  // namespace saltrafter::recipe
