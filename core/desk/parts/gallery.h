// Every part on one hidden screen, with invented figures: for looking, photographing and measuring.
#pragma once

#include "core/desk/parts/host.h"

namespace saltrafter::parts {

// One frame of it, between begin_frame and end_frame.
void gallery(Host& host, const words::Language& language);

}  // namespace saltrafter::parts
