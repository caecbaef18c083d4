// How far the labels of pictures run, from the compiled table of the fonts' widths: the same on canvas and in SVG.
#pragma once

#include "core/figure/picture.h"

namespace saltrafter::figure {

// Carlito, Regular for Face::label and Bold for Face::label_bold. Bytes that are no UTF-8 count as one sign each.
Advance advance_from_tables();

}  // namespace saltrafter::figure
