#include "native/loop.h"

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include "native/ports.h"

namespace saltrafter::native {
namespace {

constexpr double kSlice_ms = 4.0;  // ends with a step of about 1 ms: 5 in all
constexpr double kLongest_ms = 86'400'000.0;

double now_s() { return steady_ms() / 1000.0; }

}  // namespace

bool take_events(App& app, const Window& window, double wait_ms) {
  SDL_Event event;
  // The library sleeps in the system's own wait: nothing is polled.
  const int wait = static_cast<int>(std::ceil(std::clamp(wait_ms, 0.0, kLongest_ms)));
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
  double wait_ms = 0.0;
  for (;;) {
    if (!take_events(app, window, wait_ms)) break;
    if (draw_if_wanted(app, window)) window.show();
    // Work comes after the frame, whose edits it keeps, and after every event: the clock may be another one.
    wait_ms = program.work(kSlice_ms);
    if (program.wants_frame() && window.visible()) wait_ms = 0.0;
  }
  program.host().leave();
  for (int i = 0; i < 3; ++i) program.draw(now_s());
  program.work(0.0);
}

}  // namespace saltrafter::native
