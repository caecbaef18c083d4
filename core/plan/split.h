// A mix that becomes several batches: other casings, other flavours.
#pragma once

#include <vector>

#include "core/plan/batch.h"

namespace saltrafter::plan {

// The batches that a mix becomes, one a share, before it hangs: the meat, what was weighed in, fixed grams,
// trim and energy by the share; the recipe, the steps and stages done, the lots, readings and acts are those
// of the whole mix in each. The first stays the batch it was, the others say that they come from it, by `id`;
// put all in one edit. Errors: refused "hung" once it hangs or is in pieces; out_of_range "shares" (2 at
// least, adding to 1 within 0.0005) and "shares/<i>" (above 0).
Result<std::vector<Batch>> split(const Batch& batch, const Id& id, const std::vector<double>& shares);

}  // namespace saltrafter::plan
