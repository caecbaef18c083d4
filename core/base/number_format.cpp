#include "core/base/number.h"

#include <algorithm>
#include <cmath>

namespace saltrafter {
namespace {

constexpr int kMostDecimals = 6;
constexpr double kNoise = 1e-9;  // binary noise of a decimal figure, in units of the last place kept

double ten_to(int decimals) {
  double power = 1.0;
  for (int i = 0; i < std::clamp(decimals, 0, kMostDecimals); ++i) {
    power *= 10.0;
  }
  return power;
}

// Half up by magnitude, as 2.675 is read and not as it is stored.
double rounded_units(double magnitude, int decimals) {
  const double units = magnitude * ten_to(decimals);
  return units < 1e15 ? std::floor(units + 0.5 + kNoise) : std::floor(units);
}

// The digits of a whole number >= 0, largest first. Beyond 2^53 they are those of the stored number.
std::string digits_of(double whole) {
  std::string digits;
  do {
    const double tenth = std::floor(whole / 10.0);
    const double last = std::clamp(whole - tenth * 10.0, 0.0, 9.0);
    digits.push_back(static_cast<char>('0' + static_cast<int>(last)));
    whole = tenth;
  } while (whole >= 1.0);
  std::reverse(digits.begin(), digits.end());
  return digits;
}

}  // namespace

std::string format_number(double value, int decimals, NumberStyle style) {
  if (!std::isfinite(value)) {
    return "\u2013";
  }
  const int places = std::clamp(decimals, 0, kMostDecimals);
  const double units = rounded_units(std::abs(value), places);
  if (!std::isfinite(units)) {
    return "\u2013";
  }
  std::string digits = digits_of(units);
  const auto least = static_cast<std::size_t>(places) + 1;
  if (digits.size() < least) {
    digits.insert(0, least - digits.size(), '0');
  }
  const std::size_t whole = digits.size() - static_cast<std::size_t>(places);
  std::string text = value < 0.0 && units > 0.0 ? "\u2212" : "";
  for (std::size_t i = 0; i < digits.size(); ++i) {
    if (i == whole) {
      text.push_back(style.decimal_mark);
    } else if (i > 0 && i < whole && (whole - i) % 3 == 0) {
      text += "\u2009";
    }
    text.push_back(digits[i]);
  }
  return text;
}

std::string format_grams(double mass_g, NumberStyle style) {
  const double magnitude = std::abs(mass_g);
  int decimals = 2;
  if (rounded_units(magnitude, 2) >= 1000.0) {  // 10.00 g
    decimals = 1;
  }
  if (rounded_units(magnitude, 1) >= 10000.0) {  // 1000.0 g
    decimals = 0;
  }
  return format_number(mass_g, decimals, style);
}

double round_down(double value, int decimals) {
  const double power = ten_to(decimals);
  const double scaled = value * power;
  return std::abs(scaled) < 1e15 ? std::floor(scaled + kNoise) / power + 0.0 : value;
}

double round_up(double value, int decimals) {
  const double power = ten_to(decimals);
  const double scaled = value * power;
  return std::abs(scaled) < 1e15 ? std::ceil(scaled - kNoise) / power + 0.0 : value;
}

}  // namespace saltrafter
