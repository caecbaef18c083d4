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

}  // namespace saltrafter::safety
