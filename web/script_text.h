// Runs of text set by the device's own fonts, on a 2-D canvas of the browser's (script_text.js).
#pragma once

#include "core/desk/parts/raster.h"

namespace saltrafter::web {

// Empty where the browser gives no such canvas or does not let its pixels be read.
parts::Rasteriser device_fonts();

}  // namespace saltrafter::web
