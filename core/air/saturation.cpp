#include "core/air/saturation.h"

#include <cmath>

namespace saltrafter::air {
namespace {

// Where the formulas for ice and water meet: switching here, not at 0 °C, leaves no step (0.005 % at 0 °C).
constexpr double kTriplePointC = 0.01;

struct LogPressure {
  double value;    // ln(p / Pa)
  double slope_k;  // its derivative, 1/K
};

// Eq. 5
LogPressure over_ice(double t_k) {
  return {-5.6745359e3 / t_k + 6.3925247 +
              t_k * (-9.677843e-3 + t_k * (6.2215701e-7 + t_k * (2.0747825e-9 - 9.484024e-13 * t_k))) +
              4.1635019 * std::log(t_k),
          5.6745359e3 / (t_k * t_k) - 9.677843e-3 +
              t_k * (2.0 * 6.2215701e-7 + t_k * (3.0 * 2.0747825e-9 - 4.0 * 9.484024e-13 * t_k)) +
              4.1635019 / t_k};
}

// Eq. 6
LogPressure over_water(double t_k) {
  return {-5.8002206e3 / t_k + 1.3914993 + t_k * (-4.8640239e-2 + t_k * (4.1764768e-5 - 1.4452093e-8 * t_k)) +
              6.5459673 * std::log(t_k),
          5.8002206e3 / (t_k * t_k) - 4.8640239e-2 + t_k * (2.0 * 4.1764768e-5 - 3.0 * 1.4452093e-8 * t_k) +
              6.5459673 / t_k};
}

LogPressure log_pressure(double t_c, Over over) {
  const double t_k = t_c + kKelvinAtZeroCelsius;
  return over != Over::water && t_c <= kTriplePointC ? over_ice(t_k) : over_water(t_k);
}

double within_range(double t_c) {
  if (!(t_c > kLowestSaturation.value)) {
    return kLowestSaturation.value;
  }
  return t_c < kHighestSaturation.value ? t_c : kHighestSaturation.value;
}

// Solves ln p(t) = `log_p`; ln p grows with t, and Newton's steps on it are nearly straight.
double dew_point_c(double log_p, Over over) {
  constexpr double kEnough = 1e-9;
  double low = kLowestSaturation.value;
  double high = kHighestSaturation.value;
  // First guess by Magnus' form, ln(p / 611.2 Pa) = 17.62 t / (243.12 + t).
  const double magnus = log_p - 6.41542;
  double t_c = 243.12 * magnus / (17.62 - magnus);
  for (int step = 0; step < 60; ++step) {
    if (!(t_c > low && t_c < high)) {
      t_c = 0.5 * (low + high);
    }
    const LogPressure at = log_pressure(t_c, over);
    const double excess = at.value - log_p;
    (excess > 0.0 ? high : low) = t_c;
    const double newton = excess / at.slope_k;
    t_c -= newton;
    if (std::abs(newton) < kEnough) {
      break;
    }
  }
  return t_c;
}

}  // namespace

double saturation_pressure_pa(double t_c) {
  return std::exp(log_pressure(within_range(t_c), Over::stable).value);
}

double saturation_pressure_slope_pa_k(double t_c) {
  const LogPressure at = log_pressure(within_range(t_c), Over::stable);
  return std::exp(at.value) * at.slope_k;
}

Result<Pascal> saturation_pressure(Celsius t, Over over) {
  if (!(t.value >= kLowestSaturation.value && t.value <= kHighestSaturation.value)) {
    return out_of_range("temperature", t.value, kLowestSaturation.value, kHighestSaturation.value, "°C");
  }
  return Pascal(std::exp(log_pressure(t.value, over).value));
}

Result<Celsius> dew_point(Pascal vapour, Over over) {
  const double low_pa = std::exp(log_pressure(kLowestSaturation.value, over).value);
  const double high_pa = std::exp(log_pressure(kHighestSaturation.value, over).value);
  if (!(vapour.value >= low_pa && vapour.value <= high_pa)) {
    return out_of_range("vapour_pressure", vapour.value, low_pa, high_pa, "Pa");
  }
  return Celsius(dew_point_c(std::log(vapour.value), over));
}

}  // namespace saltrafter::air
