#include "core/safety/limit_findings.h"

#include <algorithm>
#include <cmath>
#include <string>

#include "core/safety/limits.h"

namespace saltrafter::safety {
namespace {

using tables::Agent;
using tables::Limit;
using tables::LimitBasis;
using tables::LimitSense;

constexpr Rule kAmountRules[] = {
    Rule::nitrite_ingoing, Rule::nitrite_residual, Rule::nitrate_ingoing, Rule::nitrate_residual,
    Rule::cure_ingoing,    Rule::cure_residual,    Rule::least_salt,      Rule::ascorbate_ingoing,
    Rule::salt_in_water,   Rule::water_activity,
};

bool is_curing_salt(Agent agent) {
  return agent == Agent::nitrite || agent == Agent::nitrate || agent == Agent::nitrite_and_nitrate;
}

// What to weigh so that the limit is kept, rounded to the safe side.
void put_remedy(const Subject& subject, const Limit& row, Finding& finding) {
  if (finding.level != Level::not_met) return;
  const recipe::Sheet& sheet = *subject.sheet;
  if (is_curing_salt(row.agent)) {
    const double share = share_in_mix(subject.recipe->mix, row.agent);
    if (!(share > 0.0)) return;
    const double step_g = sheet.mix_step.value;
    const double steps = as_compared(row) * 1e-6 * sheet.curing_base.value / share / step_g;
    const bool most = row.sense == LimitSense::most;
    finding.figures.push_back({most ? "mix_at_most" : "mix_at_least",
                               (most ? std::floor(steps + 1e-9) : std::ceil(steps - 1e-9)) * step_g, "g"});
  } else if (row.agent == Agent::salt && row.sense == LimitSense::least) {
    const double more_g =
        (row.value - finding.found->value) * 1e-3 * salted_meat(*subject.recipe, sheet).value;
    const double step_g = recipe::scale_step(Grams(more_g)).value;
    finding.figures.push_back({"salt_more", std::ceil(more_g / step_g - 1e-9) * step_g, "g"});
  }
}

bool all_beef(const recipe::Recipe& recipe) {
  for (const recipe::Line& line : recipe.lines) {
    if (line.kind != recipe::LineKind::meat || !(line.amount > 0.0)) continue;
    const tables::Cut* cut = tables::find_cut(line.material);
    if (cut == nullptr || cut->species != tables::Species::beef) return false;
  }
  return true;
}

// Where a limit of the maker's own stands among the rules.
Rule rule_of(Agent agent) {
  switch (agent) {
    case Agent::nitrite: return Rule::nitrite_ingoing;
    case Agent::nitrate: return Rule::nitrate_ingoing;
    case Agent::nitrite_and_nitrate: return Rule::cure_ingoing;
    case Agent::ascorbate: return Rule::ascorbate_ingoing;
    case Agent::salt: return Rule::least_salt;
    case Agent::water_phase_salt: return Rule::salt_in_water;
    case Agent::water_activity: return Rule::water_activity;
    case Agent::ph: return Rule::fermentation;
    case Agent::temperature:
    case Agent::days: return Rule::staging;
    case Agent::moisture_protein_ratio: break;
  }
  return Rule::moisture_protein_ratio;
}

struct AgentUnit {
  LimitBasis basis;
  const char* unit;
};

AgentUnit unit_of(Agent agent) {
  switch (agent) {
    case Agent::nitrite:
    case Agent::nitrate:
    case Agent::nitrite_and_nitrate:
    case Agent::ascorbate: return {LimitBasis::ingoing, "mg/kg"};
    case Agent::salt: return {LimitBasis::ingoing, "g/kg"};
    case Agent::water_phase_salt:
    case Agent::moisture_protein_ratio: return {LimitBasis::finished, ""};
    case Agent::water_activity: return {LimitBasis::centre, "aw"};
    case Agent::ph: return {LimitBasis::centre, "pH"};
    case Agent::temperature: return {LimitBasis::stage, "\u00B0C"};
    case Agent::days: break;
  }
  return {LimitBasis::stage, "d"};
}

// The maker's own limit as a row. The figure is what its maker says it is, so that it can be kept like any
// other.
Limit row_of(const OwnLimit& own, std::string_view id) {
  Limit row;
  row.id = id;
  row.jurisdiction = tables::Jurisdiction::any;
  row.agent = own.agent;
  row.basis = unit_of(own.agent).basis;
  row.unit = unit_of(own.agent).unit;
  row.sense = own.sense;
  row.value = own.value;
  row.expressed = is_curing_salt(own.agent) || own.agent == Agent::ascorbate ? tables::Expressed::sodium_salt
                                                                             : tables::Expressed::plain;
  row.origin = {"", tables::Known::read};
  return row;
}

bool looser_than(const Limit& own, const std::vector<const Limit*>& rows) {
  return std::any_of(rows.begin(), rows.end(), [&own](const Limit* row) {
    if (!same_question(own, *row)) return false;
    return own.sense == LimitSense::most ? as_compared(*row) < own.value : as_compared(*row) > own.value;
  });
}

}  // namespace

std::vector<Finding> ceiling_findings(const Subject& subject) {
  const std::vector<const Limit*> rows = rows_for(subject, Rule::nitrite_ceiling);
  std::vector<Finding> all;
  for (const Limit* row : rows) {
    AmountFound found = amount_of(subject, *row);
    found.state = AmountFound::State::known;
    // Rounding down for the scale must not hide what was asked for.
    found.value = std::max(found.value.value_or(0.0), subject.sheet->nitrite_wanted.value);
    Finding finding = finding_of(*row, found);
    finding.rule = Rule::nitrite_ceiling;
    finding.stop = Stop::outright;
    put_remedy(subject, *row, finding);
    all.push_back(std::move(finding));
  }
  return all;
}

std::vector<Finding> amount_findings(const Subject& subject) {
  std::vector<Finding> all;
  for (const Rule rule : kAmountRules) {
    for (Finding& finding : row_findings(subject, rule)) {
      const Limit* row = tables::find_limit(finding.row);
      if (row != nullptr) put_remedy(subject, *row, finding);
      all.push_back(std::move(finding));
    }
  }
  return all;
}

std::vector<Finding> ratio_findings(const Subject& subject) {
  std::vector<const Limit*> rows = rows_for(subject, Rule::moisture_protein_ratio);
  // The one class of whole muscle is of beef.
  if (subject.recipe->product_class == recipe::ProductClass::whole_muscle_dry && !all_beef(*subject.recipe)) {
    rows.clear();
  }
  if (rows.empty()) return {};
  std::sort(rows.begin(), rows.end(), [](const Limit* a, const Limit* b) { return stricter(*a, *b); });
  const AmountFound found = amount_of(subject, *rows.front());
  const Limit* of = rows.back();
  for (const Limit* row : rows) {
    if (found.value && *found.value <= row->value + 1e-9) {
      of = row;
      break;
    }
  }
  Finding finding = finding_of(*of, found);
  finding.rule = Rule::moisture_protein_ratio;
  if (finding.level == Level::not_met) {
    // In none of the classes: no name of the label's, and no limit broken.
    finding.level = Level::does_not_apply;
    finding.margin.reset();
    finding.advice = "no_label_class";
  }
  const recipe::Composition& now = subject.sheet->composition;
  finding.figures = {
      {"ratio_now", recipe::moisture_protein_ratio(now), "1"},
      {"wanted_loss", 100.0 * subject.recipe->wanted_loss, "%"},
      {"loss_for_class", 100.0 * recipe::loss_for_moisture_protein_ratio(now, of->value), "%"}};
  return {finding};
}

std::vector<Finding> own_findings(const Subject& subject) {
  std::vector<Finding> all;
  for (const OwnLimit& own : subject.own) {
    const std::string id = "own." + own.id.text;
    const Limit row = row_of(own, id);
    const Rule rule = rule_of(own.agent);
    Finding finding = finding_of(row, subject);
    finding.rule = rule;
    finding.own = true;
    put_remedy(subject, row, finding);
    const bool looser = rule == Rule::fermentation
                            ? own.sense == LimitSense::most && own.value > kSafePh + 1e-9
                            : looser_than(row, rows_for(subject, rule));
    if (looser) {
      finding.decides = false;
      finding.advice = "own_looser";
    }
    all.push_back(std::move(finding));
  }
  return all;
}

}  // namespace saltrafter::safety
