#include "core/recipe/activity.h"

#include <algorithm>
#include <cmath>

#include "core/recipe/brine.h"
#include "core/recipe/constant.h"

namespace saltrafter::recipe {
namespace {

constexpr double kGlucoseGMol = 180.156;
constexpr double kSucroseGMol = 342.296;
constexpr double kLactatePerGlucose = 2.0;
// Half the width of a normal spread that holds 9 of 10, in standard deviations.
constexpr double kNineOfTen = 1.645;

Result<double> model(const Composition& composition, const Solutes& solutes) {
  const Result<Isotherm> isotherm = isotherm_of(composition, solutes);
  if (!isotherm.ok()) return isotherm.error();
  const double content = water_content(composition);
  if (!(content >= 0.0)) return out_of_range("water", content, 0.0, 1e9, "kg/kg");
  return isotherm.value().activity(content).value;
}

}  // namespace

Holding usual_holding() { return {constant("activity.theta").value, constant("activity.osmol").value}; }

Result<Isotherm> isotherm_of(const Composition& composition, const Solutes& solutes, const Holding& holding) {
  const Composition& c = composition;
  const double dry_g = c.protein_g + c.fat_g + c.salt_g + c.rest_g;
  Solids solids = solids_of(composition);
  if (dry_g > 0.0) {
    // Lactate was sugar, and weighs the same.
    const double dissolved_g = kGlucoseGMol * (solutes.sugar_mol + solutes.lactate_mol / kLactatePerGlucose);
    const double holds = std::max(0.0, solids.protein_and_rest - dissolved_g / dry_g);
    const double dissolved_mol = solutes.sugar_mol + solutes.lactate_mol + solutes.curing_mol;
    solids.protein_and_rest = holding.theta * holds;
    solids.osmol_per_kg = holding.osmol_per_kg * holds + dissolved_mol / (1e-3 * dry_g);
  }
  return Isotherm::make(solids);
}

WaterActivity activity_at_most(const Composition& composition) {
  const Result<WaterActivity> brine = brine_activity_of_water_phase(water_phase_salt(composition));
  return WaterActivity(std::max(brine.ok() ? brine.value().value : 0.0, kSaturatedBrineActivity));
}

Result<ActivityEstimate> estimate_activity(const Composition& composition, const Solutes& solutes,
                                           const std::vector<MeasuredActivity>& learnt) {
  const Result<double> computed = model(composition, solutes);
  if (!computed.ok()) return computed.error();
  ActivityEstimate out;
  out.error = constant("activity.error").value;
  out.at_most = activity_at_most(composition);
  double off = 0.0;
  for (const MeasuredActivity& measured : learnt) {
    if (!(measured.measured.value > 0.0 && measured.measured.value <= 1.0)) continue;
    const Result<double> then = model(measured.composition, measured.solutes);
    if (!then.ok()) continue;
    off += measured.measured.value - then.value();
    ++out.learnt_from;
  }
  double likely = computed.value();
  if (out.learnt_from > 0) {
    // The model's offset for this kind of product, normal about 0, seen through each measurement's own
    // spread.
    const double model_sd = out.error / kNineOfTen;
    const double measured_sd = constant("activity.measured_sd").value;
    const double per_measured = 1.0 / (measured_sd * measured_sd);
    const double known = out.learnt_from * per_measured + 1.0 / (model_sd * model_sd);
    likely += off * per_measured / known;
    out.error = std::min(out.error, kNineOfTen * std::sqrt(1.0 / known + measured_sd * measured_sd));
  }
  out.likely = WaterActivity(std::clamp(likely, 0.0, out.at_most.value));
  return out;
}

WaterActivity sugar_activity(SugarKind kind, double g_per_100_g_water) {
  if (!(g_per_100_g_water > 0.0)) return WaterActivity(1.0);
  const bool glucose = kind == SugarKind::glucose;
  const double k = constant(glucose ? "activity.norrish_glucose" : "activity.norrish_sucrose").value;
  const double sugar_mol = g_per_100_g_water / (glucose ? kGlucoseGMol : kSucroseGMol);
  const double water_mol = 0.1 / kWaterKgMol;
  const double water_share = 1.0 / (1.0 + sugar_mol / water_mol);
  const double sugar_share = 1.0 - water_share;
  return WaterActivity(water_share * std::exp(-k * sugar_share * sugar_share));
}

Result<WaterActivity> grover_activity(double salt_g, double water_g) {
  const tables::Constant& range = constant("activity.grover_range");
  const double e = constant("activity.grover_salt").value * salt_g / water_g;
  if (!(e >= range.low && e <= range.high)) return out_of_range("grover", e, range.low, range.high, "1");
  return WaterActivity(constant("activity.grover_none").value + constant("activity.grover_first").value * e +
                       constant("activity.grover_second").value * e * e);
}

}  // namespace saltrafter::recipe
