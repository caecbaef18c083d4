#include "core/safety/cured_days.h"

#include <algorithm>
#include <cmath>
#include <vector>

#include "core/safety/parasites.h"

namespace saltrafter::safety {
namespace {

constexpr double kMsOfDay = 86400000.0;
constexpr double kTogetherMs = 3600000.0;  // readings within an hour are one set, as for souring itself
constexpr double kUsualPhUncertainty = 0.05;

double rounded(double value) { return std::round(value * 1e9) / 1e9; }
bool at_least(double value, double limit) { return rounded(value) >= rounded(limit); }

// From `a` to `b`, ms; in doubles, as the instants may be any that were typed.
double ms_between(std::int64_t a, std::int64_t b) { return static_cast<double>(b) - static_cast<double>(a); }

struct Span {
  std::int64_t from = 0;
  std::int64_t to = 0;

  double days_after(std::int64_t instant) const {
    const std::int64_t begin = std::max(from, instant);
    return to > begin ? ms_between(begin, to) / kMsOfDay : 0.0;
  }
};

Span span_of(const StageDone& done, std::int64_t now_utc_ms) {
  return {done.began_utc_ms, done.ended_utc_ms.value_or(std::max(done.began_utc_ms, now_utc_ms))};
}

const recipe::Stage* stage_of(const recipe::Recipe& recipe, const Id& id) {
  for (const recipe::Stage& stage : recipe.stages) {
    if (stage.id == id) return &stage;
  }
  return nullptr;
}

bool is_drying(const recipe::Stage& stage) {
  return !stage.sealed && (stage.kind == recipe::StageKind::dry || stage.kind == recipe::StageKind::cold_dry);
}

bool was_colder(const Evidence& evidence, Span span, Celsius least) {
  return std::any_of(evidence.readings.begin(), evidence.readings.end(), [&](const Reading& reading) {
    return reading.kind == ReadingKind::chamber_air && reading.at_utc_ms >= span.from &&
           reading.at_utc_ms <= span.to && !at_least(reading.value, least.value);
  });
}

// Whether the air was read often enough to say how warm a time was.
bool is_logged(const Evidence& evidence, Span span) {
  std::vector<std::int64_t> read;
  for (const Reading& reading : evidence.readings) {
    const bool of_air = reading.kind == ReadingKind::chamber_air && reading.instrument != InstrumentState::failed;
    if (of_air && reading.at_utc_ms >= span.from && reading.at_utc_ms <= span.to) read.push_back(reading.at_utc_ms);
  }
  read.push_back(span.to);
  std::sort(read.begin(), read.end());
  std::int64_t last = span.from;
  for (const std::int64_t instant : read) {
    if (ms_between(last, instant) > kLongestUnread.value * kMsOfDay) return false;
    last = instant;
  }
  return true;
}

// Days after `from` in stages that `fits` and that kept at least `least`. Stages are one after the other:
// where two overlap, the time is counted once. `unlogged` tells of such a stage whose log does not do.
double days_in(const recipe::Recipe& recipe, const Evidence& evidence, bool (*fits)(const recipe::Stage&),
               Celsius least, std::int64_t from, std::int64_t now_utc_ms, bool* unlogged) {
  std::vector<Span> spans;
  for (const StageDone& done : evidence.stages) {
    const recipe::Stage* stage = stage_of(recipe, done.stage);
    if (stage == nullptr || !fits(*stage) || !at_least(stage->temperature.value, least.value)) continue;
    const Span span = span_of(done, now_utc_ms);
    if (was_colder(evidence, span, least)) continue;
    if (is_logged(evidence, span)) {
      spans.push_back(span);
    } else {
      *unlogged = true;
    }
  }
  std::sort(spans.begin(), spans.end(), [](const Span& a, const Span& b) { return a.from < b.from; });
  double days = 0.0;
  std::int64_t counted_to = from;
  for (const Span& span : spans) {
    days += span.days_after(counted_to);
    counted_to = std::max(counted_to, span.to);
  }
  return days;
}

// From the first stage to the end of the last drying, or to now before any: what lies sealed or in store after it
// counts for nothing.
double total_done(const recipe::Recipe& recipe, const Evidence& evidence, std::int64_t now_utc_ms) {
  if (evidence.stages.empty()) return 0.0;
  std::int64_t first = evidence.stages.front().began_utc_ms;
  for (const StageDone& done : evidence.stages) first = std::min(first, done.began_utc_ms);
  std::int64_t last = first;
  std::int64_t last_dried = INT64_MIN;
  for (const StageDone& done : evidence.stages) {
    const recipe::Stage* stage = stage_of(recipe, done.stage);
    if (stage == nullptr) continue;
    last = std::max(last, span_of(done, now_utc_ms).to);
    if (is_drying(*stage)) last_dried = std::max(last_dried, span_of(done, now_utc_ms).to);
  }
  return ms_between(first, last_dried > INT64_MIN ? last_dried : last) / kMsOfDay;
}

bool is_sausage(const recipe::Recipe& recipe) {
  return recipe.product_class != recipe::ProductClass::whole_muscle_dry &&
         recipe.method == recipe::CureMethod::mixed_in && recipe.form == recipe::Form::round;
}

enum class Plate { not_said, fine, coarse };

Plate plate_of(const recipe::Recipe& recipe, Metres most) {
  Plate plate = Plate::not_said;
  for (const recipe::Step& step : recipe.steps) {
    if (step.kind != recipe::StepKind::mince) continue;
    if (!step.value || !(*step.value > 0.0)) return Plate::not_said;
    if (rounded(*step.value / 1000.0) > rounded(most.value)) return Plate::coarse;
    plate = Plate::fine;
  }
  return plate;
}

const tables::SouringMethod* souring_row(double ph, double salt_share) {
  if (!std::isfinite(ph) || !std::isfinite(salt_share)) return nullptr;
  for (const tables::SouringMethod& row : tables::souring_methods()) {
    if (!at_least(ph, row.ph_least) || !at_least(row.ph_most, ph)) continue;
    if (!at_least(salt_share, row.salt_least)) continue;
    if (row.salt_below && at_least(salt_share, *row.salt_below)) continue;
    return &row;
  }
  return nullptr;
}

bool is_meter(const Reading& reading) { return reading.kind == ReadingKind::ph_meter; }

bool is_together(const Reading& a, const Reading& b) {
  return std::abs(ms_between(a.at_utc_ms, b.at_utc_ms)) <= kTogetherMs;
}

// The pH came up again before the days were over.
bool is_undone(const Evidence& evidence, const Reading& start, const tables::SouringMethod& row) {
  return std::any_of(evidence.readings.begin(), evidence.readings.end(), [&](const Reading& reading) {
    const double after_ms = ms_between(start.at_utc_ms, reading.at_utc_ms);
    return is_meter(reading) && after_ms > 0.0 && after_ms <= row.days.value * kMsOfDay &&
           !at_least(row.ph_most, reading.value);
  });
}

}  // namespace

double salt_of_mix(const recipe::Sheet& sheet) {
  const double total = sheet.composition.total_g();
  return total > 0.0 ? sheet.composition.salt_g / total : 0.0;
}

std::optional<Days> souring_days(double ph, double salt_share) {
  const tables::SouringMethod* row = souring_row(ph, salt_share);
  if (row == nullptr) return std::nullopt;
  return row->days;
}

bool CuringUnderWay::is_done() const {
  return plate_known && at_least(drying_done, row->drying_days.value) &&
         at_least(total_done, row->total_days.value_or(Days(0.0)).value);
}

std::optional<CuringUnderWay> curing_under_way(const recipe::Recipe& recipe, const recipe::Sheet& sheet,
                                               const Evidence& evidence, std::int64_t now_utc_ms) {
  if (!is_sausage(recipe)) return std::nullopt;
  const std::optional<DryingMethod> method = curing_method(salt_of_mix(sheet), recipe.casing_diameter, false);
  if (!method) return std::nullopt;
  CuringUnderWay way;
  way.row = tables::find_curing_method(method->row);
  if (way.row->particle_most) {
    const Plate plate = plate_of(recipe, *way.row->particle_most);
    if (plate == Plate::coarse) return std::nullopt;
    way.plate_known = plate == Plate::fine;
  } else {
    way.plate_known = true;
  }
  const Celsius least = way.row->drying_temperature;
  for (const recipe::Stage& stage : recipe.stages) {
    if (stage.kind == recipe::StageKind::store) continue;
    way.total_planned += stage.days.value;
    if (is_drying(stage) && at_least(stage.temperature.value, least.value))
      way.drying_planned += stage.days.value;
  }
  way.drying_done = days_in(recipe, evidence, is_drying, least, INT64_MIN, now_utc_ms, &way.unlogged);
  way.total_done = total_done(recipe, evidence, now_utc_ms);
  return way;
}

bool SouringUnderWay::is_done() const { return at_least(days, row->days.value); }

std::optional<SouringUnderWay> souring_under_way(const recipe::Recipe& recipe, const recipe::Sheet& sheet,
                                                 const Evidence& evidence, std::int64_t now_utc_ms) {
  if (!is_sausage(recipe)) return std::nullopt;
  const auto dries_or_sours = [](const recipe::Stage& stage) {
    return is_drying(stage) || stage.kind == recipe::StageKind::ferment;
  };
  std::optional<SouringUnderWay> best;
  for (const Reading& start : evidence.readings) {
    if (!is_meter(start)) continue;
    SouringUnderWay way;
    way.ph = start.value;
    way.sure = true;
    double uncertainty = 0.0;
    for (const Reading& reading : evidence.readings) {
      if (!is_meter(reading) || !is_together(reading, start)) continue;
      way.ph = std::max(way.ph, reading.value);
      uncertainty =
          std::max(uncertainty, reading.uncertainty > 0.0 ? reading.uncertainty : kUsualPhUncertainty);
      const bool trusted =
          reading.instrument == InstrumentState::not_said || reading.instrument == InstrumentState::checked;
      way.sure = way.sure && trusted;
    }
    way.row = souring_row(way.ph, salt_of_mix(sheet));
    if (way.row == nullptr || is_undone(evidence, start, *way.row)) continue;
    way.sure = way.sure && at_least(way.row->ph_most, way.ph + uncertainty);
    way.days =
        days_in(recipe, evidence, dries_or_sours, way.row->temperature_least, start.at_utc_ms, now_utc_ms, &way.unlogged);
    const auto left = [](const SouringUnderWay& one) { return rounded(one.row->days.value - one.days); };
    const bool further = !best || (way.is_done() != best->is_done()          ? way.is_done()
                                   : way.is_done() && way.sure != best->sure ? way.sure
                                                                             : left(way) < left(*best));
    if (further) best = way;
  }
  return best;
}

}  // namespace saltrafter::safety
