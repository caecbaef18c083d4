// Prints states of moist air as CSV, one line a state, for another library to compute again:
// psychrolib.test.mjs.
#include <cstdio>

#include "core/air/air.h"

int main() {
  using namespace saltrafter;
  using namespace saltrafter::air;
  std::puts(
      "t_c,rh,p_pa,dew_c,wet_c,water,enthalpy_kj,volume_m3,vapour_pa,deficit_pa,saturation,wet_again_water");
  for (const double z_m : {-400.0, 0.0, 1872.0, 4000.0}) {
    for (double t_c = -40.0; t_c <= 60.0; t_c += 2.5) {
      for (const double rh : {0.02, 0.1, 0.25, 0.4, 0.55, 0.7, 0.76, 0.85, 0.95, 1.0}) {
        const Result<Pascal> pressure = pressure_at(Metres(z_m));
        if (!pressure.ok()) {
          return 1;
        }
        const Result<MoistAir> air =
            moist_air(Celsius(t_c), RelativeHumidity(rh), pressure.value(), Over::ice);
        if (!air.ok()) {
          return 1;
        }
        const MoistAir& a = air.value();
        // Back from the wet bulb, by eq. 33 and 35 alone.
        const Result<MoistAir> again = moist_air_at_wet_bulb(Celsius(t_c), a.wet_bulb, pressure.value());
        if (!again.ok()) {
          return 1;
        }
        std::printf("%.17g,%.17g,%.17g,%.17g,%.17g,%.17g,%.17g,%.17g,%.17g,%.17g,%.17g,%.17g\n", t_c, rh,
                    a.pressure.value, a.dew_point.value, a.wet_bulb.value, a.water.value, a.enthalpy.value,
                    a.volume.value, a.vapour.value, a.deficit.value, a.saturation, again.value().water.value);
      }
    }
  }
  return 0;
}
