// The states that the bench times, in WebAssembly: one a call, or many in one call.
#include "core/air/air.h"

using namespace saltrafter;
using namespace saltrafter::air;

namespace {

// All that the state holds, so that none of it can be left out; not finite when refused.
double sum_of(double t_c, double rh, double p_pa) {
  const Result<MoistAir> air = moist_air(Celsius(t_c), RelativeHumidity(rh), Pascal(p_pa), Over::ice);
  if (!air.ok()) {
    return 0.0 / 0.0;
  }
  const MoistAir& a = air.value();
  return a.water.value + a.wet_bulb.value + a.dew_point.value + a.vapour.value + a.enthalpy.value +
         a.volume.value + a.saturation;
}

}  // namespace

extern "C" {

double one_state(double t_c, double rh, double p_pa) { return sum_of(t_c, rh, p_pa); }

// The grid of bench.mjs, row by row.
double all_states(int temperatures, int humidities, double p_pa) {
  double sum = 0.0;
  for (int i = 0; i < temperatures; ++i) {
    for (int k = 1; k <= humidities; ++k) {
      sum += sum_of(-40.0 + 100.0 * i / (temperatures - 1), static_cast<double>(k) / humidities, p_pa);
    }
  }
  return sum;
}
}
