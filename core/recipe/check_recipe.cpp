#include <cmath>
#include <string>

#include "core/recipe/materials.h"
#include "core/recipe/scale.h"

namespace saltrafter::recipe {
namespace {

// How far the shares of meat may be from 1 together: three cuts typed to a tenth of a per cent.
constexpr double kShareSlack = 0.0005;

// Bounds of what can be meant at all; limits of law and taste are findings. Choices.
constexpr double kMostSaltGPerKg = 500.0;
constexpr double kMostDosePpm = 10000.0;
constexpr double kMostAdditiveGPerKg = 2000.0;
constexpr double kWeakestMix = 0.001;  // below, the mix would outweigh what it cures

// What drying can forecast.
constexpr double kLeastLoss = 0.01;
constexpr double kMostLoss = 0.90;
constexpr double kLeastDiameterM = 0.01;
constexpr double kMostDiameterM = 0.5;

std::string path(std::size_t line, const char* leaf) { return "lines/" + std::to_string(line) + "/" + leaf; }

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
    case LineKind::additive: break;
  }
  switch (line.basis) {
    case Basis::percent_of_meat: return {kMostAdditiveGPerKg / 1000.0, "1"};
    case Basis::g_per_kg: return {kMostAdditiveGPerKg, "g/kg"};
    case Basis::fixed_g: break;
  }
  return {kMostMeat.value, "g"};
}

Result<Done> check_line(const Line& line, std::size_t i) {
  const AmountRule rule = amount_rule(line);
  if (!within(line.amount, 0.0, rule.high)) {
    return out_of_range(path(i, "amount"), line.amount, 0.0, rule.high, rule.unit);
  }
  if (line.kind == LineKind::meat) {
    if (line.material.empty()) return fault(ErrorCode::missing, path(i, "material"), "");
    if (!cut_parts(line.material)) return fault(ErrorCode::not_found, path(i, "material"), line.material);
  }
  if (line.kind == LineKind::additive && !line.material.empty() && !additive_parts(line.material)) {
    return fault(ErrorCode::not_found, path(i, "material"), line.material);
  }
  return Done{};
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

}  // namespace

Result<Done> check_recipe(const Recipe& recipe) {
  double meat_share = 0.0;
  double dose_ppm = 0.0;
  int meats = 0;
  int salts = 0;
  int cures = 0;
  for (std::size_t i = 0; i < recipe.lines.size(); ++i) {
    const Line& line = recipe.lines[i];
    const Result<Done> checked = check_line(line, i);
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
  if (!within(recipe.wanted_loss, kLeastLoss, kMostLoss)) {
    return out_of_range("wanted_loss", recipe.wanted_loss, kLeastLoss, kMostLoss, "1");
  }
  const double diameter_m = recipe.casing_diameter.value;
  if (!within(diameter_m, kLeastDiameterM, kMostDiameterM)) {
    return out_of_range("casing_diameter", diameter_m, kLeastDiameterM, kMostDiameterM, "m");
  }
  return Done{};
}

}  // namespace saltrafter::recipe
