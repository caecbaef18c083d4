#include <doctest/doctest.h>

#include <algorithm>
#include <string>

#include "core/recipe/recipe.h"
#include "tests/near.h"
#include "tests/unit/recipe/fixture.h"

using namespace saltrafter;
using namespace saltrafter::recipe;
using recipe::test::line;
using recipe::test::sample;
using tables::Allergen;

namespace {

Supply priced(const char* replaces, double price, SupplyKind kind = SupplyKind::additive) {
  Supply s;
  s.key = std::string("own_") + replaces;
  s.replaces = replaces;
  s.kind = kind;
  s.name = s.key;
  s.price = price;
  return s;
}

Sheet sheet_of(const Recipe& r, double meat_g = 4000.0) { return scale(r, Grams(meat_g)).value(); }

bool holds(const std::vector<std::string>& names, const char* name) {
  return std::find(names.begin(), names.end(), name) != names.end();
}

Recipe with_casing(const char* casing, double diameter_m) {
  Recipe r = sample();
  r.casing = casing;
  r.casing_diameter = Metres(diameter_m);
  return r;
}

}  // namespace

TEST_CASE("a cost is what was weighed times its price, the mix by its packet and the casing by the metre") {
  Recipe r = with_casing("hog", 0.040);
  r.mix.supply = "packet";
  Supply mix = priced("", 20.0, SupplyKind::curing_mix);
  mix.key = "packet";
  const Supplies supplies{priced("pork_ham_lean", 9.0, SupplyKind::cut),
                          priced("pork_back_fat", 3.0, SupplyKind::cut),
                          priced("salt", 1.0),
                          mix,
                          priced("dextrose", 5.0),
                          priced("black_pepper", 40.0),
                          priced("hog", 0.8, SupplyKind::casing)};
  const Sheet sheet = sheet_of(r);
  const Cost cost = cost_of(r, sheet, supplies);
  CHECK(cost.unpriced.empty());
  REQUIRE(cost.lines.size() == 7);
  CHECK(cost.lines[0].cost == near_rel(2.8 * 9.0, 1e-12));
  CHECK(cost.lines[0].line == r.lines[0].id);
  CHECK(cost.lines[2].cost == near_rel(1e-3 * sheet.lines[2].weighed.value, 1e-12));
  CHECK(cost.lines[3].cost == near_rel(0.02 * sheet.mix.value, 1e-12));
  CHECK(cost.lines[6].line.empty());
  CHECK(cost.lines[6].cost == near_rel(0.8 * casing_metres(r, sheet), 1e-12));
  double total = 0.0;
  for (const CostLine& l : cost.lines) total += l.cost;
  CHECK(cost.total == near_rel(total, 1e-12));
  CHECK(cost.per_kg_green == near_rel(total / 4.0, 1e-12));
  CHECK(cost.per_kg_finished == near_rel(total / (0.65e-3 * sheet.total.value), 1e-9));
}

TEST_CASE("what has no price is named and left out") {
  const Recipe r = with_casing("hog", 0.040);
  const Cost cost = cost_of(r, sheet_of(r), {priced("pork_ham_lean", 9.0, SupplyKind::cut)});
  CHECK(cost.lines.size() == 1);
  CHECK(cost.total == near_rel(25.2, 1e-12));
  CHECK(cost.unpriced.size() == 6);
  CHECK(holds(cost.unpriced, "pork_back_fat"));
  CHECK(holds(cost.unpriced, "casing"));
  Supply row = priced("pork_back_fat", 0.0, SupplyKind::cut);
  CHECK_FALSE(holds(cost_of(r, sheet_of(r), {row}).unpriced, "pork_back_fat"));
  row.price.reset();
  CHECK(holds(cost_of(r, sheet_of(r), {row}).unpriced, "pork_back_fat"));
  const Cost nothing = cost_of(Recipe{}, Sheet{}, {});
  CHECK(nothing.total == 0.0);
  CHECK(nothing.per_kg_green == 0.0);
  CHECK(nothing.per_kg_finished == 0.0);
}

TEST_CASE("a casing's own row and geometry agree, and a wider casing takes fewer metres") {
  const Sheet sheet = sheet_of(sample());
  double before = 1e9;
  for (const double d_m : {0.020, 0.028, 0.036, 0.043, 0.044, 0.060}) {
    CAPTURE(d_m);
    const double by_row = casing_metres(with_casing("hog", d_m), sheet);
    // The rows hold geometry to three digits.
    CHECK(by_row == near_rel(casing_metres(with_casing("", d_m), sheet), 0.001));
    CHECK(by_row < before);
    before = by_row;
  }
  const Supply own = priced("", 1.0, SupplyKind::casing);
  CHECK(casing_metres(with_casing(own.key.c_str(), 0.043), sheet) ==
        near_rel(casing_metres(with_casing("", 0.043), sheet), 1e-12));
}

TEST_CASE("whole muscle takes casing only where one is chosen; a slab by its own section") {
  Recipe r = with_casing("", 0.08);
  r.product_class = ProductClass::whole_muscle_dry;
  const Sheet sheet = sheet_of(r);
  CHECK(casing_metres(r, sheet) == 0.0);
  r.casing = "collagen_sheet";
  CHECK(casing_metres(r, sheet) > 0.0);
  r.form = Form::slab;
  CHECK(casing_metres(r, sheet) ==
        near_rel(sheet.total.value / piece_mass(r).value * r.piece_length.value / 0.85, 1e-9));
  r.piece_length = Metres(0.0);
  CHECK(casing_metres(r, sheet) == 0.0);
}

TEST_CASE("ingredients stand by weight, one name once, and their shares add to one") {
  Recipe r = sample();
  r.lines.push_back(line(LineKind::additive, "garlic_fresh", 3.0));
  r.lines.push_back(line(LineKind::additive, "black_pepper", 1.0));
  r.lines.back().id = Id{"pepper_again"};
  r.lines.push_back(line(LineKind::additive, "fennel_seed", 0.0));
  r.lines[2].name = "sea salt";
  r.lines[3].name = "curing mix";
  const Sheet sheet = sheet_of(r);
  const std::vector<Ingredient> list = ingredients_by_weight(sheet);
  REQUIRE(list.size() == 7);
  double share = 0.0;
  for (std::size_t i = 0; i < list.size(); ++i) {
    share += list[i].share;
    if (i > 0) CHECK(list[i].mass <= list[i - 1].mass);
  }
  CHECK(share == near_abs(1.0, 1e-12));
  CHECK(list[0].name == "pork_ham_lean");
  CHECK(list[2].name == "sea salt");
  // 16 g of dextrose and of pepper in two lines: the tie goes by name.
  CHECK(list[3].name == "black_pepper");
  CHECK(list[3].mass.value == near_abs(16.0, 1e-9));
  CHECK(list[4].name == "dextrose");
  CHECK(list[6].name == "6.25 %");
}

TEST_CASE("allergens come from the tables and from own rows; own words alone are not known") {
  Recipe r = sample();
  CHECK(allergens_of(r, {}).holds.empty());
  CHECK(allergens_of(r, {}).unknown.empty());
  r.lines.push_back(line(LineKind::additive, "red_wine", 10.0));
  r.lines.push_back(line(LineKind::additive, "pistachio", 20.0));
  r.lines.push_back(line(LineKind::culture, "sakei_mild", 0.3));
  Line secret = line(LineKind::additive, "", 2.0);
  secret.name = "grandmother's spice";
  r.lines.push_back(secret);
  r.lines.push_back(line(LineKind::additive, "their_row", 2.0));
  const AllergensFound found = allergens_of(r, {});
  CHECK(found.holds.has(Allergen::sulphites));
  CHECK(found.holds.has(Allergen::nuts));
  CHECK_FALSE(found.holds.has(Allergen::milk));
  CHECK(found.possible.has(Allergen::milk));
  CHECK(found.unknown.size() == 2);
  CHECK(holds(found.unknown, "grandmother's spice"));
  CHECK(holds(found.unknown, "their_row"));

  Supply own = priced("", 1.0);
  own.key = "their_row";
  own.allergens = tables::AllergenSet{}.with(Allergen::celery).with(Allergen::milk);
  Supply pepper = priced("black_pepper", 1.0);
  pepper.allergens = tables::AllergenSet{}.with(Allergen::mustard);
  Supply packet = priced("", 1.0, SupplyKind::curing_mix);
  packet.key = "packet";
  packet.allergens = tables::AllergenSet{}.with(Allergen::soy);
  r.mix.supply = "packet";
  const AllergensFound more = allergens_of(r, {own, pepper, packet});
  CHECK(more.holds.has(Allergen::celery));
  CHECK(more.holds.has(Allergen::mustard));
  CHECK(more.holds.has(Allergen::soy));
  // It holds milk for sure, so that it is no longer merely possible.
  CHECK(more.holds.has(Allergen::milk));
  CHECK_FALSE(more.possible.has(Allergen::milk));
  CHECK(more.unknown.size() == 1);
}

TEST_CASE("an own row keeps the allergens of the row it stands for") {
  Recipe r = sample();
  r.lines.push_back(line(LineKind::additive, "own_red_wine", 10.0));
  const AllergensFound found = allergens_of(r, {priced("red_wine", 8.0)});
  CHECK(found.holds.has(Allergen::sulphites));
  CHECK(found.unknown.empty());
}

TEST_CASE("a recipe beside itself has no change") {
  const Comparison none = compare(sample(), sample());
  CHECK(none.fields.empty());
  CHECK(none.lines.size() == sample().lines.size());
  for (const LineChange& l : none.lines) {
    CHECK(l.what == Changed::same);
    CHECK(l.before == l.after);
  }
}

TEST_CASE("lines are compared by id: what went, what changed and by how much, what came") {
  const Recipe before = sample();
  Recipe after = sample();
  after.lines[2].amount = 29.0;
  after.lines[5].basis = Basis::g_per_kg;
  after.lines[5].amount = 2.5;
  after.lines.erase(after.lines.begin() + 4);
  after.lines.push_back(line(LineKind::additive, "garlic_fresh", 12.0, Basis::g_per_piece));
  std::swap(after.lines[0], after.lines[1]);
  const Comparison c = compare(before, after);
  REQUIRE(c.lines.size() == 7);
  CHECK(c.lines[0].what == Changed::same);
  CHECK(c.lines[1].what == Changed::same);
  CHECK(c.lines[2].what == Changed::changed);
  CHECK(c.lines[2].before.value_or(0.0) == 27.0);
  CHECK(c.lines[2].after.value_or(0.0) == 29.0);
  CHECK(c.lines[4].what == Changed::removed);
  CHECK_FALSE(c.lines[4].after.has_value());
  CHECK(c.lines[5].before.value_or(0.0) == near_abs(3.0, 1e-12));
  CHECK(c.lines[5].after.value_or(0.0) == 2.5);
  CHECK(c.lines[6].what == Changed::added);
  CHECK(c.lines[6].name == "garlic_fresh");
  CHECK_FALSE(c.lines[6].before.has_value());
  CHECK(c.lines[6].after.value_or(0.0) == near_rel(12.0 * 1000.0 / piece_mass(after).value, 1e-12));
}

TEST_CASE("a culture with a packet is compared by its dose, a renamed line has changed") {
  Recipe before = sample();
  before.lines.push_back(line(LineKind::culture, "sakei_mild", 0.3));
  Recipe after = before;
  after.lines.back().packet = Packet{Grams(25.0), Grams(100000.0), {}, true};
  after.lines[0].name = "ham of the neighbour";
  const Comparison c = compare(before, after);
  CHECK(c.lines.back().what == Changed::changed);
  CHECK(c.lines.back().before.value_or(0.0) == 0.3);
  CHECK(c.lines.back().after.value_or(0.0) == near_abs(0.25, 1e-12));
  CHECK(c.lines[0].what == Changed::changed);
  CHECK(c.lines[0].name == "ham of the neighbour");
}

TEST_CASE("each member of a recipe that differs is named") {
  const auto fields = [](void (*change)(Recipe&)) {
    Recipe after = sample();
    change(after);
    return compare(sample(), after).fields;
  };
  using Names = std::vector<std::string>;
  CHECK(fields([](Recipe& r) { r.name = "x"; }) == Names{"name"});
  CHECK(fields([](Recipe& r) { r.note = "x"; }) == Names{"note"});
  CHECK(fields([](Recipe& r) { r.product_class = ProductClass::whole_muscle_dry; }) ==
        Names{"product_class"});
  CHECK(fields([](Recipe& r) { r.method = CureMethod::brine; }) == Names{"method"});
  CHECK(fields([](Recipe& r) { r.mix.nitrite = 0.05; }) == Names{"mix"});
  CHECK(fields([](Recipe& r) { r.casing = "hog"; }) == Names{"casing"});
  CHECK(fields([](Recipe& r) { r.form = Form::slab; }) == Names{"form"});
  CHECK(fields([](Recipe& r) { r.casing_diameter = Metres(0.06); }) == Names{"casing_diameter"});
  CHECK(fields([](Recipe& r) { r.piece_length = Metres(0.5); }) == Names{"piece_length"});
  CHECK(fields([](Recipe& r) { r.piece_width = Metres(0.2); }) == Names{"piece_width"});
  CHECK(fields([](Recipe& r) { r.bone_share = 0.1; }) == Names{"bone_share"});
  CHECK(fields([](Recipe& r) { r.skin_on = true; }) == Names{"skin_on"});
  CHECK(fields([](Recipe& r) { r.brine = Brine{}; }) == Names{"brine"});
  CHECK(fields([](Recipe& r) { r.wanted_ph = 5.0; }) == Names{"wanted_ph"});
  CHECK(fields([](Recipe& r) { r.wanted_loss = 0.3; }) == Names{"wanted_loss"});
  CHECK(fields([](Recipe& r) { r.stages.push_back(Stage{}); }) == Names{"stages"});
  CHECK(fields([](Recipe& r) { r.steps.push_back(Step{}); }) == Names{"steps"});
}
