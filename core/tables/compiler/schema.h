// What each table's rows must hold, and the units in which they may be written and are stored.
#pragma once

#include <span>
#include <string_view>

namespace saltrafter::table_compiler {

enum class ColumnKind {
  key,      // text, once in the table
  name,     // no column of the file: `detail` and the key, the id of a word
  text,     // any text, not empty; with `detail` one of the words in it
  word,     // one of the words in `detail`, which are the enumerators of `type`
  words,    // a list of such words, each once; stored as a <type>Set
  number,   // within low..high once stored in `unit`; the file's "columns" names the unit it is written in
  typed,    // the same, stored in the quantity `type`
  integer,  // within low..high
  day,      // "2025-10-09" or empty
  unit,     // text, a unit of the list
  plain,    // number stored as written; its unit stands in the row itself
  origin,   // `detail` is a prefix: the columns <detail>source and <detail>known
};

struct Column {
  ColumnKind kind;
  std::string_view name;
  std::string_view detail;
  std::string_view type;
  std::string_view unit;
  double low = 0.0;
  double high = 0.0;
  bool part = false;      // its values of one row are parts of one whole
  bool may_lack = false;  // null in the file, std::nullopt in the row
};

struct Table {
  std::string_view name;  // in the file, and of the function that returns the rows
  std::string_view row_type;
  std::span<const Column> columns;  // in the order of the row type's members
  double least_sum = 0.0;           // of a row's parts
  double most_sum = 0.0;            // 0: there are no parts
};

std::span<const Table> tables();
const Table* find_table(std::string_view name);

// A unit that some figure may be written in, and what one of it is in `stored`: times / divided.
struct Unit {
  std::string_view written;
  std::string_view stored;
  double times = 1.0;
  double divided = 1.0;
};

bool is_unit(std::string_view name);
// The way from one to the other, or nullptr.
const Unit* find_unit(std::string_view written, std::string_view stored);

// Words for how a figure is known, as they stand in the files.
inline constexpr std::string_view kKnownWords = "read read_copy derived practice memory choice";
// True when `words`, parted by spaces, holds `word`.
bool holds_word(std::string_view words, std::string_view word);

}  // namespace saltrafter::table_compiler
