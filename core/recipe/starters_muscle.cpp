// The first recipes of whole muscles. Amounts are common practice (choice). The cold days are those in which
// salt reaches 0.9 of its mean at the centre by the slow end of its diffusivity, and the loss in the cold
// that brings the water there to 4.5 % salt, with some to spare.
#include "core/recipe/starter_rows.h"

namespace saltrafter::recipe {
namespace {

using K = LineKind;
using S = StageKind;

constexpr StarterLine kLoin[] = {
    {K::meat, "Pork loin, lean", "pork_loin_lean", 1.0},
    {K::salt, "Salt", "", 28.0},
    {K::cure, "Cure 1", "", kStarterNitritePpm},
    {K::additive, "Juniper", "juniper", 2.0},
    {K::additive, "Black pepper", "black_pepper", 3.0},
    {K::additive, "Bay", "bay", 0.5},
};
constexpr StarterStage kLoinStages[] = {
    {S::cure, 2.0, 0.0, 24.0, 0.0},
    {S::cold_dry, 4.0, 0.80, 45.0, 0.22},
    {S::dry, 13.0, 0.76, 30.0, 0.35},
};

constexpr StarterLine kBeef[] = {
    {K::meat, "Beef eye of round", "beef_eye_of_round_lean", 1.0},
    {K::salt, "Salt", "", 34.0},
    {K::cure, "Cure 1", "", kStarterNitritePpm},
    {K::additive, "Rosemary", "rosemary_dried", 1.5},
    {K::additive, "Black pepper", "black_pepper", 3.0},
    {K::additive, "Clove", "clove", 0.2},
};
constexpr StarterStage kBeefStages[] = {
    {S::cure, 2.0, 0.0, 30.0, 0.0},
    {S::cold_dry, 4.0, 0.80, 28.0, 0.13},
    {S::dry, 13.0, 0.76, 45.0, 0.38},
};

constexpr StarterLine kNeck[] = {
    {K::meat, "Pork neck", "pork_butt", 1.0},
    {K::salt, "Salt", "", 33.0},
    {K::cure, "Cure 1", "", kStarterNitritePpm},
    {K::additive, "Sucrose", "sucrose", 3.0},
    {K::additive, "Fennel seed", "fennel_seed", 2.0},
    {K::additive, "Sweet paprika", "paprika", 6.0},
    {K::additive, "Chilli", "chilli", 1.5},
};
constexpr StarterStage kNeckStages[] = {
    {S::cure, 2.0, 0.0, 32.0, 0.0},
    {S::cold_dry, 4.0, 0.80, 24.0, 0.11},
    {S::dry, 13.0, 0.76, 50.0, 0.34},
};

constexpr StarterLine kBelly[] = {
    {K::meat, "Pork belly, skin on", "pork_belly", 1.0},
    {K::salt, "Salt", "", 28.0},
    {K::cure, "Cure 1", "", kStarterNitritePpm},
    {K::additive, "Sucrose", "sucrose", 4.0},
    {K::additive, "Black pepper", "black_pepper", 5.0},
    {K::additive, "Bay", "bay", 0.5},
    {K::additive, "Nutmeg", "nutmeg", 0.5},
};
constexpr StarterStage kBellyStages[] = {
    {S::cure, 2.0, 0.0, 32.0, 0.0},
    {S::cold_dry, 4.0, 0.80, 10.0, 0.04},
    {S::dry, 13.0, 0.76, 35.0, 0.20},
};

constexpr StarterLine kJowl[] = {
    {K::meat, "Pork jowl, skin on", "pork_jowl", 1.0},
    {K::salt, "Salt", "", 30.0},
    {K::cure, "Cure 1", "", kStarterNitritePpm},
    {K::additive, "Black pepper", "black_pepper", 5.0},
    {K::additive, "Sage", "sage_dried", 1.0},
};
constexpr StarterStage kJowlStages[] = {
    {S::cure, 2.0, 0.90, 5.0, 0.0},
    {S::rest, 2.0, 0.0, 28.0, 0.0},
    {S::cold_dry, 4.0, 0.80, 7.0, 0.02},
    {S::dry, 13.0, 0.76, 25.0, 0.10},
};

// Reckoned as lean alone, which has the most water: the cold days are then no fewer than the lean under the
// fat needs.
constexpr StarterLine kDuck[] = {
    {K::meat, "Duck breast, skin on", "duck_lean", 1.0},
    {K::salt, "Salt", "", 34.0},
    {K::cure, "Cure 1", "", kStarterNitritePpm},
    {K::additive, "Thyme", "thyme_dried", 1.0},
    {K::additive, "Orange zest", "orange_zest", 3.0},
    {K::additive, "Black pepper", "black_pepper", 3.0},
};
constexpr StarterStage kDuckStages[] = {
    {S::cure, 2.0, 0.0, 18.0, 0.0},
    {S::cold_dry, 4.0, 0.80, 21.0, 0.13},
    {S::dry, 12.0, 0.76, 18.0, 0.33},
};

constexpr StarterLine kFillet[] = {
    {K::meat, "Pork tenderloin", "pork_tenderloin", 1.0},
    {K::salt, "Salt", "", 34.0},
    {K::cure, "Cure 1", "", kStarterNitritePpm},
    {K::additive, "Brown sugar", "brown_sugar", 8.0},
    {K::additive, "Allspice", "allspice", 1.0},
    {K::additive, "Mustard seed", "mustard_seed", 3.0},
};
constexpr StarterStage kFilletStages[] = {
    {S::cure, 2.0, 0.0, 14.0, 0.0},
    {S::cold_dry, 4.0, 0.80, 28.0, 0.16},
    {S::dry, 13.0, 0.76, 20.0, 0.36},
};

StarterRow muscle(std::string_view name, std::string_view casing, double diameter_mm, double length_mm,
                  double wanted_loss) {
  StarterRow row;
  row.name = name;
  row.product_class = ProductClass::whole_muscle_dry;
  row.method = CureMethod::equilibrium;
  row.casing = casing;
  row.diameter_mm = diameter_mm;
  row.length_mm = length_mm;
  row.wanted_loss = wanted_loss;
  return row;
}

StarterRow closed_slab(std::string_view name, double thickness_mm, double length_mm, double wanted_loss) {
  StarterRow row = muscle(name, "", thickness_mm, length_mm, wanted_loss);
  row.form = Form::slab_closed;
  row.skin_on = true;
  return row;
}

}  // namespace

std::vector<StarterRow> muscle_starters() {
  StarterRow loin = muscle("Juniper loin", "collagen_sheet", 70.0, 350.0, 0.35);
  loin.lines = kLoin;
  loin.stages = kLoinStages;

  StarterRow beef = muscle("Rosemary beef round", "collagen_sheet", 80.0, 300.0, 0.38);
  beef.lines = kBeef;
  beef.stages = kBeefStages;

  StarterRow neck = muscle("Ember neck", "hog_bung", 80.0, 300.0, 0.34);
  neck.lines = kNeck;
  neck.stages = kNeckStages;

  StarterRow belly = closed_slab("Pepper-side belly", 35.0, 300.0, 0.20);
  belly.lines = kBelly;
  belly.stages = kBellyStages;

  StarterRow jowl = closed_slab("Sage jowl", 40.0, 200.0, 0.10);
  jowl.method = CureMethod::salt_box;
  jowl.lines = kJowl;
  jowl.stages = kJowlStages;

  StarterRow duck = closed_slab("Orange duck breast", 25.0, 180.0, 0.33);
  duck.lines = kDuck;
  duck.stages = kDuckStages;

  StarterRow fillet = muscle("Allspice fillet from the crock", "", 50.0, 250.0, 0.36);
  fillet.method = CureMethod::brine;
  fillet.brine_g_per_kg = 600.0;
  fillet.brine_days = 14.0;
  fillet.lines = kFillet;
  fillet.stages = kFilletStages;

  return {loin, beef, neck, belly, jowl, duck, fillet};
}

}  // namespace saltrafter::recipe
