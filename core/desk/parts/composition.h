// What a thing is made of, as one bar in tints of ink, named beneath.
#pragma once

#include <vector>

#include "core/desk/parts/page.h"

namespace saltrafter::parts {

struct Share {
  words::Text name;  // with its figure: "water 59"
  double share = 0.0;
};

// `head` stands soft above: "now, 4.43 kg".
void composition_bar(Page& page, const words::Text& head, const std::vector<Share>& shares);

}  // namespace saltrafter::parts
