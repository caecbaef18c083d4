// The form of stored text: a small ordered tree of values, its reader with limits and its canonical writer.
//
// It is what stands between typed values and JSON text. Members keep their order and numbers their digits, so
// that what this program does not know is written back as it was found.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include "core/base/base.h"

namespace saltrafter::book {

struct Node {
  enum class Type { null, boolean, number, text, list, object };

  Type type = Type::null;
  bool boolean = false;
  double number = 0.0;
  std::string text;               // of a text; of a number its digits as written
  std::vector<Node> items;        // of a list or an object
  std::vector<std::string> keys;  // of an object, beside items
  int line = 0;                   // line of the text it was read from, from 1; 0 when made here

  static Node of_number(double value);
  static Node of_text(std::string value);
  static Node of_boolean(bool value);
  static Node list();
  static Node object();

  const Node* find(std::string_view key) const;  // nullptr when absent or no object
  Node* find(std::string_view key);
  void set(std::string_view key, Node value);     // replaces in place, or appends
  void erase(std::string_view key);

  // Equal in type, digits, order and content; the lines they were read from do not count.
  friend bool operator==(const Node& a, const Node& b);
};

struct ReadLimits {
  std::size_t bytes = 1 << 20;
  int values = 20000;
  int depth = 16;
  std::size_t text_bytes = 4096;
};
inline constexpr ReadLimits kRecordLimits{4 << 20, 400000, 16, 4096};
inline constexpr ReadLimits kBookLimits{16 << 20, 2000000, 20, 4096};

// Reads JSON, refusing what is doubled, too deep, too large, not finite or not UTF-8, before a tree of it exists.
// Errors: cut_off (expected: the brackets that are still open), not_json, duplicate_key, too_deep, too_large,
// out_of_range. `field` is the path; `found` ends in "@" and the line: see found_in_text.
Result<Node> read_tree(std::string_view text, const ReadLimits& limits = {});

enum class TextForm {
  stored,  // ASCII only, no spaces: slots and records
  file,    // UTF-8, two spaces a level, a line feed at the end: files people may read
};
// The shortest digits that read back as the same number. Bytes that are no UTF-8 become U+FFFD.
std::string write_tree(const Node& node, TextForm form);

// Takes apart `found` of an error about a text: what stood there, and in which line (0: not known).
struct FoundInText {
  std::string text;
  int line = 0;
};
FoundInText found_in_text(const Error& error);

// The same, put together: a piece of a node, shortened, and its line.
std::string found_at(const Node& node);

}  // namespace saltrafter::book
