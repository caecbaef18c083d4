// A finding: the rule, what was found against the limit, a word, and a bar whose forbidden side is hatched.
#pragma once

#include <optional>
#include <vector>

#include "core/desk/parts/rows.h"

namespace saltrafter::parts {

// The bar runs from `low` to `high`; values beyond are held at its ends.
struct LimitBar {
  double value = 0.0;
  double limit = 0.0;
  bool at_most = true;  // false: at least
  double low = 0.0;
  double high = 1.0;
  double uncertainty = 0.0;  // ±; above 0 the value is a point on a line instead of a bar
};

// Bars as they are drawn everywhere: water activity 0.80 to 1.00, pH 4.0 to 6.5, all else from 0.
LimitBar bar_from_zero(double value, double limit, bool at_most);
LimitBar bar_of_water_activity(double value, double limit, double uncertainty);
LimitBar bar_of_ph(double value, double limit, double uncertainty);

struct FindingRow {
  std::optional<Key> key;  // pressing it opens its rule, source and working: the screen's business
  words::Text rule;        // "Ingoing nitrite"
  words::Text found;       // "150 mg/kg, at most 156"
  std::vector<words::Text> beneath;  // what to do, whose rule it is: a paragraph each
  Level level = Level::not_known;
  std::optional<LimitBar> bar;
};

// True when it was pressed.
bool finding(Page& page, const FindingRow& row);

}  // namespace saltrafter::parts
