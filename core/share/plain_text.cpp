#include "core/share/plain_text.h"

namespace saltrafter::share {
namespace {

// U+202A..202E are E2 80 AA..AE, U+2066..2069 are E2 81 A6..A9 in UTF-8.
bool turns_direction(std::string_view three) {
  const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(three[i]); };
  if (three.size() < 3 || byte(0) != 0xE2) return false;
  return (byte(1) == 0x80 && byte(2) >= 0xAA && byte(2) <= 0xAE) ||
         (byte(1) == 0x81 && byte(2) >= 0xA6 && byte(2) <= 0xA9);
}

std::string plain(std::string_view text, bool lines) {
  std::string out;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const auto c = static_cast<unsigned char>(text[i]);
    if (turns_direction(text.substr(i, 3))) {
      i += 2;
    } else if ((c >= 0x20 && c != 0x7F) || (lines && c == '\n')) {
      out += text[i];
    }
  }
  return out;
}

}  // namespace

std::string plain_line(std::string_view text) { return plain(text, false); }
std::string plain_lines(std::string_view text) { return plain(text, true); }

}  // namespace saltrafter::share
