// Reads typed members out of a tree: type, range, closed lists, units. The first fault is kept.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <utility>

#include "core/base/base.h"
#include "core/book/tree.h"

namespace saltrafter::book {

// The words of a closed list, as they stand in files. A word that is not there is an error, never a default.
template <class Value, std::size_t N>
using WordTable = std::array<std::pair<Value, std::string_view>, N>;

template <class Value, std::size_t N>
std::string_view word_of(const WordTable<Value, N>& table, Value value) {
  for (const auto& row : table) {
    if (row.first == value) return row.second;
  }
  return {};
}

class Fields {
 public:
  // `path` is the path of `node`, empty at the root. A node that is no object is a fault.
  Fields(const Node& node, std::string path, std::optional<Error>& fault);

  // A text of at most `longest` bytes; empty and a fault when it is missing or too long.
  std::string text(std::string_view key, std::size_t longest);
  Id id(std::string_view key);
  Id optional_id(std::string_view key);  // an empty text is an empty id
  Date date(std::string_view key);
  int whole(std::string_view key, int low, int high);
  // The member `name_unit`. Where only another `name_...` stands, the unit is the fault.
  double number(std::string_view name, std::string_view unit, double low, double high);
  // Lists and objects: nullptr when missing or of another type.
  const Node* object(std::string_view key);
  const Node* list(std::string_view key, std::size_t longest);

  template <class Value, std::size_t N>
  Value word(std::string_view key, const WordTable<Value, N>& table) {
    const Node* node = expect(key, Node::Type::text);
    if (node == nullptr) return table[0].first;
    for (const auto& row : table) {
      if (row.second == node->text) return row.first;
    }
    std::string words;
    for (const auto& row : table) words += (words.empty() ? "" : ", ") + std::string(row.second);
    refuse(ErrorCode::unknown_value, key, *node, std::move(words));
    return table[0].first;
  }

  void refuse(ErrorCode code, std::string_view key, const Node& found, std::string expected);
  std::string path(std::string_view key) const;
  bool ok() const { return !fault_.has_value(); }

 private:
  const Node* expect(std::string_view key, Node::Type type);

  const Node& node_;
  std::string path_;
  std::optional<Error>& fault_;
};

// Puts a number or a text into an object; an equal value keeps its digits as they were.
void put_number(Node& object, std::string_view key, double value);
void put_text(Node& object, std::string_view key, std::string_view value);

// The element of a list of objects whose "id" is `id`, or nullptr.
const Node* element_of(const Node* list, std::string_view id);

}  // namespace saltrafter::book
