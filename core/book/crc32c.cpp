#include "core/book/crc32c.h"

#include <array>

namespace saltrafter::book {
namespace {

constexpr std::array<std::uint32_t, 256> make_table() {
  std::array<std::uint32_t, 256> table{};
  for (std::uint32_t i = 0; i < 256; ++i) {
    std::uint32_t rest = i;
    for (int bit = 0; bit < 8; ++bit) rest = (rest >> 1U) ^ ((rest & 1U) != 0U ? 0x82F63B78U : 0U);
    table[i] = rest;
  }
  return table;
}
constexpr std::array<std::uint32_t, 256> kTable = make_table();

}  // namespace

std::uint32_t crc32c(std::string_view text) {
  std::uint32_t rest = 0xFFFFFFFFU;
  for (const char c : text) {
    rest = (rest >> 8U) ^ kTable[(rest ^ static_cast<unsigned char>(c)) & 0xFFU];
  }
  return rest ^ 0xFFFFFFFFU;
}

}  // namespace saltrafter::book
