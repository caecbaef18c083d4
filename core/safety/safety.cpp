#include "core/safety/safety.h"

#include <algorithm>

#include "core/safety/animal_findings.h"
#include "core/safety/keeping.h"
#include "core/safety/limit_findings.h"
#include "core/safety/mix_findings.h"
#include "core/safety/souring_findings.h"
#include "core/safety/stage_findings.h"

namespace saltrafter::safety {
namespace {

void add(std::vector<Finding>& all, std::vector<Finding> more) {
  for (Finding& finding : more) all.push_back(std::move(finding));
}

bool before(const Finding& a, const Finding& b) {
  if (a.rule != b.rule) return a.rule < b.rule;
  if (a.decides != b.decides) return a.decides;
  if (a.row != b.row) return a.row < b.row;
  return a.about.text < b.about.text;
}

}  // namespace

std::vector<Finding> findings(const Subject& subject) {
  std::vector<Finding> all = ceiling_findings(subject);
  add(all, amount_findings(subject));
  add(all, own_findings(subject));
  add(all, short_nitrate_findings(subject));
  add(all, packet_findings(subject));
  add(all, confused_findings(subject));
  add(all, acid_findings(subject));
  add(all, ratio_findings(subject));
  add(all, keeping_findings(subject));
  add(all, souring_findings(subject));
  add(all, stage_findings(subject));
  add(all, parasite_findings(*subject.recipe, *subject.sheet, subject.evidence, subject.now_utc_ms));
  add(all, animal_findings(subject));
  std::stable_sort(all.begin(), all.end(), before);
  return all;
}

std::vector<Finding> findings(const recipe::Recipe& recipe, const recipe::Sheet& sheet, Chosen chosen,
                              Date today, const std::optional<WaterActivityFound>& water_activity) {
  Subject subject;
  subject.recipe = &recipe;
  subject.sheet = &sheet;
  subject.chosen = chosen;
  subject.today = today;
  subject.water_activity = water_activity;
  return findings(subject);
}

}  // namespace saltrafter::safety
