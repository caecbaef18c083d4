#include "core/desk/journey.h"

#include <doctest/doctest.h>

#include <fstream>
#include <sstream>

using namespace saltrafter;

TEST_SUITE("desk/journey") {
  TEST_CASE("a line is a verb, a role, a name and a value") {
    const auto steps = desk::read_journey("# remark\n\nfill spinbutton \"Meat on the tray\" \"4 200\"\noffline\n");
    REQUIRE(steps.ok());
    REQUIRE(steps.value().size() == 2);
    CHECK(steps.value()[0].line == 3);
    CHECK(steps.value()[0].name == "Meat on the tray");
    CHECK(steps.value()[0].value == "4 200");
    CHECK(steps.value()[1].verb == "offline");
    CHECK(steps.value()[1].role.empty());
  }

  TEST_CASE("a line that cannot be read names itself") {
    for (const char* text : {"press button", "press widget \"A\"", "see row \"A", "see row \"A\" \"B\" \"C\""}) {
      CAPTURE(text);
      const auto steps = desk::read_journey(std::string("# one\n") + text + "\n");
      REQUIRE_FALSE(steps.ok());
      CHECK(steps.error().field == "line 2");
    }
  }

  TEST_CASE("dots open a name at either end") {
    CHECK(desk::matches("Piece 1", "Piece 1"));
    CHECK_FALSE(desk::matches("Piece 1", "Piece 12"));
    CHECK(desk::matches("Piece…", "Piece 12"));
    CHECK_FALSE(desk::matches("Piece…", "A Piece"));
    CHECK(desk::matches("…lost", "17 % lost"));
    CHECK(desk::matches("…% l…", "17 % lost"));
    CHECK_FALSE(desk::matches("…x…", "17 % lost"));
  }
}
