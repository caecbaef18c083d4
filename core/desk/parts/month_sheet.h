// A month to choose a day from, for a date field.
#pragma once

#include <optional>

#include "core/desk/parts/page.h"

namespace saltrafter::parts {

struct MonthSheet {
  Key key;
  Date shown;  // its month is shown at first
  std::optional<Date> chosen;
  Date today;
  bool future_refused = true;  // days to come are shown and cannot be chosen
};
std::optional<Date> month_sheet(Page& page, const MonthSheet& sheet);
void turn_back(Host& host, Key sheet);  // to the month of its day

}  // namespace saltrafter::parts
