// A page like ours with the gallery of all parts as its only screen: for axe and for looking. It is no part of
// the page that makers get, where it would weigh 10 kB.
#include "web/screens.h"

namespace saltrafter::web {

void draw_screens(desk::Program& program, double now_s) {
  parts::Host& host = program.host();
  host.begin_frame(now_s);
  parts::gallery(host, program.session().language);
  host.end_frame();
}

}  // namespace saltrafter::web
