// Numbers as people type them in a kitchen, and as they are shown.
//
// One comma or point is always the decimal sign; only a space groups. Where exactly three digits follow it
// and both readings are possible ("1,250"), neither is taken: the error shows both and asks.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "core/base/result.h"

namespace saltrafter {

// What kind of quantity a field takes; decides which units may be typed and what is stored (SI or ratio).
enum class NumberKind {
  mass,         // stored g.       Units: g, kg, oz, lb, mg
  length,       // stored m.       Units: mm, cm, m, in
  temperature,  // stored °C.      Units: °C, C, °F, F
  share,        // stored 0..1.    Units: % (also a bare number in per cent), g/kg
  humidity,     // stored 0..1.    Units: %, % RH
  ppm,          // stored mg/kg.   Units: mg/kg, ppm
  days,         // stored d.       Units: d, h, weeks (w)
  speed,        // stored m/s.     Units: m/s
  plain,        // stored as typed. No unit
};

struct NumberRule {
  std::string field;           // names the input in errors
  NumberKind kind = NumberKind::plain;
  std::string_view unit;       // unit of a bare number, e.g. "g"; empty for plain
  double low = 0.0;            // bounds in stored units, inclusive
  double high = 1e9;
};

struct TypedNumber {
  double value = 0.0;   // in stored units
  std::string unit;     // the unit as typed or assumed
  bool computed = false;  // arithmetic was used, e.g. "1250-38": show the result beneath
};

// Reads text such as "4 200", "4,2 kg", "0,9", "1250-38", "9 lb 4 oz", "55mm", "−2,5 °C". Plus, minus
// (also the sign U+2212), times (* or ×) and divide (/ or ÷), left to right with usual precedence, no
// parentheses. The unit of the last term that names one holds for the terms that name none. A number of which
// only one reading lies within the bounds is not ambiguous, save in a calculation, a mass or a dose in ppm.
// Errors: missing, not_a_number (found: the piece that is wrong), ambiguous_number (expected "1250 g|1.25 g"),
// unknown_unit (expected: list), out_of_range (low, high in the unit typed).
Result<TypedNumber> parse_number(std::string_view text, const NumberRule& rule);

// How numbers are written: decimal mark and the thin space between thousands.
struct NumberStyle {
  char decimal_mark = '.';
};

// Fixed decimals, thin space (U+2009) between thousands from 4 digits on, minus as U+2212, "-0" as "0".
// Not finite: an en dash. Range of decimals 0..6.
std::string format_number(double value, int decimals, NumberStyle style = {});

// Mass in grams with the digits a kitchen scale shows: 0 decimals from 1000 g, 1 from 10 g, 2 below.
std::string format_grams(double mass_g, NumberStyle style = {});

// Rounded to the safe side at `decimals`: a most down, a least up (fixed 1e-9 guard against binary noise).
double round_down(double value, int decimals);
double round_up(double value, int decimals);

}  // namespace saltrafter
