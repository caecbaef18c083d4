#include "core/safety/parasites.h"

#include <algorithm>
#include <cmath>

#include "core/safety/cured_days.h"
#include "core/safety/meats.h"

namespace saltrafter::safety {
namespace {

using tables::Species;

constexpr const char* kOtherMeats =
    "MSD Veterinary Manual, preventing trichinellosis: freezing is not reliable for meats other than pork";

double rounded(double value) { return std::round(value * 1e9) / 1e9; }
bool at_least(double value, double limit) { return rounded(value) >= rounded(limit); }

bool is_against_trichinella(const tables::Freezing& row) {
  return row.parasite == tables::Parasite::trichinella;
}

bool covers(const tables::Freezing& row, Celsius temperature, Metres thickness, bool core_measured) {
  if (!is_against_trichinella(row) || !at_least(row.temperature.value, temperature.value)) return false;
  if (row.where == tables::FrozenWhere::core) return core_measured;
  // Within a rounding of its edge a piece is the thinner one.
  return !at_least(row.thickness_over.value, thickness.value) &&
         (!row.thickness_most || at_least(row.thickness_most->value, thickness.value));
}

const tables::Freezing* freezing_row(Celsius temperature, Metres thickness, bool core_measured) {
  if (!std::isfinite(temperature.value) || !std::isfinite(thickness.value)) return nullptr;
  const tables::Freezing* best = nullptr;
  for (const tables::Freezing& row : tables::freezing()) {
    if (!covers(row, temperature, thickness, core_measured)) continue;
    if (best == nullptr || row.lasts() < best->lasts()) best = &row;
  }
  return best;
}

// What a freezer can do: the row of the warmest chamber and thin pieces, for advice.
const tables::Freezing* warmest_row() {
  const tables::Freezing* warmest = nullptr;
  for (const tables::Freezing& row : tables::freezing()) {
    if (!is_against_trichinella(row) || row.where != tables::FrozenWhere::chamber) continue;
    if (warmest == nullptr || row.temperature > warmest->temperature) warmest = &row;
  }
  return warmest;
}

Metres thickest() {
  Metres most;
  for (const tables::Freezing& row : tables::freezing()) {
    if (row.where == tables::FrozenWhere::chamber && row.thickness_most)
      most = std::max(most, *row.thickness_most);
  }
  return most;
}

void origin_of(Finding& finding, const tables::Origin& origin) {
  finding.source = origin.source;
  finding.known = origin.known;
}

void days_found(Finding& finding, double found, double limit) {
  finding.found = Amount{found, "d", ""};
  finding.limit = Amount{limit, "d", ""};
  finding.sense = tables::LimitSense::least;
  finding.margin = rounded(found - limit);
}

void advise_freezing(Finding& finding, const char* advice) {
  const tables::Freezing* row = warmest_row();
  finding.advice = advice;
  finding.figures.push_back(Figure{"freeze_temperature", row->temperature.value, "°C"});
  finding.figures.push_back(Figure{"freeze_days", row->lasts().value, "d"});
}

// What is recorded of freezing: met, or not_met and a stop, or not_known where the record says too little.
Finding of_freezing(const Frozen& frozen) {
  Finding finding;
  finding.rule = Rule::parasites;
  finding.row = "freezing";
  origin_of(finding, warmest_row()->origin);
  const bool numbers = std::isfinite(frozen.temperature.value) && std::isfinite(frozen.days.value) &&
                       std::isfinite(frozen.thickness.value) && frozen.days.value >= 0.0;
  if (!numbers) {
    finding.missing = {"freezing_record"};
    advise_freezing(finding, "freeze_or_test");
    return finding;
  }
  const tables::Freezing* row = freezing_row(frozen.temperature, frozen.thickness, frozen.core_measured);
  if (row != nullptr) {
    finding.row = row->key;
    origin_of(finding, row->origin);
    days_found(finding, frozen.days.value, row->lasts().value);
    // Whole days, counted: the time that was asked for is enough, with no doubt of a meter to it.
    finding.level = at_least(frozen.days.value, row->lasts().value) ? Level::met : Level::not_met;
    if (finding.level == Level::met) return finding;
    finding.stop = Stop::with_reason;
    finding.advice = "freeze_longer";
    finding.figures.push_back(Figure{"days_left", -*finding.margin, "d"});
    return finding;
  }
  if (!at_least(warmest_row()->temperature.value, frozen.temperature.value)) {
    finding.row = "too_warm";
    finding.found = Amount{frozen.temperature.value, "°C", ""};
    finding.limit = Amount{warmest_row()->temperature.value, "°C", ""};
    finding.margin = rounded(finding.limit->value - finding.found->value);
    advise_freezing(finding, "freeze_colder");
  } else if (!(frozen.thickness.value > 0.0)) {
    finding.missing = {"freezing_thickness"};
    return finding;
  } else {
    finding.row = "too_thick";
    finding.advice = "freeze_thinner";
    finding.figures.push_back(Figure{"thickness_most", thickest().value * 1000.0, "mm"});
  }
  finding.level = Level::not_met;
  finding.stop = Stop::with_reason;
  return finding;
}

// Both ways through the sausage itself; they are the same for all its pork.
struct Cured {
  std::optional<CuringUnderWay> curing;
  std::optional<SouringUnderWay> souring;
  bool taken_down = false;

  bool may_still_do() const { return curing && curing->plate_known && !taken_down; }
};

std::optional<Finding> cured_finding(const Cured& cured) {
  Finding finding;
  finding.rule = Rule::parasites;
  if (cured.curing && cured.curing->is_done()) {
    const CuringUnderWay& way = *cured.curing;
    finding.row = way.row->key;
    origin_of(finding, way.row->origin);
    days_found(finding, way.drying_done, way.row->drying_days.value);
    finding.figures.push_back(Figure{"total_done", way.total_done, "d"});
    finding.level = Level::met;
    return finding;
  }
  if (cured.souring && cured.souring->is_done()) {
    const SouringUnderWay& way = *cured.souring;
    finding.row = way.row->key;
    origin_of(finding, way.row->origin);
    days_found(finding, way.days, way.row->days.value);
    finding.figures.push_back(Figure{"study_ph", way.ph, "pH"});
    finding.level = way.sure ? Level::met : Level::near;
    return finding;
  }
  return std::nullopt;
}

// What the ways through the sausage still ask for, as figures.
void add_ways(Finding& finding, const Cured& cured) {
  if (cured.curing && !cured.taken_down) {
    const CuringUnderWay& way = *cured.curing;
    if (!way.plate_known) finding.missing.push_back("plate_size");
    finding.missing.push_back("drying_days");
    if (way.unlogged) finding.missing.push_back("temperature_log");
    finding.figures.push_back(Figure{"drying_days", way.row->drying_days.value, "d"});
    finding.figures.push_back(Figure{"total_days", way.row->total_days.value_or(Days(0.0)).value, "d"});
    finding.figures.push_back(Figure{"drying_planned", way.drying_planned, "d"});
    finding.figures.push_back(Figure{"total_planned", way.total_planned, "d"});
    finding.figures.push_back(Figure{"drying_done", way.drying_done, "d"});
    finding.figures.push_back(Figure{"total_done", way.total_done, "d"});
  }
  if (cured.souring) {
    const bool said = cured.curing && !cured.taken_down && cured.curing->unlogged;
    if (cured.souring->unlogged && !said) finding.missing.push_back("temperature_log");
    finding.figures.push_back(Figure{"study_days", cured.souring->row->days.value, "d"});
    finding.figures.push_back(Figure{"study_done", cured.souring->days, "d"});
  }
}

Finding of_pork(const MeatLot* lot, const Cured& cured) {
  std::optional<Finding> frozen;
  if (lot != nullptr && lot->frozen) frozen = of_freezing(*lot->frozen);
  if (frozen && frozen->level == Level::met) return *frozen;
  if (const std::optional<Finding> done = cured_finding(cured)) return *done;
  if (frozen && (frozen->level == Level::not_known || !cured.may_still_do())) {
    add_ways(*frozen, cured);
    return *frozen;
  }
  Finding finding;
  finding.rule = Rule::parasites;
  finding.row = "pork";
  origin_of(finding, cured.may_still_do() ? cured.curing->row->origin : warmest_row()->origin);
  if (!frozen) finding.missing = {"freezing_record", "trichinella_test"};
  add_ways(finding, cured);
  if (cured.may_still_do()) {
    finding.advice = "dry_by_method";
  } else {
    advise_freezing(finding, "freeze_or_test");
  }
  return finding;
}

// Game, horse, and whatever was shot: only heat or a test helps. That it was frozen is known then to be no
// treatment, save of farmed game, of which no source says how it stands.
Finding of_other_carrier(const Meat& meat) {
  Finding finding;
  finding.rule = Rule::parasites;
  finding.source = kOtherMeats;
  finding.known = tables::Known::read;
  finding.advice = "heat_or_test";
  finding.row = meat.wild ? "wild" : meat.species == Species::horse ? "horse" : "game";
  const bool relied_on_cold = meat.lot != nullptr && meat.lot->frozen && finding.row != "game";
  if (relied_on_cold) {
    finding.level = Level::not_met;
    finding.stop = Stop::with_reason;
  } else {
    finding.missing = {"trichinella_test"};
  }
  return finding;
}

Finding of_no_carrier(Species species) {
  Finding finding;
  finding.rule = Rule::parasites;
  finding.row = species == Species::poultry ? "poultry" : "ruminant";
  finding.level = Level::does_not_apply;
  finding.advice = "toxoplasma";
  for (const tables::Freezing& row : tables::freezing()) {
    if (row.parasite != tables::Parasite::toxoplasma) continue;
    origin_of(finding, row.origin);
    finding.figures.push_back(Figure{"freeze_temperature", row.temperature.value, "°C"});
    finding.figures.push_back(Figure{"freeze_days", row.lasts().value, "d"});
  }
  return finding;
}

Finding certified() {
  Finding finding;
  finding.rule = Rule::parasites;
  finding.row = "certificate";
  finding.level = Level::met;
  finding.source = "certificate, as recorded by the maker";
  finding.known = tables::Known::read;
  return finding;
}

Finding unknown_animal() {
  Finding finding;
  finding.rule = Rule::parasites;
  finding.row = "own_cut";
  finding.known = tables::Known::choice;
  finding.source = "own cut, its animal not recorded";
  finding.missing = {"meat_species", "freezing_record", "trichinella_test"};
  return finding;
}

Finding of_meat(const Meat& meat, const Cured& cured) {
  if (!meat.species) return unknown_animal();
  switch (*meat.species) {
    case Species::beef:
    case Species::veal:
    case Species::lamb:
    case Species::goat:
    case Species::poultry:
      return of_no_carrier(*meat.species);
    case Species::pork:
    case Species::horse:
    case Species::game:
      break;
  }
  if (meat.lot != nullptr && meat.lot->certified_free) return certified();
  return freezing_counts(*meat.species, meat.wild) ? of_pork(meat.lot, cured) : of_other_carrier(meat);
}

}  // namespace

std::optional<double> freezing_days(Celsius temperature, Metres thickness, bool core_measured) {
  const tables::Freezing* row = freezing_row(temperature, thickness, core_measured);
  if (row == nullptr) return std::nullopt;
  return row->lasts().value;
}

bool freezing_counts(Species species, bool wild) { return species == Species::pork && !wild; }

std::optional<DryingMethod> curing_method(double salt_share, Metres diameter, bool smoked, bool pepperoni) {
  if (!std::isfinite(salt_share) || !std::isfinite(diameter.value)) return std::nullopt;
  std::optional<DryingMethod> best;
  for (const tables::CuringMethod& row : tables::curing_methods()) {
    if (!tables::is_evidence(row.origin.known) || row.product == tables::CuredProduct::whole_muscle) continue;
    if ((row.product == tables::CuredProduct::pepperoni && !pepperoni) || (row.smoke_hours && !smoked))
      continue;
    if (row.salt_least && !at_least(salt_share, *row.salt_least)) continue;
    if (at_least(row.diameter_over.value, diameter.value)) continue;
    if (row.diameter_most && !at_least(row.diameter_most->value, diameter.value)) continue;
    const Days total = row.total_days.value_or(row.drying_days);
    if (!best || total < best->total) best = DryingMethod{std::string(row.key), row.drying_days, total};
  }
  return best;
}

std::vector<Finding> parasite_findings(const recipe::Recipe& recipe, const recipe::Sheet& sheet,
                                       const Evidence& evidence, std::int64_t now_utc_ms) {
  Cured cured;
  cured.curing = curing_under_way(recipe, sheet, evidence, now_utc_ms);
  cured.souring = souring_under_way(recipe, sheet, evidence, now_utc_ms);
  cured.taken_down = evidence.taken_down;
  std::vector<Finding> all;
  for (const Meat& meat : meats_of(recipe, evidence)) {
    Finding finding = of_meat(meat, cured);
    if (meat.lot != nullptr || !meat.species) finding.about = meat.about;
    const std::string name = name_of(finding);
    const bool said =
        std::any_of(all.begin(), all.end(), [&](const Finding& f) { return name_of(f) == name; });
    if (!said) all.push_back(std::move(finding));
  }
  return all;
}

}  // namespace saltrafter::safety
