// Salt on its way to the centre against the series of diffusion.
#include <doctest/doctest.h>

#include <cmath>
#include <string>

#include "core/safety/safety.h"
#include "tests/near.h"
#include "tests/reference/transport/rows.h"
#include "tests/unit/safety/whole_muscle.h"

using namespace saltrafter;
using namespace saltrafter::safety;
using test::muscle;
using test::salted;

namespace {

double fourier_at(recipe::Form form, double share) {
  double low = 0.02;
  double high = 2.0;
  for (int i = 0; i < 60; ++i) {
    const double middle = 0.5 * (low + high);
    (centre_share(form, middle) < share ? low : high) = middle;
  }
  return high;
}

}  // namespace

TEST_CASE("the centre has its share of the mean at the published Fourier numbers") {
  for (const rows::Row& row : rows::read("cure_centre_share.csv")) {
    CAPTURE(row.at("form"));
    CAPTURE(row.at("share"));
    const recipe::Form form = row.at("form") == "slab" ? recipe::Form::slab : recipe::Form::round;
    CHECK(fourier_at(form, rows::number(row, "share")) == near_abs(rows::number(row, "fourier"), 0.0005));
  }
}

TEST_CASE("the days until salt has evened out are those of the series, by the formula and by the solver") {
  int compared = 0;
  for (const rows::Row& row : rows::read("cure_equalise_days.csv")) {
    const double across_m = rows::number(row, "thickness_or_diameter_mm") * 1e-3;
    const double d = rows::number(row, "D_m2_s");
    for (const recipe::Form form : {recipe::Form::slab, recipe::Form::round}) {
      const char* column = form == recipe::Form::slab ? "days_slab_centre_90pct_of_mean"
                                                      : "days_cylinder_centre_90pct_of_mean";
      CAPTURE(column);
      CAPTURE(across_m);
      CAPTURE(d);
      const double days = fourier_at(form, 0.9) * 0.25 * across_m * across_m / d / 86400.0;
      CHECK(days == near_abs(rows::number(row, column), 0.06));
      const Salting s = salted(muscle(across_m, 30.0, form), {});
      const std::optional<Days>& evened = d < 2e-10   ? s.evened_slow
                                          : d < 5e-10 ? s.evened_likely
                                                      : s.evened_fast;
      REQUIRE(evened);
      // The first whole day; where the series comes within 0.02 d of one, that one or the next.
      CHECK(evened->value >= std::ceil(days - 0.02));
      CHECK(evened->value <= std::ceil(days + 0.02));
      ++compared;
    }
  }
  CHECK(compared == 66);
}

TEST_CASE("day by day the solver's centre is the series', to a thousandth of the mean") {
  for (const recipe::Form form : {recipe::Form::slab, recipe::Form::round}) {
    for (const double across_m : {0.03, 0.05, 0.08, 0.12}) {
      const Salting s = salted(muscle(across_m, 30.0, form), {SaltTime{Days(60.0), Celsius(4.0)}});
      REQUIRE(s.days.size() == 61);
      const double mean = s.days.front().mean;
      for (const SaltProfile& day : s.days) {
        const double a2 = 0.25 * across_m * across_m;
        const double slow = kSaltDiffusivityLow * day.at.value * 86400.0 / a2;
        const double likely = kSaltDiffusivity * day.at.value * 86400.0 / a2;
        CAPTURE(across_m);
        CAPTURE(day.at.value);
        // From the salt of the brine back to that of the meat, as shares of the mean.
        const auto share = [&](double brine) { return brine / (1.0 - brine) / (mean / (1.0 - mean)); };
        if (slow >= 0.02) CHECK(share(day.centre) == near_abs(centre_share(form, slow), 0.001));
        if (likely >= 0.02) CHECK(share(day.centre_likely) == near_abs(centre_share(form, likely), 0.001));
      }
    }
  }
}

TEST_CASE("salt boxes and doses bring the published salt") {
  for (const rows::Row& row : rows::read("cure_salting.csv")) {
    CAPTURE(row.at("id"));
    const bool box = row.at("method") == "salt_box";
    const recipe::Recipe r =
        muscle(rows::number(row, "mm") * 1e-3, rows::number(row, "line_g_per_kg"), recipe::Form::round,
               box ? recipe::CureMethod::salt_box : recipe::CureMethod::equilibrium);
    const Salting s = salted(r, {SaltTime{Days(rows::number(row, "days")), Celsius(4.0), box}});
    double found = s.days.back().mean;
    if (row.at("what") == "salt_on_meat") found = 0.7293 * found / (1.0 - found);
    CHECK(found == near_abs(rows::number(row, "expected"), rows::number(row, "tolerance")));
  }
}

TEST_CASE("three degrees more make salt a ninth faster") {
  // Activation energy of 22 kJ/mol, from memory and chosen; derived from it.
  CHECK(salt_diffusivity(3e-10, Celsius(4.0)) == near_rel(3e-10, 1e-12));
  CHECK(salt_diffusivity(3e-10, Celsius(7.0)) == near_rel(3e-10 * 1.11, 0.005));
}
