// How much water a mix holds at a water activity, and which activity a water content has.
//
// Proteins and rest by the GAB curve, salt by its brine, other solutes as an ideal solution; the waters add.
// Content is kg of water per kg of dry solids (fat and salt are dry solids). Temperature is neglected.
#pragma once

#include <vector>

#include "core/base/base.h"
#include "core/recipe/composition.h"

namespace saltrafter::recipe {

// Guggenheim-Anderson-de Boer: X = xm c k a / ((1 - k a)(1 - k a + c k a)), per kg of fat- and salt-free solids.
struct Gab {
  double xm = 0.062;  // known: choice; range 0.05..0.08 (memory)
  double c = 11.0;    // known: choice; range 5..20 (memory)
  double k = 0.98;    // known: choice; range 0.96..0.99 (memory)
};

// Water held by 1 kg of fat- and salt-free solids. Range of activity 0..1; clamped to it.
double gab_content(const Gab& gab, WaterActivity activity);

// What of the dry solids holds water.
struct Solids {
  double protein_and_rest = 0.0;  // share of the dry solids, 0..1
  double salt = 0.0;              // share of the dry solids, 0..1
  double osmol_per_kg = 0.0;      // other solutes (lactate, sugars): mol of particles per kg dry solids, 0..20
};
Solids solids_of(const Composition& composition);

// kg water per kg dry solids now; 0 when there are no dry solids.
double water_content(const Composition& composition);

// The curve of one recipe, tabulated once. Strictly rising between 0 and 0.99999.
class Isotherm {
 public:
  // Errors: out_of_range for protein_and_rest, salt, osmol_per_kg, xm, c, k; refused ("solids") when nothing
  // in them holds water.
  static Result<Isotherm> make(const Solids& solids, const Gab& gab = {});

  // The formula itself. Activity clamped to 0..0.99999.
  double content(WaterActivity activity) const;

  // Its inverse from the table, within 1e-6. Content clamped to the table.
  WaterActivity activity(double content) const { return WaterActivity(at(content).activity); }

  struct Point {
    double activity = 0.0;
    double slope = 0.0;  // d activity / d content
  };
  Point at(double content) const;

 private:
  struct Knot {
    double content, activity, slope_above, slope_below;  // slopes of the pieces on either side
  };
  Solids solids_;
  Gab gab_;
  std::vector<Knot> knots_;
};

}  // namespace saltrafter::recipe
