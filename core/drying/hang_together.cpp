#include "core/drying/hang_together.h"

#include <algorithm>
#include <cmath>
#include <utility>

namespace saltrafter::drying {

namespace {

Stage air(Celsius temperature, double humidity, MetresPerSecond speed) {
  Stage stage;
  stage.duration = Days(kSearchedShared.value);
  stage.temperature = temperature;
  stage.humidity = RelativeHumidity(humidity);
  stage.speed = speed;
  return stage;
}

// The fields of a stage under the name of the chamber's air.
Result<Done> check_air(const Stage& stage) {
  const Result<Done> checked = check_stages({stage});
  if (checked.ok()) {
    return Done{};
  }
  Error error = checked.error();
  error.field = "air/" + error.field.substr(error.field.rfind('/') + 1);
  return error;
}

Trial trial_in(const Hanging& piece, const Stage& stage, double days) {
  return {piece.body, joined(cut(piece.stages, piece.now).before, {stage}), piece.factors,
          whole_days(piece.now.value + days)};
}

double days_of(const Fare& fare) { return fare.days ? fare.days->value : kSearchedShared.value; }

}  // namespace

Result<TogetherTask> TogetherTask::make(TogetherInput input) {
  if (Result<Done> checked = check_hangings(input.pieces, input.saturation, "pieces"); !checked.ok()) {
    return checked.error();
  }
  const Stage stage = air(input.temperature, kDriest.value, input.speed);
  if (Result<Done> checked = check_air(stage); !checked.ok()) {
    return checked.error();
  }
  std::uint64_t key = fold(kHashStart, {stage}, input.saturation);
  for (const Hanging& piece : input.pieces) {
    key = fold(key, piece, input.saturation);
  }
  const double points = std::round(100.0 * (kDampest.value - kDriest.value));
  return TogetherTask(std::move(input), static_cast<std::size_t>(points) + 1, key);
}

TogetherTask::TogetherTask(TogetherInput input, std::size_t set_points, std::uint64_t key)
    : Trials(input.saturation, key, set_points * input.pieces.size()), input_(std::move(input)) {
  together_.set_points.resize(set_points);
  for (std::size_t k = 0; k < set_points; ++k) {
    const double points = std::round(100.0 * kDriest.value) + static_cast<double>(k);
    together_.set_points[k].humidity = RelativeHumidity(points / 100.0);
  }
}

// A round a set point.
std::vector<Trial> TogetherTask::next_round(const std::vector<TrialCourse>& courses) {
  std::size_t next = 0;
  while (next < together_.set_points.size() && !together_.set_points[next].fares.empty()) {
    ++next;
  }
  if (!courses.empty()) {
    SetPoint& at = together_.set_points[next];
    for (std::size_t p = 0; p < input_.pieces.size(); ++p) {
      const Hanging& piece = input_.pieces[p];
      const TrialCourse& course = courses[p];
      const Pace ahead = pace(course, piece.now, course.days.back().day);
      Fare fare;
      fare.daily_loss = ahead.daily_loss;
      fare.hardening = ahead.hardening;
      fare.bound = beyond(ahead, daily_loss_limit(piece.kind, piece.geometry.diameter));
      if (const std::optional<Days> day = course.day_of(piece.needed_loss)) {
        const double left_d = std::max({day->value, piece.least.value, piece.now.value}) - piece.now.value;
        fare.days = left_d <= kSearchedShared.value ? std::optional<Days>(Days(left_d)) : std::nullopt;
      }
      at.beyond += fare.bound ? 1U : 0U;
      at.fares.push_back(fare);
    }
    ++next;
  }
  if (next == together_.set_points.size()) {
    choose();
    return {};
  }
  const Stage stage = air(input_.temperature, together_.set_points[next].humidity.value, input_.speed);
  std::vector<Trial> trials;
  for (const Hanging& piece : input_.pieces) {
    Trial trial = trial_in(piece, stage, kSearchedShared.value);
    trial.enough_loss = std::max(piece.needed_loss, 1e-9);
    trial.not_before = piece.now.value + 1.0;
    trials.push_back(std::move(trial));
  }
  return trials;
}

void TogetherTask::choose() {
  std::vector<SetPoint>& points = together_.set_points;
  std::vector<std::size_t> own;  // each piece's best set point
  for (std::size_t p = 0; p < input_.pieces.size(); ++p) {
    std::optional<std::size_t> best;
    for (std::size_t k = 0; k < points.size(); ++k) {
      const Fare& fare = points[k].fares[p];
      if (!fare.bound && (!best || !is_over(days_of(fare), days_of(points[*best].fares[p])))) {
        best = k;  // of equals the damper
      }
    }
    own.push_back(best.value_or(points.size() - 1));
  }
  const auto later = [&](std::size_t k, std::size_t p) {
    return std::max(days_of(points[k].fares[p]) - days_of(points[own[p]].fares[p]), 0.0);
  };
  for (std::size_t k = 0; k < points.size(); ++k) {
    for (std::size_t p = 0; p < own.size(); ++p) {
      points[k].delay = points[k].delay + Days(later(k, p));
    }
    const SetPoint& best = points[together_.best];
    const bool fewer = points[k].beyond < best.beyond;
    const bool as_few = points[k].beyond == best.beyond;
    if (fewer || (as_few && !is_over(points[k].delay.value, best.delay.value))) {
      together_.best = k;
    }
  }
  for (std::size_t p = 0; p < own.size(); ++p) {
    const Fare& fare = points[together_.best].fares[p];
    together_.pieces.push_back(
        {input_.pieces[p].id, points[own[p]].humidity, Days(later(together_.best, p)), fare.bound});
  }
  const auto suffers_more = [](const Sufferer& a, const Sufferer& b) {
    const bool beyond_limit = a.bound.has_value();
    return beyond_limit != b.bound.has_value() ? beyond_limit : is_over(a.later.value, b.later.value);
  };
  std::stable_sort(together_.pieces.begin(), together_.pieces.end(), suffers_more);
}

// --- before new ones are hung ---

Beside beside_fresh(const PullChange& change) {
  if (change.pull_after_pa < 0.0) {
    return Beside::takes_up;
  }
  const double least = std::max(kStalledShare.value * change.daily_loss_before, kStalledRate.value);
  return is_over(least, change.daily_loss_after) ? Beside::stalls : Beside::goes_on;
}

Result<HangCheckTask> HangCheckTask::make(HangCheckInput input) {
  if (!input.hanging.empty()) {
    if (Result<Done> checked = check_hangings(input.hanging, input.saturation, "hanging"); !checked.ok()) {
      return checked.error();
    }
  }
  if (Result<Done> checked = check_hangings(input.fresh, input.saturation, "fresh"); !checked.ok()) {
    return checked.error();
  }
  const Stage stage = air(input.temperature, input.humidity.value, input.speed);
  if (Result<Done> checked = check_air(stage); !checked.ok()) {
    return checked.error();
  }
  if (!(input.humidity_rise >= 0.0 && input.humidity_rise <= 0.5)) {
    return out_of_range("humidity_rise", input.humidity_rise, 0.0, 0.5, "");
  }
  std::uint64_t key = fold(saltrafter::fold(kHashStart, input.humidity_rise), {stage}, input.saturation);
  for (const std::vector<Hanging>* all : {&input.hanging, &input.fresh}) {
    key = saltrafter::fold(key, static_cast<std::uint64_t>(all->size()));
    for (const Hanging& piece : *all) {
      key = fold(key, piece, input.saturation);
    }
  }
  return HangCheckTask(std::move(input), key);
}

HangCheckTask::HangCheckTask(HangCheckInput input, std::uint64_t key)
    : Trials(input.saturation, key, 2 * input.hanging.size() + input.fresh.size()),
      input_(std::move(input)) {}

// One day on: those that hang in the air as it is, then all in the damper one.
std::vector<Trial> HangCheckTask::next_round(const std::vector<TrialCourse>& courses) {
  const double damper = std::min(input_.humidity.value + input_.humidity_rise, 0.999);
  const std::size_t count = input_.hanging.size();
  if (courses.empty()) {
    const Stage now = air(input_.temperature, input_.humidity.value, input_.speed);
    const Stage then = air(input_.temperature, damper, input_.speed);
    std::vector<Trial> trials;
    const auto add = [&trials](const std::vector<Hanging>& pieces, const Stage& stage) {
      for (const Hanging& piece : pieces) {
        Trial trial = trial_in(piece, stage, 0.0);
        trial.marks = {piece.now.value, piece.now.value + 1.0};
        trials.push_back(std::move(trial));
      }
    };
    add(input_.hanging, now);
    add(input_.hanging, then);
    add(input_.fresh, then);
    return trials;
  }
  const auto given_off_g_h = [&](const Hanging& piece, const TrialCourse& course) {
    return piece.hung.value * course.days.back().daily_loss / 24.0;
  };
  const double psat_pa = saturation().psat_pa(input_.temperature.value);
  for (std::size_t p = 0; p < count; ++p) {
    const TrialCourse& before = courses[p];
    const TrialCourse& after = courses[count + p];
    const double surface = before.days[before.days.size() - 2].aw_surface.value;
    check_.before_g_h += given_off_g_h(input_.hanging[p], before);
    check_.after_g_h += given_off_g_h(input_.hanging[p], after);
    check_.hanging.push_back({input_.hanging[p].id, psat_pa * (surface - input_.humidity.value),
                              psat_pa * (surface - damper), before.days.back().daily_loss,
                              after.days.back().daily_loss});
  }
  for (std::size_t p = 0; p < input_.fresh.size(); ++p) {
    check_.after_g_h += given_off_g_h(input_.fresh[p], courses[2 * count + p]);
  }
  return {};
}

}  // namespace saltrafter::drying
