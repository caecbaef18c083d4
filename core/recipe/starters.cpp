#include "core/recipe/starters.h"

#include <string>
#include <utility>

namespace saltrafter::recipe {
namespace {

// Below the strictest ingoing limit (80 mg/kg NO2-, which is 119.98 mg/kg NaNO2) with room for a scale's
// step.
constexpr double kStarterNitritePpm = 110.0;

CuringMix usual_mix() { return CuringMix{"Cure 1", 0.0625, 0.0}; }

class Builder {
 public:
  Builder(const Ports& ports, std::string name, ProductClass product_class) : ports_(ports) {
    recipe_.name = std::move(name);
    recipe_.product_class = product_class;
    recipe_.mix = usual_mix();
  }

  Builder& hung(double diameter_m, double wanted_loss) {
    recipe_.casing_diameter = Metres(diameter_m);
    recipe_.wanted_loss = wanted_loss;
    return *this;
  }
  Builder& meat(std::string name, std::string material, double share) {
    return add(LineKind::meat, std::move(name), std::move(material), Basis::percent_of_meat, share);
  }
  Builder& salt(double g_per_kg) { return add(LineKind::salt, "Salt", "", Basis::g_per_kg, g_per_kg); }
  Builder& cure(double nitrite_ppm) {
    return add(LineKind::cure, recipe_.mix.name, "", Basis::g_per_kg, nitrite_ppm);
  }
  Builder& spice(std::string name, std::string material, double g_per_kg) {
    return add(LineKind::additive, std::move(name), std::move(material), Basis::g_per_kg, g_per_kg);
  }
  Recipe done() { return std::move(recipe_); }

 private:
  Builder& add(LineKind kind, std::string name, std::string material, Basis basis, double amount) {
    Line line;
    line.id = make_id(ports_);
    line.kind = kind;
    line.name = std::move(name);
    line.material = std::move(material);
    line.basis = basis;
    line.amount = amount;
    recipe_.lines.push_back(std::move(line));
    return *this;
  }

  const Ports& ports_;
  Recipe recipe_;
};

}  // namespace

Recipe new_recipe(const Ports& ports) {
  return Builder(ports, "", ProductClass::comminuted_dry)
      .meat("Pork shoulder", "pork_shoulder", 1.0)
      .salt(26.0)
      .cure(kStarterNitritePpm)
      .done();
}

std::vector<Recipe> starter_recipes(const Ports& ports) {
  std::vector<Recipe> recipes;
  recipes.push_back(Builder(ports, "Caraway salami", ProductClass::comminuted_dry)
                        .hung(0.055, 0.35)
                        .meat("Pork shoulder", "pork_shoulder", 0.75)
                        .meat("Back fat", "pork_back_fat", 0.25)
                        .salt(26.0)
                        .cure(kStarterNitritePpm)
                        .spice("Dextrose", "dextrose", 4.0)
                        .spice("Caraway", "caraway", 2.5)
                        .spice("Black pepper", "black_pepper", 3.0)
                        .spice("Starter culture", "starter_culture", 0.2)
                        .done());
  recipes.push_back(Builder(ports, "Coriander and wine salami", ProductClass::comminuted_dry)
                        .hung(0.060, 0.36)
                        .meat("Beef chuck", "beef_chuck", 0.35)
                        .meat("Pork butt", "pork_butt", 0.40)
                        .meat("Back fat", "pork_back_fat", 0.25)
                        .salt(27.0)
                        .cure(kStarterNitritePpm)
                        .spice("Dextrose", "dextrose", 4.0)
                        .spice("Red wine", "red_wine", 15.0)
                        .spice("Coriander seed", "coriander_seed", 2.0)
                        .spice("Garlic", "garlic_fresh", 3.0)
                        .spice("White pepper", "white_pepper", 2.0)
                        .spice("Starter culture", "starter_culture", 0.2)
                        .done());
  recipes.push_back(Builder(ports, "Juniper loin", ProductClass::whole_muscle_dry)
                        .hung(0.070, 0.35)
                        .meat("Pork loin, lean", "pork_loin_lean", 1.0)
                        .salt(28.0)
                        .cure(kStarterNitritePpm)
                        .spice("Juniper", "juniper", 2.0)
                        .spice("Black pepper", "black_pepper", 3.0)
                        .spice("Bay", "bay", 0.5)
                        .done());
  return recipes;
}

}  // namespace saltrafter::recipe
