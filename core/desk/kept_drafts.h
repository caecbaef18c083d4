// What is typed for a thing and not applied yet, as it outlasts the end of the program.
//
// Kept of a recipe its hanging form; of a batch what is weighed, read, done to its pieces and taken down, its stages,
// its steps and how it is split; of the chamber its reading and its change. What is merely looked at (another loss, another air, two revisions) is not kept.
#pragma once

#include "core/book/book.h"
#include "core/desk/session.h"

namespace saltrafter::desk {

book::Node drafts_node(const Drafts& drafts);
// Takes up what was kept of recipes and batches that are still there; what is no draft is left out. `all` may be
// nullptr.
void take_up_drafts(const book::Node* all, Session& session);

}  // namespace saltrafter::desk
