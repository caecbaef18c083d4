// Plays a journey in the window, as a person would, and keeps a picture of each step.
#pragma once

#include "native/options.h"

namespace saltrafter::native {

// 0: passed; 1: a step failed, or there is no window; 2: the journey cannot be read. Says which line on stderr.
int play(const Options& options);

}  // namespace saltrafter::native
