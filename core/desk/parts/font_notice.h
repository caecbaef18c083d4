// What the faces on the screen say about themselves: whose they are and under which licence.
#pragma once

#include <string>
#include <vector>

#include "core/desk/parts/fonts/fonts.h"

namespace saltrafter::parts {

// The licence as it stands in the face itself, a paragraph each. Empty where the face carries none.
// Source: OpenType specification 1.9, table 'name', name id 13, platform 3 (UTF-16, big end first).
std::vector<std::string> font_licence(const FontData& face);

}  // namespace saltrafter::parts
