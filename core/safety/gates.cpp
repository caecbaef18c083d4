#include <algorithm>

#include "core/safety/safety.h"
#include "core/safety/stage_findings.h"

namespace saltrafter::safety {

std::vector<Finding> gate(const Subject& subject, Id stage) {
  const recipe::Recipe& recipe = *subject.recipe;
  std::vector<Finding> against;
  for (std::size_t i = 0; i < recipe.stages.size(); ++i) {
    if (recipe.stages[i].id != stage) continue;
    std::vector<Finding> judged = meat_ph_findings(subject);
    const bool whole = recipe.product_class == recipe::ProductClass::whole_muscle_dry;
    if (whole && !is_cold(recipe.stages[i].temperature))
      judged.push_back(cold_finding(subject, i, Moment::move));
    if (recipe.stages[i].sealed) judged.push_back(sealing_finding(subject, i, Moment::move));
    for (Finding& finding : judged) {
      if (finding.decides && stops(finding)) against.push_back(std::move(finding));
    }
    break;
  }
  return against;
}

std::vector<Finding> gate_to_air(const Subject& subject, Celsius air, const std::optional<Id>& stage) {
  std::vector<Finding> against;
  if (stage) against = gate(subject, *stage);
  const bool asked = std::any_of(against.begin(), against.end(),
                                 [](const Finding& finding) { return finding.rule == Rule::cold_until_salted; });
  if (asked || is_cold(air) || subject.recipe->product_class != recipe::ProductClass::whole_muscle_dry) return against;
  Finding warm = air_finding(subject, air);
  if (stops(warm)) against.push_back(std::move(warm));
  return against;
}

}  // namespace saltrafter::safety
