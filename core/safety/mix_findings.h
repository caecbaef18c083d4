// Findings about the curing mix: whose packet it is, what it may be mistaken for, what it must not meet in
// water. Internal to safety.
#pragma once

#include <optional>
#include <string_view>
#include <vector>

#include "core/safety/safety.h"

namespace saltrafter::safety {

// How a mix's strength or name looks beside the mixes that are sold.
enum class MixLooks {
  usual,
  unusual,        // of a strength that none of the table's mixes has
  tenfold,        // ten times or a tenth of one that is sold
  called_other,   // its name says another strength, or another kind
  called_strong,  // its name is that of a strong mix, or says a strength five times its own or more, or a
                  // fifth
};
MixLooks looks_of(const recipe::CuringMix& mix);

std::vector<Finding> packet_findings(const Subject& subject);
std::vector<Finding> confused_findings(const Subject& subject);
std::vector<Finding> short_nitrate_findings(const Subject& subject);
std::vector<Finding> acid_findings(const Subject& subject);

}  // namespace saltrafter::safety
