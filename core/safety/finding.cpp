#include "core/safety/finding.h"

namespace saltrafter::safety {

std::string_view key_of(Rule rule) {
  switch (rule) {
    case Rule::nitrite_ceiling: break;
    case Rule::nitrite_ingoing: return "nitrite_ingoing";
    case Rule::nitrite_residual: return "nitrite_residual";
    case Rule::nitrate_ingoing: return "nitrate_ingoing";
    case Rule::nitrate_residual: return "nitrate_residual";
    case Rule::cure_ingoing: return "cure_ingoing";
    case Rule::cure_residual: return "cure_residual";
    case Rule::ascorbate_ingoing: return "ascorbate_ingoing";
    case Rule::nitrate_in_short: return "nitrate_in_short";
    case Rule::mix_as_packet: return "mix_as_packet";
    case Rule::mix_confused: return "mix_confused";
    case Rule::acid_with_nitrite: return "acid_with_nitrite";
    case Rule::least_salt: return "least_salt";
    case Rule::salt_in_water: return "salt_in_water";
    case Rule::cure_time: return "cure_time";
    case Rule::meat_ph: return "meat_ph";
    case Rule::staging: return "staging";
    case Rule::cold_until_salted: return "cold_until_salted";
    case Rule::sealing: return "sealing";
    case Rule::fermentation: return "fermentation";
    case Rule::parasites: return "parasites";
    case Rule::kill_not_shown: return "kill_not_shown";
    case Rule::listeria: return "listeria";
    case Rule::moisture_protein_ratio: return "moisture_protein_ratio";
    case Rule::water_activity: return "water_activity";
    case Rule::keeps: return "keeps";
    case Rule::species: return "species";
    case Rule::own_weighing: return "own_weighing";
  }
  return "nitrite_ceiling";
}

std::string_view key_of(Level level) {
  switch (level) {
    case Level::met: return "met";
    case Level::near: return "near";
    case Level::not_met: return "not_met";
    case Level::not_known: break;
    case Level::does_not_apply: return "does_not_apply";
  }
  return "not_known";
}

std::string name_of(const Finding& finding) {
  return std::string(key_of(finding.rule)) + "|" + finding.row + "|" + finding.about.text +
         (finding.planned ? "|plan" : "");
}

}  // namespace saltrafter::safety
