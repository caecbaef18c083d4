// Civil days, as people write and type them. Instants are UTC milliseconds and live only in ports.
#pragma once

#include <chrono>
#include <span>
#include <string>
#include <string_view>

#include "core/base/ports.h"
#include "core/base/quantity.h"
#include "core/base/result.h"

namespace saltrafter {

using Date = std::chrono::sys_days;

// The years a date may have here; anything else is a slip of the finger.
inline constexpr int kFirstYear = 1990;
inline constexpr int kLastYear = 2100;

// "2026-11-25" and back. Error: out_of_range (impossible day, year outside 1990..2100) or wrong_type.
std::string iso_date(Date date);
Result<Date> parse_iso_date(std::string_view text);

// The maker's civil day now: the instant of the clock port moved by its zone offset.
Date today(const Ports& ports);

// How long that day lasts still, ms: until the instant at which today() is another day. At least 1.
std::int64_t ms_to_midnight(const Ports& ports);

// Whole days from a to b, negative when b is earlier.
int days_between(Date a, Date b);

// The day `days` after `date`, rounded to the nearest civil day, halves up.
Date add_days(Date date, Days days);

// Words a language has for typed dates; months as full names, any unique beginning of 3 letters is taken.
struct DateWords {
  std::span<const std::string> months;  // 12
  std::string today;
  std::string yesterday;
};

// A day as typed in a kitchen: 2026-11-25, 25.11.2026, 25.11., 25 Nov, 25 November 2026, -2 (days ago),
// today, yesterday. Without a year: the latest such day that is not after `today`.
// Error: missing, wrong_type (expected: examples), out_of_range.
Result<Date> parse_typed_date(std::string_view text, Date today, const DateWords& words);

}  // namespace saltrafter
