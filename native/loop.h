// What keeps a window going: events in, long work on, frames out; asleep while nothing changes.
#pragma once

#include "core/base/base.h"
#include "native/app.h"
#include "native/window.h"

namespace saltrafter::native {

// Hands over all waiting events, after waiting for the first at most `wait_ms`. False when the window was closed.
bool take_events(App& app, const Window& window, double wait_ms);

// Draws a frame when one is wanted, and hands over what was copied. True when it drew.
bool draw_if_wanted(App& app, Window& window);

// Until the window is closed. What was being typed is kept.
void run_loop(App& app, Window& window);

}  // namespace saltrafter::native
