// Rows of a list: things, the lines of a recipe, what is to be done. Parted by hairlines, aligned on
// baselines.
#pragma once

#include <optional>

#include "core/desk/parts/acts.h"

namespace saltrafter::parts {

// How a line stands to a limit; also the five words of a finding.
enum class Level { met, near, not_met, not_known, does_not_apply };
words::Text level_word(const words::Language& language, Level level);
Ink level_ink(Level level);

// Name, one line of facts, a figure at the right. The whole row is one target when it has a key.
struct Row {
  std::optional<Key> key;
  words::Text name;
  words::Text fact;
  words::Text figure;
  bool selected = false;  // the row in hand
};
bool row(Page& page, const Row& row);

// A line of a recipe: name, its share, its grams; under it what is to be known about it.
struct RecipeLine {
  std::optional<Key> key;
  words::Text name;
  words::Text share;  // "2.4 %"
  words::Text grams;  // "92.6 g"
  words::Text note;   // a mere reason, soft
  words::Text finding;
  Level level = Level::met;  // of the finding; near and not met stand bold
  bool selected = false;
};
bool recipe_line(Page& page, const RecipeLine& line);

// A sentence that says what to do, the reason beneath, and its one act.
struct Task {
  words::Text sentence;
  words::Text because;
  bool urgent = false;  // larger, and its reason in ink
  std::optional<Act> act;
};
bool task(Page& page, const Task& task);

}  // namespace saltrafter::parts
