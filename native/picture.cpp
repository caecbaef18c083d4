#include "native/picture.h"

#include <array>
#include <cstddef>
#include <cstdint>
#include <string_view>

namespace saltrafter::native {
namespace {

void put_u32(std::string& out, std::uint32_t value) {
  for (const unsigned shift : {24U, 16U, 8U, 0U}) out += static_cast<char>(value >> shift & 0xFFU);
}

// A deflate stream of one block with fixed codes, whose only repeats are runs of one byte.
class Deflate {
 public:
  Deflate() {
    out_ = "\x78\x01";
    bits(0b011, 3);  // the last block, fixed codes
  }
  void run(unsigned char byte, std::size_t count) {
    for (std::size_t i = 0; i < count; ++i) {
      low_ = (low_ + byte) % 65521U;
      high_ = (high_ + low_) % 65521U;
    }
    literal(byte);
    --count;
    while (count >= 3) {
      const std::size_t take = count < 258 ? count : 258;
      repeat(static_cast<unsigned>(take));
      count -= take;
    }
    for (; count > 0; --count) literal(byte);
  }
  std::string take() {
    code(0, 7);  // the end of the block
    if (held_ > 0) bits(0, 8 - held_);
    put_u32(out_, high_ << 16U | low_);
    return static_cast<std::string&&>(out_);
  }

 private:
  void bits(unsigned value, unsigned count) {
    hold_ |= value << held_;
    held_ += count;
    while (held_ >= 8) {
      out_ += static_cast<char>(hold_ & 0xFFU);
      hold_ >>= 8U;
      held_ -= 8;
    }
  }
  // Codes are packed from their highest bit, numbers from their lowest.
  void code(unsigned value, unsigned count) {
    for (unsigned i = count; i > 0; --i) bits(value >> (i - 1) & 1U, 1);
  }
  void literal(unsigned char byte) {
    if (byte < 144) {
      code(0x30U + byte, 8);
    } else {
      code(0x190U + byte - 144U, 9);
    }
  }
  void symbol(unsigned number) {
    if (number < 280) {
      code(number - 256, 7);
    } else {
      code(0xC0U + number - 280U, 8);
    }
  }
  void repeat(unsigned length) {
    if (length == 258) {
      symbol(285);
    } else {
      // Lengths 3..10 have no extra bits; then four codes each share one more bit.
      unsigned extra = 0;
      while ((length - 3) >> extra >= 8) ++extra;
      symbol(257 + 4 * extra + ((length - 3) >> extra));
      bits((length - 3) & ((1U << extra) - 1), extra);
    }
    code(0, 5);  // one byte back
  }

  std::string out_;
  unsigned hold_ = 0;
  unsigned held_ = 0;
  std::uint32_t low_ = 1;
  std::uint32_t high_ = 0;
};

std::uint32_t crc32(std::string_view text) {
  static const std::array<std::uint32_t, 256> table = [] {
    std::array<std::uint32_t, 256> made{};
    for (std::uint32_t i = 0; i < 256; ++i) {
      std::uint32_t c = i;
      for (int k = 0; k < 8; ++k) c = (c & 1U) != 0 ? 0xEDB88320U ^ c >> 1U : c >> 1U;
      made[i] = c;
    }
    return made;
  }();
  std::uint32_t crc = 0xFFFFFFFFU;
  for (const char c : text) crc = table[(crc ^ static_cast<unsigned char>(c)) & 0xFFU] ^ crc >> 8U;
  return crc ^ 0xFFFFFFFFU;
}

void put_chunk(std::string& out, std::string_view name, std::string_view data) {
  put_u32(out, static_cast<std::uint32_t>(data.size()));
  const std::string whole = std::string(name).append(data);
  out += whole;
  put_u32(out, crc32(whole));
}

}  // namespace

std::string png(const Picture& picture) {
  const std::size_t row = static_cast<std::size_t>(picture.width) * 3;
  std::string head;
  put_u32(head, static_cast<std::uint32_t>(picture.width));
  put_u32(head, static_cast<std::uint32_t>(picture.height));
  head += std::string_view("\x08\x02\0\0\0", 5);

  Deflate deflate;
  unsigned char byte = 0;
  std::size_t count = 0;
  const auto put = [&](unsigned char next) {
    if (count > 0 && next != byte) {
      deflate.run(byte, count);
      count = 0;
    }
    byte = next;
    ++count;
  };
  for (std::size_t y = 0; y < static_cast<std::size_t>(picture.height); ++y) {
    put(2);  // each byte less the one above it
    for (std::size_t x = 0; x < row; ++x) {
      const unsigned above = y == 0 ? 0U : picture.rgb[(y - 1) * row + x];
      put(static_cast<unsigned char>((picture.rgb[y * row + x] - above) & 0xFFU));
    }
  }
  if (count > 0) deflate.run(byte, count);

  std::string out("\x89PNG\r\n\x1a\n");
  put_chunk(out, "IHDR", head);
  put_chunk(out, "IDAT", deflate.take());
  put_chunk(out, "IEND", {});
  return out;
}

}  // namespace saltrafter::native
