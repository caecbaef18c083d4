#include "core/words/folded.h"

#include <array>
#include <cstddef>
#include <utility>

namespace saltrafter::words {
namespace {

// A plain letter and the small letters that fold to it.
constexpr std::array<std::pair<std::string_view, std::string_view>, 40> kAccented = {{
    {"a", "àáâãäåāăąǎạảấầẩẫậắằẳẵặ"},
    {"ae", "æ"},
    {"c", "çćĉċč"},
    {"d", "ďđ"},
    {"e", "èéêëēĕėęěẹẻẽếềểễệ"},
    {"g", "ĝğġģ"},
    {"h", "ĥħ"},
    {"i", "ìíîïĩīĭįıǐỉị"},
    {"j", "ĵ"},
    {"k", "ķ"},
    {"l", "ĺļľŀł"},
    {"n", "ñńņňŋ"},
    {"o", "òóôõöøōŏőơǒọỏốồổỗộớờởỡợ"},
    {"oe", "œ"},
    {"r", "ŕŗř"},
    {"s", "śŝşšș"},
    {"ss", "ß"},
    {"t", "ţťŧț"},
    {"u", "ùúûüũūŭůűųưǔụủứừửữự"},
    {"w", "ŵẁẃẅ"},
    {"y", "ýÿŷỳỵỷỹ"},
    {"z", "źżž"},
    {"α", "ά"},
    {"ε", "έ"},
    {"η", "ή"},
    {"ι", "ίϊΐ"},
    {"ο", "ό"},
    {"σ", "ς"},
    {"υ", "ύϋΰ"},
    {"ω", "ώ"},
    {"е", "ёѐ"},
    {"и", "йѝ"},
    {"г", "ѓ"},
    {"к", "ќ"},
    {"і", "ї"},
    {"у", "ў"},
    {"-", "‐‑–"},
    {"'", "’‘"},
    {" ", "\u00a0\u2009\u202f"},
    {"", "\u0300\u0301\u0302\u0303\u0304\u0306\u0307\u0308\u0309\u030a\u030b\u030c\u0323"},
}};

// The bytes of the code point at `at`; one byte where there is none.
std::size_t length_at(std::string_view text, std::size_t at) {
  const auto lead = static_cast<unsigned char>(text[at]);
  const std::size_t length = lead < 0x80 ? 1 : lead < 0xE0 ? 2 : lead < 0xF0 ? 3 : 4;
  return at + length <= text.size() ? length : 1;
}

// Two bytes of UTF-8 as a code point, and back.
unsigned code_of(std::string_view two) {
  return (static_cast<unsigned>(two[0]) & 0x1FU) << 6U | (static_cast<unsigned>(two[1]) & 0x3FU);
}
std::string two_bytes(unsigned code) {
  return {static_cast<char>(0xC0U | code >> 6U), static_cast<char>(0x80U | (code & 0x3FU))};
}

std::string small(std::string_view point) {
  if (point.size() == 1) {
    const char c = point[0];
    return std::string(1, c >= 'A' && c <= 'Z' ? static_cast<char>(c + 32) : c);
  }
  if (point.size() == 2) {
    const unsigned code = code_of(point);
    if ((code >= 0xC0 && code <= 0xDE && code != 0xD7) || (code >= 0x391 && code <= 0x3A9) ||
        (code >= 0x410 && code <= 0x42F)) {
      return two_bytes(code + 32);
    }
    if (code >= 0x400 && code <= 0x40F) return two_bytes(code + 80);
    // Accented capitals of Greek stand apart from their small letters.
    constexpr std::array<std::pair<unsigned, unsigned>, 9> kGreek = {{{0x386, 0x3AC}, {0x388, 0x3AD}, {0x389, 0x3AE},
        {0x38A, 0x3AF}, {0x38C, 0x3CC}, {0x38E, 0x3CD}, {0x38F, 0x3CE}, {0x3AA, 0x3CA}, {0x3AB, 0x3CB}}};
    for (const auto& [capital, letter] : kGreek) {
      if (code == capital) return two_bytes(letter);
    }
    if (code == 0x178) return two_bytes(0xFF);
    // Extended Latin has its capitals just before their small letters, from an odd place in two stretches.
    const bool odd_first = (code >= 0x139 && code <= 0x148) || (code >= 0x179 && code <= 0x17E) ||
                           (code >= 0x1CD && code <= 0x1DC);
    const bool even_first = (code >= 0x100 && code <= 0x137) || (code >= 0x14A && code <= 0x177) ||
                            (code >= 0x1A0 && code <= 0x1A1) || (code >= 0x218 && code <= 0x21B);
    if (odd_first && code % 2 == 1) return two_bytes(code + 1);
    if (even_first && code % 2 == 0) return two_bytes(code + 1);
    if (code == 0x1AF) return two_bytes(0x1B0);
  }
  if (point.size() == 3 && point[0] == '\xE1' && (point[1] == '\xBA' || point[1] == '\xBB')) {
    // U+1E80..1EFF: each capital just before its small letter.
    std::string out(point);
    if ((static_cast<unsigned char>(out[2]) & 1U) == 0) out[2] = static_cast<char>(out[2] + 1);
    return out;
  }
  return std::string(point);
}

}  // namespace

std::string folded(std::string_view utf8) {
  std::string out;
  for (std::size_t at = 0; at < utf8.size();) {
    const std::size_t length = length_at(utf8, at);
    std::string point = small(utf8.substr(at, length));
    at += length;
    if (point.size() > 1) {
      for (const auto& [plain, letters] : kAccented) {
        if (letters.find(point) == std::string_view::npos) continue;
        point = plain;
        break;
      }
    }
    out += point;
  }
  return out;
}

}  // namespace saltrafter::words
