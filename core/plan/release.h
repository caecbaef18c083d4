// What is asked of a batch before it is released.
#pragma once

#include <vector>

#include "core/plan/batch.h"

namespace saltrafter::plan {

// How old a piece's own weighing may be when it is released (choice: what hangs loses little more than its scale can
// tell in that time once it has what is wanted).
inline constexpr Days kWeighedWithin{7.0};

// A stop for each piece that was not weighed by itself in the days before `day`, nor at its take-down: what a bunch
// says of it is an estimate. Of a batch that hangs; `piece` empty: of all its pieces. Discarded ones are not asked
// for. Each is about its piece, stops with a reason, and holds only the release.
std::vector<safety::Finding> release_stops(const Batch& batch, const Id& piece, Date day);

}  // namespace saltrafter::plan
