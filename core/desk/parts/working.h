// A figure that can be opened: how it was computed, from what, and where each constant comes from.
#pragma once

#include <vector>

#include "core/desk/parts/page.h"

namespace saltrafter::parts {

struct WorkingView {
  Key key;
  words::Text name;                // "Ingoing nitrite"
  words::Text value;               // "130 mg/kg"
  std::vector<words::Text> lines;  // the formula with its figures, then inputs and sources
};

// A line with name and value; pressing it opens or closes the working beneath.
void working(Page& page, const WorkingView& view);

// Only the opened block, for screens that keep it open themselves.
void working_block(Page& page, const WorkingView& view);

}  // namespace saltrafter::parts
