// base: what every other module stands on; no word of the trade in it.
#pragma once

#include "core/base/clock.h"     // the time of day
#include "core/base/date.h"      // civil days, and days as people type them
#include "core/base/id.h"        // identity of records, lines, pieces, weighings
#include "core/base/number.h"    // numbers as people type them, and as they are shown
#include "core/base/ports.h"     // clock, zone and chance, from outside
#include "core/base/quantity.h"  // units in types
#include "core/base/result.h"    // failure as a value
#include "core/base/task.h"      // long work in slices
