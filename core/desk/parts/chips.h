// Several of few, side by side: words that are in or out, such as the cuts a blend may take.
#pragma once

#include <optional>
#include <vector>

#include "core/desk/parts/page.h"

namespace saltrafter::parts {

struct Chip {
  Key key;
  words::Text name;
  bool in = false;
};

// On as many lines as they need. The index of the one that was pressed: the screen turns it over.
std::optional<int> chips(Page& page, const words::Text& label, const std::vector<Chip>& chips);

}  // namespace saltrafter::parts
