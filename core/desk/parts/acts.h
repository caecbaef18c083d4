// What can be done: the one main act (filled), others (outlined), small ones (bare words in the accent).
#pragma once

#include <optional>
#include <vector>

#include "core/desk/parts/page.h"

namespace saltrafter::parts {

enum class ActKind { main, other, bare };

struct Act {
  Key key;
  words::Text name;
  ActKind kind = ActKind::other;
  bool ready = true;
  words::Text reason;  // why it is not ready; said beneath when it is pressed
};

// Acts side by side, on more lines where they do not fit. The index of the one pressed; never one that is not
// ready.
std::optional<int> acts(Page& page, const std::vector<Act>& acts);
bool act(Page& page, const Act& act);

// The way back, over the page's heading.
bool way_back(Page& page, const Act& act);

// A short text with its bare acts behind it, or beneath where they do not fit.
std::optional<int> text_with_acts(Page& page, const words::Text& text, const std::vector<Act>& acts);

// For parts that place an act themselves: how large it is, and the act itself.
struct ActSize {
  double width = 0.0;
  double height = 0.0;
};
ActSize act_size(Page& page, const Act& act, double most_width);
bool act_at(Page& page, const Act& act, const Rect& rect);

}  // namespace saltrafter::parts
