#include <doctest/doctest.h>

#include <cmath>
#include <optional>
#include <string>

#include "core/safety/safety.h"
#include "tests/near.h"
#include "tests/reference/transport/rows.h"
#include "tests/unit/recipe/fixture.h"

using namespace saltrafter;
using namespace saltrafter::safety;

namespace {

std::optional<double> asked(const rows::Row& row, const char* name) {
  if (row.at(name) == "none") return std::nullopt;
  return rows::number(row, name);
}

tables::Species species_of(const std::string& word) {
  if (word == "pork") return tables::Species::pork;
  if (word == "horse") return tables::Species::horse;
  REQUIRE(word == "game");
  return tables::Species::game;
}

// What the batch's findings say of one lot, frozen for so many days.
Finding of_lot(MeatLot lot, double days) {
  lot.id = Id{"lot"};
  lot.frozen->days = Days(days);
  const recipe::Recipe r = recipe::test::sample();
  const Result<recipe::Sheet> sheet = recipe::scale(r, Grams(10000.0));
  REQUIRE(sheet.ok());
  Evidence evidence;
  evidence.lots = {lot};
  for (const Finding& finding : parasite_findings(r, sheet.value(), evidence)) {
    if (finding.about == lot.id) return finding;
  }
  FAIL("nothing is said of the lot");
  return {};
}

}  // namespace

TEST_CASE("freezing is met from the published time on and a stop before it") {
  for (const rows::Row& row : rows::read("cure_freezing.csv")) {
    CAPTURE(row.at("id"));
    MeatLot lot;
    lot.species = species_of(row.at("species"));
    lot.wild = row.at("wild") == "yes";
    lot.frozen = Frozen{};
    lot.frozen->temperature = Celsius(rows::number(row, "temperature"));
    lot.frozen->thickness = Metres(rows::number(row, "thickness") / 1000.0);
    lot.frozen->core_measured = row.at("core") == "yes";
    const std::optional<double> time = asked(row, "asked");
    if (!time) {
      CHECK(of_lot(lot, 1000.0).level == Level::not_met);
      CHECK(stops(of_lot(lot, 1000.0)));
      continue;
    }
    const double days = row.at("unit") == "h" ? *time / 24.0 : *time;
    const std::optional<double> computed =
        freezing_days(lot.frozen->temperature, lot.frozen->thickness, lot.frozen->core_measured);
    REQUIRE(computed.has_value());
    CHECK(*computed == near_abs(days, 1e-12));
    CHECK(of_lot(lot, days).level == Level::met);
    CHECK(of_lot(lot, days - 0.01).level == Level::not_met);
    CHECK(stops(of_lot(lot, days - 0.01)));
  }
}

TEST_CASE("the table of heat is the published one") {
  for (const rows::Row& row : rows::read("cure_heating.csv")) {
    CAPTURE(row.at("id"));
    const double fahrenheit = rows::number(row, "fahrenheit");
    const tables::Heating* heat = tables::find_heating("core." + row.at("fahrenheit") + "_f");
    REQUIRE(heat != nullptr);
    CHECK(heat->temperature.value == near_abs((fahrenheit - 32.0) / 1.8, 0.15));
    CHECK(heat->minutes == rows::number(row, "minutes"));
  }
}

TEST_CASE("a sausage falls under the published curing method for its salt and diameter") {
  for (const rows::Row& row : rows::read("cure_parasite_methods.csv")) {
    CAPTURE(row.at("id"));
    const std::optional<DryingMethod> method =
        curing_method(rows::number(row, "salt") / 100.0, Metres(rows::number(row, "diameter") / 1000.0),
                      row.at("smoked") == "yes", row.at("variety") == "pepperoni");
    const std::optional<double> drying = asked(row, "drying");
    REQUIRE(method.has_value() == drying.has_value());
    if (!method) continue;
    CHECK(method->drying.value == *drying);
    CHECK(method->total.value == rows::number(row, "total"));
  }
}

TEST_CASE("a soured sausage is covered by the study of 2017 within its pH and salt alone") {
  for (const rows::Row& row : rows::read("cure_parasite_study.csv")) {
    CAPTURE(row.at("id"));
    const std::optional<Days> days = souring_days(rows::number(row, "ph"), rows::number(row, "salt") / 100.0);
    const std::optional<double> expected = asked(row, "days");
    REQUIRE(days.has_value() == expected.has_value());
    if (days) CHECK(days->value == *expected);
  }
}
