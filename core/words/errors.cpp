#include <cmath>
#include <string>

#include "core/words/sentence.h"

namespace saltrafter::words {
namespace {

// As many decimals as the bound has, three at most: 0.5 stays 0.5, 100 stays 100.
Text bound(const Language& language, double value, const std::string& unit) {
  int decimals = 0;
  double scaled = value;
  while (decimals < 3 && std::abs(scaled - std::round(scaled)) > 1e-9 * std::fmax(1.0, std::abs(scaled))) {
    ++decimals;
    scaled = value * std::pow(10.0, decimals);
  }
  return measure(language, value, decimals, unit);
}

Text range_sentence(const Language& l, const Error& e) {
  if (e.low && e.high) {
    return text(l, Id::error_out_of_range,
                {arg("low", bound(l, *e.low, "")), arg("high", bound(l, *e.high, e.unit))});
  }
  if (e.low) return text(l, Id::error_too_low, {arg("low", bound(l, *e.low, e.unit))});
  if (e.high) return text(l, Id::error_too_high, {arg("high", bound(l, *e.high, e.unit))});
  return text(l, Id::error_out_of_range_plain);
}

}  // namespace

Text sentence(const Language& l, const Error& e) {
  const Arg field = arg("field", e.field);
  const Arg found = arg("found", e.found);
  // Several right answers stand parted by '|'.
  std::string choices;
  for (const char c : e.expected) choices += c == '|' ? std::string(", ") : std::string(1, c);
  const Arg expected = arg("expected", choices);
  const Arg high = arg("high", number(l, e.high ? *e.high : 0.0, 0));
  switch (e.code) {
    case ErrorCode::missing:
      return text(l, Id::error_missing);
    case ErrorCode::not_a_number:
      return text(l, Id::error_not_a_number, {found});
    case ErrorCode::ambiguous_number: {
      const std::size_t bar = e.expected.find('|');
      const std::string_view all = e.expected;
      return text(l, Id::error_ambiguous_number,
                  {arg("one", all.substr(0, bar)),
                   arg("other", bar == std::string::npos ? std::string_view() : all.substr(bar + 1))});
    }
    case ErrorCode::out_of_range:
      return range_sentence(l, e);
    case ErrorCode::unknown_unit:
      return text(l, Id::error_unknown_unit, {found, expected});
    case ErrorCode::unknown_value:
      return text(l, Id::error_unknown_value, {field, found, expected});
    case ErrorCode::wrong_type:
      return text(l, Id::error_wrong_type, {field, found, expected});
    case ErrorCode::duplicate_key:
      return text(l, Id::error_duplicate_key, {field});
    case ErrorCode::cut_off:
      return text(l, Id::error_cut_off);
    case ErrorCode::not_json:
      return text(l, Id::error_not_json, {found});
    case ErrorCode::too_deep:
      return text(l, Id::error_too_deep, {high});
    case ErrorCode::too_large:
      return text(l, Id::error_too_large, {field, high});
    case ErrorCode::wrong_format:
      return text(l, Id::error_wrong_format);
    case ErrorCode::newer_schema:
      return text(l, Id::error_newer_schema);
    case ErrorCode::damaged:
      return text(l, Id::error_damaged);
    case ErrorCode::refused:
      return text(l, Id::error_refused, {field});
    case ErrorCode::not_found:
      return text(l, Id::error_not_found, {field});
    case ErrorCode::not_converged:
      return text(l, Id::error_not_converged, {field});
    case ErrorCode::read_only:
      return text(l, Id::error_read_only);
    case ErrorCode::storage_full:
      return text(l, Id::error_storage_full);
    case ErrorCode::storage_denied:
      return text(l, Id::error_storage_denied);
  }
  return Text();
}

}  // namespace saltrafter::words
