// Within this module: the first recipes as data.
#pragma once

#include <span>
#include <string_view>
#include <vector>

#include "core/recipe/recipe_types.h"

namespace saltrafter::recipe {

struct StarterLine {
  LineKind kind = LineKind::additive;
  std::string_view name;
  std::string_view material;  // key in assets/tables, or empty
  double amount = 0.0;        // meat: share; cure: mg/kg; all else g/kg
};

struct StarterStage {
  StageKind kind = StageKind::dry;
  double celsius = 13.0;
  double humidity = 0.0;  // 0: none, it is sealed
  double days = 0.0;
  double until_loss = 0.0;  // 0: by its days
};

struct StarterRow {
  std::string_view name;
  ProductClass product_class = ProductClass::comminuted_dry;
  CureMethod method = CureMethod::mixed_in;
  Form form = Form::round;
  std::string_view casing;  // key in assets/tables, or empty
  double diameter_mm = 55.0;
  double length_mm = 400.0;
  double wanted_loss = 0.35;
  double wanted_ph = 0.0;  // 0: not soured
  double plate_mm = 0.0;   // 0: not minced
  double mix_minutes = 0.0;
  bool skin_on = false;
  double brine_g_per_kg = 0.0;  // 0: no brine
  double brine_days = 0.0;
  std::span<const StarterLine> lines;
  std::span<const StarterStage> stages;
};

std::vector<StarterRow> minced_starters();
std::vector<StarterRow> muscle_starters();

// Below the strictest ingoing limit (80 mg/kg NO2-, which is 119.98 mg/kg NaNO2) with room for a scale's
// step.
inline constexpr double kStarterNitritePpm = 110.0;

}  // namespace saltrafter::recipe
