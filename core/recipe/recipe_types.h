// A recipe as the maker keeps it: kinds of lines, what each asks for. Amounts are computed in scale.h.
#pragma once

#include <string>
#include <vector>

#include "core/base/base.h"

namespace saltrafter::recipe {

enum class LineKind {
  meat,      // amount: share of the meat, 0..1; the meat lines add to 1. `material` names a row of the cuts table
  salt,      // amount: total sodium chloride wanted, g per kg of meat; what the curing mix brings is subtracted
  cure,      // amount: ingoing nitrite wanted, mg/kg of meat, as NaNO2; met by the recipe's curing mix
  additive,  // amount by its basis; `material` names a row of the additives table, or is empty (the maker's own)
};

enum class Basis {
  percent_of_meat,  // amount is a share 0..1 of the meat mass
  g_per_kg,         // g per kg of meat
  fixed_g,          // g, whatever the meat mass
};

struct Line {
  Id id;
  LineKind kind = LineKind::additive;
  std::string name;      // the maker's own word
  std::string material;  // key in assets/tables, or empty
  Basis basis = Basis::g_per_kg;
  double amount = 0.0;   // as `kind` and `basis` say

  friend bool operator==(const Line&, const Line&) = default;
};

// Mass shares of a curing mix; the rest is sodium chloride.
struct CuringMix {
  std::string name;
  double nitrite = 0.0;  // NaNO2, 0..1
  double nitrate = 0.0;  // NaNO3, 0..1

  friend bool operator==(const CuringMix&, const CuringMix&) = default;
};

// The product class under which limits are looked up.
enum class ProductClass { comminuted_dry, whole_muscle_dry };

struct Recipe {
  std::string name;
  std::string note;
  ProductClass product_class = ProductClass::comminuted_dry;
  CuringMix mix;
  std::vector<Line> lines;
  Metres casing_diameter{0.055};
  double wanted_loss = 0.35;  // of the weight at hanging, 0..1

  friend bool operator==(const Recipe&, const Recipe&) = default;
};

}  // namespace saltrafter::recipe
