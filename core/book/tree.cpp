#include "core/book/tree.h"

#include <algorithm>
#include <cstdlib>

namespace saltrafter::book {

Node Node::of_text(std::string value) {
  Node node;
  node.type = Type::text;
  node.text = std::move(value);
  return node;
}

Node Node::of_boolean(bool value) {
  Node node;
  node.type = Type::boolean;
  node.boolean = value;
  return node;
}

Node Node::list() {
  Node node;
  node.type = Type::list;
  return node;
}

Node Node::object() {
  Node node;
  node.type = Type::object;
  return node;
}

Node* Node::find(std::string_view key) {
  for (std::size_t i = 0; i < keys.size(); ++i) {
    if (keys[i] == key) return &items[i];
  }
  return nullptr;
}

const Node* Node::find(std::string_view key) const {
  for (std::size_t i = 0; i < keys.size(); ++i) {
    if (keys[i] == key) return &items[i];
  }
  return nullptr;
}

void Node::set(std::string_view key, Node value) {
  type = Type::object;
  if (Node* old = find(key)) {
    *old = std::move(value);
    return;
  }
  keys.emplace_back(key);
  items.push_back(std::move(value));
}

void Node::erase(std::string_view key) {
  for (std::size_t i = 0; i < keys.size(); ++i) {
    if (keys[i] != key) continue;
    keys.erase(keys.begin() + static_cast<std::ptrdiff_t>(i));
    items.erase(items.begin() + static_cast<std::ptrdiff_t>(i));
    return;
  }
}

bool operator==(const Node& a, const Node& b) {
  return a.type == b.type && a.boolean == b.boolean && a.text == b.text && a.keys == b.keys && a.items == b.items;
}

std::string found_at(const Node& node) {
  std::string piece;
  switch (node.type) {
    case Node::Type::null: piece = "null"; break;
    case Node::Type::boolean: piece = node.boolean ? "true" : "false"; break;
    case Node::Type::number: piece = node.text; break;
    case Node::Type::text: piece = "\"" + node.text + "\""; break;
    case Node::Type::list: piece = "[...]"; break;
    case Node::Type::object: piece = "{...}"; break;
  }
  constexpr std::size_t kLongest = 40;
  if (piece.size() > kLongest) {
    std::size_t end = kLongest;
    while (end > 0 && (static_cast<unsigned char>(piece[end]) & 0xC0U) == 0x80U) --end;  // whole characters
    piece.resize(end);
    piece += "...";
  }
  return piece + "@" + std::to_string(node.line);
}

FoundInText found_in_text(const Error& error) {
  const std::size_t at = error.found.rfind('@');
  if (at == std::string::npos || at + 1 == error.found.size()) return {error.found, 0};
  const std::string digits = error.found.substr(at + 1);
  const bool all = std::all_of(digits.begin(), digits.end(), [](char c) { return c >= '0' && c <= '9'; });
  if (!all || digits.size() > 8) return {error.found, 0};
  return {error.found.substr(0, at), static_cast<int>(std::strtol(digits.c_str(), nullptr, 10))};
}

}  // namespace saltrafter::book
