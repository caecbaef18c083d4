// Within this module: a small dense linear program, solved by the simplex method in two phases.
//
// Bland's rule and a fixed order of columns: the same program gives the same corner everywhere.
#pragma once

#include <vector>

namespace saltrafter::recipe {

enum class Sense { at_most, at_least, exactly };

struct LinearRow {
  std::vector<double> of;  // a factor a column; shorter than there are columns: the rest is 0
  Sense sense = Sense::at_most;
  double bound = 0.0;
};

// Least `cost` over columns that are never negative. All figures finite.
struct LinearProgram {
  std::vector<double> cost;  // one a column
  std::vector<LinearRow> rows;
};

enum class Solved {
  best,
  infeasible,  // by more than 1e-9 in some row, brought to a largest factor of 1
  unbounded,
  gave_up,  // too many turns; not met with programs of a few dozen columns
};

struct LinearAnswer {
  Solved how = Solved::gave_up;
  std::vector<double> values;  // of the columns; only of Solved::best
  double cost = 0.0;
};

LinearAnswer solve(const LinearProgram& program);

}  // namespace saltrafter::recipe
