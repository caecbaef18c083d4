// A table of a few columns: words left, figures right, heads soft. On narrow a row becomes a name and a
// figure, with the rest in a line beneath.
#pragma once

#include <optional>
#include <vector>

#include "core/desk/parts/page.h"

namespace saltrafter::parts {

struct Column {
  words::Text head;
  bool figures = false;  // set right, on one line
};

struct TableRow {
  std::optional<Key> key;  // makes the row a target
  std::vector<words::Text> cells;
};

// The index of the row that was pressed. `order` says in words how it is sorted: "by date, newest first".
std::optional<int> table(Page& page, const std::vector<Column>& columns, const std::vector<TableRow>& rows,
                         const words::Text& order = {});

}  // namespace saltrafter::parts
