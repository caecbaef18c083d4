// The machine's clock, zone and chance, as the core asks for them.
#pragma once

#include <optional>

#include "core/base/base.h"

namespace saltrafter::native {

// Milliseconds on a clock that only goes forward; its zero does not matter.
double steady_ms();

// The real ones; with a day, the clock starts on that day at noon UTC, in zone 0.
Ports ports(std::optional<Date> fixed_day = {});

}  // namespace saltrafter::native
