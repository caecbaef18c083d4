// A picture made elsewhere as a figure, set into the page.
#pragma once

#include "core/desk/parts/page.h"
#include "core/figure/figure.h"

namespace saltrafter::parts {

// How wide a picture may be here. Lay it out with figure::advance_from_tables().
double figure_width_mm(const Page& page);

// Draws it with its top left at (x, y), layout px; nothing else.
void paint(Page& page, const figure::Figure& picture, double x, double y);

// All that is written in it, in the order it is drawn: "0 %, −10 %, ... today".
std::string labels_of(const figure::Figure& picture);

// Draws it at its size; `name` says to a listener what it shows.
void figure_view(Page& page, const figure::Figure& picture, const words::Text& name);

// The strip with a word at each end, and the day it stands at above its mark (`now_label` may be empty).
void meat_strip(Page& page, const words::Text& name, figure::MeatStripInput input, const words::Text& left,
                const words::Text& right, const words::Text& now_label = {});

}  // namespace saltrafter::parts
