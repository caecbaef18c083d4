// figure: pictures as lists of lines, areas, marks and labels in millimetres, with roles of ink, not colours.
//
// The same list is drawn on the canvas and written as SVG. Texts arrive ready; how wide they run is told by
// an Advance, so that both hands lay them out alike.
#pragma once

#include "core/figure/advance.h"       // how far labels run
#include "core/figure/chart.h"         // days across, values up or down: any chart
#include "core/figure/drying_chart.h"  // loss against time: measured, forecast, wanted, expected
#include "core/figure/hatch.h"         // slanted lines within an outline
#include "core/figure/meat.h"          // the tapering strip and the cross-section
#include "core/figure/picture.h"       // what a picture is made of
#include "core/figure/ticks.h"         // where an axis is marked
