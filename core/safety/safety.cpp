#include "core/safety/safety.h"

#include "core/safety/curing_limits.h"

namespace saltrafter::safety {
namespace {

// Fermentation is asked of what is minced and soured; of whole muscle the rule says nothing.
Finding fermentation_finding(const recipe::Recipe& recipe) {
  Finding finding;
  finding.rule = Rule::fermentation;
  finding.source = "Good Manufacturing Practices for Fermented Dry and Semi-Dry Sausage (1997)";
  finding.known = tables::Known::read_copy;
  if (recipe.product_class == recipe::ProductClass::whole_muscle_dry) {
    finding.level = Level::does_not_apply;
    return finding;
  }
  finding.level = Level::not_known;
  finding.missing = {"ph_reading", "temperature_log"};
  return finding;
}

bool has_species(const recipe::Recipe& recipe, tables::Species species) {
  for (const recipe::Line& line : recipe.lines) {
    if (line.kind != recipe::LineKind::meat || !(line.amount > 0.0)) continue;
    const tables::Cut* cut = tables::find_cut(line.material);
    if (cut != nullptr && cut->species == species) return true;
  }
  return false;
}

// Nothing is recorded yet that could show any meat free of parasites. Freezing is no evidence for game.
Finding parasites_finding(const recipe::Recipe& recipe) {
  Finding finding;
  finding.rule = Rule::parasites;
  finding.level = Level::not_known;
  const bool game = has_species(recipe, tables::Species::game);
  if (game || has_species(recipe, tables::Species::pork)) {
    finding.source = "Former 9 CFR 318.10; 83 FR 25302 (2018)";
    finding.known = tables::Known::read;
    if (!game) finding.missing.push_back("freezing_record");
    finding.missing.push_back("trichinella_test");
    return finding;
  }
  finding.known = tables::Known::choice;
  finding.missing = {"freezing_record"};
  return finding;
}

constexpr double kNearWaterActivity = 0.01;

// Without a pH the water activity stands alone.
struct WaterActivityRule {
  double most;
  const char* source;
  tables::Known known;
};

WaterActivityRule water_activity_rule(recipe::ProductClass product) {
  if (product == recipe::ProductClass::comminuted_dry) {
    return {0.91, "Leistner and Roedel, shelf stability by water activity alone", tables::Known::read};
  }
  return {0.85, "Staphylococcus aureus, toxin, unfermented muscle", tables::Known::memory};
}

WaterActivityFound brine_bound(const recipe::Composition& finished) {
  WaterActivityFound found;
  found.place = Place::mean;
  found.way = Way::bound;
  const Result<WaterActivity> bound =
      recipe::brine_activity_of_water_phase(recipe::water_phase_salt(finished));
  // More salt than the water can dissolve: the brine is saturated and the rest lies undissolved.
  found.value = bound.ok() ? bound.value() : WaterActivity(recipe::kSaturatedBrineActivity);
  return found;
}

Finding water_activity_finding(const recipe::Recipe& recipe, const recipe::Sheet& sheet,
                               const std::optional<WaterActivityFound>& given) {
  const WaterActivityRule rule = water_activity_rule(recipe.product_class);
  const WaterActivityFound found = given ? *given : brine_bound(recipe::finished(sheet, recipe.wanted_loss));
  Finding finding;
  finding.rule = Rule::water_activity;
  finding.source = rule.source;
  finding.known = rule.known;
  finding.found = Amount{found.value.value, "1", ""};
  finding.limit = Amount{rule.most, "1", ""};
  finding.place = found.place;
  finding.way = found.way;
  const bool stated = found.place == Place::core || !found.site.empty();
  if (found.way != Way::measured || !stated) {
    finding.level = Level::not_known;
    finding.missing.push_back(found.way == Way::measured ? "sample_site" : "measured_water_activity");
    return finding;
  }
  const Judged judged =
      judge(found.value.value, rule.most, tables::LimitSense::most, rule.known, kNearWaterActivity);
  finding.level = judged.level;
  finding.margin = judged.margin;
  return finding;
}

}  // namespace

std::vector<Finding> findings(const recipe::Recipe& recipe, const recipe::Sheet& sheet, Chosen chosen,
                              Date today, const std::optional<WaterActivityFound>& water_activity) {
  std::vector<Finding> all{ceiling_finding(sheet)};
  for (Finding& finding : curing_findings(recipe, sheet, chosen, today)) all.push_back(std::move(finding));
  all.push_back(fermentation_finding(recipe));
  all.push_back(parasites_finding(recipe));
  all.push_back(water_activity_finding(recipe, sheet, water_activity));
  return all;
}

}  // namespace saltrafter::safety
