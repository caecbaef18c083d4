// The four faces of the screens, cut at build time to the scripts that codepoints.txt lists.
//
// Each is a whole TrueType file in memory that lives as long as the program. No layout features, no hinting.
#pragma once

#include <cstddef>

namespace saltrafter::parts {

struct FontData {
  const unsigned char* bytes;
  std::size_t size;
};

// Headings, sentences, figures. Gentium Book Plus, SIL Open Font License 1.1.
FontData gentium_regular();
FontData gentium_bold();

// Labels, tables, acts, charts. Carlito, SIL Open Font License 1.1.
FontData carlito_regular();
FontData carlito_bold();

}  // namespace saltrafter::parts
