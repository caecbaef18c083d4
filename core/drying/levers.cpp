#include "core/drying/levers.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

namespace saltrafter::drying {

namespace {

constexpr int kMostSteps = 10;
constexpr std::array<double, 6> kSpeedsMs{0.02, 0.05, 0.1, 0.2, 0.3, 0.5};  // the range of home chambers
constexpr double kSizeStepM = 0.005;
constexpr int kSizeSteps = 4;
constexpr double kSmallestM = 0.020;

// The first stage that dries, from now on.
const Stage* open_stage(const std::vector<Stage>& stages) {
  const auto found =
      std::find_if(stages.begin(), stages.end(), [](const Stage& stage) { return !stage.sealed; });
  return found == stages.end() ? nullptr : &*found;
}

double moved(double value, double by, double low, double high) {
  return by < 0.0 ? std::max(value + by, std::min(value, low)) : std::min(value + by, std::max(value, high));
}

std::vector<Stage> moved(std::vector<Stage> stages, Lever lever, double by, const LeverRange& range) {
  for (Stage& stage : stages) {
    if (stage.sealed) {
      continue;
    }
    if (lever == Lever::humidity) {
      const double to = moved(stage.humidity.value, by, range.driest.value, range.dampest.value);
      stage.humidity = RelativeHumidity(to);
    } else if (lever == Lever::temperature) {
      const double to = moved(stage.temperature.value, by, range.coldest.value, range.warmest.value);
      stage.temperature = Celsius(to);
    } else {
      stage.speed = MetresPerSecond(by);
    }
  }
  return stages;
}

}  // namespace

Result<LeversTask> LeversTask::make(LeversInput input) {
  if (Result<Done> checked = check_hangings(input.pieces, input.saturation, "pieces"); !checked.ok()) {
    return checked.error();
  }
  const double pieces = static_cast<double>(input.pieces.size());
  if (input.middle >= input.pieces.size()) {
    return out_of_range("middle", static_cast<double>(input.middle), 0.0, pieces - 1.0, "");
  }
  if (!(input.searched.value >= 1.0 && input.searched.value <= 3650.0)) {
    return out_of_range("searched", input.searched.value, 1.0, 3650.0, "d");
  }
  const LeverRange& range = input.range;
  if (!(range.driest.value >= 0.0 && range.driest.value <= 0.999)) {
    return out_of_range("range/driest", range.driest.value, 0.0, 0.999, "");
  }
  if (!(range.dampest.value >= range.driest.value && range.dampest.value <= 0.999)) {
    return out_of_range("range/dampest", range.dampest.value, range.driest.value, 0.999, "");
  }
  if (!(range.coldest.value >= -5.0 && range.coldest.value <= 45.0)) {
    return out_of_range("range/coldest", range.coldest.value, -5.0, 45.0, "°C");
  }
  if (!(range.warmest.value >= range.coldest.value && range.warmest.value <= 45.0)) {
    return out_of_range("range/warmest", range.warmest.value, range.coldest.value, 45.0, "°C");
  }
  std::uint64_t key = saltrafter::fold(kHashStart, static_cast<std::uint64_t>(input.middle));
  for (const double v : {input.searched.value, range.driest.value, range.dampest.value, range.coldest.value,
                         range.warmest.value}) {
    key = saltrafter::fold(key, v);
  }
  for (const Hanging& piece : input.pieces) {
    key = fold(key, piece, input.saturation);
  }
  return LeversTask(std::move(input), key);
}

LeversTask::LeversTask(LeversInput input, std::uint64_t key)
    : Trials(input.saturation, key,
             (1 + 4 * kMostSteps + kSpeedsMs.size()) * input.pieces.size() + kSizeSteps),
      input_(std::move(input)) {
  plan_ways();
}

// Ways with the values of their steps.
void LeversTask::plan_ways() {
  const Hanging& middle = input_.pieces[input_.middle];
  const std::vector<Stage> ahead = cut(middle.stages, middle.now).after;
  const auto add = [this](Lever lever, bool more, const std::vector<double>& values) {
    LeverWay way;
    way.lever = lever;
    way.more = more;
    for (const double value : values) {
      way.steps.push_back({value, {}, 0.0, 0.0});
    }
    if (!way.steps.empty()) {
      to_try_.push_back(std::move(way));
    }
  };
  if (const Stage* now = open_stage(ahead)) {
    const auto by_steps = [](double from, double step, double low, double high) {
      std::vector<double> values;
      for (int k = 1; k <= kMostSteps; ++k) {
        const double value = from + step * k;
        if (is_over(low, value) || is_over(value, high)) {
          break;
        }
        values.push_back(value);
      }
      return values;
    };
    const LeverRange& range = input_.range;
    for (const bool more : {false, true}) {
      const double step = more ? 0.01 : -0.01;
      add(Lever::humidity, more,
          by_steps(now->humidity.value, step, range.driest.value, range.dampest.value));
    }
    for (const bool more : {false, true}) {
      const double step = more ? 1.0 : -1.0;
      add(Lever::temperature, more,
          by_steps(now->temperature.value, step, range.coldest.value, range.warmest.value));
    }
    for (const bool more : {false, true}) {
      std::vector<double> values;
      for (const double speed : kSpeedsMs) {
        if (more ? is_over(speed, now->speed.value) : is_over(now->speed.value, speed)) {
          values.push_back(speed);
        }
      }
      if (!more) {
        std::reverse(values.begin(), values.end());
      }
      add(Lever::speed, more, values);
    }
  }
  std::vector<double> sizes;
  for (int k = 1; k <= kSizeSteps; ++k) {
    const double diameter_m = middle.geometry.diameter.value - kSizeStepM * k;
    if (!is_over(kSmallestM, diameter_m) && !next_batch(diameter_m).empty()) {
      sizes.push_back(diameter_m);
    }
  }
  add(Lever::size, false, sizes);
  std::reverse(to_try_.begin(), to_try_.end());
}

// The middle piece made anew, hung in the whole programme; nothing where it cannot be so small.
std::vector<Hanging> LeversTask::next_batch(double diameter_m) const {
  Hanging piece = input_.pieces[input_.middle];
  piece.geometry.diameter = Metres(diameter_m);
  Result<Body> body = with_size(piece.body, piece.geometry);
  if (!body.ok()) {
    return {};
  }
  piece.body = std::move(body).value();
  piece.now = Days(0.0);
  return {piece};
}

Trial LeversTask::trial_of(const Hanging& piece) const {
  Trial trial{piece.body, piece.stages, piece.factors, whole_days(input_.searched.value)};
  trial.enough_loss = std::max(piece.needed_loss, 1e-9);
  trial.not_before = piece.now.value + 1.0;
  return trial;
}

std::vector<Trial> LeversTask::next_round(const std::vector<TrialCourse>& courses) {
  if (!planned_done_ && courses.empty()) {
    std::vector<Trial> trials;
    for (const Hanging& piece : input_.pieces) {
      trials.push_back(trial_of(piece));
    }
    return trials;
  }
  if (!planned_done_) {
    const Judged planned = judge(courses, 0, input_.pieces, input_.middle);
    levers_.planned = planned.step;
    levers_.planned.value = input_.pieces[input_.middle].geometry.diameter.value;
    levers_.bound = planned.bound;
    next_planned_ = judge(courses, input_.middle, next_batch(levers_.planned.value), 0);
    planned_done_ = true;
  } else {
    take(courses);
  }
  return to_try_.empty() ? std::vector<Trial>{} : trials_of(to_try_.back(), to_try_.back().steps[step_].value);
}

std::vector<Trial> LeversTask::trials_of(const LeverWay& way, double value) const {
  std::vector<Trial> trials;
  if (way.lever == Lever::size) {
    for (const Hanging& piece : next_batch(value)) {
      trials.push_back(trial_of(piece));
    }
    return trials;
  }
  const Hanging& middle = input_.pieces[input_.middle];
  const std::vector<Stage> ahead = cut(middle.stages, middle.now).after;
  const Stage* now = open_stage(ahead);  // not null where a way changes the air
  const double by = way.lever == Lever::humidity      ? value - now->humidity.value
                    : way.lever == Lever::temperature ? value - now->temperature.value
                                                      : value;
  for (Hanging piece : input_.pieces) {
    const CutStages parts = cut(piece.stages, piece.now);
    piece.stages = joined(parts.before, moved(parts.after, way.lever, by, input_.range));
    trials.push_back(trial_of(piece));
  }
  return trials;
}

LeversTask::Judged LeversTask::judge(const std::vector<TrialCourse>& courses, std::size_t first,
                                     const std::vector<Hanging>& pieces, std::size_t middle) const {
  Judged out;
  double nearest = -1.0;
  for (std::size_t p = 0; p < pieces.size(); ++p) {
    const TrialCourse& course = courses[first + p];
    const tables::DailyLoss& limit = daily_loss_limit(pieces[p].kind, pieces[p].geometry.diameter);
    const Pace ahead = pace(course, pieces[p].now, course.days.back().day);
    if (ahead.daily_loss / limit.high > nearest) {
      nearest = ahead.daily_loss / limit.high;
      out.step.daily_loss = ahead.daily_loss;
    }
    out.step.hardening = std::max(out.step.hardening, ahead.hardening);
    const std::optional<Bound> bound = beyond(ahead, limit);
    if (bound && (!out.bound || *bound < *out.bound)) {
      out.bound = bound;
    }
    const std::optional<Days> day = course.day_of(pieces[p].needed_loss);
    if (p == middle && day && *day <= input_.searched) {
      out.step.expected = std::max(*day, pieces[p].least);
    }
  }
  return out;
}

// A step of the way at hand. The way ends with its last one, or before the first that goes beyond a limit.
void LeversTask::take(const std::vector<TrialCourse>& courses) {
  LeverWay& way = to_try_.back();
  const bool size = way.lever == Lever::size;
  const Judged planned = size ? next_planned_ : Judged{levers_.planned, levers_.bound};
  const double value = way.steps[step_].value;
  const Judged judged =
      size ? judge(courses, 0, next_batch(value), 0) : judge(courses, 0, input_.pieces, input_.middle);
  const std::optional<Days>& day = judged.step.expected;
  const std::optional<Days>& before = planned.step.expected;
  const bool sooner = day && (!before || is_over(before->value, day->value));
  if (judged.bound && (sooner || !planned.bound)) {
    way.bound = judged.bound;
    way.steps.resize(step_);
  } else {
    way.steps[step_] = judged.step;
    way.steps[step_].value = value;
    ++step_;
  }
  if (step_ == way.steps.size()) {
    levers_.ways.push_back(std::move(way));
    to_try_.pop_back();
    step_ = 0;
  }
}

}  // namespace saltrafter::drying
