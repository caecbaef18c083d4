// A recipe for the meat at hand: what to weigh, and what comes of it.
//
// Limits are not judged here (module safety), except the one that no reason overrides.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "core/base/base.h"
#include "core/recipe/composition.h"
#include "core/recipe/cure.h"
#include "core/recipe/recipe_types.h"
#include "core/recipe/supplies.h"
#include "core/recipe/working.h"

namespace saltrafter::recipe {

struct SheetLine {
  Id id;  // of the recipe's line
  LineKind kind = LineKind::additive;
  std::string name;
  std::string material;
  double share_of_meat = 0.0;  // exact / meat
  Grams exact;                 // as computed. Salt: plain salt, without what the mix brings. Cure: the mix
  Grams weighed;               // as to be weighed: as_weighed(), the mix rounded down; or as it was
  Grams asked;                 // to be weighed, also where it was weighed in already
  bool is_in = false;          // it was weighed in
  double each_g = 0.0;         // of a line per piece: grams for one
  bool parts_known = true;     // false: the maker's own material, counted whole as `rest`
};

// The scales a maker owns: a fine one for little, a coarse one for all above.
struct Scales {
  Grams fine_step{0.1};
  Grams fine_most{1000.0};  // what the fine one carries
  Grams coarse_step{1.0};

  friend bool operator==(const Scales&, const Scales&) = default;
};

// What was really put in for a line, at the scale.
struct WeighedIn {
  Id line;
  Grams mass;
  std::int64_t at_utc_ms = 0;
  std::string lot;  // the maker's words: packet, shop, date

  friend bool operator==(const WeighedIn&, const WeighedIn&) = default;
};

// With what a recipe is scaled.
struct Hands {
  Supplies supplies;
  Scales scales;
  // Overrides the lines it names; two of one line add, as both are in. Meat so weighed is the base of doses.
  std::vector<WeighedIn> weighed;
};

struct Sheet {
  Grams meat;                    // as weighed in, as asked where it is not yet
  std::vector<SheetLine> lines;  // in the recipe's order
  Grams total;                   // of all lines as weighed

  Grams salt_wanted;    // sodium chloride, all together; of a brine what is in it before the meat
  Grams salt_from_mix;  // sodium chloride that the mix as weighed brings
  Grams mix;            // curing mix as weighed
  Grams mix_step;       // step of the scale that weighs it
  // What the doses are per: meat without bone and skin; in a brine that evens out meat and brine; in one that
  // does not the brine over the share taken up, so that the doses are the meat's.
  Grams curing_base;
  Grams water;          // of a brine: plain water to take; not in `lines`, `total` or `composition`
  int pieces = 1;       // that hang, by the diameter and length of the recipe

  // Ingoing, per kg of `curing_base`, from the mix as weighed and whatever else brings them.
  Ppm nitrite;         // as NaNO2
  Ppm nitrite_ion;     // the same as NO2-
  Ppm nitrate;         // as NaNO3
  Ppm nitrate_ion;     // the same as NO3-
  Ppm ascorbate;       // of lines that are an ascorbate, an erythorbate or their acid, each as it is
  Ppm nitrite_wanted;  // what the cure line asks for, as NaNO2

  // Of the whole mix as weighed; bone counts as rest. Of a brine: the meat as it comes out, salts and sugars
  // in it. Of a salt box: with the salt wanted, however much lies around the meat.
  Composition composition;

  // Set where the mix alone brings more sodium chloride than wanted (plain salt is then 0): out_of_range,
  // field the salt line, `found` what is wanted and `low` what the mix brings, g/kg of meat.
  std::optional<Error> too_salty;
  // Set where ingoing nitrite, wanted or weighed, is above kNitriteCeiling: refused, field "nitrite_ceiling",
  // `found` and `high` in mg/kg as NaNO2, of a mix with potassium nitrite as KNO2. Such a sheet may be shown,
  // not weighed out, printed or shared.
  std::optional<Error> refused;
};

// The most that is weighed out at once. Choice: a kitchen.
inline constexpr Grams kMostMeat{1.0e6};

// The step of the scale that takes a mass: the fine one's up to what it carries (choice: 0.1 g below 1 kg, else 1 g).
Grams scale_step(Grams mass, const Scales& scales = {});

// To that step. Never negative; 0 where the mass is no number.
Grams as_weighed(Grams exact, const Scales& scales = {});

// The same, rounded down: a curing mix is never weighed above the dose asked for.
Grams as_weighed_at_most(Grams exact, const Scales& scales = {});

// The same, rounded up: the water of a brine, which is never made stronger than asked.
Grams as_weighed_at_least(Grams exact, const Scales& scales = {});

// Scales a recipe to a mass of meat (g, above 0 and up to kMostMeat). With `working`, adds the lines behind
// the nitrite figure.
// Errors by field path, `lines/3/amount`: out_of_range (meat, an amount, a mix's strength, `wanted_loss`
// outside 0.01..0.90, `casing_diameter` outside 0.01..0.5 m, `piece_length` or `piece_width` outside 0.02..3 m, what
// recipe_types.h bounds; field "lines": shares of meat that do not add to 1 within 0.0005; "brine/g_per_kg",
// "brine/pick_up": salt that does not dissolve; "scales/...", "weighed/0/mass"), missing (no meat line; a meat
// line without material, or whose material has no composition; field "mix/nitrite": a dose without nitrite in
// the mix; field "lines/3/nitrate_share": a powder that brings nitrate without a figure; "brine"), not_found (a
// material known nowhere, on a line without parts; "weighed/0/line"), duplicate_key (a second salt or cure
// line).
// Source: FSIS Calculations Handbook (1995) chapter 3 for the dose, mass balance for the rest.
Result<Sheet> scale(const Recipe& recipe, Grams meat, Working* working = nullptr, const Hands& hands = {});

// What a recipe is scaled to. Each is turned into the meat for it.
enum class By { meat, pieces, finished, stock };
struct InStock {
  std::string material;  // of a meat line
  Grams mass;
};
struct Wish {
  By by = By::meat;
  Grams meat;            // By::meat
  int pieces = 1;        // By::pieces: that hang, of the recipe's diameter and length; 1..1000
  Grams finished;        // By::finished: all pieces together after the wanted loss
  std::vector<InStock> stock;  // By::stock: the most meat for which no line needs more than there is
};
// Meat for a wish, g. By::stock leaves lines out of which nothing is said; error missing, field "stock", where
// nothing is said of any. Errors: as scale; out_of_range for pieces, finished, stock.
Result<Grams> meat_for(const Recipe& recipe, const Wish& wish, const Hands& hands = {});

// Mass of one piece at stuffing or hanging: 1050 kg/m3 (common practice, 1030..1070) in the recipe's diameter
// and length; a slab without a width is taken three times as wide as thick (choice), a ham as round.
Grams piece_mass(const Recipe& recipe);

// What the recipe's lines alone are allowed to be, whatever the meat; the checks that `scale` makes.
// A material is known by the tables, by `supplies`, or by the parts its line carries.
Result<Done> check_recipe(const Recipe& recipe, const Supplies& supplies = {});

// Whether a sheet may be weighed out, printed or shared: its `refused` otherwise.
Result<Done> may_be_used(const Sheet& sheet);

// The composition of the sheet's mix after `loss` (0..1 of its mass) has left as water.
Composition finished(const Sheet& sheet, double loss);

}  // namespace saltrafter::recipe
