#include "core/figure/advance.h"

#include "core/tables/tables.h"

namespace saltrafter::figure {
namespace {

// The code point at `at`, which is moved behind it.
char32_t next(std::string_view text, std::size_t& at) {
  const unsigned char lead = static_cast<unsigned char>(text[at++]);
  const std::size_t more = lead < 0xC0 ? 0 : (lead < 0xE0 ? 1 : (lead < 0xF0 ? 2 : 3));
  if (more == 0) return lead < 0x80 ? lead : 0xFFFD;
  char32_t point = lead & (0x3FU >> more);
  for (std::size_t i = 0; i < more; ++i) {
    if (at >= text.size() || (static_cast<unsigned char>(text[at]) & 0xC0U) != 0x80U) return 0xFFFD;
    point = point << 6U | (static_cast<unsigned char>(text[at++]) & 0x3FU);
  }
  return point;
}

}  // namespace

Advance advance_from_tables() {
  return [](std::string_view text, Face face) {
    const tables::Face of =
        face == Face::label_bold ? tables::Face::carlito_bold : tables::Face::carlito_regular;
    int thousandths = 0;
    for (std::size_t at = 0; at < text.size();) thousandths += tables::advance(of, next(text, at));
    return thousandths / 1000.0;
  };
}

}  // namespace saltrafter::figure
