#include "core/drying/body.h"

#include <algorithm>
#include <cmath>
#include <string>
#include <utility>
#include <vector>

namespace saltrafter::drying {

double minced_diffusivity_m2_s(double fat_share, double level_m2_s) {
  return level_m2_s * std::exp(-kFatSlope.value * (fat_share - kFatReference.value));
}

double casing_pa_m2s_kg(Wrap wrap) {
  switch (wrap) {
    case Wrap::naked: return kCasingNaked.value;
    case Wrap::cased: break;
    case Wrap::waxed: return kCasingWaxed.value;
  }
  return kCasingCased.value;
}

double Body::loss_at(WaterActivity activity) const { return (x0 - content(activity)) / (1.0 + x0); }

// A closed face is the middle of a slab of twice the thickness.
Metres least_side(const Geometry& geometry) {
  return geometry.diameter * (geometry.form == Form::slab_skin_closed ? 2.0 : 1.0);
}

namespace {

// Shape index and outer size. Ends and edges count for less than their area: measured against product solutions.
void put_shape(const Geometry& geometry, Body& body) {
  const double whole_m = least_side(geometry).value;
  const auto over = [whole_m](const std::optional<Metres>& side) { return side ? whole_m / side->value : 0.0; };
  body.outer_m = 0.5 * whole_m;
  switch (geometry.form) {
    case Form::cylinder:
    case Form::rolled: body.shape_index = 1.0 + kEndShare.value * over(geometry.length); break;
    case Form::slab_open:
    case Form::slab_skin_closed:
      body.shape_index = kEndShare.value * (over(geometry.length) + over(geometry.width));
      break;
    case Form::ham: body.shape_index = kHamShape.value; break;
  }
}

}  // namespace

Result<Body> make_body(const Stuff& stuff, const Geometry& geometry, const Figures& figures) {
  const recipe::Composition& c = stuff.composition;
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
  Result<recipe::Isotherm> isotherm =
      recipe::isotherm_of(c, stuff.solutes, figures.holding.value_or(recipe::usual_holding()));
  if (!isotherm.ok()) {
    return isotherm.error();
  }
  Body body;
  body.x0 = c.water_g / dry_g;
  body.solid_m3_kg = (c.fat_g / kFatDensity.value + (c.protein_g + c.rest_g) / kProteinDensity.value +
                      c.salt_g / kSaltDensity.value) / dry_g;
  body.d0_m2_s = stuff.kind == Kind::minced ? minced_diffusivity_m2_s(c.fat_g / total_g, figures.minced_m2_s)
                                            : figures.muscle_m2_s;
  body.casing_pa_m2s_kg = casing_pa_m2s_kg(stuff.wrap);
  body.isotherm = std::make_shared<const recipe::Isotherm>(std::move(isotherm).value());
  return with_size(std::move(body), geometry);
}

Result<Body> with_size(Body body, const Geometry& geometry) {
  const double d_m = geometry.diameter.value;
  if (!(d_m >= 0.01 && d_m <= 0.5)) {
    return out_of_range("diameter", d_m, 0.01, 0.5, "m");
  }
  const double least_m = least_side(geometry).value;
  if (geometry.length && !(geometry.length->value >= least_m && geometry.length->value <= 5.0)) {
    return out_of_range("length", geometry.length->value, least_m, 5.0, "m");
  }
  if (geometry.width && !(geometry.width->value >= least_m && geometry.width->value <= 5.0)) {
    return out_of_range("width", geometry.width->value, least_m, 5.0, "m");
  }
  put_shape(geometry, body);
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
