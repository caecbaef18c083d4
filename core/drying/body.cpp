#include "core/drying/body.h"

#include <algorithm>
#include <cmath>
#include <string>
#include <utility>
#include <vector>

namespace saltrafter::drying {

double minced_diffusivity_m2_s(double fat_share) {
  return kMincedDiffusivity.value * std::exp(-kFatSlope.value * (fat_share - kFatReference.value));
}

double Body::loss_at(WaterActivity activity) const {
  return (x0 - isotherm->content(activity)) / (1.0 + x0);
}

Result<Body> make_body(const recipe::Composition& c, const Geometry& geometry, Kind kind, Wrap wrap) {
  for (const double part_g : {c.water_g, c.protein_g, c.fat_g, c.salt_g, c.rest_g}) {
    if (!(part_g >= 0.0 && part_g <= 1e9)) {
      return out_of_range("composition", part_g, 0.0, 1e9, "g");
    }
  }
  const double total_g = c.total_g();
  const double dry_g = total_g - c.water_g;
  const double water_share = total_g > 0.0 ? c.water_g / total_g : 0.0;
  if (!(water_share >= 0.05 && water_share <= 0.95)) {
    return out_of_range("composition", water_share, 0.05, 0.95, "");
  }
  const double d_m = geometry.diameter.value;
  if (!(d_m >= 0.01 && d_m <= 0.5)) {
    return out_of_range("diameter", d_m, 0.01, 0.5, "m");
  }
  if (geometry.length && !(geometry.length->value >= d_m && geometry.length->value <= 5.0)) {
    return out_of_range("length", geometry.length->value, d_m, 5.0, "m");
  }
  Result<recipe::Isotherm> isotherm = recipe::Isotherm::make(recipe::solids_of(c));
  if (!isotherm.ok()) {
    return isotherm.error();
  }
  Body body;
  body.x0 = c.water_g / dry_g;
  switch (geometry.form) {
    case Form::cylinder:
      body.outer_m = 0.5 * d_m;
      // The ends' area counts for less than its share: measured against product solutions.
      body.shape_index = geometry.length ? 1.0 + kEndShare.value * d_m / geometry.length->value : 1.0;
      break;
    case Form::slab_open:
      body.outer_m = 0.5 * d_m;
      body.shape_index = 0.0;
      break;
    case Form::slab_skin_closed:
      body.outer_m = d_m;
      body.shape_index = 0.0;
      break;
  }
  body.solid_m3_kg = (c.fat_g / kFatDensity.value + (c.protein_g + c.rest_g) / kProteinDensity.value +
                      c.salt_g / kSaltDensity.value) / dry_g;
  body.d0_m2_s = kind == Kind::minced ? minced_diffusivity_m2_s(c.fat_g / total_g) : kMuscleDiffusivity.value;
  body.casing_pa_m2s_kg = wrap == Wrap::naked   ? kCasingNaked.value
                          : wrap == Wrap::cased ? kCasingCased.value
                                                : kCasingWaxed.value;
  body.isotherm = std::make_shared<const recipe::Isotherm>(std::move(isotherm).value());
  return body;
}

Result<Done> check_stages(const std::vector<Stage>& stages) {
  if (stages.empty()) {
    Error error;
    error.code = ErrorCode::missing;
    error.field = "stages";
    return error;
  }
  for (std::size_t i = 0; i < stages.size(); ++i) {
    const Stage& stage = stages[i];
    const std::string at = "stages/" + std::to_string(i) + "/";
    if (!(stage.duration.value > 0.0 && stage.duration.value <= 3650.0)) {
      return out_of_range(at + "duration", stage.duration.value, 0.0, 3650.0, "d");
    }
    if (!(stage.temperature.value >= -5.0 && stage.temperature.value <= 45.0)) {
      return out_of_range(at + "temperature", stage.temperature.value, -5.0, 45.0, "°C");
    }
    if (!(stage.humidity.value >= 0.0 && stage.humidity.value <= 0.999)) {
      return out_of_range(at + "humidity", stage.humidity.value, 0.0, 0.999, "");
    }
    if (!(stage.speed.value >= 0.0 && stage.speed.value <= 5.0)) {
      return out_of_range(at + "speed", stage.speed.value, 0.0, 5.0, "m/s");
    }
  }
  return Done{};
}

}  // namespace saltrafter::drying
