// Scaling by pieces, by finished weight, by stock; and what holds of every recipe whichever way it is scaled.
#include <doctest/doctest.h>

#include <cmath>
#include <iterator>
#include <limits>

#include "core/recipe/recipe.h"
#include "tests/near.h"
#include "tests/unit/recipe/fixture.h"

using namespace saltrafter;
using namespace saltrafter::recipe;
using recipe::test::line;
using recipe::test::sample;

namespace {

Wish by(By kind) {
  Wish wish;
  wish.by = kind;
  return wish;
}

Recipe with_brine(Recipe r) {
  r.method = CureMethod::brine;
  r.brine = Brine{};
  return r;
}

std::vector<Recipe> of_all_methods() {
  std::vector<Recipe> recipes = starter_recipes(recipe::test::counting_ports());
  Recipe r = sample();
  for (const CureMethod method : {CureMethod::mixed_in, CureMethod::equilibrium, CureMethod::salt_box}) {
    r.method = method;
    recipes.push_back(r);
  }
  recipes.push_back(with_brine(sample()));
  r = with_brine(sample());
  r.brine->days = Days(1.0);
  r.brine->pick_up = 0.25;
  r.bone_share = 0.1;
  r.skin_on = true;
  r.mix.potassium_nitrite = true;
  recipes.push_back(r);
  return recipes;
}

}  // namespace

TEST_CASE("scaling is linear, whichever way the cure goes in") {
  for (const Recipe& r : of_all_methods()) {
    CAPTURE(r.name);
    CAPTURE(static_cast<int>(r.method));
    for (const double meat_g : {750.0, 4321.0, 60000.0}) {
      CAPTURE(meat_g);
      const Sheet one = scale(r, Grams(meat_g)).value();
      const Sheet five = scale(r, Grams(5.0 * meat_g)).value();
      double share = 0.0;
      for (std::size_t i = 0; i < one.lines.size(); ++i) {
        CAPTURE(i);
        CHECK(one.lines[i].exact.value > 0.0);
        CHECK(five.lines[i].exact.value == near_rel(5.0 * one.lines[i].exact.value, 1e-12));
        if (one.lines[i].kind == LineKind::meat) share += one.lines[i].share_of_meat;
      }
      CHECK(share == near_abs(1.0, 1e-9));
      CHECK(five.salt_wanted.value == near_rel(5.0 * one.salt_wanted.value, 1e-12));
    }
  }
}

TEST_CASE("the meat for so many pieces makes so many pieces") {
  for (const Recipe& r : of_all_methods()) {
    CAPTURE(r.name);
    for (const int pieces : {1, 2, 7, 40}) {
      CAPTURE(pieces);
      Wish wish = by(By::pieces);
      wish.pieces = pieces;
      const Grams meat = meat_for(r, wish).value();
      const Sheet sheet = scale(r, meat).value();
      CHECK(sheet.pieces == pieces);
      const double filled_g = r.method == CureMethod::mixed_in ? sheet.total.value : sheet.meat.value;
      CHECK(filled_g == near_rel(pieces * piece_mass(r).value, 2e-3));
    }
  }
}

TEST_CASE("what is put in whatever the meat counts towards the pieces") {
  Recipe r = sample();
  r.lines.push_back(line(LineKind::additive, "pistachio", 500.0, Basis::fixed_g));
  Wish wish = by(By::pieces);
  wish.pieces = 3;
  const double with_g = meat_for(r, wish).value().value;
  CHECK(scale(r, Grams(with_g)).value().total.value == near_abs(3.0 * piece_mass(r).value, 1.0));
  r.lines.back().amount = 2000.0;  // alone as much as one piece and more
  wish.pieces = 1;
  REQUIRE_FALSE(meat_for(r, wish).ok());
  CHECK(meat_for(r, wish).error().field == "pieces");
  wish.pieces = static_cast<int>(meat_for(r, wish).error().low.value_or(0.0));
  CHECK(meat_for(r, wish).ok());
}

TEST_CASE("the meat for a finished weight leaves that weight after the wanted loss") {
  for (const Recipe& r : of_all_methods()) {
    CAPTURE(r.name);
    CAPTURE(static_cast<int>(r.method));
    for (const double finished_g : {400.0, 2500.0, 40000.0}) {
      Wish wish = by(By::finished);
      wish.finished = Grams(finished_g);
      const Grams meat = meat_for(r, wish).value();
      const double left_g = finished(scale(r, meat).value(), r.wanted_loss).total_g();
      // finished() counts the loss of what hangs; a step of the scale is all that may lie between.
      CHECK(left_g == near_rel(finished_g, 3e-3));
    }
  }
}

TEST_CASE("the meat that is in stock is what the scarcest line allows") {
  Wish wish = by(By::stock);
  wish.stock = {InStock{"pork_ham_lean", Grams(3500.0)}, InStock{"pork_back_fat", Grams(1200.0)},
                InStock{"venison", Grams(10.0)}};
  CHECK(meat_for(sample(), wish).value().value == near_abs(4000.0, 1e-9));
  wish.stock = {InStock{"pork_ham_lean", Grams(3500.0)}};
  CHECK(meat_for(sample(), wish).value().value == near_abs(5000.0, 1e-9));
  Recipe r = sample();  // the same cut on two lines draws on one stock
  r.lines[1].material = "pork_ham_lean";
  CHECK(meat_for(r, wish).value().value == near_abs(3500.0, 1e-9));
  wish.stock = {InStock{"venison", Grams(10.0)}};
  CHECK(meat_for(sample(), wish).error().code == ErrorCode::missing);
  CHECK(meat_for(sample(), wish).error().field == "stock");
  wish.stock = {InStock{"pork_ham_lean", Grams(0.0)}};
  CHECK(meat_for(sample(), wish).error().code == ErrorCode::out_of_range);
}

TEST_CASE("a wish that cannot be is refused by name") {
  Wish wish = by(By::meat);
  for (const double bad : {0.0, -1.0, 2e6, std::nan("")}) {
    wish.meat = Grams(bad);
    CHECK(meat_for(sample(), wish).error().field == "meat");
    wish.by = By::finished;
    wish.finished = Grams(bad);
    CHECK(meat_for(sample(), wish).error().field == "finished");
    wish.by = By::meat;
  }
  wish.meat = Grams(4200.0);
  CHECK(meat_for(sample(), wish).value().value == 4200.0);
  wish.by = By::pieces;
  for (const int bad : {0, -3, 1001}) {
    wish.pieces = bad;
    CHECK(meat_for(sample(), wish).error().field == "pieces");
  }
  Recipe r = sample();
  r.lines[0].material = "unicorn";
  wish.pieces = 2;
  CHECK(meat_for(r, wish).error().field == "lines/0/material");
}

TEST_CASE("a piece weighs by its form") {
  Recipe r = sample();
  r.casing_diameter = Metres(0.04);
  r.piece_length = Metres(0.3);
  const double round_g = piece_mass(r).value;
  CHECK(round_g == near_rel(1050.0 * 1000.0 * 0.3 * 0.04 * 0.04 * 3.14159265358979 / 4.0, 1e-12));
  r.form = Form::slab;
  CHECK(piece_mass(r).value == near_rel(1050.0 * 1000.0 * 0.3 * 0.04 * 0.12, 1e-12));
  r.form = Form::slab_closed;
  CHECK(piece_mass(r).value == near_rel(1050.0 * 1000.0 * 0.3 * 0.04 * 0.12, 1e-12));
  r.piece_width = Metres(0.1);
  CHECK(piece_mass(r).value == near_rel(1050.0 * 1000.0 * 0.3 * 0.04 * 0.1, 1e-12));
  for (const Form form : {Form::rolled, Form::ham}) {
    r.form = form;
    CHECK(piece_mass(r).value == near_rel(round_g, 1e-12));
  }
  r.casing_diameter = Metres(std::nan(""));
  CHECK(piece_mass(r).value == 0.0);
}

TEST_CASE("salt and ion convert both ways, and a dose and its mix") {
  for (const CureSalt salt : {CureSalt::sodium_nitrite, CureSalt::potassium_nitrite, CureSalt::sodium_nitrate,
                              CureSalt::potassium_nitrate}) {
    for (const double ppm : {0.0, 0.5, 80.0, 156.25, 625.0, 1e4}) {
      CHECK(as_salt(as_ion(Ppm(ppm), salt), salt).value == near_abs(ppm, 1e-9));
    }
  }
  for (const bool potassium : {false, true}) {
    CuringMix mix{"", 0.0625, 0.04};
    mix.potassium_nitrite = potassium;
    for (const double ppm : {1.0, 110.0, 625.0}) {
      const Grams grams = mix_for(Ppm(ppm), Grams(3400.0), mix);
      CHECK(ingoing(grams * as_sodium_nitrite(mix), Grams(3400.0)).value == near_rel(ppm, 1e-12));
    }
  }
  CHECK(ingoing_pumped(Grams(1.0), 0.1, Grams(0.0)).value == 0.0);
  CHECK(ingoing_pumped(Grams(1.0), -0.1, Grams(10.0)).value == 0.0);
  CHECK(ingoing_immersed(Grams(1.0), Grams(0.0), Grams(0.0)).value == 0.0);
}

TEST_CASE(
    "whatever the figures of the wider recipe, scaling gives finite numbers or an error with its field") {
  std::uint64_t state = 99;
  const auto draw = [&state] {
    state = state * 6364136223846793005ULL + 1442695040888963407ULL;
    return static_cast<unsigned>(state >> 40U);
  };
  const double odd[] = {0.0, 1.0,  0.5, -1.0, 1e-300, 1e300,       std::numeric_limits<double>::infinity(),
                        5.0, 27.0, 0.1, 0.25, 700.0,  std::nan("")};
  int scaled = 0;
  for (int i = 0; i < 20000; ++i) {
    Recipe r = with_brine(sample());
    r.lines.push_back(line(LineKind::culture, "sakei_mild", 0.2));
    r.lines.back().packet = Packet{Grams(25.0), Grams(1e5), std::nullopt, true};
    r.lines.push_back(line(LineKind::additive, "caraway", 2.0, Basis::g_per_piece));
    r.method = static_cast<CureMethod>(draw() % 4);
    r.form = static_cast<Form>(draw() % 3);
    r.skin_on = draw() % 2 == 0;
    r.mix.potassium_nitrite = draw() % 2 == 0;
    Hands hands;
    for (int change = 0; change < 2; ++change) {
      const double value = odd[draw() % std::size(odd)];
      switch (draw() % 12) {
        case 0: r.bone_share = value; break;
        case 1: r.brine->g_per_kg = value; break;
        case 2: r.brine->pick_up = value; break;
        case 3: r.brine->days = Days(value); break;
        case 4: r.piece_length = Metres(value); break;
        case 5: r.lines[6].packet->holds = Grams(value); break;
        case 6: r.lines[6].packet->for_meat = Grams(value); break;
        case 7: hands.weighed.push_back(WeighedIn{r.lines[draw() % 8].id, Grams(value), 0, ""}); break;
        case 8: hands.scales.fine_step = Grams(value); break;
        case 9: hands.scales.fine_most = Grams(value); break;
        case 10: r.lines[2].amount = value; break;
        default: r.lines[7].amount = value; break;
      }
    }
    const Result<Sheet> result = scale(r, Grams(4200.0), nullptr, hands);
    if (!result.ok()) {
      CHECK_FALSE(result.error().field.empty());
      continue;
    }
    ++scaled;
    const Sheet& sheet = result.value();
    CHECK(sheet.pieces >= 1);
    for (const double value :
         {sheet.total.value, sheet.nitrite.value, sheet.nitrate_ion.value, sheet.mix.value, sheet.water.value,
          sheet.curing_base.value, sheet.salt_wanted.value, sheet.composition.total_g(),
          sheet.composition.water_g, sheet.composition.salt_g, sheet.composition.rest_g,
          sheet.composition.sugar_g, water_phase_salt(finished(sheet, r.wanted_loss))}) {
      REQUIRE(std::isfinite(value));
      REQUIRE(value >= 0.0);
    }
  }
  CHECK(scaled > 2000);
}
