#include "core/safety/animal_findings.h"

#include <algorithm>
#include <string>

#include "core/safety/meats.h"

namespace saltrafter::safety {
namespace {

using tables::Species;

// Cattle, sheep, goats and deer carry the E. coli that form toxin.
bool is_ruminant(const Meat& meat) {
  if (!meat.species) return false;
  switch (*meat.species) {
    case Species::beef:
    case Species::veal:
    case Species::lamb:
    case Species::goat:
    case Species::game:
      return true;
    case Species::pork:
    case Species::horse:
    case Species::poultry:
      break;
  }
  return false;
}

Finding caution(Rule rule) {
  Finding finding;
  finding.rule = rule;
  finding.level = Level::not_known;
  finding.source = "caution of this program; no limit is set";
  finding.known = tables::Known::choice;
  return finding;
}

struct Kind {
  const char* row;
  bool (*fits)(const Meat&);
};

// By row.
constexpr Kind kKinds[] = {
    {"game", [](const Meat& meat) { return meat.species == Species::game; }},
    {"horse", [](const Meat& meat) { return meat.species == Species::horse; }},
    {"liver", [](const Meat& meat) { return meat.liver; }},
    {"poultry", [](const Meat& meat) { return meat.species == Species::poultry; }},
    {"wild", [](const Meat& meat) { return meat.wild; }},
};

}  // namespace

std::vector<Finding> animal_findings(const Subject& subject) {
  const std::vector<Meat> meats = meats_of(*subject.recipe, subject.evidence);
  std::vector<Finding> all{caution(Rule::kill_not_shown)};
  all.front().advice = std::any_of(meats.begin(), meats.end(), is_ruminant) ? "kill_beef" : "kill_raw";
  for (const Kind& kind : kKinds) {
    for (const Meat& meat : meats) {
      if (!kind.fits(meat)) continue;
      Finding finding = caution(Rule::species);
      finding.row = kind.row;
      finding.about = meat.about;
      finding.advice = std::string("species_") + kind.row;
      all.push_back(std::move(finding));
    }
  }
  return all;
}

}  // namespace saltrafter::safety
