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
    case Rule::fermentation: return "fermentation";
    case Rule::parasites: return "parasites";
    case Rule::water_activity: return "water_activity";
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

}  // namespace saltrafter::safety
