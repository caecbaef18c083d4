#include <cmath>
#include <string>

#include "core/recipe/cure.h"
#include "core/recipe/materials.h"
#include "core/recipe/pickle.h"
#include "core/recipe/scale.h"

namespace saltrafter::recipe {
namespace {

// How far the shares of meat may be from 1 together: three cuts typed to a tenth of a per cent.
constexpr double kShareSlack = 0.0005;

// Bounds of what can be meant at all; limits of law and taste are findings. Choices.
constexpr double kMostSaltGPerKg = 500.0;
constexpr double kMostDosePpm = 10000.0;
constexpr double kMostAdditiveGPerKg = 1000.0;  // as much again as the meat
constexpr double kLeastPacketMeatG = 1.0;
constexpr double kWeakestMix = 0.001;  // below, the mix would outweigh what it cures

// What drying can forecast.
constexpr double kLeastLoss = 0.01;
constexpr double kMostLoss = 0.90;
constexpr double kLeastDiameterM = 0.01;
constexpr double kMostDiameterM = 0.5;
constexpr double kLeastLengthM = 0.02;
constexpr double kMostLengthM = 3.0;

// What a recipe may say of its bone, brine, souring and stages; the bounds that its types name.
constexpr double kMostBone = 0.5;
constexpr double kMostBrineDays = 120.0;
constexpr double kLeastWantedPh = 4.2;
constexpr double kMostWantedPh = 5.6;
constexpr double kColdestStageC = -30.0;
constexpr double kWarmestStageC = 60.0;
constexpr double kMostStageDays = 3650.0;

std::string path(std::size_t line, const char* leaf) { return "lines/" + std::to_string(line) + "/" + leaf; }

std::string stage_path(std::size_t stage, const char* leaf) {
  return "stages/" + std::to_string(stage) + "/" + leaf;
}

// Also false where the value is no number.
bool within(double value, double low, double high) { return value >= low && value <= high; }

Error fault(ErrorCode code, std::string field, std::string found) {
  Error error;
  error.code = code;
  error.field = std::move(field);
  error.found = std::move(found);
  return error;
}

struct AmountRule {
  double high;
  const char* unit;
};

AmountRule amount_rule(const Line& line) {
  switch (line.kind) {
    case LineKind::meat: return {1.0, "1"};
    case LineKind::salt: return {kMostSaltGPerKg, "g/kg"};
    case LineKind::cure: return {kMostDosePpm, "mg/kg"};
    case LineKind::culture:
    case LineKind::additive: break;
  }
  switch (line.basis) {
    case Basis::percent_of_meat: return {kMostAdditiveGPerKg / 1000.0, "1"};
    case Basis::g_per_kg: return {kMostAdditiveGPerKg, "g/kg"};
    case Basis::g_per_piece:
    case Basis::fixed_g: break;
  }
  return {kMostMeat.value, "g"};
}

// A weight of which nothing can be said is worse than none: what the material is made of must be known of
// meat, and what it brings of nitrate where it brings any.
Result<Done> check_material(const Line& line, std::size_t i, const Supplies& supplies) {
  const bool meat = line.kind == LineKind::meat;
  if (line.kind == LineKind::salt || line.kind == LineKind::cure) return Done{};
  if (line.parts && !can_be_parts(*line.parts)) {
    return out_of_range(path(i, "parts"), line.parts->total_g(), 0.0, 1.0, "1");
  }
  if (line.material.empty()) {
    if (meat) return fault(ErrorCode::missing, path(i, "material"), "");
    return Done{};
  }
  const bool has_parts = parts_of_line(line, supplies).has_value();
  if (!is_known(line, supplies) && !has_parts) {
    return fault(ErrorCode::not_found, path(i, "material"), line.material);
  }
  if (meat && !has_parts) return fault(ErrorCode::missing, path(i, "material"), line.material);
  const Supply* supply = find_supply(supplies, line.material);
  if (supply == nullptr || !supply->brings_nitrate) return Done{};
  if (!supply->nitrate_share) return fault(ErrorCode::missing, path(i, "nitrate_share"), "");
  if (!within(*supply->nitrate_share, 0.0, 1.0)) {
    return out_of_range(path(i, "nitrate_share"), *supply->nitrate_share, 0.0, 1.0, "1");
  }
  return Done{};
}

Result<Done> check_packet(const Line& line, std::size_t i) {
  if (line.kind != LineKind::culture || !line.packet) return Done{};
  const double holds_g = line.packet->holds.value;
  const double meat_g = line.packet->for_meat.value;
  if (!within(meat_g, kLeastPacketMeatG, kMostMeat.value)) {
    return out_of_range(path(i, "packet/for_meat"), meat_g, kLeastPacketMeatG, kMostMeat.value, "g");
  }
  if (!(holds_g > 0.0) || !(holds_g <= meat_g)) {
    return out_of_range(path(i, "packet/holds"), holds_g, 0.0, meat_g, "g");
  }
  return Done{};
}

Result<Done> check_line(const Line& line, std::size_t i, const Supplies& supplies) {
  const AmountRule rule = amount_rule(line);
  if (!within(line.amount, 0.0, rule.high)) {
    return out_of_range(path(i, "amount"), line.amount, 0.0, rule.high, rule.unit);
  }
  const Result<Done> packet = check_packet(line, i);
  if (!packet.ok()) return packet;
  return check_material(line, i, supplies);
}

Result<Done> check_mix(const CuringMix& mix, double dose_ppm) {
  if (!within(mix.nitrite, 0.0, 1.0)) return out_of_range("mix/nitrite", mix.nitrite, 0.0, 1.0, "1");
  if (!within(mix.nitrate, 0.0, 1.0 - mix.nitrite)) {
    return out_of_range("mix/nitrate", mix.nitrate, 0.0, 1.0 - mix.nitrite, "1");
  }
  if (!(dose_ppm > 0.0)) return Done{};
  if (!(mix.nitrite > 0.0)) return fault(ErrorCode::missing, "mix/nitrite", "");
  if (mix.nitrite < kWeakestMix) return out_of_range("mix/nitrite", mix.nitrite, kWeakestMix, 1.0, "1");
  return Done{};
}

Result<Done> check_form(const Recipe& recipe) {
  if (!within(recipe.wanted_loss, kLeastLoss, kMostLoss)) {
    return out_of_range("wanted_loss", recipe.wanted_loss, kLeastLoss, kMostLoss, "1");
  }
  const double diameter_m = recipe.casing_diameter.value;
  if (!within(diameter_m, kLeastDiameterM, kMostDiameterM)) {
    return out_of_range("casing_diameter", diameter_m, kLeastDiameterM, kMostDiameterM, "m");
  }
  const double length_m = recipe.piece_length.value;
  if (!within(length_m, kLeastLengthM, kMostLengthM)) {
    return out_of_range("piece_length", length_m, kLeastLengthM, kMostLengthM, "m");
  }
  if (recipe.piece_width && !within(recipe.piece_width->value, kLeastLengthM, kMostLengthM)) {
    return out_of_range("piece_width", recipe.piece_width->value, kLeastLengthM, kMostLengthM, "m");
  }
  if (!within(recipe.bone_share, 0.0, kMostBone)) {
    return out_of_range("bone_share", recipe.bone_share, 0.0, kMostBone, "1");
  }
  if (recipe.wanted_ph && !within(*recipe.wanted_ph, kLeastWantedPh, kMostWantedPh)) {
    return out_of_range("wanted_ph", *recipe.wanted_ph, kLeastWantedPh, kMostWantedPh, "1");
  }
  return Done{};
}

Result<Done> check_brine(const Recipe& recipe) {
  if (recipe.method != CureMethod::brine) return Done{};
  if (!recipe.brine) return fault(ErrorCode::missing, "brine", "");
  const Brine& brine = *recipe.brine;
  if (!within(brine.g_per_kg, kLeastBrineGPerKg, kMostBrineGPerKg)) {
    return out_of_range("brine/g_per_kg", brine.g_per_kg, kLeastBrineGPerKg, kMostBrineGPerKg, "g/kg");
  }
  if (!within(brine.pick_up, 0.0, kMostPickUp)) {
    return out_of_range("brine/pick_up", brine.pick_up, 0.0, kMostPickUp, "1");
  }
  if (!within(brine.days.value, 0.0, kMostBrineDays)) {
    return out_of_range("brine/days", brine.days.value, 0.0, kMostBrineDays, "d");
  }
  // What lies in its brine for days has taken up more than a pick-up says, curing salt too.
  double cure_days = 0.0;
  for (const Stage& stage : recipe.stages) {
    if (stage.kind == StageKind::cure) cure_days += stage.days.value;
  }
  if (cure_days >= kEqualisedFrom.value && brine.days < kEqualisedFrom) {
    return out_of_range("brine/days", brine.days.value, kEqualisedFrom.value, kMostBrineDays, "d");
  }
  return Done{};
}

Result<Done> check_stages(const Recipe& recipe) {
  for (std::size_t i = 0; i < recipe.stages.size(); ++i) {
    const Stage& stage = recipe.stages[i];
    if (!within(stage.temperature.value, kColdestStageC, kWarmestStageC)) {
      return out_of_range(stage_path(i, "temperature"), stage.temperature.value, kColdestStageC,
                          kWarmestStageC, "°C");
    }
    if (!within(stage.days.value, 0.0, kMostStageDays)) {
      return out_of_range(stage_path(i, "days"), stage.days.value, 0.0, kMostStageDays, "d");
    }
    if (stage.humidity && !within(stage.humidity->value, 0.0, 1.0)) {
      return out_of_range(stage_path(i, "humidity"), stage.humidity->value, 0.0, 1.0, "1");
    }
    if (stage.until_loss && !within(*stage.until_loss, 0.0, kMostLoss)) {
      return out_of_range(stage_path(i, "until_loss"), *stage.until_loss, 0.0, kMostLoss, "1");
    }
  }
  return Done{};
}

}  // namespace

Result<Done> check_recipe(const Recipe& recipe, const Supplies& supplies) {
  double meat_share = 0.0;
  double dose_ppm = 0.0;
  int meats = 0;
  int salts = 0;
  int cures = 0;
  for (std::size_t i = 0; i < recipe.lines.size(); ++i) {
    const Line& line = recipe.lines[i];
    const Result<Done> checked = check_line(line, i, supplies);
    if (!checked.ok()) return checked;
    if (line.kind == LineKind::meat) {
      ++meats;
      meat_share += line.amount;
    } else if (line.kind == LineKind::salt) {
      if (++salts > 1) return fault(ErrorCode::duplicate_key, path(i, "kind"), "salt");
    } else if (line.kind == LineKind::cure) {
      if (++cures > 1) return fault(ErrorCode::duplicate_key, path(i, "kind"), "cure");
      dose_ppm = line.amount;
    }
  }
  if (meats == 0) return fault(ErrorCode::missing, "lines", "");
  if (std::abs(meat_share - 1.0) > kShareSlack + 1e-9) {
    return out_of_range("lines", meat_share, 1.0 - kShareSlack, 1.0 + kShareSlack, "1");
  }
  const Result<Done> mixed = check_mix(recipe.mix, dose_ppm);
  if (!mixed.ok()) return mixed;
  const Result<Done> formed = check_form(recipe);
  if (!formed.ok()) return formed;
  const Result<Done> laid = check_brine(recipe);
  if (!laid.ok()) return laid;
  return check_stages(recipe);
}

}  // namespace saltrafter::recipe
