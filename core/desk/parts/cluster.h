// UTF-8 text cut where a reader sees one letter end: a base with its marks, a joined emoji, a Hangul
// syllable.
#pragma once

#include <cstddef>
#include <string_view>

namespace saltrafter::parts {

struct CodePoint {
  char32_t code = 0;
  std::size_t size = 0;  // bytes
  bool valid = true;     // a byte that is no UTF-8 reads as U+FFFD, one byte long
};

// The code point at a byte offset inside the text.
CodePoint code_point_at(std::string_view text, std::size_t at);

// Where the cluster that starts at `at` ends. Never more than 32 code points: marks can be piled up at will.
// Source: Unicode Standard Annex 29, extended grapheme clusters, and its rule for Indic conjuncts; without
// Prepend.
std::size_t cluster_end(std::string_view text, std::size_t at);

// Where the cluster starts that ends at `at`, a boundary between clusters.
std::size_t cluster_start(std::string_view text, std::size_t at);

// Draws nothing by itself: joiners, selectors, directions.
bool is_unseen(char32_t code);

}  // namespace saltrafter::parts
