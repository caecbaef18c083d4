// Within this module: the pickle that meat lies in, and what of it ends in the meat.
#pragma once

#include "core/base/base.h"
#include "core/recipe/line_mass.h"
#include "core/recipe/recipe_types.h"

namespace saltrafter::recipe {

// Bounds of a recipe's brine, of recipe_types.h.
inline constexpr double kLeastBrineGPerKg = 50.0;
inline constexpr double kMostBrineGPerKg = 5000.0;
inline constexpr double kMostPickUp = 0.5;

// What lies on the tray and in the pickle beside salt, mix and plain water.
struct PickleParts {
  double meat_water_g = 0.0;  // of the flesh
  double additive_g = 0.0;
  double additive_water_g = 0.0;  // of it
};

struct Pickle {
  bool equalised = false;      // left until meat and pickle are alike
  double mass_g = 0.0;         // all of it
  double water_g = 0.0;        // its water, that of wine and the like included
  double plain_water_g = 0.0;  // to take from the tap
  double salt_g = 0.0;         // sodium chloride in all, that of the mix included
  double base_g = 0.0;         // a gram of nitrite salt counts per this: method 1 or 2
};

// The pickle as meant, for a recipe whose method is CureMethod::brine and that was checked. Equalised, the
// salt is equally strong in the water of both, and the meat has then what is wanted; else what is taken up
// brings it.
// Source: mass balance; the handbook's methods for base_g. Errors: out_of_range (field "brine/g_per_kg" or
// "brine/pick_up": the salt would not dissolve or not fit in; low: the least that will do; the salt line: no
// brine is strong enough), missing ("lines": meat without water).
Result<Pickle> pickle_of(const Recipe& recipe, const MeatBase& base, const PickleParts& parts);

// How much of a gram dissolved in the pickle as it is ends in the meat, 0..1.
double taken_up(const Recipe& recipe, const MeatBase& base, const Pickle& pickle, double meat_water_g);

}  // namespace saltrafter::recipe
