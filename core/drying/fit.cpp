#include "core/drying/fit.h"

#include <algorithm>
#include <cmath>

namespace saltrafter::drying {

namespace {

constexpr double kLongestStep = 0.6;

}  // namespace

FactorFit::FactorFit(std::size_t pieces, const FactorPrior& prior)
    : prior_(prior), pieces_(pieces), size_(pieces > 1 ? 2 + 2 * pieces : 2), unknown_(size_, 0.0) {
  unknown_[0] = prior.mean[0];
  unknown_[1] = prior.mean[1];
  measure({});
}

std::array<double, 2> FactorFit::ln_factors(std::size_t piece) const {
  std::array<double, 2> ln = ln_batch();
  if (pieces_ > 1) {
    ln[0] += unknown_[2 + 2 * piece];
    ln[1] += unknown_[3 + 2 * piece];
  }
  return ln;
}

bool FactorFit::factorise(const std::vector<FitRow>& rows) {
  const std::size_t n = size_;
  std::vector<double> a(n * n, 0.0);
  gradient_.assign(n, 0.0);
  for (std::size_t k = 0; k < n; ++k) {
    const double sd = k < 2 ? prior_.batch_sd[k] : prior_.piece_sd[k % 2];
    const double mean = k < 2 ? prior_.mean[k] : 0.0;
    a[k * n + k] = 1.0 / (sd * sd);
    gradient_[k] = (mean - unknown_[k]) / (sd * sd);
  }
  for (const FitRow& row : rows) {
    const std::size_t own = 2 + 2 * row.piece;
    const std::array<std::size_t, 4> at{0, 1, own, own + 1};
    const std::size_t used = pieces_ > 1 ? 4 : 2;
    for (std::size_t i = 0; i < used; ++i) {
      gradient_[at[i]] += row.precision * row.slope[i % 2] * row.residual;
      for (std::size_t j = 0; j < used; ++j) {
        a[at[i] * n + at[j]] += row.precision * row.slope[i % 2] * row.slope[j % 2];
      }
    }
  }
  for (std::size_t i = 0; i < n; ++i) {
    for (std::size_t j = 0; j <= i; ++j) {
      double sum = a[i * n + j];
      for (std::size_t k = 0; k < j; ++k) {
        sum -= a[i * n + k] * a[j * n + k];
      }
      if (i != j) {
        a[i * n + j] = sum / a[j * n + j];
      } else if (sum > 0.0) {
        a[i * n + i] = std::sqrt(sum);
      } else {
        return false;
      }
    }
  }
  lower_ = std::move(a);
  return true;
}

std::vector<double> FactorFit::solve(std::vector<double> x) const {
  const std::size_t n = size_;
  for (std::size_t i = 0; i < n; ++i) {
    for (std::size_t k = 0; k < i; ++k) {
      x[i] -= lower_[i * n + k] * x[k];
    }
    x[i] /= lower_[i * n + i];
  }
  for (std::size_t i = n; i-- > 0;) {
    for (std::size_t k = i + 1; k < n; ++k) {
      x[i] -= lower_[k * n + i] * x[k];
    }
    x[i] /= lower_[i * n + i];
  }
  return x;
}

double FactorFit::update(const std::vector<FitRow>& rows) {
  double longest = 0.0;
  if (factorise(rows)) {
    const std::vector<double> move = solve(gradient_);
    for (std::size_t k = 0; k < size_; ++k) {
      const double step = std::clamp(move[k], -kLongestStep, kLongestStep);
      unknown_[k] += step;
      longest = std::max(longest, std::abs(step));
    }
  }
  return longest;
}

void FactorFit::measure(const std::vector<FitRow>& rows) { factorise(rows); }

Covariance FactorFit::covariance_of(const std::vector<std::size_t>& inner,
                                    const std::vector<std::size_t>& outer) const {
  std::vector<double> pick_inner(size_, 0.0);
  std::vector<double> pick_outer(size_, 0.0);
  for (const std::size_t k : inner) {
    pick_inner[k] = 1.0;
  }
  for (const std::size_t k : outer) {
    pick_outer[k] = 1.0;
  }
  const std::vector<double> by_inner = solve(pick_inner);
  const std::vector<double> by_outer = solve(pick_outer);
  Covariance c;
  for (std::size_t k = 0; k < size_; ++k) {
    c.inner += pick_inner[k] * by_inner[k];
    c.outer += pick_outer[k] * by_outer[k];
    c.both += pick_inner[k] * by_outer[k];
  }
  return c;
}

Covariance FactorFit::covariance(std::size_t piece) const {
  if (pieces_ <= 1) {
    return batch_covariance();
  }
  return covariance_of({0, 2 + 2 * piece}, {1, 3 + 2 * piece});
}

Covariance FactorFit::batch_covariance() const { return covariance_of({0}, {1}); }

double FactorFit::along_all(const std::vector<std::array<double, 2>>& slope) const {
  std::vector<double> pick(size_, 0.0);
  for (std::size_t piece = 0; piece < slope.size(); ++piece) {
    for (std::size_t k = 0; k < 2; ++k) {
      pick[k] += slope[piece][k];
      if (pieces_ > 1) {
        pick[2 + 2 * piece + k] += slope[piece][k];
      }
    }
  }
  const std::vector<double> by = solve(pick);
  double variance = 0.0;
  for (std::size_t k = 0; k < size_; ++k) {
    variance += pick[k] * by[k];
  }
  return variance;
}

double leave_one_out(const FitRow& row, const Covariance& piece, double variance) {
  const double with = piece.along(row.slope);
  const double left = std::max(1.0 - row.precision * with, 1e-9);
  return row.residual / left / std::sqrt(with / left + variance);
}

}  // namespace saltrafter::drying
