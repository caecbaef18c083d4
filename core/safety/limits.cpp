#include "core/safety/limits.h"

#include <algorithm>
#include <string>

namespace saltrafter::safety {
namespace {

using recipe::CureSalt;
using tables::Agent;
using tables::Expressed;
using tables::Jurisdiction;
using tables::Limit;
using tables::LimitClass;
using tables::LimitSense;

constexpr double kNearPh = 0.1;
constexpr double kNearActivity = 0.01;

bool of_class(const Limit& row, const recipe::Recipe& recipe) {
  const recipe::ProductClass product = recipe.product_class;
  const bool whole = product == recipe::ProductClass::whole_muscle_dry;
  const bool brined = recipe.method == recipe::CureMethod::brine;
  switch (row.product) {
    case LimitClass::any: break;
    case LimitClass::comminuted_dry: return product == recipe::ProductClass::comminuted_dry;
    case LimitClass::whole_muscle_dry: return whole;
    case LimitClass::comminuted_semi_dry: return product == recipe::ProductClass::comminuted_semi_dry;
    case LimitClass::minced: return !whole;
    case LimitClass::whole_muscle_rubbed: return whole && !brined;
    case LimitClass::whole_muscle_brined: return whole && brined;
  }
  return true;
}

// ISO days compare as text. `until` is the first day on which the row no longer holds.
bool holds_on(const Limit& row, const std::string& today) {
  return (row.from.empty() || row.from <= today) && (row.until.empty() || today < row.until);
}

bool is_of(const Limit& row, Chosen chosen) {
  if (row.jurisdiction == Jurisdiction::any) return true;
  switch (chosen) {
    case Chosen::us: return row.jurisdiction == Jurisdiction::us;
    case Chosen::eu: return row.jurisdiction == Jurisdiction::eu;
    case Chosen::ca: return row.jurisdiction == Jurisdiction::ca;
    case Chosen::not_chosen:
    case Chosen::none_of_these: break;
  }
  return true;
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
    default: break;
  }
  return {CureSalt::sodium_nitrite, "NaNO2+NaNO3", ""};
}

bool has_ion(Agent agent) { return agent == Agent::nitrite || agent == Agent::nitrate; }

// A figure in the unit of the table, in the expression of the row and in the other one.
struct Written {
  Amount own;
  std::optional<Amount> other;
};

Written write(double value, const Limit& row) {
  switch (row.agent) {
    case Agent::nitrite:
    case Agent::nitrate: {
      const Writing writing = writing_of(row.agent);
      const Amount salt{value, "mg/kg", writing.salt_name};
      const Amount ion{recipe::as_ion(Ppm(value), writing.salt).value, "mg/kg", writing.ion_name};
      return row.expressed == Expressed::ion ? Written{ion, salt} : Written{salt, ion};
    }
    case Agent::nitrite_and_nitrate: return {{value, "mg/kg", writing_of(row.agent).salt_name}, std::nullopt};
    case Agent::salt: return {{value, "g/kg", "NaCl"}, std::nullopt};
    case Agent::water_phase_salt: return {{100.0 * value, "%", "NaCl"}, std::nullopt};
    default: break;
  }
  return {{value, row.unit.empty() ? "1" : std::string(row.unit), ""}, std::nullopt};
}

int badness(Level level) {
  switch (level) {
    case Level::met: return 0;
    case Level::near: return 1;
    case Level::not_known: return 2;
    case Level::not_met: return 3;
    case Level::does_not_apply: break;
  }
  return 4;
}

// What to do about a limit that is not kept.
const char* advice_of(const Limit& row) {
  switch (row.agent) {
    case Agent::nitrite:
    case Agent::nitrate:
    case Agent::nitrite_and_nitrate: return row.sense == LimitSense::most ? "lower_dose" : "raise_dose";
    case Agent::ascorbate: return "less_ascorbate";
    case Agent::salt: return row.sense == LimitSense::most ? "less_salt" : "more_salt";
    case Agent::water_phase_salt: return "more_salt_or_loss";
    case Agent::water_activity: return "dry_on";
    case Agent::ph: return "keep_cold";
    case Agent::temperature:
    case Agent::days:
    case Agent::moisture_protein_ratio: break;
  }
  return "";
}

}  // namespace

std::vector<const Limit*> rows_for(const Subject& subject, Rule rule) {
  const std::string day = iso_date(subject.today);
  std::vector<const Limit*> rows;
  for (const Limit& row : tables::limits()) {
    if (row.rule != key_of(rule) || !of_class(row, *subject.recipe)) continue;
    if (holds_on(row, day) && is_of(row, subject.chosen)) rows.push_back(&row);
  }
  return rows;
}

double near_margin(const Limit& row) {
  if (row.near_margin) return *row.near_margin;
  if (row.agent == Agent::ph) return kNearPh;
  if (row.agent == Agent::water_activity) return kNearActivity;
  return usual_near_margin(row.value);
}

double as_compared(const Limit& row) {
  if (row.expressed == Expressed::ion && has_ion(row.agent)) {
    return recipe::as_salt(Ppm(row.value), writing_of(row.agent).salt).value;
  }
  return row.value;
}

Finding finding_of(const Limit& row, const AmountFound& found) {
  Finding finding;
  finding.row = std::string(row.id);
  if (row.jurisdiction != Jurisdiction::any) finding.jurisdiction = row.jurisdiction;
  finding.source = std::string(row.origin.source);
  finding.known = row.origin.known;
  finding.from = std::string(row.from);
  finding.sense = row.sense;
  Written limit = write(as_compared(row), row);
  if (has_ion(row.agent)) limit.own.value = row.value;  // as printed, not there and back
  finding.limit = limit.own;
  finding.limit_also = limit.other;
  if (found.state == AmountFound::State::none) {
    finding.level = Level::does_not_apply;
    return finding;
  }
  finding.missing = found.missing;
  finding.figures = found.figures;
  finding.place = found.place;
  finding.way = found.way;
  if (!found.value) return finding;
  const Written value = write(*found.value, row);
  finding.found = value.own;
  finding.found_also = value.other;
  finding.uncertainty = write(found.uncertainty, row).own.value;
  if (found.state == AmountFound::State::missing) return finding;
  // The table's unit and that of the finding differ by a factor at most.
  const double unit = row.value != 0.0 ? limit.own.value / row.value : 1.0;
  const Judged judged = judge(value.own.value, limit.own.value, row.sense, row.origin.known,
                              unit * near_margin(row), finding.uncertainty);
  finding.level = judged.level == Level::met && found.doubtful ? Level::near : judged.level;
  finding.margin = judged.margin;
  if (finding.level == Level::not_met) finding.advice = advice_of(row);
  return finding;
}

Finding finding_of(const Limit& row, const Subject& subject) {
  return finding_of(row, amount_of(subject, row));
}

bool stricter(const Limit& a, const Limit& b) {
  const double a_value = as_compared(a);
  const double b_value = as_compared(b);
  if (a_value != b_value) return a.sense == LimitSense::most ? a_value < b_value : a_value > b_value;
  const bool a_proves = tables::is_evidence(a.origin.known);
  if (a_proves != tables::is_evidence(b.origin.known)) return a_proves;
  return a.id < b.id;
}

bool same_question(const Limit& a, const Limit& b) {
  return a.sense == b.sense && a.agent == b.agent &&
         (a.expressed == Expressed::acid) == (b.expressed == Expressed::acid);
}

bool is_strictest(const Limit& row, const std::vector<const Limit*>& rows) {
  return std::none_of(rows.begin(), rows.end(), [&row](const Limit* other) {
    return other != &row && same_question(*other, row) && stricter(*other, row);
  });
}

std::vector<Finding> row_findings(const Subject& subject, Rule rule) {
  const std::vector<const Limit*> rows = rows_for(subject, rule);
  std::vector<Finding> all;
  for (const Limit* row : rows) {
    Finding finding = finding_of(*row, subject);
    finding.rule = rule;
    finding.decides = is_strictest(*row, rows);
    all.push_back(std::move(finding));
  }
  return all;
}

std::vector<Finding> way_findings(const Subject& subject, const std::vector<const Limit*>& rows, Rule rule) {
  std::optional<Finding> best;
  std::vector<std::string> missing;
  for (std::size_t i = 0; i < rows.size(); ++i) {
    const auto of_this_way = [&](const Limit* row) { return row->way == rows[i]->way; };
    if (std::any_of(rows.begin(), rows.begin() + static_cast<std::ptrdiff_t>(i), of_this_way)) continue;
    std::optional<Finding> worst;
    for (std::size_t j = i; j < rows.size(); ++j) {
      if (!of_this_way(rows[j])) continue;
      Finding finding = finding_of(*rows[j], subject);
      for (const std::string& id : finding.missing) {
        if (std::find(missing.begin(), missing.end(), id) == missing.end()) missing.push_back(id);
      }
      if (!worst || badness(finding.level) > badness(worst->level)) worst = std::move(finding);
    }
    if (!best || badness(worst->level) < badness(best->level)) best = std::move(worst);
  }
  if (!best) return {};
  best->rule = rule;
  // Any way that is open yet may still be the one.
  if (best->level == Level::not_known) best->missing = missing;
  return {*best};
}

}  // namespace saltrafter::safety
