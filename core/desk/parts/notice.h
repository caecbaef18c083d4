// What has just happened, what went wrong, and long work.
#pragma once

#include "core/desk/parts/acts.h"

namespace saltrafter::parts {

// Under the row it concerns, with its undo; stays until the screen takes it away. The index of the act that
// was pressed.
std::optional<int> notice(Page& page, const words::Text& text, const std::vector<Act>& acts);

// Something is not as it should be: what (bold), what holds meanwhile, and an act. True when the act was
// pressed.
bool trouble(Page& page, const words::Text& what, const words::Text& meanwhile,
             const std::optional<Act>& act);

// Long work: a sentence, how far (0..1), and a way to stop. True when Stop was pressed.
bool progress(Page& page, Key key, const words::Text& text, double done);

// Nothing here yet: what is so, what to do, and the act that leads there. True when it was pressed.
bool empty_state(Page& page, const words::Text& what, const words::Text& what_to_do,
                 const std::optional<Act>& act);

}  // namespace saltrafter::parts
