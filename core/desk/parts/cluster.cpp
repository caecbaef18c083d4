#include "core/desk/parts/cluster.h"

#include <cstdint>

namespace saltrafter::parts {
namespace {

struct Span {
  std::uint16_t first;
  std::uint16_t last;
};

// General categories Mn, Mc and Me of Unicode 14.0 below U+10000; spans that only unassigned points part are
// one. Of the rare scripts beyond, a line too long may be cut between a letter and its mark. Source: Unicode
// Character Database 14.0.0, UnicodeData.txt.
// clang-format off
constexpr Span kMarks[] = {
    {0x0300, 0x036F}, {0x0483, 0x0489}, {0x0591, 0x05BD}, {0x05BF, 0x05BF}, {0x05C1, 0x05C2},
    {0x05C4, 0x05C5}, {0x05C7, 0x05C7}, {0x0610, 0x061A}, {0x064B, 0x065F}, {0x0670, 0x0670},
    {0x06D6, 0x06DC}, {0x06DF, 0x06E4}, {0x06E7, 0x06E8}, {0x06EA, 0x06ED}, {0x0711, 0x0711},
    {0x0730, 0x074A}, {0x07A6, 0x07B0}, {0x07EB, 0x07F3}, {0x07FD, 0x07FD}, {0x0816, 0x0819},
    {0x081B, 0x0823}, {0x0825, 0x0827}, {0x0829, 0x082D}, {0x0859, 0x085B}, {0x0898, 0x089F},
    {0x08CA, 0x08E1}, {0x08E3, 0x0903}, {0x093A, 0x093C}, {0x093E, 0x094F}, {0x0951, 0x0957},
    {0x0962, 0x0963}, {0x0981, 0x0983}, {0x09BC, 0x09BC}, {0x09BE, 0x09CD}, {0x09D7, 0x09D7},
    {0x09E2, 0x09E3}, {0x09FE, 0x0A03}, {0x0A3C, 0x0A51}, {0x0A70, 0x0A71}, {0x0A75, 0x0A75},
    {0x0A81, 0x0A83}, {0x0ABC, 0x0ABC}, {0x0ABE, 0x0ACD}, {0x0AE2, 0x0AE3}, {0x0AFA, 0x0B03},
    {0x0B3C, 0x0B3C}, {0x0B3E, 0x0B57}, {0x0B62, 0x0B63}, {0x0B82, 0x0B82}, {0x0BBE, 0x0BCD},
    {0x0BD7, 0x0BD7}, {0x0C00, 0x0C04}, {0x0C3C, 0x0C3C}, {0x0C3E, 0x0C56}, {0x0C62, 0x0C63},
    {0x0C81, 0x0C83}, {0x0CBC, 0x0CBC}, {0x0CBE, 0x0CD6}, {0x0CE2, 0x0CE3}, {0x0D00, 0x0D03},
    {0x0D3B, 0x0D3C}, {0x0D3E, 0x0D4D}, {0x0D57, 0x0D57}, {0x0D62, 0x0D63}, {0x0D81, 0x0D83},
    {0x0DCA, 0x0DDF}, {0x0DF2, 0x0DF3}, {0x0E31, 0x0E31}, {0x0E34, 0x0E3A}, {0x0E47, 0x0E4E},
    {0x0EB1, 0x0EB1}, {0x0EB4, 0x0EBC}, {0x0EC8, 0x0ECD}, {0x0F18, 0x0F19}, {0x0F35, 0x0F35},
    {0x0F37, 0x0F37}, {0x0F39, 0x0F39}, {0x0F3E, 0x0F3F}, {0x0F71, 0x0F84}, {0x0F86, 0x0F87},
    {0x0F8D, 0x0FBC}, {0x0FC6, 0x0FC6}, {0x102B, 0x103E}, {0x1056, 0x1059}, {0x105E, 0x1060},
    {0x1062, 0x1064}, {0x1067, 0x106D}, {0x1071, 0x1074}, {0x1082, 0x108D}, {0x108F, 0x108F},
    {0x109A, 0x109D}, {0x135D, 0x135F}, {0x1712, 0x1715}, {0x1732, 0x1734}, {0x1752, 0x1753},
    {0x1772, 0x1773}, {0x17B4, 0x17D3}, {0x17DD, 0x17DD}, {0x180B, 0x180D}, {0x180F, 0x180F},
    {0x1885, 0x1886}, {0x18A9, 0x18A9}, {0x1920, 0x193B}, {0x1A17, 0x1A1B}, {0x1A55, 0x1A7F},
    {0x1AB0, 0x1B04}, {0x1B34, 0x1B44}, {0x1B6B, 0x1B73}, {0x1B80, 0x1B82}, {0x1BA1, 0x1BAD},
    {0x1BE6, 0x1BF3}, {0x1C24, 0x1C37}, {0x1CD0, 0x1CD2}, {0x1CD4, 0x1CE8}, {0x1CED, 0x1CED},
    {0x1CF4, 0x1CF4}, {0x1CF7, 0x1CF9}, {0x1DC0, 0x1DFF}, {0x20D0, 0x20F0}, {0x2CEF, 0x2CF1},
    {0x2D7F, 0x2D7F}, {0x2DE0, 0x2DFF}, {0x302A, 0x302F}, {0x3099, 0x309A}, {0xA66F, 0xA672},
    {0xA674, 0xA67D}, {0xA69E, 0xA69F}, {0xA6F0, 0xA6F1}, {0xA802, 0xA802}, {0xA806, 0xA806},
    {0xA80B, 0xA80B}, {0xA823, 0xA827}, {0xA82C, 0xA82C}, {0xA880, 0xA881}, {0xA8B4, 0xA8C5},
    {0xA8E0, 0xA8F1}, {0xA8FF, 0xA8FF}, {0xA926, 0xA92D}, {0xA947, 0xA953}, {0xA980, 0xA983},
    {0xA9B3, 0xA9C0}, {0xA9E5, 0xA9E5}, {0xAA29, 0xAA36}, {0xAA43, 0xAA43}, {0xAA4C, 0xAA4D},
    {0xAA7B, 0xAA7D}, {0xAAB0, 0xAAB0}, {0xAAB2, 0xAAB4}, {0xAAB7, 0xAAB8}, {0xAABE, 0xAABF},
    {0xAAC1, 0xAAC1}, {0xAAEB, 0xAAEF}, {0xAAF5, 0xAAF6}, {0xABE3, 0xABEA}, {0xABEC, 0xABED},
    {0xFB1E, 0xFB1E}, {0xFE00, 0xFE0F}, {0xFE20, 0xFE2F}};
// clang-format on

bool is_mark(char32_t code) {
  std::size_t low = 0;
  std::size_t high = sizeof kMarks / sizeof kMarks[0];
  while (low < high) {
    const std::size_t middle = (low + high) / 2;
    if (kMarks[middle].last < code) {
      low = middle + 1;
    } else {
      high = middle;
    }
  }
  return low < sizeof kMarks / sizeof kMarks[0] && kMarks[low].first <= code;
}

// What stays with the point before it.
bool extends(char32_t c) {
  if (c < 0x300) return false;
  if (c == 0x200C || c == 0x200D) return true;
  if (c == 0x0E33 || c == 0x0EB3) return true;  // Thai and Lao am, written after and read with
  if (c == 0xFF9E || c == 0xFF9F) return true;  // half-width voicing marks
  if (c >= 0x1F3FB && c <= 0x1F3FF) return true;
  if (c >= 0xE0020 && c <= 0xE01EF) return true;
  return is_mark(c);
}

bool is_pictograph(char32_t c) { return (c >= 0x1F000 && c <= 0x1FAFF) || (c >= 0x2190 && c <= 0x2BFF); }
bool is_flag_letter(char32_t c) { return c >= 0x1F1E6 && c <= 0x1F1FF; }

// An Indic sign that takes a letter's vowel and ties it to the next letter.
bool ties(char32_t c) {
  if (c >= 0x0900 && c < 0x0D80) return (c & 0x7F) == 0x4D;
  return c == 0x0DCA || c == 0x1039 || c == 0x17D2;
}

enum class Jamo { none, leading, vowel, trailing, open_syllable, closed_syllable };

Jamo jamo(char32_t c) {
  if ((c >= 0x1100 && c <= 0x115F) || (c >= 0xA960 && c <= 0xA97C)) return Jamo::leading;
  if ((c >= 0x1160 && c <= 0x11A7) || (c >= 0xD7B0 && c <= 0xD7C6)) return Jamo::vowel;
  if ((c >= 0x11A8 && c <= 0x11FF) || (c >= 0xD7CB && c <= 0xD7FB)) return Jamo::trailing;
  if (c >= 0xAC00 && c <= 0xD7A3) return (c - 0xAC00) % 28 == 0 ? Jamo::open_syllable : Jamo::closed_syllable;
  return Jamo::none;
}

bool jamo_goes_on(char32_t before, char32_t c) {
  const Jamo a = jamo(before);
  const Jamo b = jamo(c);
  if (a == Jamo::none || b == Jamo::none) return false;
  if (a == Jamo::leading) return b != Jamo::trailing;
  if (a == Jamo::vowel || a == Jamo::open_syllable) return b == Jamo::vowel || b == Jamo::trailing;
  return b == Jamo::trailing;
}

}  // namespace

CodePoint code_point_at(std::string_view text, std::size_t at) {
  const auto byte = [&text](std::size_t i) {
    return i < text.size() ? static_cast<char32_t>(static_cast<unsigned char>(text[i])) : 0U;
  };
  const char32_t first = byte(at);
  if (first < 0x80) return {first, 1, true};
  const std::size_t size = first >= 0xF0 ? 4 : first >= 0xE0 ? 3 : 2;
  char32_t code = first & (0x7FU >> size);
  bool valid = first >= 0xC2 && first <= 0xF4;
  for (std::size_t i = 1; i < size; ++i) {
    valid = valid && (byte(at + i) & 0xC0U) == 0x80U;
    code = code << 6U | (byte(at + i) & 0x3FU);
  }
  // Neither longer than need be, nor half of a pair, nor beyond the last one.
  valid = valid &&
          code >= (size == 2   ? 0x80U
                   : size == 3 ? 0x800U
                               : 0x10000U) &&
          code <= 0x10FFFF && (code < 0xD800 || code > 0xDFFF);
  return valid ? CodePoint{code, size, true} : CodePoint{0xFFFD, 1, false};
}

std::size_t cluster_end(std::string_view text, std::size_t at) {
  constexpr int kMost = 32;
  if (at >= text.size()) return text.size();
  CodePoint point = code_point_at(text, at);
  at += point.size;
  // Nothing joins a byte that is no text, or a control.
  if (!point.valid || point.code < 0x20 || (point.code >= 0x7F && point.code < 0xA0)) return at;
  const bool pictograph = is_pictograph(point.code);
  const bool flag = is_flag_letter(point.code);
  char32_t before = point.code;
  for (int n = 1; n < kMost && at < text.size(); ++n) {
    point = code_point_at(text, at);
    const char32_t c = point.code;
    const bool stays =
        point.valid && (extends(c) || (flag && n == 1 && is_flag_letter(c)) ||
                        (pictograph && before == 0x200D && is_pictograph(c)) || jamo_goes_on(before, c) ||
                        (ties(before) && !extends(c) && c >= 0x0900 && c < 0x1800));
    if (!stays) break;
    before = c;
    at += point.size;
  }
  return at;
}

std::size_t cluster_start(std::string_view text, std::size_t at) {
  std::size_t start = 0;
  for (std::size_t end = cluster_end(text, 0); end < at && end < text.size(); end = cluster_end(text, end)) {
    start = end;
  }
  return start;
}

bool is_unseen(char32_t c) {
  if (c < 0x034F) return false;
  if (c == 0x034F || c == 0x061C || c == 0x115F || c == 0x1160 || c == 0x17B4 || c == 0x17B5) return true;
  if (c >= 0x180B && c <= 0x180F) return true;
  if ((c >= 0x200B && c <= 0x200F) || (c >= 0x2028 && c <= 0x202E) || (c >= 0x2060 && c <= 0x206F))
    return true;
  if ((c >= 0xFE00 && c <= 0xFE0F) || c == 0xFEFF || (c >= 0xFFF9 && c <= 0xFFFB)) return true;
  return c >= 0xE0000 && c <= 0xE0FFF;
}

}  // namespace saltrafter::parts
