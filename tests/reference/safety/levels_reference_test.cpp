#include <doctest/doctest.h>

#include <string>

#include "core/safety/safety.h"
#include "tests/reference/transport/rows.h"
#include "tests/unit/recipe/fixture.h"

using namespace saltrafter;
using namespace saltrafter::safety;

TEST_CASE("doses get the word that the published limit gives them") {
  const Date day = std::chrono::year(2026) / 11 / 25;
  for (const rows::Row& row : rows::read("cure_levels.csv")) {
    CAPTURE(row.at("id"));
    recipe::Recipe r;
    r.mix = recipe::CuringMix{"", 0.0625, 0.0};
    r.product_class = row.at("class") == "comminuted_dry" ? recipe::ProductClass::comminuted_dry
                                                          : recipe::ProductClass::whole_muscle_dry;
    if (row.at("class") == "whole_muscle_brined") {
      // Left in so much brine that what the dose counts on is meat and pickle alike.
      r.method = recipe::CureMethod::brine;
      r.brine = recipe::Brine{1000.0, 0.1, Days(7.0)};
    }
    r.lines = {recipe::test::line(recipe::LineKind::meat, "pork_ham_lean", 1.0),
               recipe::test::line(recipe::LineKind::salt, "", 25.0),
               recipe::test::line(recipe::LineKind::cure, "", rows::number(row, "dose"))};
    const Result<recipe::Sheet> sheet = recipe::scale(r, Grams(100000.0));
    REQUIRE(sheet.ok());
    const Chosen chosen = row.at("chosen") == "us"   ? Chosen::us
                          : row.at("chosen") == "eu" ? Chosen::eu
                                                     : Chosen::ca;
    bool seen = false;
    for (const Finding& finding : findings(r, sheet.value(), chosen, day)) {
      if (finding.row != row.at("row")) continue;
      seen = true;
      CHECK(std::string(key_of(finding.level)) == row.at("level"));
    }
    CHECK(seen);
  }
}
