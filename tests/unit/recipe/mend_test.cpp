#include <doctest/doctest.h>

#include <cmath>

#include "core/recipe/recipe.h"
#include "tests/unit/recipe/fixture.h"

using namespace saltrafter;
using namespace saltrafter::recipe;

namespace {

const SheetLine& cure_line(const Sheet& sheet) {
  for (const SheetLine& line : sheet.lines) {
    if (line.kind == LineKind::cure) return line;
  }
  return sheet.lines.front();
}

Hands with_cure(const Recipe& recipe, Grams mass) {
  Hands hands;
  for (const Line& line : recipe.lines) {
    if (line.kind == LineKind::cure) hands.weighed.push_back({line.id, mass, 0, ""});
  }
  return hands;
}

}  // namespace

TEST_CASE("a dose within a twentieth of what is wanted needs no mending") {
  const Recipe recipe = test::sample();
  const Sheet asked = scale(recipe, Grams(4000.0)).value();
  const Grams mix = cure_line(asked).weighed;
  for (const double share : {0.955, 1.0, 1.045}) {
    CAPTURE(share);
    const Sheet weighed = scale(recipe, Grams(4000.0), nullptr, with_cure(recipe, mix * share)).value();
    CHECK_FALSE(mend(recipe, weighed).has_value());
  }
}

TEST_CASE("too much mix is put right by more meat: then the dose is as wanted, and never above") {
  const Recipe recipe = test::sample();
  const Grams mix = cure_line(scale(recipe, Grams(4000.0)).value()).weighed;
  const Hands hands = with_cure(recipe, mix * 1.5);
  const Sheet weighed = scale(recipe, Grams(4000.0), nullptr, hands).value();
  const std::optional<Mend> slip = mend(recipe, weighed);
  REQUIRE(slip.has_value());
  CHECK(slip->mix.value == 0.0);
  CHECK(slip->meat.value > 1500.0);
  const Sheet mended = scale(recipe, Grams(4000.0 + slip->meat.value), nullptr, hands).value();
  CHECK(mended.nitrite <= mended.nitrite_wanted);
  CHECK(mended.nitrite.value == doctest::Approx(mended.nitrite_wanted.value).epsilon(0.002));
}

TEST_CASE("too little mix is put right by more of it, and the salt with it") {
  const Recipe recipe = test::sample();
  const Sheet asked = scale(recipe, Grams(4000.0)).value();
  const Grams mix = cure_line(asked).weighed;
  const Sheet weighed = scale(recipe, Grams(4000.0), nullptr, with_cure(recipe, mix * 0.5)).value();
  const std::optional<Mend> slip = mend(recipe, weighed);
  REQUIRE(slip.has_value());
  CHECK(slip->meat.value == 0.0);
  const Sheet mended = scale(recipe, Grams(4000.0), nullptr, with_cure(recipe, mix * 0.5 + slip->mix)).value();
  CHECK(mended.nitrite <= mended.nitrite_wanted);
  CHECK(mended.nitrite.value == doctest::Approx(mended.nitrite_wanted.value).epsilon(0.03));
}

TEST_CASE("plain salt to add is rounded up: what is mended has the salt wanted") {
  const Recipe recipe = test::sample();
  for (double meat_g = 4000.0; meat_g < 4060.0; meat_g += 7.0) {
    CAPTURE(meat_g);
    const Sheet asked = scale(recipe, Grams(meat_g)).value();
    const Grams mix = cure_line(asked).weighed;
    const Sheet weighed = scale(recipe, Grams(meat_g), nullptr, with_cure(recipe, mix * 1.3)).value();
    const std::optional<Mend> slip = mend(recipe, weighed, Scales{Grams(5.0), Grams(1e9), Grams(5.0)});
    REQUIRE(slip.has_value());
    double salt_g = weighed.salt_from_mix.value + slip->salt.value;
    for (const SheetLine& line : weighed.lines) salt_g += line.kind == LineKind::salt ? line.weighed.value : 0.0;
    CHECK(salt_g >= weighed.salt_wanted.value * (meat_g + slip->meat.value) / meat_g - 1e-9);
  }
}

TEST_CASE("a brine is not put right by meat or mix") {
  Recipe recipe = test::sample();
  const Sheet weighed = scale(recipe, Grams(4000.0), nullptr,
                              with_cure(recipe, cure_line(scale(recipe, Grams(4000.0)).value()).weighed * 1.5)).value();
  CHECK(mend(recipe, weighed).has_value());
  recipe.method = CureMethod::brine;
  CHECK_FALSE(mend(recipe, weighed).has_value());
}

TEST_CASE("the most mix keeps within the limit it is asked for, and one step more does not") {
  const Recipe recipe = test::sample();
  const Sheet sheet = scale(recipe, Grams(4000.0)).value();
  const Grams most = most_mix(recipe, sheet, Ppm(119.98));
  const Sheet at_most = scale(recipe, Grams(4000.0), nullptr, with_cure(recipe, most)).value();
  CHECK(at_most.nitrite.value <= 119.98);
  const Sheet above = scale(recipe, Grams(4000.0), nullptr, with_cure(recipe, most + scale_step(most))).value();
  CHECK(above.nitrite.value > 119.98);
}
