#include <algorithm>
#include <cmath>
#include <string_view>

#include "core/safety/fermentation.h"

namespace saltrafter::safety {
namespace {

constexpr int kHours = 96;
constexpr int kHalvings = 60;
constexpr int kEnds = 41;
constexpr double kMsPerHour = 3.6e6;
constexpr double kBefore = -12.0;  // hours; a pH read so early is still that of the raw mix
constexpr double kStartHours = 2.0;
constexpr double kUsualPh = 0.05;
constexpr double kLeastStretch = 0.2;  // of time, by readings
constexpr double kMostStretch = 8.0;
constexpr double kEndSpread = 0.15;  // how far the end is believed to stray, pH

double constant(std::string_view key) { return tables::find_constant(key)->value; }

// The part of the lactic acid that gives its proton away at a pH.
double acid_share(double ph) { return 1.0 / (1.0 + std::pow(10.0, constant("souring.lactic_pk") - ph)); }

// Where the acid of all the sugar brings a buffer to, mmol per kg and pH.
double end_of_sugar(double ph0, double sugar_g_per_kg, double buffer) {
  const double acid_mmol = constant("souring.acid_of_dextrose") * sugar_g_per_kg;
  double low = 3.0;
  double high = ph0;
  for (int i = 0; i < kHalvings; ++i) {
    const double middle = 0.5 * (low + high);
    (buffer * (ph0 - middle) > acid_mmol * acid_share(middle) ? low : high) = middle;
  }
  return 0.5 * (low + high);
}

// Speed of a culture, 1 where it is at its best: with the square of the distance from its least, and down to
// nothing from its best to its most.
double speed(const tables::Culture& culture, double celsius) {
  if (celsius <= culture.growth_low.value || celsius >= culture.growth_high.value) return 0.0;
  if (celsius < culture.best_low.value) {
    const double part = (celsius - culture.growth_low.value) / (culture.best_low - culture.growth_low).value;
    return part * part;
  }
  if (celsius <= culture.best_high.value) return 1.0;
  return (culture.growth_high.value - celsius) / (culture.growth_high - culture.best_high).value;
}

// What a course is drawn from: pH falls from `start` to `end` and is half way at `half_hours` after `delay`.
struct Curve {
  double start = 0.0;
  double end = 0.0;
  double half_hours = 0.0;  // 0: it does not fall
  double delay = 0.0;

  // Part of the fall that is done. Gompertz, through 0 at the start.
  double done(double hours, double stretch) const {
    if (half_hours <= 0.0 || hours <= delay) return 0.0;
    const double lag_share = constant("souring.lag_share");
    const double half = half_hours * stretch;
    const double steep = (1.0 - std::log(std::log(2.0))) / ((1.0 - lag_share) * half);
    const auto gompertz = [&](double t) { return std::exp(-std::exp(steep * (lag_share * half - t) + 1.0)); };
    const double zero = gompertz(0.0);
    return (gompertz(hours - delay) - zero) / (1.0 - zero);
  }
  double at(double hours, double stretch) const { return start - (start - end) * done(hours, stretch); }
};

struct Mark {
  double hours = 0.0;
  double ph = 0.0;
};

// The stretch of time with which a curve passes through a mark, or comes nearest.
double stretch_through(const Curve& curve, const Mark& mark) {
  double low = std::log(kLeastStretch);
  double high = std::log(kMostStretch);
  for (int i = 0; i < kHalvings; ++i) {
    const double middle = 0.5 * (low + high);
    (curve.at(mark.hours, std::exp(middle)) > mark.ph ? high : low) = middle;
  }
  return std::exp(0.5 * (low + high));
}

struct Fit {
  double end = 0.0;
  double stretch = 1.0;
};

// Of ends between `low` and `high` the one whose curve misses the marks and the expected end least; the last
// mark weighs most, as the curve goes on from there.
Fit fit(Curve curve, const std::vector<Mark>& marks, double low, double high) {
  const double expected = curve.end;
  Fit best{expected, 1.0};
  double least = -1.0;
  for (int i = 0; i < kEnds; ++i) {
    curve.end = low + (high - low) * i / (kEnds - 1);
    const double stretch = stretch_through(curve, marks.back());
    double miss = std::pow((curve.end - expected) / kEndSpread, 2) + std::pow(std::log(stretch), 2);
    for (const Mark& mark : marks) {
      const double weight = &mark == &marks.back() ? 100.0 : 1.0;
      miss += weight * std::pow((curve.at(mark.hours, stretch) - mark.ph) / kUsualPh, 2);
    }
    if (least < 0.0 || miss < least - 1e-9) {
      least = miss;
      best = {curve.end, stretch};
    }
  }
  return best;
}

std::optional<double> hours_to(const std::vector<PhPoint>& points, double PhPoint::*edge) {
  for (std::size_t i = 0; i < points.size(); ++i) {
    if (points[i].*edge > kSafePh) continue;
    if (i == 0) return 0.0;
    const double above = points[i - 1].*edge;
    return points[i - 1].hours + (above - kSafePh) / (above - points[i].*edge);
  }
  return std::nullopt;
}

bool sensible(const PhStart& start) {
  return start.ph0 >= 4.0 && start.ph0 <= 8.0 && start.sugar_g_per_kg >= 0.0 &&
         start.sugar_g_per_kg <= 60.0 && start.lean_share >= 0.1 && start.lean_share <= 1.6 &&
         start.temperature.value >= -5.0 && start.temperature.value <= 60.0 &&
         start.diameter.value >= 0.005 && start.diameter.value <= 0.5;
}

}  // namespace

PhCourse ph_course(const PhStart& start, const std::vector<Reading>& readings, std::int64_t began_utc_ms) {
  PhCourse course;
  course.final_ph = start.ph0;
  if (!sensible(start)) return course;
  double ph0 = start.ph0;
  std::vector<Mark> marks;
  for (const PhSet& set : ph_sets(readings, INT64_MAX)) {
    const double hours = static_cast<double>(set.at_utc_ms - began_utc_ms) / kMsPerHour;
    if (hours < kBefore) continue;
    if (hours <= kStartHours) {
      ph0 = std::clamp(set.highest, 4.0, 8.0);
    } else {
      marks.push_back({hours, set.highest});
    }
  }
  const tables::Culture* culture = tables::find_culture(start.culture);
  const bool sours = culture != nullptr && culture->sours();
  const tables::Constant* buffer = tables::find_constant("souring.buffer");
  // A culture usually stops there; the low edge of the band is what the sugar alone allows.
  const double least_ph = sours && culture->ph_low ? std::min(*culture->ph_low, ph0) : 3.0;
  const auto end_with = [&](double mmol) {
    return end_of_sugar(ph0, start.sugar_g_per_kg, mmol * start.lean_share);
  };
  Curve curve;
  curve.start = ph0;
  curve.end = sours ? std::max(end_with(buffer->value), least_ph) : ph0;
  const double end_low = end_with(buffer->low);
  const double end_high = sours ? std::max(end_with(buffer->high), least_ph) : ph0;
  const double rate = sours ? speed(*culture, start.temperature.value) : 0.0;
  const tables::Constant* half = tables::find_constant("souring.half_hours");
  curve.half_hours = rate > 0.0 ? half->value / rate : 0.0;
  curve.delay = constant("souring.warming") * start.diameter.value / 0.05;

  Fit likely{curve.end, 1.0};
  double width = 1.0;  // of the band of time
  double open = 1.0;   // of the band of the end
  if (!marks.empty() && curve.half_hours > 0.0) {
    const double last_ph = marks.back().ph;
    likely = fit(curve, marks, std::min(end_low, last_ph) - 0.1, std::max(end_high, last_ph));
    Curve fitted = curve;
    fitted.end = likely.end;
    for (const Mark& mark : marks) {
      if (fitted.done(mark.hours, likely.stretch) > 0.05) width += 1.0;
    }
    open = 1.0 - fitted.done(marks.back().hours, likely.stretch);
  }
  Curve low = curve;
  Curve high = curve;
  low.end = likely.end - open * (curve.end - std::min(end_low, curve.end));
  high.end = likely.end + open * (std::max(end_high, curve.end) - curve.end);
  const double early = likely.stretch * std::pow(half->low / half->value, 1.0 / width);
  const double late = likely.stretch * std::pow(half->high / half->value, 1.0 / width);
  curve.end = likely.end;
  for (int hour = 0; hour <= kHours; ++hour) {
    PhPoint point;
    point.hours = hour;
    point.likely = curve.at(hour, likely.stretch);
    point.low = std::min(low.at(hour, early), point.likely);
    point.high = std::max(high.at(hour, late), point.likely);
    course.points.push_back(point);
  }
  course.final_ph = curve.end;
  course.hours_to_safe = hours_to(course.points, &PhPoint::likely);
  course.hours_to_safe_late = hours_to(course.points, &PhPoint::high);
  return course;
}

const recipe::Stage* souring_stage(const recipe::Recipe& recipe) {
  const recipe::Stage* warm = nullptr;
  for (const recipe::Stage& stage : recipe.stages) {
    if (stage.kind == recipe::StageKind::ferment) return &stage;
    if (warm == nullptr && longest_hours(DegreeScheme::us, stage.temperature)) warm = &stage;
  }
  return warm;
}

PhStart ph_start(const recipe::Recipe& recipe, const recipe::Sheet& sheet, const Evidence& evidence) {
  PhStart start;
  std::optional<double> highest;
  for (const MeatLot& lot : evidence.lots) {
    if (lot.ph && *lot.ph >= 4.0 && *lot.ph <= 8.0) highest = std::max(highest.value_or(*lot.ph), *lot.ph);
  }
  start.ph0 = highest.value_or(start.ph0);
  const double total_g = sheet.composition.total_g();
  if (total_g > 0.0) {
    start.sugar_g_per_kg = 1000.0 * sheet.composition.sugar_g / total_g;
    start.lean_share = sheet.composition.protein_g / total_g / constant("souring.buffer_protein");
  }
  for (const recipe::Line& line : recipe.lines) {
    if (line.kind != recipe::LineKind::culture || !start.culture.empty()) continue;
    const tables::Culture* culture = tables::find_culture(line.material);
    if (culture != nullptr && culture->sours()) start.culture = culture->key;
  }
  const recipe::Stage* stage = souring_stage(recipe);
  if (stage != nullptr) start.temperature = stage->temperature;
  start.diameter = recipe.casing_diameter;
  return start;
}

Result<SugarNeed> sugar_for(double ph0, double wanted_ph, double protein_share) {
  if (!(ph0 >= 4.5 && ph0 <= 7.0)) return out_of_range("ph0", ph0, 4.5, 7.0, "pH");
  if (!(wanted_ph >= 4.2 && wanted_ph <= ph0)) return out_of_range("wanted_ph", wanted_ph, 4.2, ph0, "pH");
  if (!(protein_share >= 0.02 && protein_share <= 0.4)) {
    return out_of_range("protein_share", protein_share, 0.02, 0.4, "1");
  }
  SugarNeed need;
  const double buffer = constant("souring.buffer") * protein_share / constant("souring.buffer_protein");
  need.least = buffer * (ph0 - wanted_ph) / (constant("souring.acid_of_dextrose") * acid_share(wanted_ph));
  need.advised = need.least * constant("souring.sugar_advised");
  need.most = std::max(need.advised, constant("souring.sugar_rule_of_thumb") * (ph0 - wanted_ph));
  return need;
}

}  // namespace saltrafter::safety
