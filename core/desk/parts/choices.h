// Choosing: one of few side by side (one under another where they do not fit), and a box to tick.
#pragma once

#include <optional>
#include <vector>

#include "core/desk/parts/page.h"

namespace saltrafter::parts {

struct Choice {
  Key key;
  words::Text name;
  words::Text fact;  // beneath the name; makes the list stand one under another
};

// The index chosen in this frame, also when it is the one already chosen. `chosen` below 0: none yet.
std::optional<int> one_of(Page& page, const words::Text& label, const std::vector<Choice>& choices,
                          int chosen);

// True when it was pressed: the screen turns it over.
bool tick_box(Page& page, Key key, const words::Text& name, bool ticked);

}  // namespace saltrafter::parts
