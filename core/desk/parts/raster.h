// Which face a text is set in, and the port through which a shell lends the device's own fonts for what our
// faces do not hold.
#pragma once

#include <functional>
#include <string_view>
#include <vector>

namespace saltrafter::parts {

enum class Family { serif, sans };

struct Font {
  Family family = Family::sans;
  bool bold = false;
  double size = 18.0;  // of the em
};

// A run that the device's fonts are to set, valid UTF-8, at an em of whole device pixels.
struct RunText {
  std::string_view utf8;
  Family family = Family::sans;
  bool bold = false;
  double size_px = 18.0;
  bool right_to_left = false;
};

// The run in device pixels, its baseline on a whole one.
struct Raster {
  double advance_px = 0.0;  // from the run's left end to its right end
  int left_px = 0;          // from the left end to the picture's left edge
  int top_px = 0;           // from the baseline up to the picture's top edge
  int width_px = 0;
  int height_px = 0;
  bool coloured = false;  // has colours of its own; else it is white
  // Red, green, blue, alpha, not multiplied by it; rows from the top. Empty when they were not asked for.
  std::vector<unsigned char> pixels;
};

// Without `with_pixels` only the advance is wanted, and it must be the same. A shell cuts pictures at
// kWidestRaster_px and at kTallestRaster_em: marks can be piled up at will.
using Rasteriser = std::function<Raster(const RunText& run, bool with_pixels)>;
inline constexpr int kWidestRaster_px = 4096;
inline constexpr int kTallestRaster_em = 4;

}  // namespace saltrafter::parts
