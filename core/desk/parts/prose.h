// Headings, sentences, small print, and the hairline between things.
#pragma once

#include "core/desk/parts/page.h"

namespace saltrafter::parts {

// The page's heading; `aside` stands soft at the right end of the same line, or below it on narrow.
void heading(Page& page, const words::Text& text, const words::Text& aside = {});

// A second heading with an optional soft line beneath.
void second_heading(Page& page, const words::Text& text, const words::Text& beneath = {});

// The first sentence: what is so. Bold names come with the text.
void lead(Page& page, const words::Text& text);

void paragraph(Page& page, const words::Text& text);     // a fact, a limit, a warning: ink
void reason(Page& page, const words::Text& text);        // a mere reason: soft
void over_heading(Page& page, const words::Text& text);  // the soft line above a heading
// The figure of a screen for wet hands: its name and facts at the left, the figure as large as it can be at the right,
// or beneath where both do not fit.
void huge_figure(Page& page, const words::Text& name, const words::Text& figure, const words::Text& facts);
void rule(Page& page);                                   // a hairline between two things
void list_rule(Page& page);                              // the hairline that a list or table hangs from
void gap(Page& page, double px);                         // a vertical step: 8, 16, 24, 36

}  // namespace saltrafter::parts
