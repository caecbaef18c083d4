#include "core/air/atmosphere.h"

#include <cmath>

namespace saltrafter::air {
namespace {

bool inside(Metres altitude) {
  return altitude.value >= kLowestAltitude.value && altitude.value <= kHighestAltitude.value;
}

Error refusal(Metres altitude) {
  return out_of_range("altitude", altitude.value, kLowestAltitude.value, kHighestAltitude.value, "m");
}

}  // namespace

Result<Pascal> pressure_at(Metres altitude) {
  if (!inside(altitude)) {
    return refusal(altitude);
  }
  return Pascal(kSeaLevel.value * std::pow(1.0 - 2.25577e-5 * altitude.value, 5.2559));
}

Result<Celsius> standard_temperature_at(Metres altitude) {
  if (!inside(altitude)) {
    return refusal(altitude);
  }
  return Celsius(15.0 - 0.0065 * altitude.value);
}

}  // namespace saltrafter::air
