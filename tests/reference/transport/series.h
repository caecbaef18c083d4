// The series of Crank's book for one body suddenly in new surroundings, evaluated here and independent of the
// solver. Bi < 0 stands for a surface held constant.
#pragma once

#include <cmath>
#include <string>
#include <vector>

namespace series {

inline constexpr double kPi = 3.14159265358979323846;

// Bessel's J0 and J1 from their integral: the trapezoid rule on a whole period settles faster than any power.
inline double bessel(int order, double x) {
  constexpr int kPoints = 1200;
  double sum = 0.0;
  for (int i = 0; i < kPoints; ++i) {
    const double t = 2.0 * kPi * i / kPoints;
    sum += std::cos(order * t - x * std::sin(t));
  }
  return sum / kPoints;
}

// m: 0 slab, 1 cylinder, 2 sphere. Zero at the roots.
inline double boundary(int m, double bi, double b) {
  if (bi < 0.0) {
    return m == 0 ? std::cos(b) : m == 1 ? bessel(0, b) : std::sin(b);
  }
  return m == 0   ? b * std::sin(b) - bi * std::cos(b)
         : m == 1 ? b * bessel(1, b) - bi * bessel(0, b)
                  : (1.0 - bi) * std::sin(b) - b * std::cos(b);
}

inline std::vector<double> roots(int m, double bi, std::size_t count) {
  std::vector<double> out;
  const double step = 0.05;
  double low = 1e-3;
  double at_low = boundary(m, bi, low);
  while (out.size() < count) {
    const double high = low + step;
    const double at_high = boundary(m, bi, high);
    if ((at_low < 0.0) != (at_high < 0.0)) {
      double a = low;
      double b = high;
      for (int i = 0; i < 60; ++i) {
        const double mid = 0.5 * (a + b);
        ((boundary(m, bi, mid) < 0.0) == (at_low < 0.0) ? a : b) = mid;
      }
      out.push_back(0.5 * (a + b));
    }
    low = high;
    at_low = at_high;
  }
  return out;
}

// What of the mean's way to its end is left, for one root, without the decay in time.
inline double mean_coefficient(int m, double bi, double b) {
  if (bi < 0.0) {
    return 2.0 * (m + 1) / (b * b);
  }
  const double below = m == 0 ? b * b + bi * bi + bi : m == 1 ? b * b + bi * bi : b * b + bi * (bi - 1.0);
  return 2.0 * (m + 1) * bi * bi / (b * b * below);
}

inline double profile_coefficient(int m, double bi, double b, bool at_surface) {
  if (m == 0) {
    return 2.0 * bi / ((b * b + bi * bi + bi) * std::cos(b)) * (at_surface ? std::cos(b) : 1.0);
  }
  if (m == 1) {
    return 2.0 * bi / ((b * b + bi * bi) * bessel(0, b)) * (at_surface ? bessel(0, b) : 1.0);
  }
  return 2.0 * bi / ((b * b + bi * (bi - 1.0)) * std::sin(b)) * (at_surface ? std::sin(b) : b);
}

template <class Coefficient>
double sum(const std::vector<double>& b, double fo, Coefficient coefficient) {
  double total = 0.0;
  for (const double root : b) {
    total += coefficient(root) * std::exp(-root * root * fo);
  }
  return total;
}

inline int shape(const std::string& name) { return name == "slab" ? 0 : name == "cyl" ? 1 : 2; }

}  // namespace series
