// The time of day as the maker's wall clock shows it. Instants are UTC milliseconds.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>

#include "core/base/date.h"
#include "core/base/ports.h"
#include "core/base/result.h"

namespace saltrafter {

// The civil day and the minute of it (0..1439) at an instant, by the zone that holds then.
Date day_at(const Ports& ports, std::int64_t utc_ms);
int minute_at(const Ports& ports, std::int64_t utc_ms);

// The instant of a day's minute by the zone that holds about then; in the hour that a change of the clock skips or
// doubles, one of the two.
std::int64_t instant_of(const Ports& ports, Date day, int minute);

// "07:42".
std::string clock_text(int minute);

// "7:42", "07.42", "742", "19" and "19:30". Error: missing, wrong_type (expected "hh:mm").
Result<int> parse_clock(std::string_view text);

}  // namespace saltrafter
