// What a mass of meat or of a mix is made of, by mass.
#pragma once

#include "core/base/base.h"

namespace saltrafter::recipe {

// Masses in grams of the parts of one mix or piece. Everything that is none of the named parts is `rest`
// (ash, sugars, spices' solids). Only water leaves while it dries.
struct Composition {
  double water_g = 0.0;
  double protein_g = 0.0;
  double fat_g = 0.0;
  double salt_g = 0.0;  // sodium chloride, that of the curing mix included
  double rest_g = 0.0;
  double sugar_g = 0.0;  // of the rest: what sours, as dextrose (C6H12O6)

  double total_g() const { return water_g + protein_g + fat_g + salt_g + rest_g; }
  friend bool operator==(const Composition&, const Composition&) = default;
};

Composition operator+(const Composition& a, const Composition& b);
Composition operator*(const Composition& a, double factor);

// The composition after `loss` (0..1, of the mass now) has left as water; water does not go below zero.
Composition after_loss(const Composition& now, double loss);

// Water to protein (mass ratio) and salt in the water phase (salt / (salt + water)); 0 when undefined.
double moisture_protein_ratio(const Composition& c);
double water_phase_salt(const Composition& c);

// The loss (0..1 of the mass now) at which water to protein comes down to `ratio`; 0 where it is there
// already or nothing is known. Source: mass balance, only water leaves: L = w0 - ratio * p0.
double loss_for_moisture_protein_ratio(const Composition& now, double ratio);

}  // namespace saltrafter::recipe
