#include "core/recipe/isotherm.h"

#include <algorithm>
#include <cmath>

#include "core/recipe/brine.h"

namespace saltrafter::recipe {

namespace {

constexpr double kMostActivity = 0.99999;
// Salt falls out of the brine below saturation; over this span the water it held goes to nothing, so that the
// curve stays one that can be inverted.
constexpr double kSaltGone = 0.745;
constexpr double kSaltWhole = kSaturatedBrineActivity;
constexpr int kPoints = 420;

double salt_part(double a) {
  if (a <= kSaltGone) {
    return 0.0;
  }
  const double ramp = std::min((a - kSaltGone) / (kSaltWhole - kSaltGone), 1.0);
  const Result<double> held = water_per_salt(WaterActivity(a));
  return held.ok() ? ramp * held.value() : 0.0;
}

}  // namespace

double gab_content(const Gab& gab, WaterActivity activity) {
  const double ka = gab.k * std::clamp(activity.value, 0.0, 1.0);
  return gab.xm * gab.c * ka / ((1.0 - ka) * (1.0 - ka + gab.c * ka));
}

Solids solids_of(const Composition& c) {
  const double dry_g = c.protein_g + c.fat_g + c.salt_g + c.rest_g;
  if (!(dry_g > 0.0)) {
    return {};
  }
  return {(c.protein_g + c.rest_g) / dry_g, c.salt_g / dry_g, 0.0};
}

double water_content(const Composition& c) {
  const double dry_g = c.protein_g + c.fat_g + c.salt_g + c.rest_g;
  return dry_g > 0.0 ? c.water_g / dry_g : 0.0;
}

Result<Isotherm> Isotherm::make(const Solids& solids, const Gab& gab) {
  const auto within = [](double v, double low, double high) { return v >= low && v <= high; };
  if (!within(solids.protein_and_rest, 0.0, 1.0)) {
    return out_of_range("protein_and_rest", solids.protein_and_rest, 0.0, 1.0, "");
  }
  if (!within(solids.salt, 0.0, 1.0)) {
    return out_of_range("salt", solids.salt, 0.0, 1.0, "");
  }
  if (!within(solids.osmol_per_kg, 0.0, 20.0)) {
    return out_of_range("osmol_per_kg", solids.osmol_per_kg, 0.0, 20.0, "mol/kg");
  }
  if (!within(gab.xm, 0.001, 1.0)) {
    return out_of_range("xm", gab.xm, 0.001, 1.0, "kg/kg");
  }
  if (!within(gab.c, 0.1, 1000.0)) {
    return out_of_range("c", gab.c, 0.1, 1000.0, "");
  }
  if (!within(gab.k, 0.1, 0.9999)) {
    return out_of_range("k", gab.k, 0.1, 0.9999, "");
  }
  if (!(solids.protein_and_rest > 1e-4)) {
    Error error;
    error.code = ErrorCode::refused;
    error.field = "solids";
    return error;
  }
  Isotherm out;
  out.solids_ = solids;
  out.gab_ = gab;
  // Even steps in ln(1 - a): dense near 1, where a small change of activity is much water.
  std::vector<double> activities{0.0, kSaltGone, kSaltWhole};
  const double span = std::log(1.0 - kMostActivity);
  for (int i = 1; i <= kPoints; ++i) {
    const double a = std::min(1.0 - std::exp(span * i / kPoints), kMostActivity);
    // Next to the ends of the salt's ramp a knot would make a sliver of a piece.
    if (std::abs(a - kSaltGone) > 1e-4 && std::abs(a - kSaltWhole) > 1e-4) {
      activities.push_back(a);
    }
  }
  std::sort(activities.begin(), activities.end());
  for (const double a : activities) {
    out.knots_.push_back({out.content(WaterActivity(a)), a, 0.0, 0.0});
  }
  // Slopes from the formula, one-sided, so that the kinks at the ramp's ends stay kinks; limited to three times
  // the chord, which keeps each cubic piece monotone (Fritsch and Carlson, memory).
  for (std::size_t i = 0; i + 1 < out.knots_.size(); ++i) {
    Knot& p = out.knots_[i];
    Knot& q = out.knots_[i + 1];
    const double step = 1e-4 * (q.activity - p.activity);
    const double chord = (q.activity - p.activity) / (q.content - p.content);
    const double rise_p = out.content(WaterActivity(p.activity + step)) - p.content;
    const double rise_q = q.content - out.content(WaterActivity(q.activity - step));
    p.slope_above = std::min(step / rise_p, 3.0 * chord);
    q.slope_below = std::min(step / rise_q, 3.0 * chord);
  }
  return out;
}

double Isotherm::content(WaterActivity activity) const {
  const double a = std::clamp(activity.value, 0.0, kMostActivity);
  if (!(a > 0.0)) {
    return 0.0;
  }
  double x = solids_.protein_and_rest * gab_content(gab_, WaterActivity(a)) + solids_.salt * salt_part(a);
  if (solids_.osmol_per_kg > 0.0) {
    x += solids_.osmol_per_kg * kWaterKgMol / -std::log(a);
  }
  return x;
}

Isotherm::Point Isotherm::at(double content) const {
  const auto above = std::upper_bound(knots_.begin() + 1, knots_.end() - 1, content,
                                      [](double x, const Knot& knot) { return x < knot.content; });
  const Knot& q = *above;
  const Knot& p = *(above - 1);
  const double width = q.content - p.content;
  const double t = std::clamp((content - p.content) / width, 0.0, 1.0);
  const double rise = q.activity - p.activity;
  const double b = 3.0 * rise - width * (2.0 * p.slope_above + q.slope_below);
  const double c = width * (p.slope_above + q.slope_below) - 2.0 * rise;
  return {p.activity + t * (width * p.slope_above + t * (b + t * c)),
          p.slope_above + t * (2.0 * b + 3.0 * t * c) / width};
}

}  // namespace saltrafter::recipe
