#include "core/safety/souring_findings.h"

#include <algorithm>
#include <cmath>

#include "core/safety/safety.h"

namespace saltrafter::safety {
namespace {

double rounded(double value) { return std::round(value * 1e9) / 1e9; }

bool is_above_base(Celsius temperature) {
  return longest_hours(DegreeScheme::us, temperature).has_value() ||
         longest_hours(DegreeScheme::ca, temperature).has_value();
}

// Without a row: the scheme whose first class is read speaks for the rule.
Finding plain_finding(Level level) {
  Finding finding;
  finding.rule = Rule::fermentation;
  finding.level = level;
  finding.stop = Stop::with_reason;
  const tables::DegreeHourClass& row = tables::degree_hours().front();
  finding.source = std::string(row.end.source);
  finding.known = row.end.known;
  if (level == Level::not_known) finding.missing = {"ph_reading", "temperature_log"};
  return finding;
}

Finding finding_of(const DegreeHours& sum) {
  Finding finding = plain_finding(sum.level);
  finding.missing.clear();
  if (sum.row == nullptr) return finding;
  finding.row = std::string(sum.row->key);
  finding.jurisdiction = sum.scheme == DegreeScheme::us ? tables::Jurisdiction::us : tables::Jurisdiction::ca;
  finding.source = std::string(sum.row->origin.source);
  finding.known = sum.row->origin.known;
  const std::string unit(sum.row->unit);
  finding.found = Amount{sum.count, unit, ""};
  finding.limit = Amount{sum.limit, unit, ""};
  finding.margin = rounded(sum.limit - sum.count);
  finding.uncertainty = sum.uncertainty;
  finding.figures = {{"count", sum.count, unit}, {"limit", sum.limit, unit}};
  return finding;
}

double used(const Finding& finding) {
  return finding.found && finding.limit && finding.limit->value > 0.0
             ? rounded(finding.found->value / finding.limit->value)
             : 0.0;
}

// Those of the chosen jurisdiction; otherwise both, and the one more used up decides (the first of two
// alike).
std::vector<Finding> chosen_of(Finding us, Finding ca, Chosen chosen) {
  if (chosen == Chosen::us) return {std::move(us)};
  if (chosen == Chosen::ca) return {std::move(ca)};
  const bool ca_first = used(ca) > used(us);
  (ca_first ? us : ca).decides = false;
  if (ca_first) return {std::move(ca), std::move(us)};
  return {std::move(us), std::move(ca)};
}

bool has_begun(const Evidence& evidence) {
  return !evidence.stages.empty() ||
         std::any_of(evidence.readings.begin(), evidence.readings.end(), [](const Reading& reading) {
           return reading.kind == ReadingKind::chamber_air || reading.kind == ReadingKind::ph_meter;
         });
}

bool is_done(const Evidence& evidence, const recipe::Stage& stage) {
  return std::any_of(evidence.stages.begin(), evidence.stages.end(),
                     [&stage](const StageDone& done) { return done.stage == stage.id; });
}

// A stage above the base that has not begun; a recipe without stages may have any.
bool warm_ahead(const Subject& subject) {
  const std::vector<recipe::Stage>& stages = subject.recipe->stages;
  return stages.empty() || std::any_of(stages.begin(), stages.end(), [&subject](const recipe::Stage& stage) {
           return is_above_base(stage.temperature) && !is_done(subject.evidence, stage);
         });
}

std::vector<std::string> missing_of(const Souring& souring) {
  std::vector<std::string> missing;
  if (!souring.reached_utc_ms) {
    missing.push_back("ph_reading");
  } else if (souring.near) {
    if (souring.pieces_read < 3) missing.push_back("ph_of_three_pieces");
    if (souring.across) missing.push_back("ph_beyond_doubt");
    if (souring.meter_doubtful) missing.push_back("meter_check");
  }
  if (souring.gap) missing.push_back("temperature_log");
  if (souring.log_doubtful) missing.push_back("thermometer_check");
  return missing;
}

std::vector<Finding> batch_findings(const Subject& subject) {
  const Souring souring =
      safety::souring(subject.evidence, subject.chosen, subject.now_utc_ms, subject.recipe->stages);
  const PhCourse course = ph_course(ph_start(*subject.recipe, *subject.sheet, subject.evidence));
  const std::string advice(key_of(
      souring_advice(*subject.recipe, souring, course, subject.evidence.readings, subject.now_utc_ms)));
  if (!souring.us.above_base && !souring.ca.above_base) {
    if (!souring.ended_utc_ms && (warm_ahead(subject) || souring.course.empty())) {
      Finding finding = plain_finding(Level::not_known);
      finding.advice = advice;
      return {std::move(finding)};
    }
    return {plain_finding(Level::does_not_apply)};
  }
  const auto finding_with = [&](const DegreeHours& sum, double at_reached) {
    Finding finding = finding_of(sum);
    finding.missing = missing_of(souring);
    finding.advice = advice;
    if (souring.hours_left) finding.figures.push_back({"hours_left", *souring.hours_left, "h"});
    if (souring.near) finding.figures.push_back({"count_at_reading", at_reached, std::string(sum.row->unit)});
    return finding;
  };
  return chosen_of(finding_with(souring.us, souring.us_at_reached),
                   finding_with(souring.ca, souring.ca_at_reached), subject.chosen);
}

// The planned stages to the likely hour of pH 5.3, counted from where it sours; to their end where it is not
// reached in stages of that kind.
struct Planned {
  std::vector<Held> course;
  bool reached = false;
};

Planned planned_course(const recipe::Recipe& recipe, const std::optional<double>& hours_to_safe) {
  Planned planned;
  double left_h = hours_to_safe.value_or(0.0);
  const recipe::Stage* first = souring_stage(recipe);
  bool souring = false;
  for (const recipe::Stage& stage : recipe.stages) {
    souring = souring || &stage == first;
    double hours = stage.days.value * 24.0;
    // The course was computed for the temperature of its stage; one of another kind does not go on with it.
    if (souring && hours_to_safe && stage.kind == first->kind) {
      planned.reached = left_h <= hours;
      hours = std::min(hours, left_h);
      left_h -= hours;
    }
    planned.course.push_back({hours, stage.temperature});
    if (planned.reached) return planned;
  }
  return planned;
}

std::vector<Finding> plan_findings(const Subject& subject) {
  const recipe::Recipe& recipe = *subject.recipe;
  if (recipe.stages.empty()) return {plain_finding(Level::not_known)};
  const PhStart start = ph_start(recipe, *subject.sheet, subject.evidence);
  const bool known_culture = !start.culture.empty();
  const bool means_to = recipe.wanted_ph.has_value() || known_culture;
  const PhCourse likely = known_culture ? ph_course(start) : PhCourse{};
  const Planned planned = planned_course(recipe, likely.hours_to_safe);
  const auto finding_with = [&](DegreeScheme scheme) {
    const DegreeHours sum = degree_hours(scheme, planned.course);
    Finding finding = finding_of(sum);
    finding.planned = true;
    const std::optional<double> longest = longest_hours(scheme, sum.highest);
    if (longest) finding.figures.push_back({"longest_hours", *longest, "h"});
    if (likely.hours_to_safe) finding.figures.push_back({"estimated_hours", *likely.hours_to_safe, "h"});
    if (likely.hours_to_safe_late) {
      finding.figures.push_back({"estimated_hours_late", *likely.hours_to_safe_late, "h"});
    }
    const std::optional<double> here = longest_hours(scheme, start.temperature);
    const bool late = likely.hours_to_safe && here && rounded(*likely.hours_to_safe - *here) > 0.0;
    // A culture that the tables do not know may sour in time for all that is known.
    const bool over = sum.level == Level::not_met && (known_culture || !means_to);
    finding.level = late || over ? Level::not_met : Level::not_known;
    finding.missing = {"ph_reading", "temperature_log"};
    if (known_culture && likely.final_ph > kSafePh) {
      finding.advice = "souring_more_sugar";
    } else if (late || over || (known_culture && !planned.reached)) {
      finding.advice = "souring_plan_too_slow";
    }
    return finding;
  };
  return chosen_of(finding_with(DegreeScheme::us), finding_with(DegreeScheme::ca), subject.chosen);
}

}  // namespace

std::vector<Finding> souring_findings(const Subject& subject) {
  if (subject.recipe->product_class == recipe::ProductClass::whole_muscle_dry) {
    return {plain_finding(Level::does_not_apply)};
  }
  if (has_begun(subject.evidence)) return batch_findings(subject);
  const std::vector<recipe::Stage>& stages = subject.recipe->stages;
  const bool warm = std::any_of(stages.begin(), stages.end(),
                                [](const recipe::Stage& stage) { return is_above_base(stage.temperature); });
  if (!stages.empty() && !warm) return {plain_finding(Level::does_not_apply)};
  return plan_findings(subject);
}

}  // namespace saltrafter::safety
