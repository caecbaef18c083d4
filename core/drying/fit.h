// What weighings say about the model's two factors: penalised least squares over a batch of pieces.
//
// Unknown are ln F of the batch and, with several pieces, how far each piece lies from it, inside and outside.
// This file knows rows of numbers only; who runs the model is forecast.h's business.
#pragma once

#include <array>
#include <cstddef>
#include <vector>

namespace saltrafter::drying {

// Normal distributions of ln F before any weighing; [0] inner, [1] outer.
struct FactorPrior {
  std::array<double, 2> mean{0.0, 0.0};
  std::array<double, 2> batch_sd{0.40, 0.40};  // choice; 0.05..2
  std::array<double, 2> piece_sd{0.10, 0.15};  // choice: spread within a batch, place in the chamber; 0.01..1
};

// One weighing as a line in the factors of its piece, around where the fit stands.
struct FitRow {
  std::size_t piece = 0;
  double residual = 0.0;             // seen - predicted, g
  std::array<double, 2> slope{};     // d predicted / d ln F, g
  double precision = 0.0;            // weight / variance, 1/g2; 0 takes no part
};

struct Covariance {
  double inner = 0.0, outer = 0.0, both = 0.0;

  double along(const std::array<double, 2>& g) const {
    return g[0] * g[0] * inner + g[1] * g[1] * outer + 2.0 * g[0] * g[1] * both;
  }
};

class FactorFit {
 public:
  FactorFit(std::size_t pieces, const FactorPrior& prior);

  std::array<double, 2> ln_factors(std::size_t piece) const;
  std::array<double, 2> ln_batch() const { return {unknown_[0], unknown_[1]}; }

  // One Gauss-Newton step, no component longer than 0.6; keeps the covariance for `covariance`. Returns the
  // longest component.
  double update(const std::vector<FitRow>& rows);
  // The covariance alone, at the rows given (Laplace's approximation).
  void measure(const std::vector<FitRow>& rows);

  Covariance covariance(std::size_t piece) const;
  Covariance batch_covariance() const;
  // The variance of a sum over all pieces, each ln F times its own slope.
  double along_all(const std::vector<std::array<double, 2>>& slope) const;

 private:
  bool factorise(const std::vector<FitRow>& rows);
  std::vector<double> solve(std::vector<double> right) const;
  Covariance covariance_of(const std::vector<std::size_t>& inner, const std::vector<std::size_t>& outer) const;

  FactorPrior prior_;
  std::size_t pieces_;
  std::size_t size_;              // 2, or 2 + 2 a piece when there are several
  std::vector<double> unknown_;   // batch inner, outer; then each piece's own distance from them
  std::vector<double> lower_;     // Cholesky factor of the precision
  std::vector<double> gradient_;
};

// Student's t with 4 degrees of freedom: how much a residual of r standard deviations counts. Source: textbook.
inline double student_weight(double r) { return 5.0 / (4.0 + r * r); }

// Leave-one-out z of a row, from a fit that had it in with row.precision: the residual against a fit without it,
// over the standard deviation of that difference. `variance`: of the scale alone, g2. Exact for a linear model.
double leave_one_out(const FitRow& row, const Covariance& piece, double variance);

}  // namespace saltrafter::drying
