#include <doctest/doctest.h>

#include <cmath>
#include <set>
#include <string>

#include "core/recipe/recipe.h"
#include "tests/near.h"
#include "tests/reference/transport/rows.h"

using namespace saltrafter;
using namespace saltrafter::recipe;

namespace {

// The isotherms that estimates are compared by: the additive one of the drying model, ours, and that of
// muscle aged a year.
constexpr Holding kAdditive{1.0, 0.0};
constexpr Holding kAged{0.3, 3.2};

Composition composition_of(const rows::Row& row) {
  Composition c;
  c.water_g = rows::number(row, "water");
  c.salt_g = rows::number(row, "salt");
  c.fat_g = rows::number(row, "fat");
  c.protein_g = 1.0 - c.water_g - c.salt_g - c.fat_g;
  return c;
}

double by_isotherm(const Composition& c, const Holding& holding) {
  return isotherm_of(c, {}, holding).value().activity(water_content(c)).value;
}

double estimated(const Composition& c) { return estimate_activity(c, {}).value().likely.value; }

double check_value(const rows::Row& row) {
  const std::string quantity = row.at("quantity");
  const double salt = rows::number(row, "salt");
  const double water = rows::number(row, "water");
  if (quantity == "molal") return brine_activity(salt).value().value;
  if (quantity == "osmotic")
    return -std::log(brine_activity(salt).value().value) / (2.0 * salt * kWaterKgMol);
  if (quantity == "glucose") return sugar_activity(SugarKind::glucose, 100.0 * salt / water).value;
  if (quantity == "sucrose") return sugar_activity(SugarKind::sucrose, 100.0 * salt / water).value;
  if (quantity == "grover") return grover_activity(salt, water).value().value;
  if (quantity == "nitrite") {
    Composition c;
    c.water_g = 0.575;
    c.salt_g = 0.027;
    c.fat_g = 0.22;
    c.protein_g = 0.178;
    Solutes nitrite;
    nitrite.curing_mol = 2.0 * 1e-6 * salt / tables::find_salt("NaNO2")->molar_mass;
    return estimated(c) - estimate_activity(c, nitrite).value().likely.value;
  }
  const Composition c = composition_of(row);
  if (quantity == "brine") return activity_at_most(c).value;
  if (quantity == "additive") return by_isotherm(c, kAdditive);
  if (quantity == "fresh") return estimated(c);
  if (quantity == "aged") return by_isotherm(c, kAged);
  FAIL("unknown quantity " << quantity);
  return 0.0;
}

}  // namespace

TEST_CASE("water activities agree with the worked figures") {
  for (const rows::Row& row : rows::read("cure_aw_checks.csv")) {
    CAPTURE(row.at("id"));
    CHECK(check_value(row) == near_abs(rows::number(row, "expected"), rows::number(row, "tolerance")));
  }
}

TEST_CASE("the brine agrees with the table of sodium chloride up to 26 %") {
  for (const rows::Row& row : rows::read("cure_aw_nacl.csv")) {
    const double share = rows::number(row, "salt") / 100.0;
    CAPTURE(share);
    const WaterActivity activity = brine_activity_of_water_phase(share).value();
    CHECK(activity.value == near_abs(rows::number(row, "activity"), 0.001));
    CHECK(share / (1.0 - share) / kSodiumChlorideKgMol == near_abs(rows::number(row, "molality"), 0.0001));
    Composition c;
    c.water_g = 1.0 - share;
    c.salt_g = share;
    CHECK(activity_at_most(c).value == near_abs(rows::number(row, "activity"), 0.001));
  }
}

TEST_CASE(
    "published cured meats: the estimates are as stated, and 8 of 10 measured values lie within the error") {
  int cases = 0;
  int within = 0;
  std::set<std::string> studies;
  std::set<std::string> same_samples;
  for (const rows::Row& row : rows::read("cure_aw_cases.csv")) {
    CAPTURE(row.at("name"));
    const Composition c = composition_of(row);
    const ActivityEstimate estimate = estimate_activity(c, {}).value();
    CHECK(estimate.at_most.value == near_abs(rows::number(row, "brine"), 0.0005));
    CHECK(by_isotherm(c, kAdditive) == near_abs(rows::number(row, "additive"), 0.0005));
    CHECK(estimate.likely.value == near_abs(rows::number(row, "fresh"), 0.0005));
    CHECK(by_isotherm(c, kAged) == near_abs(rows::number(row, "aged"), 0.0005));
    const double low = rows::number(row, "measured_low");
    const double high = rows::number(row, "measured_high");
    // The bound from above is one: what warns never reads below what was measured.
    CHECK(estimate.at_most.value >= high);
    const double likely = estimate.likely.value;
    const double off = likely > high ? likely - high : likely < low ? likely - low : 0.0;
    ++cases;
    studies.insert(row.at("study"));
    if (row.at("same_samples") == "1") same_samples.insert(row.at("study"));
    if (std::abs(off) <= estimate.error + 1e-9) {
      ++within;
    } else {
      MESSAGE("beyond the error of " << estimate.error << ": " << row.at("name") << ", measured " << low
                                     << ".." << high << ", estimated " << likely << ", aged "
                                     << by_isotherm(c, kAged));
    }
  }
  MESSAGE(within << " of " << cases << " within; " << studies.size() << " sources, " << same_samples.size()
                 << " of them read with water, salt and activity of the same samples");
  CHECK(cases == 10);
  CHECK(within == 8);
  CHECK(studies.size() == 6);
  CHECK(same_samples.size() == 3);
}

TEST_CASE("a metre of casing and the metres for a mix agree with geometry at 1050 kg/m3") {
  Recipe r;
  Sheet sheet;
  sheet.total = Grams(3000.0);
  r.casing_diameter = Metres(0.043);
  CHECK(casing_metres(r, sheet) == near_abs(2.31, 0.02));
  // kg/m of a casing filled firmly, from how far a mix goes at the fill of 0.85.
  const auto firm = [&r, &sheet](double d_m) {
    r.casing_diameter = Metres(d_m);
    return 3.0 / casing_metres(r, sheet) / tables::find_constant("casing.fill")->value;
  };
  CHECK(firm(0.060) == near_abs(2.969, 0.002));
  CHECK(firm(0.032) == near_abs(0.844, 0.002));
}
