// A piece of meat as the drying model sees it, and the air it hangs in.
#pragma once

#include <memory>
#include <optional>
#include <string_view>

#include "core/base/base.h"
#include "core/recipe/recipe.h"

namespace saltrafter::drying {

// Saturation pressure of water and its slope, handed in: the product gives air's, golden runs their own.
// Both take degrees Celsius; Pa and Pa/K.
struct Saturation {
  double (*psat_pa)(double t_c) = nullptr;
  double (*slope_pa_k)(double t_c) = nullptr;
};

enum class Kind { minced, whole_muscle };
enum class Wrap { naked, cased, waxed };  // waxed: larded, too

// The air for a while. The last stage of a programme goes on for as long as asked.
struct Stage {
  Days duration;                 // > 0
  Celsius temperature{13.0};     // -5..45
  RelativeHumidity humidity{0.78};  // 0..0.999
  MetresPerSecond speed{0.05};   // 0..5, at the piece
  bool sealed = false;           // in a bag: nothing leaves
  std::optional<Wrap> wrap = {};  // the surface from here on; absent: as before

  friend bool operator==(const Stage&, const Stage&) = default;
};

enum class Form {
  cylinder,          // `diameter`, hung free on all sides
  rolled,            // muscle rolled and tied: dries as a cylinder does
  slab_open,         // `diameter` is the thickness, both faces dry
  slab_skin_closed,  // `diameter` is the thickness, one face closed by skin or fat
  ham,               // `diameter` is twice the distance from the surface to the core
};
inline constexpr Metres kHamDiameter{0.170};  // choice

struct Geometry {
  Form form = Form::cylinder;
  Metres diameter{0.055};        // 0.01..0.5, at hanging
  // Absent: so long (so wide) that the ends (the edges) do not count. Length of a cylinder or roll: >= diameter.
  // Length and width of a slab: >= thickness, with a closed face >= twice that. A ham has neither.
  std::optional<Metres> length = {};
  std::optional<Metres> width = {};
};
// The least length or width that a body of this form and diameter may have.
Metres least_side(const Geometry& geometry);

// A default and how it is known, for the working.
struct Assumption {
  std::string_view id;
  double value;
  std::string_view unit;
  std::string_view known;  // read, read_copy, derived, practice, memory, choice
  double low;              // plausible range
  double high;
};
// Between what a published pepperoni's diffusivity asks for (1.5e-10) and recorded sausages (0.6e-10): TRUTH.md.
inline constexpr Assumption kMincedDiffusivity{"drying.d0_minced", 1.0e-10, "m2/s", "choice", 0.6e-10, 3e-10};
inline constexpr Assumption kFatSlope{"drying.d0_fat_slope", 1.63, "", "derived", 1.0, 2.5};
inline constexpr Assumption kFatReference{"drying.d0_fat_reference", 0.22, "", "choice", 0.22, 0.22};
inline constexpr Assumption kMuscleDiffusivity{"drying.d0_muscle", 6e-11, "m2/s", "choice", 2e-11, 20e-11};
inline constexpr Assumption kDryingSlowdown{"drying.c", 2.0, "", "choice", 1.0, 3.0};
inline constexpr Assumption kActivation{"drying.ea", 28e3, "J/mol", "choice", 15e3, 45e3};
inline constexpr Assumption kCasingNaked{"drying.casing_naked", 0.0, "Pa m2 s/kg", "choice", 0.0, 0.0};
inline constexpr Assumption kCasingCased{"drying.casing_cased", 1e7, "Pa m2 s/kg", "choice", 0.0, 3e7};
inline constexpr Assumption kCasingWaxed{"drying.casing_waxed", 3e7, "Pa m2 s/kg", "choice", 1e7, 1e8};
inline constexpr Assumption kRadiation{"drying.radiation", 4.0, "W/(m2 K)", "derived", 0.0, 5.0};
inline constexpr Assumption kEndShare{"drying.end_share", 0.75, "", "derived", 0.5, 1.0};
inline constexpr Assumption kHamShape{"drying.ham_shape", 1.5, "", "choice", 1.0, 2.0};
inline constexpr Assumption kFatDensity{"drying.density_fat", 920.0, "kg/m3", "memory", 900.0, 940.0};
inline constexpr Assumption kProteinDensity{"drying.density_protein", 1350.0, "kg/m3", "memory", 1300.0, 1400.0};
inline constexpr Assumption kSaltDensity{"drying.density_salt", 2165.0, "kg/m3", "memory", 2150.0, 2180.0};
inline constexpr Assumption kWaterVolume{"drying.volume_water", 1e-3, "m3/kg", "memory", 1e-3, 1e-3};
inline constexpr Assumption kFactorSpread{"drying.factor_sd", 0.40, "", "choice", 0.15, 0.6};

struct Body {
  double x0 = 0.0;               // water per dry solids at hanging
  double shape_index = 1.0;      // 0 slab, 1 cylinder, 2 sphere
  double outer_m = 0.0;          // radius, half or whole thickness
  double solid_m3_kg = 0.0;      // volume of the dry solids
  double d0_m2_s = 0.0;          // diffusivity at x0 and 13 °C
  double slowdown = kDryingSlowdown.value;
  double activation_j_mol = kActivation.value;
  double casing_pa_m2s_kg = 0.0;
  double radiation_w_m2k = kRadiation.value;
  std::shared_ptr<const recipe::Isotherm> isotherm;  // never null in a body made by make_body
  double holds = 1.0;            // water its solids hold, over what the isotherm says; > 0

  // Activity at a content and its slope, and back.
  recipe::Isotherm::Point at(double x) const {
    const recipe::Isotherm::Point point = isotherm->at(x / holds);
    return {point.activity, point.slope / holds};
  }
  double content(WaterActivity activity) const { return holds * isotherm->content(activity); }
  double density_kg_m3() const { return (1.0 + x0) / (solid_m3_kg + x0 * kWaterVolume.value); }
  // The loss (of the weight at hanging) at which the mean water content has this activity.
  double loss_at(WaterActivity activity) const;
};

// Levels that a caller may set: the golden runs stand on the design's own. `holding` absent: usual_holding().
struct Figures {
  double minced_m2_s = kMincedDiffusivity.value;  // at the reference's fat share, x0 and 13 °C; > 0
  double muscle_m2_s = kMuscleDiffusivity.value;  // > 0
  std::optional<recipe::Holding> holding = {};
};

// What a piece is made of: masses (only their ratios count), and what is dissolved in them beside salt.
struct Stuff {
  recipe::Composition composition;
  recipe::Solutes solutes = {};
  Kind kind = Kind::minced;
  Wrap wrap = Wrap::cased;
};

// A body from what it is made of and its size. Its isotherm is the one behind the recipe's water activity
// (recipe/activity.h), so that both say the same at hanging.
// Errors: out_of_range for composition (a negative mass, or no water, or no solids), diameter, length, width (m);
// those of Isotherm::make.
Result<Body> make_body(const Stuff& stuff, const Geometry& geometry, const Figures& figures = {});

// The same meat in another size or form. Errors: out_of_range for diameter, length, width (m).
Result<Body> with_size(Body body, const Geometry& geometry);

double casing_pa_m2s_kg(Wrap wrap);

// Minced meat's diffusivity at this fat share at stuffing (0..1), m2/s. Source: slope by fat from published
// pepperoni curves (derived), level set on recorded curves (choice, tests/reference/drying/TRUTH.md).
double minced_diffusivity_m2_s(double fat_share, double level_m2_s = kMincedDiffusivity.value);

// Errors: out_of_range for the stage's fields, with field "stages/<i>/...".; missing "stages" when there is none.
Result<Done> check_stages(const std::vector<Stage>& stages);

}  // namespace saltrafter::drying
