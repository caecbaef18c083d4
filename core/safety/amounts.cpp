#include "core/safety/amounts.h"

#include <algorithm>
#include <cstdint>
#include <map>

#include "core/safety/stage_times.h"

namespace saltrafter::safety {
namespace {

using State = AmountFound::State;
using tables::Agent;
using tables::LimitBasis;
using tables::LimitSense;

// Sodium ascorbate for the acid in the regulation's own quantities: 7/8 oz stand beside 3/4 oz.
constexpr double kAscorbatePerAcid = 7.0 / 6.0;

// What a meter is good for where nobody says better (choice).
constexpr double kUsualPhError = 0.05;
constexpr double kUsualActivityError = 0.01;

constexpr std::int64_t kTakenTogetherMs = 3600 * 1000;

AmountFound missing(std::string what) {
  AmountFound found;
  found.state = State::missing;
  found.missing.push_back(std::move(what));
  return found;
}

AmountFound none() {
  AmountFound found;
  found.state = State::none;
  return found;
}

AmountFound of_value(double value, double uncertainty = 0.0) {
  AmountFound found;
  found.value = value;
  found.uncertainty = uncertainty;
  return found;
}

// Where there is none, a most has nothing to say and a least is missed.
AmountFound added(double value, double uncertainty, LimitSense sense) {
  return value <= 0.0 && sense == LimitSense::most ? none() : of_value(value, uncertainty);
}

double ingoing_ppm(const recipe::Sheet& sheet, Agent agent) {
  switch (agent) {
    case Agent::nitrite: return sheet.nitrite.value;
    case Agent::nitrate: return sheet.nitrate.value;
    default: break;
  }
  return sheet.nitrite.value + sheet.nitrate.value;
}

AmountFound curing_salt(const Subject& subject, const tables::Limit& row) {
  const recipe::Sheet& sheet = *subject.sheet;
  const double ppm = ingoing_ppm(sheet, row.agent);
  if (row.basis == LimitBasis::residual) return ppm > 0.0 ? missing("residual_analysis") : none();
  const Grams half_step = sheet.mix_step * (0.5 * share_in_mix(subject.recipe->mix, row.agent));
  return added(ppm, recipe::ingoing(half_step, sheet.curing_base).value, row.sense);
}

struct Weighed {
  double mass_g = 0.0;
  double half_steps_g = 0.0;
};

Weighed weighed_of(const recipe::Sheet& sheet, bool acid) {
  Weighed weighed;
  for (const recipe::SheetLine& line : sheet.lines) {
    const bool is_acid = line.material == "ascorbic_acid";
    const bool is_salt = line.material == "sodium_ascorbate" || line.material == "sodium_erythorbate";
    if (!(acid ? is_acid : is_salt)) continue;
    weighed.mass_g += line.weighed.value;
    weighed.half_steps_g += 0.5 * recipe::scale_step(line.weighed).value;
  }
  return weighed;
}

// The acid and its salts have a figure each; where both are in, each counts the other by its own.
AmountFound ascorbate(const Subject& subject, const tables::Limit& row) {
  const recipe::Sheet& sheet = *subject.sheet;
  const Grams base = sheet.curing_base;
  const Weighed acid = weighed_of(sheet, true);
  Weighed salts = weighed_of(sheet, false);
  // An own material that stands in place of one of them is in the sheet's sum alone.
  salts.mass_g = std::max(salts.mass_g, sheet.ascorbate.value * 1e-6 * base.value - acid.mass_g);
  const bool of_acid = row.expressed == tables::Expressed::acid;
  if ((of_acid ? acid : salts).mass_g <= 1e-9) return row.sense == LimitSense::most ? none() : of_value(0.0);
  const auto in_this = [of_acid](double acid_g, double salts_g) {
    return of_acid ? acid_g + salts_g / kAscorbatePerAcid : salts_g + acid_g * kAscorbatePerAcid;
  };
  return of_value(recipe::ingoing(Grams(in_this(acid.mass_g, salts.mass_g)), base).value,
                  recipe::ingoing(Grams(in_this(acid.half_steps_g, salts.half_steps_g)), base).value);
}

AmountFound salt(const Subject& subject) {
  const recipe::Sheet& sheet = *subject.sheet;
  const double base_kg = salted_meat(*subject.recipe, sheet).value * 1e-3;
  if (!(base_kg > 0.0)) return missing("meat");
  double half_steps_g = 0.0;
  for (const recipe::SheetLine& line : sheet.lines) {
    if (line.kind == recipe::LineKind::salt) half_steps_g += 0.5 * recipe::scale_step(line.weighed).value;
  }
  return of_value(sheet.composition.salt_g / base_kg, half_steps_g / base_kg);
}

AmountFound salt_in_water(const Subject& subject, const tables::Limit& row) {
  if (row.basis == LimitBasis::centre) return missing("salt_centre");
  const recipe::Composition& now = subject.sheet->composition;
  const double loss = subject.recipe->wanted_loss;
  AmountFound found = of_value(recipe::water_phase_salt(recipe::finished(*subject.sheet, loss)));
  found.figures = {{"salt_in_water_now", 100.0 * recipe::water_phase_salt(now), "%"},
                   {"wanted_loss", 100.0 * loss, "%"}};
  return found;
}

// Of each piece the readings of a kind that were taken together with its last one until now: another piece's good
// reading does not take back what was read of this one. Those that name no piece are of one.
std::vector<const Reading*> last_readings(const Subject& subject, ReadingKind kind) {
  const std::int64_t now = now_of(subject);
  const auto counts = [kind, now](const Reading& reading) {
    return reading.kind == kind && reading.at_utc_ms <= now;
  };
  std::map<std::string, std::int64_t> last;
  for (const Reading& reading : subject.evidence.readings) {
    if (!counts(reading)) continue;
    const auto found = last.try_emplace(reading.piece.text, reading.at_utc_ms).first;
    found->second = std::max(found->second, reading.at_utc_ms);
  }
  std::vector<const Reading*> all;
  for (const Reading& reading : subject.evidence.readings) {
    if (counts(reading) && reading.at_utc_ms >= last[reading.piece.text] - kTakenTogetherMs) all.push_back(&reading);
  }
  return all;
}

bool fails_its_check(const Reading& reading) {
  return reading.instrument == InstrumentState::overdue || reading.instrument == InstrumentState::failed;
}

// A batch is as good as the worst that was read of it.
AmountFound worst_of(const std::vector<const Reading*>& readings, LimitSense sense, double usual_error) {
  const bool most = sense == LimitSense::most;
  AmountFound found;
  for (const Reading* reading : readings) {
    found.doubtful = found.doubtful || fails_its_check(*reading);
    const double so_far = found.value.value_or(reading->value);
    found.value = most ? std::max(so_far, reading->value) : std::min(so_far, reading->value);
    found.uncertainty =
        std::max(found.uncertainty, reading->uncertainty > 0.0 ? reading->uncertainty : usual_error);
  }
  return found;
}

AmountFound ph(const Subject& subject, const tables::Limit& row) {
  if (row.basis == LimitBasis::raw) return missing("meat_ph");
  const std::vector<const Reading*> readings = last_readings(subject, ReadingKind::ph_meter);
  return readings.empty() ? missing("ph_reading") : worst_of(readings, row.sense, kUsualPhError);
}

WaterActivity brine_bound(const recipe::Composition& composition) {
  const Result<WaterActivity> bound =
      recipe::brine_activity_of_water_phase(recipe::water_phase_salt(composition));
  // More salt than the water can dissolve: the brine is saturated and the rest lies undissolved.
  return bound.ok() ? bound.value() : WaterActivity(recipe::kSaturatedBrineActivity);
}

AmountFound water_activity(const Subject& subject, LimitSense sense) {
  if (subject.water_activity) {
    const WaterActivityFound& given = *subject.water_activity;
    const bool stated = given.place == Place::core || !given.site.empty();
    AmountFound found = of_value(given.value.value, kUsualActivityError);
    if (given.way != Way::measured) found.missing.push_back("measured_water_activity");
    if (given.way == Way::measured && !stated) found.missing.push_back("sample_site");
    if (!found.missing.empty()) found.state = State::missing;
    found.place = given.place;
    found.way = given.way;
    return found;
  }
  std::vector<const Reading*> readings = last_readings(subject, ReadingKind::water_activity);
  const bool measured = !readings.empty();
  readings.erase(std::remove_if(readings.begin(), readings.end(),
                                [](const Reading* reading) { return reading->site != Site::core; }),
                 readings.end());
  AmountFound found;
  if (!readings.empty()) {
    found = worst_of(readings, sense, kUsualActivityError);
    found.place = Place::core;
    found.way = Way::measured;
    return found;
  }
  found = missing(measured ? "sample_site" : "measured_water_activity");
  found.value = brine_bound(recipe::finished(*subject.sheet, subject.recipe->wanted_loss)).value;
  found.place = Place::mean;
  found.way = Way::bound;
  return found;
}

AmountFound temperature(const recipe::Recipe& recipe, LimitSense sense) {
  if (recipe.stages.empty()) return missing("stages");
  AmountFound found = of_value(recipe.stages.front().temperature.value);
  for (const recipe::Stage& stage : recipe.stages) {
    const double celsius = stage.temperature.value;
    found.value =
        sense == LimitSense::most ? std::max(*found.value, celsius) : std::min(*found.value, celsius);
  }
  return found;
}

}  // namespace

AmountFound amount_of(const Subject& subject, const tables::Limit& row) {
  switch (row.agent) {
    case Agent::nitrite:
    case Agent::nitrate:
    case Agent::nitrite_and_nitrate: return curing_salt(subject, row);
    case Agent::ascorbate: return ascorbate(subject, row);
    case Agent::salt: return salt(subject);
    case Agent::water_phase_salt: return salt_in_water(subject, row);
    case Agent::water_activity: return water_activity(subject, row.sense);
    case Agent::ph: return ph(subject, row);
    case Agent::temperature: return temperature(*subject.recipe, row.sense);
    case Agent::days: {
      const std::optional<double> days = planned_days(*subject.recipe);
      return days ? of_value(*days) : missing("stages");
    }
    case Agent::moisture_protein_ratio: {
      const double ratio =
          recipe::moisture_protein_ratio(recipe::finished(*subject.sheet, subject.recipe->wanted_loss));
      return ratio > 0.0 ? of_value(ratio) : missing("protein");
    }
  }
  return missing("other");
}

std::optional<double> planned_days(const recipe::Recipe& recipe) {
  std::optional<double> days;
  for (const recipe::Stage& stage : recipe.stages) {
    if (stage.kind != recipe::StageKind::store) days = days.value_or(0.0) + stage.days.value;
  }
  return days;
}

Grams salted_meat(const recipe::Recipe& recipe, const recipe::Sheet& sheet) {
  return sheet.meat * (1.0 - recipe.bone_share);
}

double share_in_mix(const recipe::CuringMix& mix, tables::Agent agent) {
  switch (agent) {
    case Agent::nitrite: return mix.nitrite;
    case Agent::nitrate: return mix.nitrate;
    default: break;
  }
  return mix.nitrite + mix.nitrate;
}

}  // namespace saltrafter::safety
