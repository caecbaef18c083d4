#include <doctest/doctest.h>

#include <cstdlib>
#include <string>

#include "core/safety/safety.h"
#include "tests/near.h"
#include "tests/reference/transport/rows.h"

using namespace saltrafter;
using namespace saltrafter::safety;

namespace {

std::string word_of(KeepingClass c) {
  switch (c) {
    case KeepingClass::shelf_stable: return "shelf_stable";
    case KeepingClass::perishable: return "perishable";
    case KeepingClass::very_perishable: break;
  }
  return "very_perishable";
}

}  // namespace

TEST_CASE("keeping classes, growth and finished figures are those published") {
  int kinds[4] = {0, 0, 0, 0};
  for (const rows::Row& row : rows::read("cure_keeping.csv")) {
    CAPTURE(row.at("id"));
    CAPTURE(row.at("subject"));
    const std::string& kind = row.at("kind");
    if (kind == "class") {
      ++kinds[0];
      CHECK(word_of(keeping_class(rows::number(row, "ph"), WaterActivity(rows::number(row, "aw")))) ==
            row.at("expected"));
    } else if (kind == "growth") {
      ++kinds[1];
      const tables::Organism* organism = tables::find_organism(row.at("subject"));
      REQUIRE(organism != nullptr);
      const bool grows = may_grow(*organism, Celsius(rows::number(row, "t")), rows::number(row, "ph"),
                                  WaterActivity(rows::number(row, "aw")));
      CHECK((grows ? "yes" : "no") == row.at("expected"));
    } else if (kind == "ratio") {
      ++kinds[2];
      recipe::Composition c;
      const std::string& parts = row.at("subject");
      c.water_g = std::strtod(parts.c_str(), nullptr);
      c.protein_g = std::strtod(parts.c_str() + parts.find(' '), nullptr);
      CHECK(recipe::moisture_protein_ratio(c) == near_abs(rows::number(row, "expected"), 0.01));
    } else if (kind == "salt") {
      ++kinds[3];
      const double sodium_g = rows::number(row, "subject") * 1e-3;
      // Sodium is what the chloride is not: the table has the mass of the ion.
      CHECK(sodium_g / tables::find_salt("NaCl")->ion_share() ==
            near_abs(rows::number(row, "expected"), 0.005));
    }
  }
  for (const int n : kinds) CHECK(n > 0);
}
