// The two themes as data, and arithmetic on colours. State is never said by colour alone: the parts see to
// that.
#pragma once

#include <array>
#include <cstdint>

#include "core/figure/figure.h"

namespace saltrafter::parts {

using figure::Ink;

struct Colour {
  std::uint8_t red = 0;
  std::uint8_t green = 0;
  std::uint8_t blue = 0;

  friend bool operator==(const Colour&, const Colour&) = default;
};

struct Theme {
  std::array<Colour, figure::kInkCount> inks;  // by Ink
  std::array<Colour, 5> ramp;                  // raw to wanted loss

  Colour of(Ink ink) const { return inks[static_cast<std::size_t>(ink)]; }
  Colour of(const figure::Paint& paint) const;
};

const Theme& paper();
const Theme& cellar();

// `share` of a, the rest of b, by channel.
Colour mix(Colour a, Colour b, double share);

// Source: WCAG 2.2, relative luminance and contrast ratio (1..21).
double contrast(Colour a, Colour b);

}  // namespace saltrafter::parts
