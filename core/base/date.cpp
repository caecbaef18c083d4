#include "core/base/date.h"

#include <algorithm>
#include <cmath>
#include <cstdio>

namespace saltrafter {
namespace {

using std::chrono::day;
using std::chrono::month;
using std::chrono::year;
using std::chrono::year_month_day;

constexpr std::int64_t kMsPerDay = 86'400'000;

// The maker's wall clock at an instant, as if it were UTC.
std::int64_t local_time_ms(const Ports& ports, std::int64_t utc_ms) {
  const int offset_min = ports.zone_offset_min ? ports.zone_offset_min(utc_ms) : 0;
  return utc_ms + std::int64_t{offset_min} * 60'000;
}

bool is_digit(char c) { return c >= '0' && c <= '9'; }

char lower(char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; }

// Letters outside ASCII are compared as they stand.
bool same_start(std::string_view start, std::string_view whole) {
  if (start.size() > whole.size()) {
    return false;
  }
  for (std::size_t i = 0; i < start.size(); ++i) {
    if (lower(start[i]) != lower(whole[i])) {
      return false;
    }
  }
  return true;
}

bool same_word(std::string_view a, std::string_view b) { return a.size() == b.size() && same_start(a, b); }

std::size_t count_letters(std::string_view utf8) {
  std::size_t count = 0;
  for (const char c : utf8) {
    count += (static_cast<unsigned char>(c) & 0xC0U) != 0x80U ? 1U : 0U;
  }
  return count;
}

std::string_view trimmed(std::string_view text) {
  while (!text.empty() && (text.front() == ' ' || text.front() == '\t')) {
    text.remove_prefix(1);
  }
  while (!text.empty() && (text.back() == ' ' || text.back() == '\t')) {
    text.remove_suffix(1);
  }
  return text;
}

// Takes 1..`most` digits off the front; -1 when there is none or there are more.
int take_digits(std::string_view& text, std::size_t most) {
  std::size_t count = 0;
  int value = 0;
  while (count < text.size() && is_digit(text[count])) {
    if (count == most) {
      return -1;
    }
    value = value * 10 + (text[count] - '0');
    ++count;
  }
  text.remove_prefix(count);
  return count == 0 ? -1 : value;
}

Error wrong_date(ErrorCode code, std::string_view found) {
  Error error;
  error.code = code;
  error.field = "date";
  error.found = std::string(found.substr(0, 40));
  return error;
}

Error out_of_bounds(std::string_view found, double low, double high, std::string unit) {
  Error error = wrong_date(ErrorCode::out_of_range, found);
  error.low = low;
  error.high = high;
  error.unit = std::move(unit);
  return error;
}

Result<Date> civil(int y, int m, int d, std::string_view found) {
  if (y < kFirstYear || y > kLastYear) {
    return out_of_bounds(found, kFirstYear, kLastYear, "year");
  }
  if (m < 1 || m > 12) {
    return out_of_bounds(found, 1, 12, "month");
  }
  const year_month_day date{year(y), month(static_cast<unsigned>(m)), day(static_cast<unsigned>(d))};
  if (!date.ok()) {
    const std::chrono::year_month_day_last last{year(y), std::chrono::month_day_last{date.month()}};
    return out_of_bounds(found, 1, static_cast<unsigned>(last.day()), "day");
  }
  return Date(date);
}

// The latest such day that is not after `today`; 29 February may lie eight years back.
Result<Date> latest(int m, int d, Date today, std::string_view found) {
  const int this_year = static_cast<int>(year_month_day(today).year());
  Result<Date> result = civil(this_year, m, d, found);
  if (result.ok() && result.value() <= today) {
    return result;
  }
  for (int y = this_year - 1; y >= this_year - 8; --y) {
    const Result<Date> earlier = civil(y, m, d, found);
    if (earlier.ok() && earlier.value() <= today) {
      return earlier;
    }
  }
  return result;
}

// 1..12, or 0 when `word` begins none or several of the months, or is shorter than three letters.
int month_named(std::string_view word, std::span<const std::string> months) {
  if (count_letters(word) < 3) {
    return 0;
  }
  int found = 0;
  for (std::size_t i = 0; i < months.size(); ++i) {
    if (same_word(word, months[i])) {
      return static_cast<int>(i) + 1;
    }
    if (same_start(word, months[i])) {
      if (found != 0) {
        return 0;
      }
      found = static_cast<int>(i) + 1;
    }
  }
  return found;
}

}  // namespace

std::string iso_date(Date date) {
  const year_month_day ymd(date);
  char text[40];
  std::snprintf(text, sizeof text, "%04d-%02u-%02u", static_cast<int>(ymd.year()),
                static_cast<unsigned>(ymd.month()), static_cast<unsigned>(ymd.day()));
  return text;
}

Result<Date> parse_iso_date(std::string_view text) {
  constexpr std::string_view kShape = "dddd-dd-dd";
  bool fits = text.size() == kShape.size();
  for (std::size_t i = 0; fits && i < kShape.size(); ++i) {
    fits = kShape[i] == 'd' ? is_digit(text[i]) : text[i] == '-';
  }
  if (!fits) {
    Error error = wrong_date(ErrorCode::wrong_type, text);
    error.expected = "2026-11-25";
    return error;
  }
  std::string_view rest = text;
  const int y = take_digits(rest, 4);
  rest.remove_prefix(1);
  const int m = take_digits(rest, 2);
  rest.remove_prefix(1);
  const int d = take_digits(rest, 2);
  return civil(y, m, d, text);
}

Date today(const Ports& ports) {
  if (!ports.now_utc_ms) {
    return Date{};
  }
  const std::int64_t local_ms = local_time_ms(ports, ports.now_utc_ms());
  std::int64_t days = local_ms / kMsPerDay;
  if (local_ms % kMsPerDay < 0) {
    --days;
  }
  return Date(std::chrono::days(static_cast<int>(days)));
}

std::int64_t ms_to_midnight(const Ports& ports) {
  if (!ports.now_utc_ms) {
    return kMsPerDay;
  }
  const std::int64_t now_ms = ports.now_utc_ms();
  const std::int64_t local_ms = local_time_ms(ports, now_ms);
  const std::int64_t into_day = (local_ms % kMsPerDay + kMsPerDay) % kMsPerDay;
  const std::int64_t left = kMsPerDay - into_day;
  // Where the clocks are changed before that midnight, it is an hour nearer or farther.
  const std::int64_t moved = local_time_ms(ports, now_ms + left) - (local_ms + left);
  return std::max<std::int64_t>(1, left - moved);
}

int days_between(Date a, Date b) { return static_cast<int>((b - a).count()); }

Date add_days(Date date, Days days) {
  constexpr double kFarthest = 1e6;  // some 2700 years: no date of ours is that far off
  if (!(std::abs(days.value) <= kFarthest)) {
    return std::isnan(days.value) ? date
                                  : date + std::chrono::days(days.value > 0.0 ? 1'000'000 : -1'000'000);
  }
  return date + std::chrono::days(static_cast<int>(std::floor(days.value + 0.5)));
}

Result<Date> parse_typed_date(std::string_view text, Date today, const DateWords& words) {
  const std::string_view whole = trimmed(text);
  if (whole.empty()) {
    return wrong_date(ErrorCode::missing, "");
  }
  if (same_word(whole, words.today)) {
    return today;
  }
  if (same_word(whole, words.yesterday)) {
    return today - std::chrono::days(1);
  }
  Error not_a_date = wrong_date(ErrorCode::wrong_type, whole);
  not_a_date.expected = iso_date(today) + "|-2|" + words.today;

  std::string_view rest = whole;
  constexpr std::string_view kMinusSign = "\xE2\x88\x92";  // U+2212
  if (rest.front() == '-' || rest.substr(0, 3) == kMinusSign) {
    rest.remove_prefix(rest.front() == '-' ? 1 : 3);
    const int ago = take_digits(rest, 5);
    if (ago < 0 || !rest.empty()) {
      return not_a_date;
    }
    const Date date = today - std::chrono::days(ago);
    const int y = static_cast<int>(year_month_day(date).year());
    if (y < kFirstYear || y > kLastYear) {
      return out_of_bounds(whole, kFirstYear, kLastYear, "year");
    }
    return date;
  }
  if (rest.size() > 4 && rest[4] == '-') {
    const Result<Date> iso = parse_iso_date(rest);
    return iso.ok() || iso.error().code == ErrorCode::out_of_range ? iso : Result<Date>(not_a_date);
  }

  const int d = take_digits(rest, 2);
  if (d < 0 || rest.empty()) {
    return not_a_date;
  }
  const bool dot = rest.front() == '.';
  rest = trimmed(rest.substr(dot ? 1 : 0));
  int m = 0;
  if (dot && !rest.empty() && is_digit(rest.front())) {
    m = take_digits(rest, 2);
    if (m < 0 || (!rest.empty() && rest.front() != '.')) {
      return not_a_date;
    }
    rest.remove_prefix(rest.empty() ? 0 : 1);
  } else {
    std::size_t length = 0;
    while (length < rest.size() && rest[length] != ' ' && rest[length] != '.' && !is_digit(rest[length])) {
      ++length;
    }
    m = month_named(rest.substr(0, length), words.months);
    if (m == 0) {
      return not_a_date;
    }
    rest.remove_prefix(length);
    if (!rest.empty() && rest.front() == '.') {
      rest.remove_prefix(1);
    }
  }
  rest = trimmed(rest);
  if (rest.empty()) {
    return latest(m, d, today, whole);
  }
  const int y = take_digits(rest, 4);
  if (y < 0 || !rest.empty()) {
    return not_a_date;
  }
  return civil(y, m, d, whole);
}

}  // namespace saltrafter
