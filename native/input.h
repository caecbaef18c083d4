// From SDL's events to the screens' own input.
#pragma once

#include <SDL.h>

#include "core/desk/parts/parts.h"

namespace saltrafter::native {

// What a window is for its events: its size in SDL's units and those to a CSS pixel.
struct Extent {
  double width = 1.0;
  double height = 1.0;
  double scale = 1.0;
};

// Hands one event to the host. Windows, files and quitting are not its business.
void feed(const SDL_Event& event, const Extent& extent, parts::Host& host);

}  // namespace saltrafter::native
