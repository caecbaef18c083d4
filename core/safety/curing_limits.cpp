#include "core/safety/curing_limits.h"

#include <algorithm>
#include <string>

#include "core/safety/judge.h"

namespace saltrafter::safety {
namespace {

using recipe::CureSalt;
using tables::Agent;
using tables::Expressed;
using tables::Limit;
using tables::LimitBasis;
using tables::LimitSense;

bool of_class(const Limit& row, recipe::ProductClass product) {
  if (row.product == tables::LimitClass::any) return true;
  return row.product == (product == recipe::ProductClass::comminuted_dry
                             ? tables::LimitClass::comminuted_dry
                             : tables::LimitClass::whole_muscle_dry);
}

// ISO days compare as text. `until` is the first day on which the row no longer holds.
bool holds_on(const Limit& row, const std::string& today) {
  return (row.from.empty() || row.from <= today) && (row.until.empty() || today < row.until);
}

bool is_of(const Limit& row, Chosen chosen) {
  switch (chosen) {
    case Chosen::us: return row.jurisdiction == tables::Jurisdiction::us;
    case Chosen::eu: return row.jurisdiction == tables::Jurisdiction::eu;
    case Chosen::ca: return row.jurisdiction == tables::Jurisdiction::ca;
    case Chosen::not_chosen:
    case Chosen::none_of_these: break;
  }
  return true;
}

Rule rule_of(const Limit& row) {
  const bool ingoing = row.basis == LimitBasis::ingoing;
  switch (row.agent) {
    case Agent::nitrite: return ingoing ? Rule::nitrite_ingoing : Rule::nitrite_residual;
    case Agent::nitrate: return ingoing ? Rule::nitrate_ingoing : Rule::nitrate_residual;
    case Agent::nitrite_and_nitrate: break;
  }
  return ingoing ? Rule::cure_ingoing : Rule::cure_residual;
}

// How an agent is written as the sodium salt and as the ion. The sum has its salts alone.
struct Writing {
  CureSalt salt;
  const char* salt_name;
  const char* ion_name;
};

Writing writing_of(Agent agent) {
  switch (agent) {
    case Agent::nitrite: return {CureSalt::sodium_nitrite, "NaNO2", "NO2-"};
    case Agent::nitrate: return {CureSalt::sodium_nitrate, "NaNO3", "NO3-"};
    case Agent::nitrite_and_nitrate: break;
  }
  return {CureSalt::sodium_nitrite, "NaNO2+NaNO3", ""};
}

// mg/kg as salt, in the expression of the row and in the other one.
struct Written {
  Amount own;
  std::optional<Amount> other;
};

Written write(double as_salt_ppm, const Limit& row) {
  const Writing writing = writing_of(row.agent);
  const Amount salt{as_salt_ppm, "mg/kg", writing.salt_name};
  if (row.agent == Agent::nitrite_and_nitrate) return {salt, std::nullopt};
  const Amount ion{recipe::as_ion(Ppm(as_salt_ppm), writing.salt).value, "mg/kg", writing.ion_name};
  if (row.expressed == Expressed::ion) return {ion, salt};
  return {salt, ion};
}

double limit_as_salt_ppm(const Limit& row) {
  if (row.expressed == Expressed::sodium_salt || row.agent == Agent::nitrite_and_nitrate)
    return row.value.value;
  return recipe::as_salt(row.value, writing_of(row.agent).salt).value;
}

double ingoing_salt_ppm(const recipe::Sheet& sheet, Agent agent) {
  switch (agent) {
    case Agent::nitrite: return sheet.nitrite.value;
    case Agent::nitrate: return sheet.nitrate.value;
    case Agent::nitrite_and_nitrate: break;
  }
  return sheet.nitrite.value + sheet.nitrate.value;
}

double share_in_mix(const recipe::CuringMix& mix, Agent agent) {
  switch (agent) {
    case Agent::nitrite: return mix.nitrite;
    case Agent::nitrate: return mix.nitrate;
    case Agent::nitrite_and_nitrate: break;
  }
  return mix.nitrite + mix.nitrate;
}

Finding finding_of(const Limit& row, const recipe::Recipe& recipe, const recipe::Sheet& sheet) {
  Finding finding;
  finding.rule = rule_of(row);
  finding.row = std::string(row.id);
  finding.jurisdiction = row.jurisdiction;
  finding.source = std::string(row.origin.source);
  finding.known = row.origin.known;
  finding.from = std::string(row.from);
  finding.sense = row.sense;
  Written limit = write(limit_as_salt_ppm(row), row);
  limit.own.value = row.value.value;  // as printed, not there and back
  finding.limit = limit.own;
  finding.limit_also = limit.other;

  const double as_salt_ppm = ingoing_salt_ppm(sheet, row.agent);
  if (as_salt_ppm <= 0.0 && row.sense == LimitSense::most) {
    finding.level = Level::does_not_apply;
    return finding;
  }
  if (row.basis == LimitBasis::residual) {
    finding.level = Level::not_known;
    finding.missing.push_back("residual_analysis");
    return finding;
  }
  const Written found = write(as_salt_ppm, row);
  finding.found = found.own;
  finding.found_also = found.other;
  const double step_g = recipe::scale_step(sheet.mix).value;
  const double half_step_ppm =
      recipe::ingoing(Grams(0.5 * step_g * share_in_mix(recipe.mix, row.agent)), sheet.meat).value;
  const Judged judged = judge(found.own.value, limit.own.value, row.sense, row.origin.known,
                              usual_near_margin(limit.own.value), write(half_step_ppm, row).own.value);
  finding.level = judged.level;
  finding.margin = judged.margin;
  return finding;
}

bool stricter(const Limit& a, const Limit& b) {
  const double a_ppm = limit_as_salt_ppm(a);
  const double b_ppm = limit_as_salt_ppm(b);
  if (a_ppm != b_ppm) return a.sense == LimitSense::most ? a_ppm < b_ppm : a_ppm > b_ppm;
  return a.id < b.id;
}

bool is_strictest(const Limit& row, const std::vector<const Limit*>& rows) {
  return std::none_of(rows.begin(), rows.end(), [&row](const Limit* other) {
    return other != &row && rule_of(*other) == rule_of(row) && other->sense == row.sense &&
           stricter(*other, row);
  });
}

}  // namespace

Finding ceiling_finding(const recipe::Sheet& sheet) {
  Finding finding;
  finding.rule = Rule::nitrite_ceiling;
  finding.source = "9 CFR 424.21(c)";
  finding.known = tables::Known::read_copy;
  const Ppm most{std::max(sheet.nitrite.value, sheet.nitrite_wanted.value)};
  const double limit_ppm = recipe::kNitriteCeiling.value;
  finding.found = Amount{most.value, "mg/kg", "NaNO2"};
  finding.limit = Amount{limit_ppm, "mg/kg", "NaNO2"};
  finding.found_also = Amount{recipe::as_ion(most, CureSalt::sodium_nitrite).value, "mg/kg", "NO2-"};
  finding.limit_also =
      Amount{recipe::as_ion(recipe::kNitriteCeiling, CureSalt::sodium_nitrite).value, "mg/kg", "NO2-"};
  const Judged judged =
      judge(most.value, limit_ppm, LimitSense::most, finding.known, usual_near_margin(limit_ppm));
  finding.level = judged.level;
  finding.margin = judged.margin;
  finding.stop = sheet.refused.has_value();
  return finding;
}

std::vector<Finding> curing_findings(const recipe::Recipe& recipe, const recipe::Sheet& sheet, Chosen chosen,
                                     Date today) {
  const std::string day = iso_date(today);
  std::vector<const Limit*> rows;
  for (const Limit& row : tables::limits()) {
    if (of_class(row, recipe.product_class) && holds_on(row, day) && is_of(row, chosen)) rows.push_back(&row);
  }
  const bool all_decide = chosen != Chosen::not_chosen && chosen != Chosen::none_of_these;
  std::vector<Finding> found;
  for (const Limit* row : rows) {
    Finding finding = finding_of(*row, recipe, sheet);
    finding.decides = all_decide || is_strictest(*row, rows);
    found.push_back(finding);
  }
  std::sort(found.begin(), found.end(), [](const Finding& a, const Finding& b) {
    if (a.decides != b.decides) return a.decides;
    if (a.rule != b.rule) return a.rule < b.rule;
    return a.row < b.row;
  });
  return found;
}

}  // namespace saltrafter::safety
