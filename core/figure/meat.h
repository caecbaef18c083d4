// Meat as it dries: a strip that tapers with its weight and darkens with its loss, and a slice through a
// piece.
#pragma once

#include <vector>

#include "core/figure/picture.h"

namespace saltrafter::figure {

// One moment of the strip. `place` runs 0..1 along the strip's length.
struct StripMoment {
  double place = 0.0;
  double mass_share = 1.0;        // mass now over green mass
  double loss_over_wanted = 0.0;  // place on the ramp
};

struct MeatStripInput {
  double width_mm = 0.0;
  double height_mm = 0.0;
  std::vector<StripMoment> moments;  // rising places; at least 2
  double now = 0.0;                  // up to here it has happened, beyond it is forecast (hatched)
  double window_from = 1.0;          // the solid strip ends here ...
  double window_to = 1.0;            // ... and upright slats thin out to here
};

// An empty figure for fewer than two moments.
Figure meat_strip(const MeatStripInput& input);

enum class SectionForm {
  round,
  slab,         // both faces dry
  slab_closed,  // the lower face is shut
};

struct SectionInput {
  SectionForm form = SectionForm::round;
  double diameter_mm = 0.0;              // of the drawing, for the green piece; a slab is half as thick as wide
  double radius_share = 1.0;             // radius (thickness) now over green, 0..1
  std::vector<double> loss_over_wanted;  // from the centre (a shut face) to the rim, evenly spaced; at least 1
};

// Rings, or layers of a slab, that darken, the green size dotted round it.
Figure cross_section(const SectionInput& input);

// A bar for one piece in a table: what is lost of what is wanted.
Figure meat_bar(double width_mm, double height_mm, double loss_over_wanted);

}  // namespace saltrafter::figure
