#include "core/drying/pace.h"

#include "core/drying/run.h"

namespace saltrafter::drying {

const tables::DailyLoss& daily_loss_limit(Kind kind, Metres diameter) {
  const tables::CuredProduct product =
      kind == Kind::minced ? tables::CuredProduct::sausage : tables::CuredProduct::whole_muscle;
  const tables::DailyLoss* found = &tables::daily_loss().front();
  for (const tables::DailyLoss& row : tables::daily_loss()) {
    if (row.product == product && is_over(diameter.value, row.diameter_over.value)) {
      found = &row;  // the rows of a product rise
    }
  }
  return *found;
}

Pace pace(const TrialCourse& course, Days after, Days until) {
  Pace out;
  out.daily_loss_day = out.hardening_day = out.dry_rim_day = after;
  for (const DayState& day : course.days) {
    if (!(day.day > after && day.day <= until)) {
      continue;
    }
    if (day.daily_loss > out.daily_loss) {
      out.daily_loss = day.daily_loss;
      out.daily_loss_day = day.day;
    }
    if (day.case_hardening > out.hardening) {
      out.hardening = day.case_hardening;
      out.hardening_day = day.day;
    }
    const bool dry = is_over(kDryRim.value, day.aw_surface.value) && day.loss < kDryRimBefore.value;
    if (dry && !(out.dry_rim && *out.dry_rim <= day.aw_surface)) {
      out.dry_rim = day.aw_surface;
      out.dry_rim_day = day.day;
    }
  }
  return out;
}

std::optional<Bound> beyond(const Pace& pace, const tables::DailyLoss& limit) {
  if (is_over(pace.daily_loss, limit.high)) {
    return Bound::daily_loss;
  }
  if (is_over(pace.hardening, kActAbove) || pace.dry_rim) {
    return Bound::hardening;
  }
  return std::nullopt;
}

}  // namespace saltrafter::drying
