#include "core/safety/stage_findings.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <string>
#include <utility>

#include "core/safety/fermentation.h"
#include "core/safety/judge.h"
#include "core/safety/stage_times.h"
#include "core/safety/threshold.h"

namespace saltrafter::safety {
namespace {

using recipe::StageKind;
using tables::LimitSense;

constexpr double kUsualActivityError = 0.01;  // of a meter where the reading says nothing (evidence.h)

bool whole_muscle(const recipe::Recipe& recipe) {
  return recipe.product_class == recipe::ProductClass::whole_muscle_dry;
}

bool soured(const recipe::Recipe& recipe) {
  return recipe.wanted_ph.has_value() ||
         std::any_of(recipe.stages.begin(), recipe.stages.end(),
                     [](const recipe::Stage& stage) { return stage.kind == StageKind::ferment; });
}

double days_of(const std::vector<SaltTime>& times) {
  double days = 0.0;
  for (const SaltTime& time : times) days += time.days.value;
  return days;
}

Finding of_rule(Rule rule) {
  Finding finding;
  finding.rule = rule;
  finding.known = tables::Known::practice;
  return finding;
}

// A finding that holds a figure against a row of the constants.
Finding against(Rule rule, std::string_view key, LimitSense sense, Amount found, Amount limit,
                double near_margin, double uncertainty) {
  const Threshold row = threshold(key);
  Finding finding = of_rule(rule);
  finding.row = std::string(row.key);
  finding.source = std::string(row.origin.source);
  finding.known = row.origin.known;
  finding.sense = sense;
  finding.uncertainty = uncertainty;
  const Judged judged = judge(found.value, limit.value, sense, row.origin.known, near_margin, uncertainty);
  finding.level = judged.level;
  if (std::isfinite(found.value) && std::isfinite(limit.value)) finding.margin = judged.margin;
  finding.found = std::move(found);
  finding.limit = std::move(limit);
  return finding;
}

Finding salt_against(Rule rule, std::string_view key, double salt_share) {
  const double limit = 100.0 * threshold(key).value;
  return against(rule, key, LimitSense::least, Amount{100.0 * salt_share, "%", "NaCl"},
                 Amount{limit, "%", "NaCl"}, usual_near_margin(limit), 0.0);
}

// A measured figure and how far it may be off; `checked` false where its instrument was overdue.
struct Measured {
  double value = 0.0;
  double uncertainty = 0.0;
  bool checked = true;
};

bool counts(const Reading& reading, ReadingKind kind) {
  return reading.kind == kind && reading.instrument != InstrumentState::failed &&
         std::isfinite(reading.value);
}

// When a stage is gone into: when it began, or now.
std::int64_t move_into(const Subject& subject, std::size_t stage) {
  const StageDone* begun = done_of(subject, stage);
  return begun != nullptr ? begun->began_utc_ms : now_of(subject);
}

// Of each piece the last reading in the core up to an instant, of these the highest.
std::optional<Measured> core_activity(const Evidence& evidence, std::int64_t until_utc_ms) {
  std::map<std::string, const Reading*> last;
  for (const Reading& reading : evidence.readings) {
    if (!counts(reading, ReadingKind::water_activity) || reading.site != Site::core) continue;
    if (reading.at_utc_ms > until_utc_ms) continue;
    const Reading*& of_piece = last[reading.piece.text];
    if (of_piece == nullptr || reading.at_utc_ms >= of_piece->at_utc_ms) of_piece = &reading;
  }
  std::optional<Measured> highest;
  for (const auto& piece : last) {
    const Reading& reading = *piece.second;
    if (highest && reading.value <= highest->value) continue;
    const double error = reading.uncertainty > 0.0 ? reading.uncertainty : kUsualActivityError;
    highest = Measured{reading.value, error, reading.instrument != InstrumentState::overdue};
  }
  return highest;
}

// By an instant. A meter that is overdue or failed its check opens nothing here.
bool has_soured(const Subject& subject, std::int64_t until_utc_ms) {
  const Souring found = souring(subject.evidence, subject.chosen, subject.now_utc_ms, subject.recipe->stages);
  return found.reached_utc_ms && *found.reached_utc_ms <= until_utc_ms && !found.meter_doubtful;
}

Finding activity_against(Rule rule, std::string_view key, const Measured& measured) {
  constexpr double kNear = 0.01;
  Finding finding = against(rule, key, LimitSense::most, Amount{measured.value, "aw", ""},
                            Amount{threshold(key).value, "aw", ""}, kNear, measured.uncertainty);
  if (!measured.checked && finding.level == Level::met) finding.level = Level::near;
  finding.place = Place::core;
  finding.way = Way::measured;
  return finding;
}

std::vector<SaltTime> times_for(const Subject& subject, std::size_t stage, Moment moment) {
  const StageDone* begun = done_of(subject, stage);
  if (begun != nullptr) {
    // What it had lost when it went in nobody has kept: no more than was planned by then.
    const std::vector<SaltTime> planned = times_before(*subject.recipe, stage);
    const double planned_loss = planned.empty() ? 0.0 : planned.back().loss_at_end;
    return times_done(subject, begun->began_utc_ms, std::min(subject.evidence.loss_now, planned_loss));
  }
  if (moment == Moment::move) return times_done(subject, now_of(subject), subject.evidence.loss_now);
  return times_ahead(subject, stage);
}

Finding cure_time_finding(const Subject& subject) {
  const recipe::Recipe& recipe = *subject.recipe;
  Finding finding = of_rule(Rule::cure_time);
  const Threshold row = threshold("safety.salt_diffusivity");
  finding.row = std::string(row.key);
  finding.source = std::string(row.origin.source);
  finding.known = row.origin.known;
  if (!whole_muscle(recipe)) {
    finding.level = Level::does_not_apply;
    return finding;
  }
  if (recipe.stages.empty()) {
    finding.missing = {"stages"};
    return finding;
  }
  const std::size_t end = first_warm(recipe).value_or(recipe.stages.size());
  const std::vector<SaltTime> times = times_for(subject, end, Moment::planned);
  const Result<Salting> salted = salting(recipe, *subject.sheet, times);
  if (!salted.ok()) {
    finding.missing = {"composition"};
    return finding;
  }
  const Salting& s = salted.value();
  const double days = days_of(times);
  finding.sense = LimitSense::least;
  finding.found = Amount{days, "d", ""};
  const std::pair<const char*, std::optional<Days>> evened[] = {
      {"evened_fast", s.evened_fast}, {"evened_likely", s.evened_likely}, {"evened_slow", s.evened_slow}};
  for (const auto& one : evened) {
    if (one.second) finding.figures.push_back(Figure{one.first, one.second->value, "d"});
  }
  if (s.evened_slow) {
    finding.limit = Amount{s.evened_slow->value, "d", ""};
    const Judged judged = judge(days, s.evened_slow->value, LimitSense::least, finding.known, 0.0);
    finding.level = judged.level;
    finding.margin = judged.margin;
  } else {
    finding.level = Level::not_met;
  }
  if (finding.level != Level::not_met) return finding;
  finding.advice = "more_rest";
  // Between the usual diffusivity and its slow end it may be through: near, not missed.
  if (s.evened_likely &&
      judge(days, s.evened_likely->value, LimitSense::least, finding.known, 0.0).level != Level::not_met) {
    finding.level = Level::near;
  }
  return finding;
}

Finding lot_finding(const recipe::Recipe& recipe, const MeatLot& lot) {
  const Threshold most = threshold("any.ph.whole_muscle_dry.raw");
  if (!lot.ph) {
    Finding finding = of_rule(Rule::meat_ph);
    finding.row = std::string(most.key);
    finding.source = std::string(most.origin.source);
    finding.about = lot.id;
    finding.limit = Amount{most.value, "pH", ""};
    finding.missing = {"meat_ph"};
    return finding;
  }
  const double usual = most.value - most.near_margin;
  Finding finding = against(Rule::meat_ph, "any.ph.whole_muscle_dry.raw", LimitSense::most, Amount{*lot.ph, "pH", ""},
                            Amount{most.value, "pH", ""}, 0.1, lot.ph_uncertainty);
  finding.about = lot.id;
  finding.figures.push_back(Figure{"usual_ph", usual, "pH"});
  if (whole_muscle(recipe)) finding.stop = Stop::with_reason;
  if (finding.level == Level::not_met) {
    finding.advice = "other_meat";
  } else if (std::round((usual - *lot.ph - lot.ph_uncertainty) * 1e9) < 0.0) {
    finding.level = Level::near;
  }
  return finding;
}

int badness(const Finding& finding) {
  if (finding.level == Level::not_met) return 0;
  if (finding.level == Level::near) return 1;
  return finding.missing.empty() ? 3 : 2;
}

std::string_view usual_of(StageKind kind) {
  switch (kind) {
    case StageKind::cure: break;
    case StageKind::rest: return "safety.stage_rest";
    case StageKind::ferment: return "safety.stage_ferment";
    case StageKind::cold_dry: return "safety.stage_cold_dry";
    case StageKind::dry: return "safety.stage_dry";
    case StageKind::store: return "safety.stage_store";
  }
  return "safety.stage_cure";
}

// The culture of the recipe that sours, or nullptr.
const tables::Culture* souring_culture(const recipe::Recipe& recipe) {
  for (const recipe::Line& line : recipe.lines) {
    if (line.kind != recipe::LineKind::culture) continue;
    const tables::Culture* culture = tables::find_culture(line.material);
    if (culture != nullptr && culture->sours()) return culture;
  }
  return nullptr;
}

// Of each stage out of its usual temperature or time one finding; one for all where none is.
std::vector<Finding> staging_findings(const Subject& subject) {
  const recipe::Recipe& recipe = *subject.recipe;
  std::vector<Finding> out;
  if (recipe.stages.empty()) {
    Finding finding = of_rule(Rule::staging);
    finding.missing = {"stages"};
    return {finding};
  }
  const tables::Culture* culture = souring_culture(recipe);
  for (const recipe::Stage& stage : recipe.stages) {
    const std::string_view key = usual_of(stage.kind);
    const Threshold row = threshold(key);
    double low_c = row.low;
    double high_c = row.high;
    std::string_view source = row.origin.source;
    if (stage.kind == StageKind::ferment && culture != nullptr) {
      low_c = culture->use_low.value;
      high_c = culture->use_high.value;
      source = culture->use.source;
    }
    const double c = stage.temperature.value;
    const bool warm = judge(c, high_c, LimitSense::most, row.origin.known, 0.0).level == Level::not_met;
    const bool cool = judge(c, low_c, LimitSense::least, row.origin.known, 0.0).level == Level::not_met;
    if (warm || cool) {
      Finding finding = against(Rule::staging, key, warm ? LimitSense::most : LimitSense::least,
                                Amount{c, "°C", ""}, Amount{warm ? high_c : low_c, "°C", ""}, 0.0, 0.0);
      finding.source = std::string(source);
      finding.about = stage.id;
      finding.advice = warm ? "stage_cooler" : "stage_warmer";
      out.push_back(finding);
    }
    if (stage.kind != StageKind::ferment) continue;
    Finding time = against(Rule::staging, "safety.stage_ferment_time", LimitSense::most,
                           Amount{stage.days.value * 24.0, "h", ""},
                           Amount{threshold("safety.stage_ferment_time").high, "h", ""}, 0.0, 0.0);
    time.about = stage.id;
    time.advice = "stage_shorter";
    if (time.level == Level::not_met) out.push_back(time);
  }
  if (out.empty()) {
    Finding finding = of_rule(Rule::staging);
    finding.source = std::string(threshold("safety.stage_cure").origin.source);
    out.push_back(finding);
  }
  return out;
}

// How strong the salt in the water is at least, anywhere, when a stage begins. Minced meat is salted
// throughout.
std::optional<double> salt_throughout(const Subject& subject, const std::vector<SaltTime>& times) {
  const recipe::Recipe& recipe = *subject.recipe;
  if (whole_muscle(recipe)) {
    // Salt comes from the rim and drying strengthens the rim: the centre has least of it.
    const Result<double> centre = salt_at_centre(recipe, *subject.sheet, times);
    if (!centre.ok()) return std::nullopt;
    return centre.value();
  }
  const double loss = times.empty() ? 0.0 : times.back().loss_at_end;
  return recipe::water_phase_salt(recipe::finished(*subject.sheet, loss));
}

// May whole muscle be warmer than 5 °C after these times, with what was measured up to an instant?
Finding centre_finding(const Subject& subject, const std::vector<SaltTime>& times, std::int64_t until_utc_ms) {
  const recipe::Recipe& recipe = *subject.recipe;
  const recipe::Sheet& sheet = *subject.sheet;
  const Result<Salting> salted = salting(recipe, sheet, times);
  if (const std::optional<Measured> activity = core_activity(subject.evidence, until_utc_ms)) {
    Finding finding =
        activity_against(Rule::cold_until_salted, "any.water_activity.whole_muscle_dry.centre", *activity);
    finding.stop = Stop::with_reason;
    if (finding.level != Level::not_met) return finding;
  }
  if (!salted.ok()) {
    Finding finding = of_rule(Rule::cold_until_salted);
    finding.missing = {"composition"};
    return finding;
  }
  const Salting& s = salted.value();
  Finding finding = salt_against(Rule::cold_until_salted, "any.water_phase_salt.whole_muscle_dry.centre",
                                 s.days.back().centre);
  finding.stop = Stop::with_reason;
  finding.place = Place::core;
  finding.way = Way::bound;
  finding.figures = {Figure{"salt_centre", 100.0 * s.days.back().centre, "%"},
                     Figure{"salt_likely", 100.0 * s.days.back().centre_likely, "%"},
                     Figure{"salt_mean", 100.0 * s.days.back().mean, "%"}};
  if (finding.level != Level::not_met) {
    finding.missing = {"core_water_activity"};
    return finding;
  }
  const double days = days_of(times);
  if (s.cold_until && s.cold_until->value > days) {
    finding.advice = "wait_cold";
    finding.figures.push_back(Figure{"day_met", s.cold_until->value, "d"});
    finding.figures.push_back(Figure{"days_left", std::ceil(s.cold_until->value - days), "d"});
    return finding;
  }
  const bool made = !subject.evidence.stages.empty();
  const std::optional<ColdWay> way = made ? cold_way(recipe, sheet, times) : cold_way(recipe, sheet);
  if (!way) {
    finding.advice = "more_salt";
    return finding;
  }
  finding.advice = "cold_way";
  finding.figures.push_back(Figure{"day_met", way->cure.value + way->dry.value, "d"});
  finding.figures.push_back(Figure{"days_left", way->dry.value + (made ? 0.0 : way->cure.value), "d"});
  finding.figures.push_back(Figure{"cure_days", way->cure.value, "d"});
  finding.figures.push_back(Figure{"cold_loss", 100.0 * way->loss, "%"});
  finding.figures.push_back(Figure{"cold_days", way->dry.value, "d"});
  return finding;
}

}  // namespace

std::vector<Finding> meat_ph_findings(const Subject& subject) {
  std::vector<Finding> out;
  for (const MeatLot& lot : subject.evidence.lots) out.push_back(lot_finding(*subject.recipe, lot));
  if (out.empty()) {
    out.push_back(lot_finding(*subject.recipe, MeatLot{}));
    return out;
  }
  std::sort(out.begin(), out.end(), [](const Finding& a, const Finding& b) {
    if (badness(a) != badness(b)) return badness(a) < badness(b);
    if (a.found && b.found && a.found->value != b.found->value) return a.found->value > b.found->value;
    return a.about.text < b.about.text;
  });
  for (std::size_t i = 1; i < out.size(); ++i) out[i].decides = false;
  return out;
}

Finding cold_finding(const Subject& subject, std::size_t stage, Moment moment) {
  Finding finding = centre_finding(subject, times_for(subject, stage, moment), move_into(subject, stage));
  finding.about = subject.recipe->stages[stage].id;
  finding.planned = moment == Moment::planned && done_of(subject, stage) == nullptr;
  return finding;
}

Finding air_finding(const Subject& subject, Celsius air) {
  const std::int64_t now = now_of(subject);
  Finding finding = centre_finding(subject, times_done(subject, now, subject.evidence.loss_now), now);
  finding.figures.push_back(Figure{"air", air.value, "°C"});
  if (finding.level == Level::not_met && finding.advice == "wait_cold") finding.advice = "back_to_cold";
  return finding;
}

std::vector<Finding> warm_air_findings(const Subject& subject) {
  const recipe::Recipe& recipe = *subject.recipe;
  std::vector<Finding> all;
  if (!whole_muscle(recipe)) return all;
  bool warm_stage = false;
  for (std::size_t i = 0; i < recipe.stages.size(); ++i) {
    const StageDone* begun = done_of(subject, i);
    if (begun == nullptr) continue;
    if (!is_cold(recipe.stages[i].temperature)) {
      warm_stage = true;
      continue;
    }
    const std::optional<Warm> warm = first_warm_in(subject, *begun);
    if (!warm) continue;
    const std::vector<SaltTime> times = times_done(subject, warm->at_utc_ms, subject.evidence.loss_now);
    Finding finding = centre_finding(subject, times, warm->at_utc_ms);
    finding.about = recipe.stages[i].id;
    finding.figures.push_back(Figure{"air", warm->temperature_c, "°C"});
    if (finding.level == Level::not_met) finding.advice = "back_to_cold";
    all.push_back(std::move(finding));
  }
  const std::optional<Celsius>& air = subject.evidence.hangs_in;
  if (air && !is_cold(*air) && !warm_stage) all.push_back(air_finding(subject, *air));
  return all;
}

Finding sealing_finding(const Subject& subject, std::size_t stage, Moment moment) {
  const recipe::Recipe& recipe = *subject.recipe;
  const recipe::Stage& sealed = recipe.stages[stage];
  const StageDone* begun = done_of(subject, stage);
  const bool recorded = moment == Moment::move || begun != nullptr;
  const std::int64_t until_utc_ms = move_into(subject, stage);
  const bool needs_souring = soured(recipe) && !has_soured(subject, until_utc_ms);
  double warmest_c = sealed.temperature.value;
  if (begun != nullptr) warmest_c = highest_in(subject, *begun).value_or(warmest_c);

  Finding cold =
      against(Rule::sealing, "any.temperature.any.sealing", LimitSense::most, Amount{warmest_c, "°C", ""},
              Amount{threshold("any.temperature.any.sealing").value, "°C", ""}, 0.0, 0.0);
  cold.missing = {"temperature_log"};
  std::vector<Finding> ways{cold};
  if (const std::optional<double> salt = salt_throughout(subject, times_for(subject, stage, moment))) {
    Finding way = salt_against(Rule::sealing, "any.water_phase_salt.any.sealing", *salt);
    way.place = Place::core;
    way.way = Way::bound;
    way.missing = {"core_water_activity"};
    ways.push_back(way);
  }
  if (const std::optional<Measured> activity = core_activity(subject.evidence, until_utc_ms)) {
    ways.push_back(activity_against(Rule::sealing, "any.water_activity.any.sealing", *activity));
  }
  const std::vector<PhSet> ph = ph_sets(subject.evidence.readings, until_utc_ms);
  if (!ph.empty() && !ph.back().doubtful) {
    ways.push_back(
        against(Rule::sealing, "any.ph.any.sealing", LimitSense::most, Amount{ph.back().highest, "pH", ""},
                Amount{threshold("any.ph.any.sealing").value, "pH", ""}, 0.1, ph.back().upper - ph.back().highest));
  }
  const auto holds =
      std::find_if(ways.begin(), ways.end(), [](const Finding& way) { return way.level != Level::not_met; });
  Finding finding = holds != ways.end() ? *holds : ways.front();
  finding.about = sealed.id;
  finding.planned = !recorded;
  finding.stop = Stop::with_reason;
  if (ways.size() > 1 && ways[1].row == "any.water_phase_salt.any.sealing") {
    finding.figures.push_back(Figure{"salt_throughout", ways[1].found->value, "%"});
  }
  if (finding.level == Level::not_met) {
    finding.advice = "seal_colder";
    finding.missing.clear();
  }
  if (!needs_souring) return finding;

  const auto end = recipe.stages.begin() + static_cast<std::ptrdiff_t>(stage);
  const bool sours_before = std::any_of(recipe.stages.begin(), end, [](const recipe::Stage& before) {
    return before.kind == StageKind::ferment;
  });
  if (!recorded && sours_before) {
    if (finding.level == Level::not_met) return finding;
    finding.level = Level::not_known;
    finding.missing = {"ph_reading"};
    return finding;
  }
  Finding sour = of_rule(Rule::sealing);
  sour.row = "sealed_before_soured";
  sour.about = sealed.id;
  sour.planned = !recorded;
  sour.stop = Stop::with_reason;
  sour.level = Level::not_met;
  sour.source = "Good Manufacturing Practices for Fermented Dry and Semi-Dry Sausage (1997)";
  sour.known = tables::Known::read_copy;
  sour.limit = Amount{kSafePh, "pH", ""};
  if (!ph.empty()) sour.found = Amount{ph.back().highest, "pH", ""};
  sour.missing = {"ph_reading"};
  sour.advice = "seal_after_souring";
  return sour;
}

std::vector<Finding> stage_findings(const Subject& subject) {
  const recipe::Recipe& recipe = *subject.recipe;
  std::vector<Finding> all{cure_time_finding(subject)};
  for (Finding& finding : meat_ph_findings(subject)) all.push_back(std::move(finding));
  for (Finding& finding : staging_findings(subject)) all.push_back(std::move(finding));

  const std::optional<std::size_t> warm = first_warm(recipe);
  std::vector<Finding> warm_air = warm_air_findings(subject);
  const bool in_warm_air = !warm_air.empty();
  for (Finding& finding : warm_air) all.push_back(std::move(finding));
  if (whole_muscle(recipe) && warm) {
    all.push_back(cold_finding(subject, *warm, Moment::planned));
  } else if (!in_warm_air) {
    Finding finding = of_rule(Rule::cold_until_salted);
    finding.level = Level::does_not_apply;
    if (whole_muscle(recipe) && recipe.stages.empty()) {
      finding.level = Level::not_known;
      finding.missing = {"stages"};
    }
    all.push_back(finding);
  }

  bool any_sealed = false;
  for (std::size_t i = 0; i < recipe.stages.size(); ++i) {
    if (!recipe.stages[i].sealed) continue;
    any_sealed = true;
    all.push_back(sealing_finding(subject, i, Moment::planned));
  }
  if (!any_sealed) {
    Finding finding = of_rule(Rule::sealing);
    finding.level = recipe.stages.empty() ? Level::not_known : Level::does_not_apply;
    if (recipe.stages.empty()) finding.missing = {"stages"};
    all.push_back(finding);
  }
  return all;
}

}  // namespace saltrafter::safety
