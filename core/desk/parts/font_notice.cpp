#include "core/desk/parts/font_notice.h"

#include <string_view>

namespace saltrafter::parts {
namespace {

constexpr unsigned kWindows = 3;
constexpr unsigned kLicence = 13;

class Bytes {
 public:
  explicit Bytes(const FontData& face) : face_(face) {}
  unsigned u16(std::size_t at) const {
    if (at + 2 > face_.size) return 0;
    return static_cast<unsigned>(face_.bytes[at] << 8 | face_.bytes[at + 1]);
  }
  std::size_t u32(std::size_t at) const { return static_cast<std::size_t>(u16(at)) << 16 | u16(at + 2); }
  bool tagged(std::size_t at, std::string_view tag) const {
    return at + 4 <= face_.size && std::string_view(reinterpret_cast<const char*>(face_.bytes + at), 4) == tag;
  }

 private:
  FontData face_;
};

std::size_t name_table(const Bytes& bytes) {
  const unsigned tables = bytes.u16(4);
  for (unsigned i = 0; i < tables; ++i) {
    const std::size_t entry = 12 + 16 * static_cast<std::size_t>(i);
    if (bytes.tagged(entry, "name")) return bytes.u32(entry + 8);
  }
  return 0;
}

void append(std::string& out, unsigned code) {
  if (code < 0x80) {
    out += static_cast<char>(code);
  } else if (code < 0x800) {
    out += static_cast<char>(0xC0 | code >> 6);
    out += static_cast<char>(0x80 | (code & 0x3F));
  } else {
    out += static_cast<char>(0xE0 | code >> 12);
    out += static_cast<char>(0x80 | (code >> 6 & 0x3F));
    out += static_cast<char>(0x80 | (code & 0x3F));
  }
}

}  // namespace

std::vector<std::string> font_licence(const FontData& face) {
  const Bytes bytes(face);
  const std::size_t table = name_table(bytes);
  std::vector<std::string> paragraphs;
  if (table == 0) return paragraphs;
  const unsigned records = bytes.u16(table + 2);
  const std::size_t texts = table + bytes.u16(table + 4);
  for (unsigned i = 0; i < records; ++i) {
    const std::size_t record = table + 6 + 12 * static_cast<std::size_t>(i);
    if (bytes.u16(record) != kWindows || bytes.u16(record + 6) != kLicence) continue;
    std::string paragraph;
    const auto end_paragraph = [&paragraphs, &paragraph] {
      // Lines drawn with hyphens part the text on paper; here paragraphs do.
      if (paragraph.find_first_not_of("- ") != std::string::npos) paragraphs.push_back(paragraph);
      paragraph.clear();
    };
    for (std::size_t at = 0; at + 1 < bytes.u16(record + 8); at += 2) {
      const unsigned code = bytes.u16(texts + bytes.u16(record + 10) + at);
      if (code == '\n' || code == '\r') {
        end_paragraph();
      } else {
        append(paragraph, code);
      }
    }
    end_paragraph();
    return paragraphs;
  }
  return paragraphs;
}

}  // namespace saltrafter::parts
