// Slanted lines within an outline: what is forecast, and the forbidden side of a limit.
#pragma once

#include <vector>

#include "core/figure/picture.h"

namespace saltrafter::figure {

// Lines at 45°, rising to the right, `pitch_mm` apart (measured across), cut at the outline. The outline is
// any simple polygon. Nothing for fewer than 3 points or a pitch that is not above 0.01 mm.
std::vector<Line> hatch(const std::vector<Point>& outline, double pitch_mm, double width_mm,
                        const Paint& paint);

}  // namespace saltrafter::figure
