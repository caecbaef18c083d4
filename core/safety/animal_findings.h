// Cautions that hang on the animal, and that no kill of bacteria is shown. Internal to safety.
#pragma once

#include <vector>

#include "core/safety/safety.h"

namespace saltrafter::safety {

// One finding that kill is not shown, with the stronger advice "kill_beef" where a ruminant is in it; then
// one for each kind of animal or organ that asks for a caution, by row ("game", "horse", "liver", "poultry",
// "wild"): of each lot, and of each line of which none is recorded. All not_known: no figure would settle
// them, and none is invented.
std::vector<Finding> animal_findings(const Subject& subject);

}  // namespace saltrafter::safety
