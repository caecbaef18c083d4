// A long list of things: looked through by a word, headed by letters, said when nothing is called so.
#pragma once

#include <optional>
#include <vector>

#include "core/desk/parts/rows.h"

namespace saltrafter::parts {

struct List {
  Key key;
  std::vector<Row> rows;  // in the order they are shown in; by name where letters shall head them
};

// From 12 rows on a field to look for a word stands on top and the list says how many it shows; from 40 on letters
// head it while nothing is looked for. The index of the row that was pressed.
std::optional<int> list(Page& page, const List& list);

}  // namespace saltrafter::parts
