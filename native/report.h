// Every figure of a recipe or book file, printed.
#pragma once

#include "native/options.h"

namespace saltrafter::native {

// Prints JSON on stdout. 0: the report; 2: the list of errors that the file has, or a line on stderr where it cannot
// be read at all.
int report(const Options& options);

}  // namespace saltrafter::native
