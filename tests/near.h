// Comparisons for tests: say whether the tolerance is a share of the expected value or an amount.
#pragma once

#include <doctest/doctest.h>

#include <cmath>

// Within `fraction` of the expected value. doctest::Approx adds an absolute term of its own (scale 1), which
// would accept anything at 150 ppm; scale 0 takes it away.
inline doctest::Approx near_rel(double expected, double fraction) {
  return doctest::Approx(expected).epsilon(fraction).scale(0.0);
}

// Within `amount` of the expected value.
struct NearAbs {
  double expected;
  double amount;
  friend bool operator==(double value, const NearAbs& n) { return std::abs(value - n.expected) <= n.amount; }
  friend doctest::String toString(const NearAbs& n) {
    return doctest::toString(n.expected) + " +- " + doctest::toString(n.amount);
  }
};
inline NearAbs near_abs(double expected, double amount) { return {expected, amount}; }
