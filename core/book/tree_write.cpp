#include <cmath>
#include <cstdint>
#include <cstdio>
#include <cstdlib>

#include "core/book/tree.h"

namespace saltrafter::book {
namespace {

constexpr std::uint32_t kReplacement = 0xFFFD;

// The character that starts at text[i], and moves i behind it; a byte that starts none gives U+FFFD.
std::uint32_t next_character(std::string_view text, std::size_t& i) {
  const auto byte = [&](std::size_t k) { return static_cast<std::uint32_t>(static_cast<unsigned char>(text[k])); };
  const std::uint32_t first = byte(i++);
  if (first < 0x80) return first;
  const std::size_t more = first >= 0xF0 && first < 0xF5 ? 3 : first >= 0xE0 && first < 0xF0 ? 2 : first >= 0xC2 && first < 0xE0 ? 1 : 0;
  if (more == 0 || i + more > text.size()) return kReplacement;
  std::uint32_t code = first & (0x3FU >> more);
  for (std::size_t k = 0; k < more; ++k) {
    if ((byte(i + k) & 0xC0U) != 0x80U) return kReplacement;
    code = (code << 6U) | (byte(i + k) & 0x3FU);
  }
  constexpr std::uint32_t kLeast[] = {0, 0x80, 0x800, 0x10000};
  if (code < kLeast[more] || code > 0x10FFFF || (code >= 0xD800 && code < 0xE000)) return kReplacement;
  i += more;
  return code;
}

void write_escape(std::string& out, std::uint32_t unit) {
  char buffer[8];
  std::snprintf(buffer, sizeof buffer, "\\u%04x", static_cast<unsigned>(unit));
  out += buffer;
}

void write_utf8(std::string& out, std::uint32_t code) {
  const auto put = [&](std::uint32_t byte) { out += static_cast<char>(static_cast<unsigned char>(byte)); };
  if (code < 0x80) {
    put(code);
  } else if (code < 0x800) {
    put(0xC0U | (code >> 6U));
    put(0x80U | (code & 0x3FU));
  } else if (code < 0x10000) {
    put(0xE0U | (code >> 12U));
    put(0x80U | ((code >> 6U) & 0x3FU));
    put(0x80U | (code & 0x3FU));
  } else {
    put(0xF0U | (code >> 18U));
    put(0x80U | ((code >> 12U) & 0x3FU));
    put(0x80U | ((code >> 6U) & 0x3FU));
    put(0x80U | (code & 0x3FU));
  }
}

void write_text(std::string& out, std::string_view text, TextForm form) {
  out += '"';
  for (std::size_t i = 0; i < text.size();) {
    const std::uint32_t code = next_character(text, i);
    if (code == '"' || code == '\\') {
      out += '\\';
      out += static_cast<char>(code);
    } else if (code == '\n') {
      out += "\\n";
    } else if (code < 0x20 || code == 0x7F) {
      write_escape(out, code);
    } else if (code < 0x80 || form == TextForm::file) {
      write_utf8(out, code);
    } else if (code < 0x10000) {
      write_escape(out, code);
    } else {
      write_escape(out, 0xD800U + ((code - 0x10000U) >> 10U));
      write_escape(out, 0xDC00U + ((code - 0x10000U) & 0x3FFU));
    }
  }
  out += '"';
}

void write_node(std::string& out, const Node& node, TextForm form, int level) {
  const auto new_line = [&](int indent) {
    if (form == TextForm::stored) return;
    out += '\n';
    out.append(static_cast<std::size_t>(indent) * 2, ' ');
  };
  switch (node.type) {
    case Node::Type::null: out += "null"; return;
    case Node::Type::boolean: out += node.boolean ? "true" : "false"; return;
    case Node::Type::number: out += node.text; return;
    case Node::Type::text: write_text(out, node.text, form); return;
    case Node::Type::list:
    case Node::Type::object: break;
  }
  const bool is_object = node.type == Node::Type::object;
  out += is_object ? '{' : '[';
  for (std::size_t i = 0; i < node.items.size(); ++i) {
    if (i > 0) out += ',';
    new_line(level + 1);
    if (is_object) {
      write_text(out, node.keys[i], form);
      out += form == TextForm::file ? ": " : ":";
    }
    write_node(out, node.items[i], form, level + 1);
  }
  if (!node.items.empty()) new_line(level);
  out += is_object ? '}' : ']';
}

}  // namespace

Node Node::of_number(double value) {
  Node node;
  if (!std::isfinite(value)) return node;  // null: no reader takes it for a number
  node.type = Type::number;
  node.number = value == 0.0 ? 0.0 : value;
  char buffer[40];
  constexpr double kWholeExactly = 1e15;  // below, every whole number has all its digits in a double
  if (std::floor(value) == value && std::fabs(value) < kWholeExactly) {
    std::snprintf(buffer, sizeof buffer, "%.0f", node.number);
  } else {
    for (int digits = 15; digits <= 17; ++digits) {
      std::snprintf(buffer, sizeof buffer, "%.*g", digits, value);
      if (std::strtod(buffer, nullptr) == value) break;
    }
  }
  node.text = buffer;
  return node;
}

std::string write_tree(const Node& node, TextForm form) {
  std::string out;
  write_node(out, node, form, 0);
  if (form == TextForm::file) out += '\n';
  return out;
}

}  // namespace saltrafter::book
