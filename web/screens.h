// What the page shows: the maker's screens. The page that tests look at the parts on (tests/page/gallery.cpp)
// puts the gallery in their place.
#pragma once

#include "core/desk/desk.h"

namespace saltrafter::web {

// One frame, `now_s` on a steady clock.
void draw_screens(desk::Program& program, double now_s);

}  // namespace saltrafter::web
