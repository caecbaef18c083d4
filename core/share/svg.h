// A picture as SVG, drawn from the same list that the canvas draws.
#pragma once

#include <array>
#include <string>

#include "core/figure/figure.h"

namespace saltrafter::share {

// Colours as "#RRGGBB": one for each ink, and meat from raw to the wanted loss.
struct Palette {
  std::array<std::string, figure::kInkCount> inks;
  std::array<std::string, 5> ramp;
};

// The paper theme, which also prints well in grey.
Palette paper_palette();

// Millimetres in, millimetres out; texts are text, in the page's label face, as long as its table of widths
// says: in another face too nothing runs into anything.
// `title` is read out by screen readers; empty: none.
std::string svg(const figure::Figure& figure, const Palette& palette, std::string_view title = {});

}  // namespace saltrafter::share
