#include <doctest/doctest.h>

#include "core/safety/safety.h"
#include "tests/unit/recipe/fixture.h"

using namespace saltrafter;
using namespace saltrafter::safety;

// What stays not known until a recipe is made is no fault of it; a stop or an exceeded limit would be.
TEST_CASE("none of the first recipes has a stop or an exceeded limit, and each says what is not known yet") {
  const Date today = std::chrono::sys_days(std::chrono::year(2026) / 11 / 26);
  for (const recipe::Recipe& recipe : recipe::starter_recipes(recipe::test::counting_ports())) {
    CAPTURE(recipe.name);
    const recipe::Sheet sheet = recipe::scale(recipe, Grams(4000.0)).value();
    int not_known = 0;
    for (const Finding& finding : findings(recipe, sheet, Chosen::not_chosen, today)) {
      CAPTURE(std::string(key_of(finding.rule)));
      CAPTURE(finding.row);
      CAPTURE(finding.advice);
      CHECK_FALSE(stops(finding));
      if (finding.decides) CHECK(finding.level != Level::not_met);
      not_known += finding.level == Level::not_known ? 1 : 0;
    }
    CHECK(not_known >= 4);
  }
}
