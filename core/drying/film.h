// The air's film around a hanging piece: how fast it takes heat and vapour. Plain formulas, no state.
#pragma once

#include "core/base/base.h"

namespace saltrafter::drying {

// Heat transfer coefficient of a cylinder across moving air, W/(m2 K); air near 13 °C, the piece 0.5 K (as
// virtual temperature) from it. Range: speed 0..5 m/s, diameter 0.005..1 m, clamped.
// Source: Churchill and Bernstein (forced), Churchill and Chu (free), joined as the cube root of the sum of
// cubes; textbook forms (memory).
double film_heat_w_m2k(MetresPerSecond speed, Metres diameter);

// The same divided into what depends on speed alone and what on size, for use inside the solver.
class Film {
 public:
  struct Heat {
    double w_m2k = 0.0;
    double log_slope = 0.0;  // d ln of it / d ln diameter
  };
  explicit Film(MetresPerSecond speed);
  Heat heat(double diameter_m) const;

 private:
  double reynolds_m_ = 0.0;     // Reynolds number per metre of diameter
  double forced_factor_ = 0.0;  // of the square root of the Reynolds number
  double free_factor_ = 0.0;    // of the square root of the diameter
};

// Vapour transfer coefficient on pressure, kg/(m2 s Pa), of a film with this heat transfer coefficient.
// Source: Lewis analogy, Le = 0.865, cp 1006 J/(kg K), air 1.225 kg/m3 at 15 °C (derived).
double film_vapour_kg_m2spa(double heat_w_m2k, Celsius air);

}  // namespace saltrafter::drying
