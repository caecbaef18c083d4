#include "native/loop.h"

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include "native/ports.h"

namespace saltrafter::native {
namespace {

constexpr double kSlice_ms = 5.0;

double now_s() { return steady_ms() / 1000.0; }

}  // namespace

bool take_events(App& app, const Window& window, double wait_ms) {
  SDL_Event event;
  const int wait = static_cast<int>(std::ceil(std::clamp(wait_ms, 0.0, 1000.0)));
  bool got = wait > 0 ? SDL_WaitEventTimeout(&event, wait) != 0 : SDL_PollEvent(&event) != 0;
  for (; got; got = SDL_PollEvent(&event) != 0) {
    if (event.type == SDL_QUIT) return false;
    desk::Program* program = app.program();
    if (event.type == SDL_DROPFILE) {
      if (program != nullptr) app.open_file(event.drop.file);
      SDL_free(event.drop.file);
    } else if (program != nullptr) {
      feed(event, window.extent(), program->host());
    }
  }
  return true;
}

bool draw_if_wanted(App& app, Window& window) {
  desk::Program& program = *app.program();
  program.set_display(window.display());
  if (!program.wants_frame() || !window.visible()) return false;
  window.draw(program, now_s());
  if (const auto copied = program.host().take_copied()) SDL_SetClipboardText(copied->c_str());
  return true;
}

void run_loop(App& app, Window& window) {
  desk::Program& program = *app.program();
  double work_at_ms = 0.0;
  Date day = program.session().today();
  for (;;) {
    const bool at_once = program.wants_frame() && window.visible();
    if (!take_events(app, window, at_once ? 0.0 : work_at_ms - steady_ms())) break;
    if (steady_ms() >= work_at_ms) {
      const double after_ms = program.work(kSlice_ms);
      work_at_ms = steady_ms() + after_ms;
      const Date today = program.session().today();
      if (today != day) program.host().wake();
      day = today;
    }
    if (!draw_if_wanted(app, window)) continue;
    window.show();
    work_at_ms = std::min(work_at_ms, steady_ms());  // what this frame changed is kept soon
  }
  program.host().leave();
  for (int i = 0; i < 3; ++i) program.draw(now_s());
  program.work(0.0);
}

}  // namespace saltrafter::native
