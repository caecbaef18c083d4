// Letters as people mean them when they look for a word.
#pragma once

#include <string>
#include <string_view>

namespace saltrafter::words {

// Small letters without accents: "Nürnberger Ä" and "nurnberger a" are one. Latin with Vietnamese, Greek and
// Cyrillic; other scripts stay as they are, bytes that are no UTF-8 too. Source: Unicode 15, canonical
// decompositions and simple case folding of these blocks; ø, đ, ł and ß fold to o, d, l and ss by choice.
std::string folded(std::string_view utf8);

}  // namespace saltrafter::words
