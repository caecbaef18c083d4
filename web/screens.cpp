#include "web/screens.h"

namespace saltrafter::web {

void draw_screens(desk::Program& program, double now_s) { program.draw(now_s); }

}  // namespace saltrafter::web
