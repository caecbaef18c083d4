#include "core/drying/batch_odds.h"

#include <algorithm>
#include <cmath>
#include <vector>

namespace saltrafter::drying {

namespace {

constexpr double kFar = 5.0;           // standard deviations of the common part that are looked at
constexpr double kWidestStep = 0.5;    // of it
constexpr double kAsOne = 0.02;        // own over common: below this the pieces are one
constexpr int kHalvings = 14;          // of a range of a few tenths of ln(day): to a hundredth of a day
constexpr double kNothing = 1e-9;      // odds that add nothing told here

double normal_below(double z) { return 0.5 * std::erfc(-z / std::sqrt(2.0)); }

// One piece: its day's logarithm, and the spread of that.
struct Part {
  double ln_day, sd;
};

// Nothing where one of those that hang has no likely day; empty where none needs to dry any more.
std::optional<std::vector<Part>> parts_of(const Forecast& forecast) {
  std::vector<Part> parts;
  bool any = false;
  for (const PieceOutlook& piece : forecast.pieces) {
    if (!piece.hangs) {
      continue;
    }
    if (!piece.dried) {
      return std::nullopt;
    }
    any = true;
    if (piece.dried->value > 0.0) {
      parts.push_back({std::log(piece.dried->value), std::max(piece.day_sd, 1e-9)});
    }
  }
  if (!any) {
    return std::nullopt;
  }
  return parts;
}

double odds(const std::vector<Part>& parts, double together, double ln_day) {
  const double common = std::sqrt(std::clamp(together, 0.0, 1.0));
  const double own = std::sqrt(1.0 - common * common);
  const auto all_given = [&](double z) {
    double product = 1.0;
    for (const Part& part : parts) {
      product *= normal_below(((ln_day - part.ln_day) / part.sd - common * z) / own);
      if (product < kNothing) {
        return 0.0;
      }
    }
    return product;
  };
  if (!(common > 0.0)) {
    return all_given(0.0);
  }
  if (own < kAsOne * common) {
    double least = 1.0;
    for (const Part& part : parts) {
      least = std::min(least, normal_below((ln_day - part.ln_day) / part.sd));
    }
    return least;
  }
  // A trapezoid rule, which for a normal density and steps well below the width of what it weighs errs by far less
  // than anything told here.
  const double step = std::min(kWidestStep, 0.5 * own / common);
  const int steps = static_cast<int>(std::ceil(kFar / step));
  double sum = 0.0;
  double weights = 0.0;
  for (int i = -steps; i <= steps; ++i) {
    const double z = i * step;
    const double weight = std::exp(-0.5 * z * z);
    sum += weight * all_given(z);
    weights += weight;
  }
  return sum / weights;
}

Days least_of(const Forecast& forecast) {
  Days least(0.0);
  for (const PieceOutlook& piece : forecast.pieces) {
    if (piece.hangs) {
      least = std::max(least, piece.least);
    }
  }
  return least;
}

}  // namespace

std::optional<double> odds_of_all(const Forecast& forecast, Days day) {
  const std::optional<std::vector<Part>> parts = parts_of(forecast);
  if (!parts) {
    return std::nullopt;
  }
  if (day < least_of(forecast)) {
    return 0.0;
  }
  if (parts->empty()) {
    return 1.0;
  }
  return day.value > 0.0 ? odds(*parts, forecast.together, std::log(day.value)) : 0.0;
}

std::optional<AllDays> days_of_all(const Forecast& forecast) {
  const std::optional<std::vector<Part>> parts = parts_of(forecast);
  if (!parts) {
    return std::nullopt;
  }
  const Days least = least_of(forecast);
  if (parts->empty()) {
    return AllDays{least, least, least};
  }
  // No piece is there so early, and all are so late.
  double first = parts->front().ln_day;
  double last = first;
  double widest = 0.0;
  for (const Part& part : *parts) {
    first = std::min(first, part.ln_day);
    last = std::max(last, part.ln_day);
    widest = std::max(widest, part.sd);
  }
  const auto day_with = [&](double wanted) {
    double low = first - kFar * widest;
    double high = last + kFar * widest;
    for (int i = 0; i < kHalvings; ++i) {
      const double middle = 0.5 * (low + high);
      (odds(*parts, forecast.together, middle) < wanted ? low : high) = middle;
    }
    return std::max(least, Days(std::exp(0.5 * (low + high))));
  };
  return AllDays{day_with(0.1), day_with(0.5), day_with(0.9)};
}

}  // namespace saltrafter::drying
