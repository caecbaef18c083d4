// How fast a piece may dry, and where a course goes beyond.
#pragma once

#include <optional>

#include "core/base/base.h"
#include "core/drying/body.h"
#include "core/drying/trials.h"
#include "core/tables/tables.h"

namespace saltrafter::drying {

// Beside the bands of the case-hardening index (run.h): a rim so dry before the piece has lost so much.
inline constexpr Assumption kDryRim{"drying.dry_rim", 0.78, "aw", "choice", 0.75, 0.80};
inline constexpr Assumption kDryRimBefore{"drying.dry_rim_before", 0.20, "", "choice", 0.20, 0.20};

// Set points that are advised lie between these.
inline constexpr Assumption kDriest{"drying.driest_set_point", 0.60, "", "choice", 0.55, 0.65};
inline constexpr Assumption kDampest{"drying.dampest_set_point", 0.92, "", "choice", 0.88, 0.95};

// Exact at the limit is kept; after rounding to 1e-9, so that page and desktop agree.
inline bool is_over(double value, double limit) { return value > limit + 1e-9; }

// The most that a piece of this size may lose in a day: a row of the table. Thickness counts as diameter.
const tables::DailyLoss& daily_loss_limit(Kind kind, Metres diameter);

// What of a course comes nearest to the limits, after one day and up to another.
struct Pace {
  double daily_loss = 0.0;  // most, share of the weight at hanging
  Days daily_loss_day;
  double hardening = 0.0;   // most of the case-hardening index
  Days hardening_day;
  std::optional<WaterActivity> dry_rim;  // the driest under kDryRim before kDryRimBefore of loss; or none
  Days dry_rim_day;
};
Pace pace(const TrialCourse& course, Days after, Days until);

enum class Bound { daily_loss, hardening };

// The limit of action that this goes beyond (the row's high, kActAbove, the dry rim); daily loss first.
std::optional<Bound> beyond(const Pace& pace, const tables::DailyLoss& limit);

}  // namespace saltrafter::drying
