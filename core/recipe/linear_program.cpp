#include "core/recipe/linear_program.h"

#include <algorithm>
#include <cmath>
#include <cstddef>

namespace saltrafter::recipe {
namespace {

constexpr double kNoise = 1e-9;
constexpr double kTie = 1e-12;
constexpr int kMostTurns = 20000;

// Columns in order: those of the program, a slack for each row that is no equation, an artificial for each
// row that the slacks alone do not satisfy at zero. The last place of a line is its right-hand side.
class Tableau {
 public:
  explicit Tableau(const LinearProgram& program) : own_(program.cost.size()) {
    std::vector<LinearRow> rows;
    for (const LinearRow& row : program.rows) rows.push_back(scaled(row));
    std::size_t slacks = 0;
    std::size_t artificials = 0;
    for (const LinearRow& row : rows) {
      slacks += row.sense == Sense::exactly ? 0 : 1;
      artificials += row.sense == Sense::at_most ? 0 : 1;
    }
    first_artificial_ = own_ + slacks;
    width_ = first_artificial_ + artificials;
    std::size_t slack = own_;
    std::size_t artificial = first_artificial_;
    for (const LinearRow& row : rows) {
      std::vector<double> line(width_ + 1, 0.0);
      std::copy(row.of.begin(), row.of.end(), line.begin());
      line[width_] = row.bound;
      if (row.sense != Sense::exactly) line[slack] = row.sense == Sense::at_most ? 1.0 : -1.0;
      if (row.sense != Sense::at_most) line[artificial] = 1.0;
      basis_.push_back(row.sense == Sense::at_most ? slack : artificial);
      slack += row.sense == Sense::exactly ? 0 : 1;
      artificial += row.sense == Sense::at_most ? 0 : 1;
      lines_.push_back(line);
    }
  }

  LinearAnswer solve(const std::vector<double>& cost) {
    LinearAnswer answer;
    std::vector<double> phase(width_, 0.0);
    std::fill(phase.begin() + static_cast<std::ptrdiff_t>(first_artificial_), phase.end(), 1.0);
    answer.how = descend(phase, width_);
    if (answer.how != Solved::best) return answer;
    for (std::size_t i = 0; i < lines_.size(); ++i) {
      if (basis_[i] >= first_artificial_ && lines_[i][width_] > kNoise) {
        answer.how = Solved::infeasible;
        return answer;
      }
    }
    put_artificials_out();
    phase.assign(width_, 0.0);
    std::copy(cost.begin(), cost.end(), phase.begin());
    answer.how = descend(phase, first_artificial_);
    if (answer.how != Solved::best) return answer;
    answer.values.assign(own_, 0.0);
    for (std::size_t i = 0; i < lines_.size(); ++i) {
      if (basis_[i] < own_) answer.values[basis_[i]] = std::max(0.0, lines_[i][width_]);
    }
    for (std::size_t k = 0; k < own_; ++k) answer.cost += cost[k] * answer.values[k];
    return answer;
  }

 private:
  // Largest factor 1, bound not negative; a least of nothing is a most, which needs no artificial.
  LinearRow scaled(const LinearRow& row) const {
    LinearRow out = row;
    out.of.resize(own_, 0.0);
    double largest = 0.0;
    for (const double factor : out.of) largest = std::max(largest, std::abs(factor));
    double by = largest > 0.0 ? 1.0 / largest : 1.0;
    if (out.bound < 0.0 || (out.bound <= 0.0 && out.sense == Sense::at_least)) {
      by = -by;
      if (out.sense != Sense::exactly)
        out.sense = out.sense == Sense::at_most ? Sense::at_least : Sense::at_most;
    }
    for (double& factor : out.of) factor *= by;
    out.bound = std::max(0.0, out.bound * by);
    return out;
  }

  void pivot(std::size_t line, std::size_t column, std::vector<double>& reduced) {
    std::vector<double>& own = lines_[line];
    const double by = 1.0 / own[column];
    for (double& v : own) v *= by;
    own[column] = 1.0;
    const auto clear = [&own, column](std::vector<double>& other) {
      const double factor = other[column];
      if (factor > 0.0 || factor < 0.0) {
        for (std::size_t k = 0; k < own.size(); ++k) other[k] -= factor * own[k];
        other[column] = 0.0;
      }
    };
    for (std::size_t i = 0; i < lines_.size(); ++i) {
      if (i != line) clear(lines_[i]);
    }
    clear(reduced);
    basis_[line] = column;
  }

  Solved descend(const std::vector<double>& cost, std::size_t columns) {
    std::vector<double> reduced = cost;
    reduced.push_back(0.0);
    for (std::size_t i = 0; i < lines_.size(); ++i) {
      const double factor = cost[basis_[i]];
      for (std::size_t k = 0; k <= width_; ++k) reduced[k] -= factor * lines_[i][k];
    }
    for (int turn = 0; turn < kMostTurns; ++turn) {
      std::size_t enters = 0;
      while (enters < columns && !(reduced[enters] < -kNoise)) ++enters;
      if (enters == columns) return Solved::best;
      std::size_t leaves = lines_.size();
      double least = 0.0;
      for (std::size_t i = 0; i < lines_.size(); ++i) {
        if (!(lines_[i][enters] > kNoise)) continue;
        const double ratio = lines_[i][width_] / lines_[i][enters];
        const bool first = leaves == lines_.size();
        if (first || ratio < least - kTie || (ratio <= least + kTie && basis_[i] < basis_[leaves])) {
          least = first ? ratio : std::min(ratio, least);
          leaves = i;
        }
      }
      if (leaves == lines_.size()) return Solved::unbounded;
      pivot(leaves, enters, reduced);
    }
    return Solved::gave_up;
  }

  // An artificial left in the basis at zero gives its place to any other column of its line; a line without
  // one repeats others.
  void put_artificials_out() {
    std::vector<double> nothing(width_ + 1, 0.0);
    for (std::size_t i = 0; i < lines_.size(); ++i) {
      if (basis_[i] < first_artificial_) continue;
      std::size_t column = 0;
      while (column < first_artificial_ && !(std::abs(lines_[i][column]) > kNoise)) ++column;
      if (column < first_artificial_) pivot(i, column, nothing);
    }
  }

  std::size_t own_;
  std::size_t first_artificial_ = 0;
  std::size_t width_ = 0;
  std::vector<std::vector<double>> lines_;
  std::vector<std::size_t> basis_;
};

}  // namespace

LinearAnswer solve(const LinearProgram& program) { return Tableau(program).solve(program.cost); }

}  // namespace saltrafter::recipe
