// --gallery FOLDER: every part on one screen, photographed from its top to its end.
#pragma once

#include "native/options.h"

namespace saltrafter::native {

// 0 when all of it was kept, 1 when a part is cut at a side, a picture cannot be written or no window opens.
int gallery(const Options& options);

}  // namespace saltrafter::native
