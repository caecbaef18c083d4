// Salt on its way to the centre of a whole muscle: days in salt, days of rest, when it may leave the cold.
#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "core/base/base.h"
#include "core/recipe/recipe.h"
#include "core/safety/finding.h"

namespace saltrafter::safety {

// Diffusivity of salt in meat at 4 °C, m2/s. Source: 3..7e-10 in pork (read), range and default chosen.
inline constexpr double kSaltDiffusivity = 3e-10;
inline constexpr double kSaltDiffusivityLow = 1.5e-10;
inline constexpr double kSaltDiffusivityHigh = 7e-10;
double salt_diffusivity(double at_4_c_m2_s, Celsius temperature);  // Ea 22 kJ/mol (choice)

// One time at one temperature.
struct SaltTime {
  Days days;  // 0..365
  Celsius temperature;
  bool in_salt = false;  // salt or brine lies on it
  // Share of the weight at hanging that drying has taken by its end: rises evenly from the end of the time
  // before, and never falls.
  double loss_at_end = 0.0;
};

struct SaltProfile {
  Days at;
  // g of salt in 1 g of salt and water: at the centre by the bound of the slow end,
  double centre = 0.0;
  double centre_likely = 0.0;  // at the usual diffusivity,
  double mean = 0.0;           // and of the whole piece, at the usual diffusivity
  std::vector<double> profile;  // the same from the centre to the rim in 10 equal steps, usual diffusivity
};

struct Salting {
  std::vector<SaltProfile> days;  // each day from 0, and the end
  // The first day on which the centre has 0.9 of the mean and no salt lies on it; nothing: not in 120 days.
  // It goes on after the last time, sealed and at its temperature (4 °C where there is none).
  std::optional<Days> evened_slow, evened_likely, evened_fast;
  // The first day, found likewise, on which the centre (slow end) has 4.5 % salt in its water; memory.
  std::optional<Days> cold_until;
};

// The mean is what the recipe's salt line brings, in its composition's water; a cylinder or slab as the
// recipe says (a roll and a ham as a cylinder), without its ends.
//   equilibrium  (and mixed in, which whole muscle is not) all salt at the surface at the start, all taken up
//   salt box     a saturated surface while in_salt, until the salt line is taken up; less if time does not do
//   brine        its strength, which falls by what the meat has taken up
// Diffusivity does not depend on content and the piece keeps its size; a piece that shrinks is salted sooner.
//
// Drying: what evens out is the strength of the brine in the meat, and the water is taken as even. Water on
// its way to the rim carries salt away from the centre; what comes back is taken at its least, the steady
// state:
//   centre / mean = 1 / mean of exp(k (r/a)^2) over the piece,  k = R a2 / (2 (m + 1) D)
// with m 1 for a cylinder and 0 for a slab, R the share of the water that leaves in a second (the most so
// far). Source: mass balance of salt carried along and diffusing back (derived); that brine evens out, and
// not salt to dry meat, from memory of dry-cured ham, whose wetter inside is not the less salty.
// Error: centre within 0.001 of the series, as a share of the mean; the bound is up to 5 % too low.
//
// With `working`, adds the lines behind the centre at the end.
// Errors: as scale; out_of_range "days" (0..365, each and all together); missing "composition" without water
// or solids.
Result<Salting> salting(const recipe::Recipe& recipe, const recipe::Sheet& sheet,
                        const std::vector<SaltTime>& times, recipe::Working* working = nullptr);

// Only the centre at the end of the times, by the bound of the slow end; errors as above.
Result<double> salt_at_centre(const recipe::Recipe& recipe, const recipe::Sheet& sheet,
                              const std::vector<SaltTime>& times);

// The times of the recipe's stages before `stage` (an index; all where it is beyond). A stage that dries and
// names no loss loses by the table's cold loss, up to the wanted loss. All together no longer than 365 days.
std::vector<SaltTime> times_before(const recipe::Recipe& recipe, std::size_t stage);

// The same of the recipe's own stages, until the first that is not cold.
std::vector<SaltTime> times_of(const recipe::Recipe& recipe);

// No warmer than 5 °C. Source: the table (memory).
bool is_cold(Celsius temperature);

// The first stage warmer than that, an index; nothing where all is cold.
std::optional<std::size_t> first_warm(const recipe::Recipe& recipe);

// Share of the weight that a bare piece of the recipe's form loses in a day of cold drying. Source: the
// table's figure for 80 mm round (choice), scaled by surface to volume.
double cold_loss_per_day(const recipe::Recipe& recipe);

// How a recipe gets past the gate: cold drying to this loss, in so many days at 4 °C, after its own days of
// cure and rest (or, where it plans none, after it has evened out at the slow end). Nothing where curing
// alone does or where no loss up to 40 % would. The loss is rounded up to 0.1 %.
struct ColdWay {
  double loss = 0.0;
  Days cure;
  Days dry;
};
std::optional<ColdWay> cold_way(const recipe::Recipe& recipe, const recipe::Sheet& sheet);
// The same from where a piece stands after `times`: `cure` is their days, `dry` those to come, `loss` all of
// it.
std::optional<ColdWay> cold_way(const recipe::Recipe& recipe, const recipe::Sheet& sheet,
                                std::vector<SaltTime> times);

// Centre as share of the mean at Fo = D t / a2, salt at the surface at the start; a is the radius or half the
// thickness, the whole thickness where one face is closed. Series, within 1e-9 for Fo >= 0.02, 0 below it.
double centre_share(recipe::Form form, double fourier);

}  // namespace saltrafter::safety
