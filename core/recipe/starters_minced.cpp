// The minced first recipes. Amounts, temperatures and days are common practice (choice). Sugar is 1.3 times
// what the buffer model of the references asks for the wanted pH, from pH 5.75.
#include "core/recipe/starter_rows.h"

namespace saltrafter::recipe {
namespace {

using K = LineKind;
using S = StageKind;

constexpr StarterLine kCaraway[] = {
    {K::meat, "Pork shoulder", "pork_shoulder", 0.75},
    {K::meat, "Back fat", "pork_back_fat", 0.25},
    {K::salt, "Salt", "", 26.0},
    {K::cure, "Cure 1", "", kStarterNitritePpm},
    {K::additive, "Dextrose", "dextrose", 4.0},
    {K::additive, "Caraway", "caraway", 2.5},
    {K::additive, "Black pepper", "black_pepper", 3.0},
    {K::culture, "Starter culture", "sakei_mild", 0.2},
};
constexpr StarterStage kCarawayStages[] = {
    {S::rest, 2.0, 0.85, 1.0, 0.0},
    {S::ferment, 22.0, 0.92, 2.0, 0.0},
    {S::dry, 13.0, 0.78, 40.0, 0.35},
};

constexpr StarterLine kCoriander[] = {
    {K::meat, "Beef chuck", "beef_chuck", 0.35},
    {K::meat, "Pork butt", "pork_butt", 0.40},
    {K::meat, "Back fat", "pork_back_fat", 0.25},
    {K::salt, "Salt", "", 27.0},
    {K::cure, "Cure 1", "", kStarterNitritePpm},
    {K::additive, "Dextrose", "dextrose", 4.0},
    {K::additive, "Red wine", "red_wine", 15.0},
    {K::additive, "Coriander seed", "coriander_seed", 2.0},
    {K::additive, "Garlic", "garlic_fresh", 3.0},
    {K::additive, "White pepper", "white_pepper", 2.0},
    {K::culture, "Starter culture", "curvatus_mild", 0.2},
};
constexpr StarterStage kCorianderStages[] = {
    {S::rest, 2.0, 0.85, 1.0, 0.0},
    {S::ferment, 22.0, 0.92, 2.0, 0.0},
    {S::dry, 13.0, 0.78, 45.0, 0.36},
};

constexpr StarterLine kVenison[] = {
    {K::meat, "Venison", "venison", 0.70},
    {K::meat, "Pork back fat", "pork_back_fat", 0.30},
    {K::salt, "Salt", "", 28.0},
    {K::cure, "Cure 1", "", kStarterNitritePpm},
    {K::additive, "Dextrose", "dextrose", 4.5},
    {K::additive, "Juniper", "juniper", 1.5},
    {K::additive, "Black pepper", "black_pepper", 3.0},
    {K::additive, "Thyme", "thyme_dried", 1.0},
    {K::culture, "Starter culture", "sakei_mild", 0.2},
    {K::culture, "Colour culture", "carnosus_colour", 0.2},
};
constexpr StarterStage kVenisonStages[] = {
    {S::rest, 2.0, 0.85, 1.0, 0.0},
    {S::ferment, 22.0, 0.92, 2.0, 0.0},
    {S::dry, 13.0, 0.78, 40.0, 0.36},
};

constexpr StarterLine kStick[] = {
    {K::meat, "Pork shoulder, lean", "pork_shoulder_lean", 0.45},
    {K::meat, "Beef chuck", "beef_chuck", 0.30},
    {K::meat, "Pork belly", "pork_belly", 0.25},
    {K::salt, "Salt", "", 26.0},
    {K::cure, "Cure 1", "", kStarterNitritePpm},
    {K::additive, "Dextrose", "dextrose", 5.5},
    {K::additive, "Sweet paprika", "paprika", 8.0},
    {K::additive, "Chilli", "chilli", 2.0},
    {K::additive, "Cumin", "cumin", 1.0},
    {K::additive, "Garlic powder", "garlic_powder", 1.0},
    {K::culture, "Starter culture", "pentosaceus_medium", 0.2},
};
constexpr StarterStage kStickStages[] = {
    {S::rest, 2.0, 0.85, 1.0, 0.0},
    {S::ferment, 24.0, 0.90, 1.5, 0.0},
    {S::dry, 13.0, 0.75, 14.0, 0.42},
};

constexpr StarterLine kSpread[] = {
    {K::meat, "Pork belly", "pork_belly", 0.50},
    {K::meat, "Pork shoulder", "pork_shoulder", 0.30},
    {K::meat, "Beef chuck", "beef_chuck", 0.20},
    {K::salt, "Salt", "", 26.0},
    {K::cure, "Cure 1", "", kStarterNitritePpm},
    {K::additive, "Dextrose", "dextrose", 6.0},
    {K::additive, "White pepper", "white_pepper", 2.5},
    {K::additive, "Mace", "mace", 0.5},
    {K::additive, "Honey", "honey", 2.0},
    {K::culture, "Starter culture", "plantarum_medium", 0.2},
};
constexpr StarterStage kSpreadStages[] = {
    {S::rest, 2.0, 0.85, 1.0, 0.0},
    {S::ferment, 22.0, 0.92, 3.0, 0.0},
    {S::dry, 12.0, 0.82, 10.0, 0.12},
    {S::store, 3.0, 0.0, 30.0, 0.0},
};

StarterRow minced(std::string_view name, std::string_view casing, double diameter_mm, double wanted_loss,
                  double wanted_ph) {
  StarterRow row;
  row.name = name;
  row.casing = casing;
  row.diameter_mm = diameter_mm;
  row.wanted_loss = wanted_loss;
  row.wanted_ph = wanted_ph;
  row.plate_mm = 6.0;
  row.mix_minutes = 5.0;
  return row;
}

}  // namespace

std::vector<StarterRow> minced_starters() {
  StarterRow caraway = minced("Caraway salami", "beef_middle_50_55", 55.0, 0.35, 5.2);
  caraway.lines = kCaraway;
  caraway.stages = kCarawayStages;

  StarterRow coriander = minced("Coriander and wine salami", "beef_middle_60_65", 60.0, 0.36, 5.2);
  coriander.plate_mm = 8.0;
  coriander.lines = kCoriander;
  coriander.stages = kCorianderStages;

  StarterRow venison = minced("Thicket salami", "beef_middle_50_55", 52.0, 0.36, 5.2);
  venison.plate_mm = 5.0;
  venison.lines = kVenison;
  venison.stages = kVenisonStages;

  StarterRow stick = minced("Red pocket sticks", "sheep_20_22", 22.0, 0.42, 5.1);
  stick.length_mm = 250.0;
  stick.plate_mm = 4.5;
  stick.lines = kStick;
  stick.stages = kStickStages;

  StarterRow spread = minced("Larder spread", "collagen", 45.0, 0.12, 4.9);
  spread.product_class = ProductClass::comminuted_semi_dry;
  spread.length_mm = 200.0;
  spread.plate_mm = 3.0;
  spread.mix_minutes = 8.0;
  spread.lines = kSpread;
  spread.stages = kSpreadStages;

  return {caraway, coriander, venison, stick, spread};
}

}  // namespace saltrafter::recipe
