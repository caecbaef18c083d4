// Runs of text set by this machine's own fonts, with Pango where the program was built with it.
#pragma once

#include "core/desk/parts/raster.h"

namespace saltrafter::native {

// Empty where the program was built without Pango.
parts::Rasteriser device_fonts();

}  // namespace saltrafter::native
