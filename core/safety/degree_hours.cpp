#include <algorithm>
#include <cmath>

#include "core/safety/fermentation.h"
#include "core/safety/judge.h"

namespace saltrafter::safety {
namespace {

double rounded(double value) { return std::round(value * 1e9) / 1e9; }

double in_degrees_of(DegreeScheme scheme, double celsius) {
  return rounded(scheme == DegreeScheme::us ? celsius * 1.8 + 32.0 : celsius);
}

bool reaches(const tables::DegreeHourClass& row, double degrees) {
  switch (row.reach) {
    case tables::ClassReach::below:
      return row.highest && degrees < *row.highest;
    case tables::ClassReach::through:
      return row.highest && degrees <= *row.highest;
    case tables::ClassReach::open:
      break;
  }
  return true;
}

const tables::DegreeHourClass* class_of(DegreeScheme scheme, double degrees) {
  for (const tables::DegreeHourClass& row : tables::degree_hours()) {
    if (row.scheme == scheme && reaches(row, degrees)) return &row;
  }
  return nullptr;
}

bool counts(const Held& held) {
  return held.hours >= 0.0 && std::isfinite(held.hours) && std::isfinite(held.temperature.value) &&
         std::isfinite(held.uncertainty_k);
}

}  // namespace

DegreeHours degree_hours(DegreeScheme scheme, const std::vector<Held>& course) {
  DegreeHours sum;
  sum.scheme = scheme;
  const double per_kelvin = scheme == DegreeScheme::us ? 1.8 : 1.0;
  bool any = false;
  double highest_upper_c = 0.0;
  for (const Held& held : course) {
    if (!counts(held)) continue;
    const double upper_c = held.temperature.value + held.uncertainty_k;
    sum.highest = any ? std::max(sum.highest, held.temperature) : held.temperature;
    highest_upper_c = any ? std::max(highest_upper_c, upper_c) : upper_c;
    any = true;
  }
  sum.row = any ? class_of(scheme, in_degrees_of(scheme, sum.highest.value)) : nullptr;
  if (sum.row == nullptr) return sum;
  sum.limit = sum.row->limit;
  for (const Held& held : course) {
    if (!counts(held)) continue;
    const double excess = in_degrees_of(scheme, held.temperature.value) - sum.row->base;
    if (rounded(excess) <= 0.0 || held.hours <= 0.0) continue;
    sum.above_base = true;
    sum.count += held.hours * excess;
    sum.uncertainty += held.hours * held.uncertainty_k * per_kelvin;
  }
  if (!sum.above_base) {
    sum.level = Level::does_not_apply;
    return sum;
  }
  sum.level = judge(sum.count, sum.limit, tables::LimitSense::most, sum.row->origin.known,
                    usual_near_margin(sum.limit), sum.uncertainty)
                  .level;
  const tables::DegreeHourClass* upper = class_of(scheme, in_degrees_of(scheme, highest_upper_c));
  if (sum.level == Level::met && upper != nullptr &&
      rounded(sum.count + sum.uncertainty - upper->limit) >= 0.0) {
    sum.level = Level::near;
  }
  return sum;
}

std::optional<double> longest_hours(DegreeScheme scheme, Celsius temperature) {
  if (!std::isfinite(temperature.value)) return std::nullopt;
  const double degrees = in_degrees_of(scheme, temperature.value);
  const tables::DegreeHourClass* row = class_of(scheme, degrees);
  if (row == nullptr || rounded(degrees - row->base) <= 0.0) return std::nullopt;
  return row->limit / (degrees - row->base);
}

}  // namespace saltrafter::safety
