// Journeys: what a person does with the program, a step a line, played on the nodes of the screen.
//
// `verb role "name" "value"`, or a shell verb with an argument: `open_file "gift.saltrafter.json"`. A name or value
// that ends in … is a beginning, one that starts with … an end, with both it stands anywhere; thin and non-breaking
// spaces count as plain ones. `fill` leaves the field afterwards, as a person does. Lines that start with # are remarks.
// The same file plays without a renderer, in the desktop program and in the page (which has a reader of its own).
#pragma once

#include <functional>
#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "core/base/base.h"
#include "core/desk/parts/parts.h"

namespace saltrafter::desk {

struct Step {
  int line = 0;
  std::string verb;   // see, miss, await, press, fill, note, changed, or a verb of the shell
  std::string role;   // empty for a shell verb
  std::string name;   // of the node; the argument of a shell verb
  std::string value;  // to fill in, to see in the node's value or description, or the name of a note
};

// Errors: wrong_type with the line in `field`, e.g. "line 12".
Result<std::vector<Step>> read_journey(std::string_view text);

// Whether `text` is what a step's pattern means.
bool matches(std::string_view pattern, std::string_view text);

// Plays one journey on a host. After each advance the caller draws a frame and lets long work go on.
class Player {
 public:
  // Does a verb of the shell ("close", "reopen", "offline", "online", "open_file" ...): ok, or why not.
  using ShellVerb = std::function<Result<Done>(const Step&)>;

  enum class State { going, passed, failed };

  Player(std::vector<Step> steps, ShellVerb shell);

  // Tries the step in hand; a step that finds nothing is tried again on later frames, `patience` times in all.
  State advance(parts::Host& host);

  // Steps done; the step in hand; what was wrong with it.
  int done() const { return static_cast<int>(at_); }
  const Step* step() const { return at_ < steps_.size() ? &steps_[at_] : nullptr; }
  const Error& error() const { return error_; }

  static constexpr int kPatience = 600;  // frames; an await is given ten times as many

 private:
  bool attempt(parts::Host& host);
  const parts::Node* target(const parts::Host& host, const Step& step) const;

  std::vector<Step> steps_;
  ShellVerb shell_;
  std::map<std::string, std::string> notes_;
  std::size_t at_ = 0;
  int tries_ = 0;
  Error error_;
};

}  // namespace saltrafter::desk
