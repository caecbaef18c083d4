#include <algorithm>
#include <cmath>
#include <iterator>
#include <set>

#include "core/safety/fermentation.h"

namespace saltrafter::safety {
namespace {

constexpr double kMsPerHour = 3.6e6;
constexpr std::int64_t kSetMs = 3'600'000;
constexpr std::int64_t kGapMs = 4 * 3'600'000;
constexpr int kPieces = 3;
constexpr double kUsualPh = 0.05;
constexpr double kUsualKelvin = 0.5;
constexpr double kMostHours = 1e9;  // what an hour on the calendar can still be made of

double rounded(double value) { return std::round(value * 1e9) / 1e9; }

bool is_doubtful(const Reading& reading) {
  return reading.instrument == InstrumentState::overdue || reading.instrument == InstrumentState::failed;
}

std::vector<Reading> sorted(const std::vector<Reading>& readings, ReadingKind kind, double low, double high,
                            std::int64_t until_utc_ms) {
  std::vector<Reading> found;
  for (const Reading& reading : readings) {
    if (reading.kind == kind && reading.at_utc_ms <= until_utc_ms && reading.value >= low &&
        reading.value <= high) {
      found.push_back(reading);
    }
  }
  std::sort(found.begin(), found.end(), [](const Reading& a, const Reading& b) {
    return a.at_utc_ms != b.at_utc_ms ? a.at_utc_ms < b.at_utc_ms : a.id < b.id;
  });
  return found;
}

struct AirPoint {
  std::int64_t at_utc_ms = 0;
  double celsius = 0.0;
  double uncertainty_k = 0.0;
};

// Of several at one moment the highest.
std::vector<AirPoint> air_log(const std::vector<Reading>& readings, std::int64_t until_utc_ms) {
  std::vector<AirPoint> log;
  for (const Reading& reading : sorted(readings, ReadingKind::chamber_air, -40.0, 80.0, until_utc_ms)) {
    const AirPoint point{reading.at_utc_ms, reading.value,
                         reading.uncertainty > 0.0 ? reading.uncertainty : kUsualKelvin};
    if (!log.empty() && log.back().at_utc_ms == point.at_utc_ms) {
      if (point.celsius > log.back().celsius) log.back() = point;
    } else {
      log.push_back(point);
    }
  }
  return log;
}

bool may_be_warm(double celsius) {
  return degree_hours(DegreeScheme::us, {{1.0, Celsius(celsius)}}).above_base ||
         degree_hours(DegreeScheme::ca, {{1.0, Celsius(celsius)}}).above_base;
}

// A stretch of time with the temperature it counts at.
struct Stretch {
  std::int64_t from_utc_ms = 0;
  Held held;
};

class Course {
 public:
  // Counts to `end`; the first reading after it, up to `now`, still bounds the time before it.
  Course(const Evidence& evidence, const std::vector<recipe::Stage>& planned, std::int64_t end_utc_ms,
         std::int64_t now_utc_ms)
      : log_(air_log(evidence.readings, now_utc_ms)), end_(end_utc_ms) {
    for (const StageDone& done : evidence.stages) {
      const auto stage = std::find_if(planned.begin(), planned.end(),
                                      [&done](const recipe::Stage& s) { return s.id == done.stage; });
      if (stage == planned.end() || done.began_utc_ms > end_ || !std::isfinite(stage->temperature.value))
        continue;
      stages_.push_back({done.began_utc_ms, done.ended_utc_ms.value_or(end_), stage->temperature.value});
    }
    std::stable_sort(stages_.begin(), stages_.end(),
                     [](const Span& a, const Span& b) { return a.from_utc_ms < b.from_utc_ms; });
    count();
  }

  const std::vector<Stretch>& stretches() const { return stretches_; }
  bool gap() const { return gap_; }

 private:
  struct Span {
    std::int64_t from_utc_ms = 0;
    std::int64_t to_utc_ms = 0;
    double celsius = 0.0;
  };

  // The last that began and still lasts just after `at`.
  const Span* stage_after(std::int64_t at) const {
    const Span* found = nullptr;
    for (const Span& span : stages_) {
      if (span.from_utc_ms <= at && at < span.to_utc_ms) found = &span;
    }
    return found;
  }

  void count() {
    std::set<std::int64_t> marks{end_};
    for (const AirPoint& point : log_) {
      if (point.at_utc_ms <= end_) marks.insert(point.at_utc_ms);
    }
    for (const Span& span : stages_) {
      marks.insert(span.from_utc_ms);
      if (span.to_utc_ms > span.from_utc_ms && span.to_utc_ms < end_) marks.insert(span.to_utc_ms);
    }
    const std::vector<std::int64_t> times(marks.begin(), marks.end());
    for (std::size_t i = 0; i + 1 < times.size(); ++i) add(times[i], times[i + 1], times.front());
    // A reading at the very end was met, for no time yet.
    for (const AirPoint& point : log_) {
      if (point.at_utc_ms != end_) continue;
      stretches_.push_back({end_, {0.0, Celsius(point.celsius), point.uncertainty_k}});
    }
  }

  void add(std::int64_t from, std::int64_t to, std::int64_t start) {
    const Span* stage = stage_after(from);
    // No reading lies between `from` and `to`: each reading is a mark.
    const auto next =
        std::upper_bound(log_.begin(), log_.end(), from,
                         [](std::int64_t at, const AirPoint& point) { return at < point.at_utc_ms; });
    const AirPoint* before = next == log_.begin() ? nullptr : &*std::prev(next);
    const AirPoint* after = next == log_.end() ? nullptr : &*next;
    const AirPoint* last = before;
    std::int64_t left = before != nullptr ? before->at_utc_ms : start;
    std::int64_t right = after != nullptr ? after->at_utc_ms : end_;
    if (stage != nullptr) {
      // What was read in another stage says nothing of this one.
      if (before != nullptr && stage_after(before->at_utc_ms) != stage) before = nullptr;
      if (after != nullptr && after->at_utc_ms > stage->to_utc_ms) after = nullptr;
      if (after != nullptr && after->at_utc_ms > to && stage_after(after->at_utc_ms) != stage)
        after = nullptr;
      left = before != nullptr ? before->at_utc_ms : stage->from_utc_ms;
      right = after != nullptr ? after->at_utc_ms : stage->to_utc_ms;
    }
    const bool hole = right - left > kGapMs;
    std::optional<Held> held;
    const auto take = [&held](double celsius, double uncertainty_k) {
      if (!held || celsius > held->temperature.value) held = Held{0.0, Celsius(celsius), uncertainty_k};
    };
    if (before != nullptr) take(before->celsius, before->uncertainty_k);
    if (after != nullptr) take(after->celsius, after->uncertainty_k);
    if (stage != nullptr && (hole || before == nullptr)) take(stage->celsius, 0.0);
    if (!held && last != nullptr) take(last->celsius, last->uncertainty_k);
    if (!held) {
      gap_ = true;
      return;
    }
    held->hours = static_cast<double>(to - from) / kMsPerHour;
    gap_ = gap_ || (hole && may_be_warm(held->temperature.value));
    stretches_.push_back({from, *held});
  }

  std::vector<AirPoint> log_;
  std::vector<Span> stages_;
  std::vector<Stretch> stretches_;
  std::int64_t end_;
  bool gap_ = false;
};

std::vector<Held> held_of(const std::vector<Stretch>& stretches) {
  std::vector<Held> course;
  for (const Stretch& stretch : stretches) course.push_back(stretch.held);
  return course;
}

// Only the part before `until`.
std::vector<Held> held_until(const std::vector<Stretch>& stretches, std::int64_t until_utc_ms) {
  std::vector<Held> course;
  for (const Stretch& stretch : stretches) {
    if (stretch.from_utc_ms >= until_utc_ms) break;
    Held held = stretch.held;
    held.hours = std::min(held.hours, static_cast<double>(until_utc_ms - stretch.from_utc_ms) / kMsPerHour);
    course.push_back(held);
  }
  return course;
}

Level level_of(const DegreeHours& sum, const Souring& souring) {
  if (sum.level == Level::not_met) return Level::not_met;
  if (!souring.logged) return Level::not_known;
  if (!sum.above_base) return sum.level;
  if (souring.ended_utc_ms) {
    const bool doubt = souring.gap || souring.log_doubtful;
    return sum.level == Level::met && doubt ? Level::near : sum.level;
  }
  return souring.near && tables::is_evidence(sum.row->origin.known) ? Level::near : Level::not_known;
}

// Hours from `now` until the count is at its limit, at one temperature; below 0 where it passed it.
std::optional<double> left_of(const DegreeHours& sum, const std::vector<Stretch>& stretches, Celsius at_now,
                              std::int64_t now_utc_ms) {
  if (sum.level == Level::not_met) {
    double count = 0.0;
    for (const Stretch& stretch : stretches) {
      const double here = degree_hours(sum.scheme, {stretch.held}).count;
      if (here > 0.0 && count + here >= sum.limit) {
        const double part = (sum.limit - count) / here * stretch.held.hours;
        return static_cast<double>(stretch.from_utc_ms - now_utc_ms) / kMsPerHour + part;
      }
      count += here;
    }
    return std::nullopt;
  }
  const DegreeHours hour = degree_hours(sum.scheme, {{1.0, at_now}});
  if (!hour.above_base) return std::nullopt;
  return std::min((sum.limit - sum.count) / hour.count, kMostHours);
}

bool takes(Chosen chosen, DegreeScheme scheme) {
  if (chosen == Chosen::us) return scheme == DegreeScheme::us;
  if (chosen == Chosen::ca) return scheme == DegreeScheme::ca;
  return true;
}

void reach(Souring& souring, const std::vector<PhSet>& sets) {
  for (const PhSet& set : sets) {
    souring.last_ph = set.highest;
    souring.last_ph_utc_ms = set.at_utc_ms;
    if (souring.ended_utc_ms) continue;
    if (rounded(set.highest - kSafePh) > 0.0) {
      // What was not beyond doubt before is refuted.
      souring.reached_utc_ms.reset();
      continue;
    }
    if (!souring.reached_utc_ms) souring.reached_utc_ms = set.at_utc_ms;
    souring.across = rounded(set.upper - kSafePh) > 0.0;
    souring.meter_doubtful = set.doubtful;
    souring.pieces_read = set.pieces;
    if (!souring.across && !set.doubtful && set.pieces >= kPieces) souring.ended_utc_ms = set.at_utc_ms;
  }
  souring.near = souring.reached_utc_ms.has_value() && !souring.ended_utc_ms;
}

}  // namespace

std::vector<PhSet> ph_sets(const std::vector<Reading>& readings, std::int64_t until_utc_ms) {
  std::vector<PhSet> sets;
  std::int64_t first_utc_ms = 0;
  std::set<std::string> pieces;
  for (const Reading& reading : sorted(readings, ReadingKind::ph_meter, 3.0, 8.0, until_utc_ms)) {
    const double upper = reading.value + (reading.uncertainty > 0.0 ? reading.uncertainty : kUsualPh);
    if (sets.empty() || reading.at_utc_ms - first_utc_ms > kSetMs) {
      sets.push_back({reading.at_utc_ms, reading.value, upper, 0, false});
      first_utc_ms = reading.at_utc_ms;
      pieces.clear();
    }
    PhSet& set = sets.back();
    set.at_utc_ms = reading.at_utc_ms;
    set.highest = std::max(set.highest, reading.value);
    set.upper = std::max(set.upper, upper);
    set.doubtful = set.doubtful || is_doubtful(reading);
    pieces.insert(reading.piece.text);
    set.pieces = static_cast<int>(pieces.size());
  }
  return sets;
}

Souring souring(const Evidence& evidence, Chosen chosen, std::int64_t now_utc_ms,
                const std::vector<recipe::Stage>& planned) {
  Souring found;
  reach(found, ph_sets(evidence.readings, now_utc_ms));
  const std::int64_t end_utc_ms = found.ended_utc_ms.value_or(now_utc_ms);
  for (const Reading& reading :
       sorted(evidence.readings, ReadingKind::chamber_air, -40.0, 80.0, end_utc_ms)) {
    found.logged = true;
    found.log_doubtful = found.log_doubtful || is_doubtful(reading);
  }
  const Course course(evidence, planned, end_utc_ms, now_utc_ms);
  found.gap = course.gap() || !found.logged;
  found.course = held_of(course.stretches());
  found.us = degree_hours(DegreeScheme::us, found.course);
  found.ca = degree_hours(DegreeScheme::ca, found.course);
  for (const Stretch& stretch : course.stretches()) {
    if (may_be_warm(stretch.held.temperature.value)) {
      found.began_utc_ms = stretch.from_utc_ms;
      break;
    }
  }
  if (found.reached_utc_ms) {
    const std::vector<Held> before = held_until(course.stretches(), *found.reached_utc_ms);
    found.us_at_reached = degree_hours(DegreeScheme::us, before).count;
    found.ca_at_reached = degree_hours(DegreeScheme::ca, before).count;
  }
  found.us.level = level_of(found.us, found);
  found.ca.level = level_of(found.ca, found);
  for (const DegreeHours* sum : {&found.us, &found.ca}) {
    if (!takes(chosen, sum->scheme)) continue;
    found.out_of_time = found.out_of_time || sum->level == Level::not_met;
    if (found.ended_utc_ms || found.course.empty()) continue;
    const std::optional<double> left =
        left_of(*sum, course.stretches(), found.course.back().temperature, now_utc_ms);
    if (left && (!found.hours_left || *left < *found.hours_left)) found.hours_left = left;
  }
  if (found.hours_left) {
    // Rounded to the safe side.
    found.act_by_utc_ms = now_utc_ms + static_cast<std::int64_t>(std::floor(*found.hours_left * kMsPerHour));
  }
  return found;
}

}  // namespace saltrafter::safety
