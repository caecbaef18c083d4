// Findings of a recipe's amounts: curing salts, ascorbate, salt, water to protein, and the maker's own
// limits. Internal to safety.
#pragma once

#include <vector>

#include "core/safety/safety.h"

namespace saltrafter::safety {

// The one limit that is refused outright. `stop` is set.
std::vector<Finding> ceiling_findings(const Subject& subject);

// Rules whose every row is a finding: doses, residues, ascorbate, salt, salt in the water, water activity
// alone.
std::vector<Finding> amount_findings(const Subject& subject);

// The label class that the finished product falls into. A standard of composition, no proof of anything.
std::vector<Finding> ratio_findings(const Subject& subject);

// A finding for each of the maker's own limits; one that is looser than the table's strictest does not
// decide.
std::vector<Finding> own_findings(const Subject& subject);

}  // namespace saltrafter::safety
