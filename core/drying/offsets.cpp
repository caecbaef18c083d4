#include "core/drying/offsets.h"

#include <algorithm>
#include <cmath>
#include <string>

namespace saltrafter::drying {

namespace {

constexpr int kRounds = 8;
constexpr double kStill = 1e-9;
constexpr std::array<double, 2> kNudge{1e-5, 1e-4};
constexpr std::array<double, 2> kFarthest{0.10, 0.7};  // no reading moves an unknown further

double sd_of(const Reading& reading) {
  if (reading.sd > 0.0) {
    return reading.sd;
  }
  return reading.kind == ReadingKind::activity   ? kReadingActivity.value
         : reading.kind == ReadingKind::moisture ? kReadingMoisture.value
                                                 : kReadingFeel.value;
}

double value_of(const Reading& reading) {
  return reading.kind == ReadingKind::feel ? kFeels[static_cast<std::size_t>(reading.value)].activity : reading.value;
}

}  // namespace

double expected_reading(ReadingKind kind, const Body& body, double loss, const std::array<double, 2>& offsets) {
  const double water = std::clamp(body.x0 / (1.0 + body.x0) + offsets[0], 0.01, 0.99);
  const double left = std::max(water - loss, 0.0);
  if (kind == ReadingKind::moisture) {
    return left / (1.0 - loss);
  }
  return body.at(left / (1.0 - water) / std::exp(offsets[1])).activity;
}

Result<Offsets> learn_offsets(const Body& body, const std::vector<Reading>& readings) {
  for (std::size_t i = 0; i < readings.size(); ++i) {
    const Reading& reading = readings[i];
    const std::string at = "readings/" + std::to_string(i) + "/";
    if (!(reading.loss >= 0.0 && reading.loss <= 0.9)) {
      return out_of_range(at + "loss", reading.loss, 0.0, 0.9, "");
    }
    const double most = reading.kind == ReadingKind::feel ? static_cast<double>(kFeels.size() - 1) : 1.0;
    if (!(reading.value >= 0.0 && reading.value <= most)) {
      return out_of_range(at + "value", reading.value, 0.0, most, "");
    }
    if (!(reading.sd >= 0.0 && reading.sd <= 0.2)) {
      return out_of_range(at + "sd", reading.sd, 0.0, 0.2, "");
    }
  }
  const Offsets prior;
  Offsets out = prior;
  for (int round = 0; round < kRounds && !readings.empty(); ++round) {
    // Precision and gradient at where it stands.
    double a = 1.0 / prior.water_variance;
    double b = 0.0;
    double c = 1.0 / prior.holding_variance;
    std::array<double, 2> gradient{-out.mean[0] * a, -out.mean[1] * c};
    for (const Reading& reading : readings) {
      const double precision = 1.0 / (sd_of(reading) * sd_of(reading));
      const double residual = value_of(reading) - expected_reading(reading.kind, body, reading.loss, out.mean);
      std::array<double, 2> slope{};
      for (std::size_t k = 0; k < 2; ++k) {
        std::array<double, 2> up = out.mean;
        std::array<double, 2> down = out.mean;
        up[k] += kNudge[k];
        down[k] -= kNudge[k];
        slope[k] = (expected_reading(reading.kind, body, reading.loss, up) -
                    expected_reading(reading.kind, body, reading.loss, down)) / (2.0 * kNudge[k]);
        gradient[k] += precision * slope[k] * residual;
      }
      a += precision * slope[0] * slope[0];
      b += precision * slope[0] * slope[1];
      c += precision * slope[1] * slope[1];
    }
    const double determinant = a * c - b * b;
    out.water_variance = c / determinant;
    out.holding_variance = a / determinant;
    out.both = -b / determinant;
    const std::array<double, 2> before = out.mean;
    out.mean[0] += out.water_variance * gradient[0] + out.both * gradient[1];
    out.mean[1] += out.both * gradient[0] + out.holding_variance * gradient[1];
    for (std::size_t k = 0; k < 2; ++k) {
      out.mean[k] = std::clamp(out.mean[k], -kFarthest[k], kFarthest[k]);
    }
    if (std::abs(out.mean[0] - before[0]) + std::abs(out.mean[1] - before[1]) < kStill) {
      break;
    }
  }
  return out;
}

recipe::Composition with_water(const recipe::Composition& composition, double share) {
  recipe::Composition out = composition;
  const double dry_g = out.total_g() - out.water_g;
  const double water = std::clamp(out.water_g / out.total_g() + share, 0.05, 0.95);
  out.water_g = dry_g * water / (1.0 - water);
  return out;
}

}  // namespace saltrafter::drying
