// What differs between two trees, and how one change is carried over to another tree. Both walk fields by name
// and elements by their keys (fields.h); a list without keys counts as one value.
#pragma once

#include <string>
#include <vector>

#include "core/book/tree.h"

namespace saltrafter::book {

// Paths of the fields that differ: "name", "air/humidity_share", "lines/<id>/name", "lines/<id>" for an element
// that came or went, "lines" for another order. Either side may be absent (nullptr). Sorted, without doubles.
std::vector<std::string> changed_paths(const Node* before, const Node* after);

// `current` with the change from `before` to `after` made on it. A field that both sides changed takes `after`'s
// value; one that only `current` changed stays; an element removed in `current` and changed in `after` comes back.
Node carry_over(const Node& before, const Node& after, const Node& current);

}  // namespace saltrafter::book
