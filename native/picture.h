// A picture of the window, and its text as a PNG file.
#pragma once

#include <string>
#include <vector>

namespace saltrafter::native {

struct Picture {
  int width = 0;
  int height = 0;
  std::vector<unsigned char> rgb;  // rows from the top, three bytes a pixel
};

// Truecolour, 8 bits. Compresses the repeats of flat areas and no more: enough for screens.
// Source: W3C PNG (third edition) sections 5, 9, 11; RFC 1950; RFC 1951 section 3.2.6 (fixed codes).
std::string png(const Picture& picture);

}  // namespace saltrafter::native
