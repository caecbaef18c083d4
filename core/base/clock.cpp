#include "core/base/clock.h"

#include <cstdio>

namespace saltrafter {
namespace {

constexpr std::int64_t kMinute_ms = 60'000;
constexpr std::int64_t kDay_min = 1440;

std::int64_t local_minutes(const Ports& ports, std::int64_t utc_ms) {
  const std::int64_t minutes = (utc_ms >= 0 ? utc_ms : utc_ms - kMinute_ms + 1) / kMinute_ms;
  return minutes + ports.zone_offset_min(utc_ms);
}

std::int64_t floor_days(std::int64_t minutes) {
  return (minutes >= 0 ? minutes : minutes - kDay_min + 1) / kDay_min;
}

bool is_digit(char c) { return c >= '0' && c <= '9'; }

}  // namespace

Date day_at(const Ports& ports, std::int64_t utc_ms) {
  return Date(std::chrono::days(floor_days(local_minutes(ports, utc_ms))));
}

int minute_at(const Ports& ports, std::int64_t utc_ms) {
  const std::int64_t minutes = local_minutes(ports, utc_ms);
  return static_cast<int>(minutes - floor_days(minutes) * kDay_min);
}

std::int64_t instant_of(const Ports& ports, Date day, int minute) {
  const std::int64_t as_utc = (day.time_since_epoch().count() * kDay_min + minute) * kMinute_ms;
  // The offset of the instant itself, which a first guess is close to.
  const std::int64_t guess = as_utc - ports.zone_offset_min(as_utc) * kMinute_ms;
  return as_utc - ports.zone_offset_min(guess) * kMinute_ms;
}

std::string clock_text(int minute) {
  const int held = minute < 0 ? 0 : minute > 1439 ? 1439 : minute;
  char text[12];
  std::snprintf(text, sizeof text, "%02d:%02d", held / 60, held % 60);
  return text;
}

Result<int> parse_clock(std::string_view text) {
  while (!text.empty() && text.front() == ' ') text.remove_prefix(1);
  while (!text.empty() && text.back() == ' ') text.remove_suffix(1);
  Error error;
  error.field = "time";
  error.found = std::string(text);
  error.expected = "hh:mm";
  if (text.empty()) return error;
  error.code = ErrorCode::wrong_type;
  int before = 0;
  int digits = 0;
  std::size_t i = 0;
  for (; i < text.size() && is_digit(text[i]) && digits < 4; ++i, ++digits) before = before * 10 + (text[i] - '0');
  if (digits == 0) return error;
  int hour = before;
  int minute = 0;
  if (i < text.size()) {
    if (digits > 2 || (text[i] != ':' && text[i] != '.')) return error;
    if (text.size() != i + 3 || !is_digit(text[i + 1]) || !is_digit(text[i + 2])) return error;
    minute = (text[i + 1] - '0') * 10 + (text[i + 2] - '0');
  } else if (digits > 2) {
    hour = before / 100;
    minute = before % 100;
  }
  if (hour > 23 || minute > 59) return error;
  return hour * 60 + minute;
}

}  // namespace saltrafter
