#include "core/safety/stage_times.h"

#include <algorithm>
#include <cmath>

namespace saltrafter::safety {
namespace {

constexpr double kMsADay = 86400000.0;
constexpr double kMostDays = 365.0;
constexpr double kSwing_k = 2.0;  // of the air in a fridge, above its set point (choice)

const recipe::Stage* stage_of(const recipe::Recipe& recipe, const Id& id) {
  for (const recipe::Stage& stage : recipe.stages) {
    if (stage.id == id) return &stage;
  }
  return nullptr;
}

bool of_air(const Reading& reading) {
  return reading.kind == ReadingKind::chamber_air && reading.instrument != InstrumentState::failed &&
         std::isfinite(reading.value);
}

bool lies_in_salt(const recipe::Recipe& recipe, const recipe::Stage& stage) {
  return stage.kind == recipe::StageKind::cure &&
         (recipe.method == recipe::CureMethod::salt_box || recipe.method == recipe::CureMethod::brine);
}

bool dries(const recipe::Stage& stage) {
  return !stage.sealed && stage.kind != recipe::StageKind::cure && stage.kind != recipe::StageKind::rest;
}

double mean_air_c(const Evidence& evidence, std::int64_t from_utc_ms, std::int64_t to_utc_ms,
                  double planned_c) {
  double sum = 0.0;
  int n = 0;
  for (const Reading& reading : evidence.readings) {
    if (!of_air(reading) || reading.at_utc_ms < from_utc_ms || reading.at_utc_ms > to_utc_ms) continue;
    sum += reading.value;
    ++n;
  }
  return n > 0 ? sum / n : planned_c;
}

}  // namespace

std::int64_t now_of(const Subject& subject) {
  if (subject.now_utc_ms != 0) return subject.now_utc_ms;
  return std::chrono::duration_cast<std::chrono::milliseconds>(subject.today.time_since_epoch()).count();
}

const StageDone* done_of(const Subject& subject, std::size_t stage) {
  if (stage >= subject.recipe->stages.size()) return nullptr;
  for (const StageDone& done : subject.evidence.stages) {
    if (done.stage == subject.recipe->stages[stage].id) return &done;
  }
  return nullptr;
}

std::optional<double> highest_in(const Subject& subject, const StageDone& done) {
  const std::int64_t end = done.ended_utc_ms.value_or(std::max(now_of(subject), done.began_utc_ms));
  std::optional<double> highest;
  for (const Reading& reading : subject.evidence.readings) {
    if (!of_air(reading) || reading.at_utc_ms < done.began_utc_ms || reading.at_utc_ms > end) continue;
    highest = std::max(highest.value_or(reading.value), reading.value);
  }
  return highest;
}

std::optional<Warm> first_warm_in(const Subject& subject, const StageDone& done) {
  const std::int64_t end = done.ended_utc_ms.value_or(std::max(now_of(subject), done.began_utc_ms));
  const Celsius mean(mean_air_c(subject.evidence, done.began_utc_ms, end, 0.0));
  std::optional<Warm> first;
  for (const Reading& reading : subject.evidence.readings) {
    if (!of_air(reading) || reading.at_utc_ms < done.began_utc_ms || reading.at_utc_ms > end) continue;
    const Celsius air(reading.value);
    const bool warm = !is_cold(mean) ? !is_cold(air) : !is_cold(Celsius(air.value - kSwing_k));
    if (warm && (!first || reading.at_utc_ms < first->at_utc_ms)) first = Warm{reading.at_utc_ms, reading.value};
  }
  return first;
}

std::vector<SaltTime> times_done(const Subject& subject, std::int64_t until_utc_ms, double loss) {
  std::vector<StageDone> stages;
  for (const StageDone& done : subject.evidence.stages) {
    if (done.began_utc_ms < until_utc_ms && stage_of(*subject.recipe, done.stage) != nullptr)
      stages.push_back(done);
  }
  std::sort(stages.begin(), stages.end(), [](const StageDone& a, const StageDone& b) {
    if (a.began_utc_ms != b.began_utc_ms) return a.began_utc_ms < b.began_utc_ms;
    return a.stage.text < b.stage.text;
  });
  std::vector<SaltTime> times;
  std::vector<bool> dry;
  double all_days = 0.0;
  double dry_days = 0.0;
  for (std::size_t i = 0; i < stages.size(); ++i) {
    const recipe::Stage& stage = *stage_of(*subject.recipe, stages[i].stage);
    std::int64_t end = std::min(stages[i].ended_utc_ms.value_or(until_utc_ms), until_utc_ms);
    if (i + 1 < stages.size()) end = std::min(end, stages[i + 1].began_utc_ms);
    const double lasted = static_cast<double>(end - stages[i].began_utc_ms) / kMsADay;
    SaltTime time;
    time.days = Days(std::clamp(lasted, 0.0, std::max(kMostDays - all_days, 0.0)));
    time.temperature =
        Celsius(mean_air_c(subject.evidence, stages[i].began_utc_ms, end, stage.temperature.value));
    time.in_salt = lies_in_salt(*subject.recipe, stage);
    all_days += time.days.value;
    if (dries(stage)) dry_days += time.days.value;
    times.push_back(time);
    dry.push_back(dries(stage));
  }
  double dried_days = 0.0;
  for (std::size_t i = 0; i < times.size(); ++i) {
    if (dry[i]) dried_days += times[i].days.value;
    if (dry_days > 0.0) times[i].loss_at_end = std::clamp(loss, 0.0, 0.9) * dried_days / dry_days;
  }
  return times;
}

std::vector<SaltTime> times_ahead(const Subject& subject, std::size_t stage) {
  const recipe::Recipe& recipe = *subject.recipe;
  if (subject.evidence.stages.empty()) return times_before(recipe, stage);
  const std::int64_t now = now_of(subject);
  std::vector<SaltTime> times = times_done(subject, now, subject.evidence.loss_now);
  const std::vector<SaltTime> planned = times_before(recipe, stage);
  double all_days = 0.0;
  double loss = 0.0;
  for (const SaltTime& time : times) {
    all_days += time.days.value;
    loss = std::max(loss, time.loss_at_end);
  }
  for (std::size_t i = 0; i < planned.size(); ++i) {
    const StageDone* done = done_of(subject, i);
    if (done != nullptr && done->ended_utc_ms) continue;
    double left_days = planned[i].days.value;
    if (done != nullptr)
      left_days -= static_cast<double>(std::max(now, done->began_utc_ms) - done->began_utc_ms) / kMsADay;
    SaltTime time = planned[i];
    time.days = Days(std::clamp(left_days, 0.0, std::max(kMostDays - all_days, 0.0)));
    // What a stage plans to lose it is taken to lose only in days that it still has.
    if (time.days.value > 0.0) loss = std::max(loss, planned[i].loss_at_end);
    time.loss_at_end = loss;
    all_days += time.days.value;
    times.push_back(time);
  }
  return times;
}

}  // namespace saltrafter::safety
