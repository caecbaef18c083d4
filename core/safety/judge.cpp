#include "core/safety/judge.h"

#include <cmath>

namespace saltrafter::safety {
namespace {

constexpr double kNearShare = 0.05;

double rounded(double value) { return std::round(value * 1e9) / 1e9; }

}  // namespace

Judged judge(double value, double limit, tables::LimitSense sense, tables::Known known, double near_margin,
             double uncertainty) {
  if (!std::isfinite(value) || !std::isfinite(limit)) return Judged{};
  Judged judged;
  judged.margin = rounded(sense == tables::LimitSense::most ? limit - value : value - limit);
  if (judged.margin < 0.0) {
    judged.level = Level::not_met;
  } else if (!tables::is_evidence(known)) {
    judged.level = Level::not_known;
  } else if (judged.margin <= rounded(near_margin) || judged.margin <= rounded(uncertainty)) {
    judged.level = Level::near;
  } else {
    judged.level = Level::met;
  }
  return judged;
}

double usual_near_margin(double limit) { return kNearShare * std::abs(limit); }

}  // namespace saltrafter::safety
