#include "core/share/envelope.h"

#include <cmath>

namespace saltrafter::share {
namespace {

using book::Node;

// A whole number from 1 to a million, or nothing.
std::optional<int> version(const Node& root, std::string_view key) {
  const Node* node = root.find(key);
  constexpr double kMost = 1e6;
  if (node == nullptr || node->type != Node::Type::number || std::floor(node->number) != node->number ||
      node->number < 1.0 || node->number > kMost) {
    return std::nullopt;
  }
  return static_cast<int>(node->number);
}

Error bad_version(const Node& root, const char* key) {
  const Node* node = root.find(key);
  return {node == nullptr ? ErrorCode::missing : ErrorCode::wrong_type, key, book::found_at(node ? *node : root),
          "whole number", "", {}, {}};
}

}  // namespace

Node open_envelope(std::string_view format) {
  Node root = Node::object();
  root.set("format", Node::of_text(std::string(format)));
  root.set("schema", Node::of_number(book::kSchema));
  root.set("minReader", Node::of_number(book::kMinReader));
  return root;
}

Result<Envelope> read_envelope(std::string_view text, std::string_view format, const book::ReadLimits& limits) {
  Result<Node> tree = book::read_tree(text, limits);
  if (!tree.ok()) return tree.error();
  Envelope out;
  out.root = std::move(tree).value();
  const Node* found = out.root.find("format");
  if (found == nullptr || found->type != Node::Type::text || found->text != format) {
    return Error{ErrorCode::wrong_format, "format", book::found_at(found != nullptr ? *found : out.root),
                 std::string(format), "", {}, {}};
  }
  const std::optional<int> schema = version(out.root, "schema");
  if (!schema) return bad_version(out.root, "schema");
  const std::optional<int> min_reader = version(out.root, "minReader");
  if (!min_reader) return bad_version(out.root, "minReader");
  out.schema = *schema;
  out.min_reader = *min_reader;
  return out;
}

Result<std::string> format_of(std::string_view text) {
  const Result<Node> tree = book::read_tree(text, book::kBookLimits);
  if (!tree.ok()) return tree.error();
  const Node* found = tree.value().find("format");
  if (found == nullptr || found->type != Node::Type::text) return std::string();
  return found->text;
}

}  // namespace saltrafter::share
