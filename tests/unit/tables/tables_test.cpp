#include "core/tables/tables.h"
#include "tests/near.h"

#include <numbers>
#include <set>
#include <string>
#include <string_view>

using namespace saltrafter;
using namespace saltrafter::tables;

namespace {

bool is_word_id(std::string_view text) {
  return !text.empty() &&
         text.find_first_not_of("abcdefghijklmnopqrstuvwxyz0123456789_") == std::string_view::npos;
}

}  // namespace

TEST_SUITE("tables") {
  TEST_CASE("a cut is found by its key, with the figures of the database") {
    const Cut* butt = find_cut("pork_butt");
    REQUIRE(butt != nullptr);
    CHECK(butt->ndb == 10080);
    CHECK(butt->name == "cut_pork_butt");
    CHECK(butt->species == Species::pork);
    CHECK(butt->water == near_rel(0.6918, 1e-15));
    CHECK(butt->protein == near_rel(0.1742, 1e-15));
    CHECK(butt->fat == near_rel(0.1236, 1e-15));
    CHECK(butt->ash == near_rel(0.0083, 1e-15));
    CHECK(butt->origin.known == Known::read);
    CHECK(find_cut("unicorn") == nullptr);
    CHECK(find_cut("") == nullptr);
    CHECK(cuts().size() >= 20);
  }

  TEST_CASE("every name is the id of a word and no key stands twice") {
    std::set<std::string_view> names;
    for (const Cut& row : cuts()) {
      CHECK(is_word_id(row.name));
      CHECK(names.insert(row.name).second);
    }
    for (const Additive& row : additives()) {
      CHECK(is_word_id(row.name));
      CHECK(names.insert(row.name).second);
    }
    for (const CuringMix& row : curing_mixes()) {
      CHECK(is_word_id(row.name));
      CHECK(names.insert(row.name).second);
    }
    for (const Casing& row : casings()) {
      CHECK(is_word_id(row.name));
      CHECK(names.insert(row.name).second);
    }
    for (const Culture& row : cultures()) {
      CHECK(is_word_id(row.name));
      CHECK(names.insert(row.name).second);
    }
    for (const Organism& row : organisms()) {
      CHECK(is_word_id(row.name));
      CHECK(names.insert(row.name).second);
    }
  }

  TEST_CASE("lean meat has more water and less fat than the same cut with its fat") {
    const char* pairs[][2] = {{"pork_shoulder_lean", "pork_shoulder"}, {"pork_butt_lean", "pork_butt"},
                              {"pork_ham_lean", "pork_ham"},           {"pork_loin_lean", "pork_loin"},
                              {"beef_trim_90", "beef_trim_70"},        {"duck_lean", "duck_with_skin"}};
    for (const auto& pair : pairs) {
      CAPTURE(pair[0]);
      const Cut* lean = find_cut(pair[0]);
      const Cut* whole = find_cut(pair[1]);
      REQUIRE(lean != nullptr);
      REQUIRE(whole != nullptr);
      CHECK(lean->water > whole->water);
      CHECK(lean->fat < whole->fat);
    }
  }

  TEST_CASE("usual amounts and casings' diameters are ranges") {
    for (const Additive& row : additives()) {
      CAPTURE(row.key);
      CHECK(row.usual_low <= row.usual_high);
    }
    for (const Casing& row : casings()) {
      CAPTURE(row.key);
      CHECK(row.diameter_low < row.diameter_high);
    }
    for (const Constant& row : constants()) {
      CAPTURE(row.key);
      CHECK(row.low <= row.value);
      CHECK(row.value <= row.high);
    }
    CHECK(find_casing("hog")->diameter_high.value == 0.044);
  }

  TEST_CASE("sixty additives, each with an origin for composition, amount and allergens") {
    CHECK(additives().size() == 60);
    for (const Additive& row : additives()) {
      CAPTURE(row.key);
      CHECK(row.water + row.protein + row.fat + row.salt <= 1.0 + 1e-12);
      for (const Origin& origin : {row.composition, row.usual, row.allergens_origin}) {
        CHECK_FALSE(origin.source.empty());
      }
      // What it holds need not be asked of the packet.
      CHECK((row.allergens.bits & row.allergens_possible.bits) == 0);
    }
    for (const char* key : {"salt", "dextrose", "sucrose", "red_wine", "milk_powder", "sodium_ascorbate"}) {
      CHECK(find_additive(key) != nullptr);
    }
    // Nitrate of unstated strength must not come in as a spice.
    CHECK(find_additive("celery_powder") == nullptr);
  }

  TEST_CASE("an additive names the allergens it holds and those a packet may hold") {
    struct Holds {
      const char* key;
      Allergen allergen;
    };
    for (const Holds& row : {Holds{"mustard_seed", Allergen::mustard}, Holds{"celery_seed", Allergen::celery},
                             Holds{"lactose", Allergen::milk}, Holds{"whey_powder", Allergen::milk},
                             Holds{"pistachio", Allergen::nuts}, Holds{"beer", Allergen::gluten},
                             Holds{"white_wine", Allergen::sulphites}}) {
      CAPTURE(row.key);
      CHECK(find_additive(row.key)->allergens.bits == AllergenSet{}.with(row.allergen).bits);
    }
    CHECK(find_additive("salt")->allergens.empty());
    CHECK(find_additive("salt")->allergens_possible.empty());
    const Additive* starter = find_additive("starter_culture");
    CHECK(starter->allergens.empty());
    CHECK(starter->allergens_possible.has(Allergen::milk));
    CHECK_FALSE(starter->allergens_possible.has(Allergen::egg));
    // Every member of the set has a place of its own in it.
    AllergenSet all;
    for (int i = 0; i < 14; ++i) {
      CHECK_FALSE(all.has(static_cast<Allergen>(i)));
      all = all.with(static_cast<Allergen>(i));
    }
    CHECK(all.bits == 0x3FFF);
    CHECK(all.has(Allergen::molluscs));
  }

  TEST_CASE("twenty-five casings; a metre holds what its diameter and the density of meat give") {
    CHECK(casings().size() == 25);
    const double density = find_constant("meat.density")->value;
    const auto kg_per_m = [density](Metres d) {
      return std::numbers::pi / 4.0 * d.value * d.value * density;
    };
    for (const Casing& row : casings()) {
      CAPTURE(row.key);
      CHECK(row.filling_low == near_abs(kg_per_m(row.diameter_low), 0.0005));
      CHECK(row.filling_high == near_abs(kg_per_m(row.diameter_high), 0.0005));
      CHECK_FALSE(row.filling.source.empty());
      // No better known than the diameters it comes from.
      CHECK(is_evidence(row.filling.known) == is_evidence(row.origin.known));
    }
    CHECK(find_casing("hog_32_34")->filling_low == near_abs(0.844, 0.0005));
    CHECK(find_casing("textile")->kind == CasingKind::textile);
  }

  TEST_CASE("twelve cultures with their temperatures in order, and a final pH where they sour") {
    CHECK(cultures().size() == 12);
    int souring = 0;
    for (const Culture& row : cultures()) {
      CAPTURE(row.key);
      CHECK_FALSE(row.organism.empty());
      CHECK(row.growth_low < row.best_low);
      CHECK(row.best_low <= row.best_high);
      CHECK(row.best_high < row.growth_high);
      CHECK(row.use_low < row.use_high);
      CHECK(row.growth_low <= row.use_low);
      CHECK(row.use_high <= row.growth_high);
      CHECK(row.ph_low.has_value() == row.sours());
      CHECK(row.ph_high.has_value() == row.sours());
      if (row.sours()) {
        ++souring;
        CHECK(*row.ph_low < *row.ph_high);
        CHECK(*row.ph_high < 5.3);  // what degree-hours run to
      }
      if (row.salt) {
        // Salami starts at some 4.5 % salt in its water.
        CHECK(*row.salt > 0.045);
      }
      for (const Origin& origin : {row.origin, row.use, row.ph, row.salt_origin}) {
        CHECK_FALSE(origin.source.empty());
      }
    }
    CHECK(souring == 6);
    const Culture* sakei = find_culture("sakei_mild");
    REQUIRE(sakei != nullptr);
    CHECK(sakei->name == "culture_sakei_mild");
    CHECK(sakei->use_high == Celsius(24.0));
    CHECK(*sakei->salt == near_rel(0.09, 1e-15));
    CHECK(find_culture("acidilactici_fast")->use_low > sakei->use_high);
    CHECK_FALSE(find_culture("kocuria_colour")->salt.has_value());
    CHECK(find_culture("nalgiovense_surface")->role == CultureRole::mould);
    CHECK(find_culture("unicorn") == nullptr);
  }

  TEST_CASE("organisms have the least aw, pH and temperature, each with its own origin") {
    CHECK(organisms().size() == 7);
    for (const Organism& row : organisms()) {
      CAPTURE(row.key);
      CHECK_FALSE(row.species.empty());
      CHECK(row.least_aw >= WaterActivity(0.83));
      CHECK(row.least_aw <= WaterActivity(0.97));
      CHECK(row.least_ph >= 3.8);
      CHECK(row.least_ph <= 5.0);
      CHECK(row.least_temperature <= Celsius(10.0));
      for (const Origin& origin : {row.aw, row.ph, row.temperature}) {
        CHECK_FALSE(origin.source.empty());
      }
    }
    const Organism* growth = find_organism("s_aureus_growth");
    const Organism* toxin = find_organism("s_aureus_toxin");
    REQUIRE(growth != nullptr);
    REQUIRE(toxin != nullptr);
    CHECK(toxin->hazard == Hazard::toxin);
    // It makes no toxin where it does not grow.
    CHECK(growth->least_aw <= toxin->least_aw);
    CHECK(growth->least_ph <= toxin->least_ph);
    CHECK(growth->least_temperature <= toxin->least_temperature);
    // What was only remembered may not prove that a limit is kept.
    CHECK_FALSE(is_evidence(toxin->aw.known));
    CHECK_FALSE(is_evidence(find_organism("botulinum_proteolytic")->ph.known));
    CHECK(is_evidence(find_organism("botulinum_proteolytic")->aw.known));
    const Organism* chilled = find_organism("botulinum_nonproteolytic");
    CHECK(chilled->least_temperature == Celsius(3.0));
    CHECK(chilled->least_aw > find_organism("botulinum_proteolytic")->least_aw);
    CHECK(find_organism("unicorn") == nullptr);
  }

  TEST_CASE("at pH 5.3, aw 0.925 and 12 C Listeria and S. aureus grow, botulinum A and Salmonella do not") {
    const auto grows = [](const char* key) {
      const Organism* row = find_organism(key);
      return 5.3 >= row->least_ph && WaterActivity(0.925) >= row->least_aw &&
             Celsius(12.0) >= row->least_temperature;
    };
    CHECK(grows("listeria"));
    CHECK(grows("s_aureus_growth"));
    CHECK_FALSE(grows("botulinum_proteolytic"));
    CHECK_FALSE(grows("botulinum_nonproteolytic"));
    CHECK_FALSE(grows("salmonella"));
    CHECK_FALSE(grows("e_coli_stec"));
  }

  TEST_CASE("mixes are what their labels say, of salts that the table of salts has") {
    CHECK(find_curing_mix("cure_1")->nitrite == 0.0625);
    CHECK(find_curing_mix("cure_2")->nitrate == 0.04);
    for (const CuringMix& row : curing_mixes()) {
      CAPTURE(row.key);
      CHECK(row.nitrite + row.nitrate + row.salt == near_abs(1.0, 1e-9));
      CHECK(find_salt(row.nitrite_salt) != nullptr);
      CHECK(find_salt(row.nitrate_salt) != nullptr);
    }
  }

  TEST_CASE("salts give the share of their ion") {
    CHECK(find_salt("NaNO2")->ion_share() == near_abs(0.66679, 1e-5));
    CHECK(find_salt("KNO3")->ion_share() == near_abs(0.61328, 2e-5));
    CHECK(find_salt("NaCl")->ion == "Na+");
  }

  TEST_CASE("limits that were only remembered are no evidence") {
    const Limit* minced = find_limit("us.nitrite.comminuted_dry.ingoing");
    REQUIRE(minced != nullptr);
    CHECK(minced->value == Ppm(156.0));
    CHECK(minced->expressed == Expressed::sodium_salt);
    CHECK(is_evidence(minced->origin.known));
    const Limit* ion = find_limit("eu.nitrite.comminuted_dry.ingoing");
    REQUIRE(ion != nullptr);
    CHECK(ion->value == Ppm(80.0));
    CHECK(ion->expressed == Expressed::ion);
    CHECK(ion->from == "2025-10-09");
    const Limit* residual = find_limit("eu.nitrite.comminuted_dry.residual");
    REQUIRE(residual != nullptr);
    CHECK_FALSE(is_evidence(residual->origin.known));
    CHECK_FALSE(is_evidence(Known::practice));
    CHECK_FALSE(is_evidence(Known::choice));
    CHECK(is_evidence(Known::derived));
    CHECK(is_evidence(Known::read_copy));
  }

  TEST_CASE("where one row ends another of the same kind begins") {
    for (const Limit& old : limits()) {
      if (old.until.empty()) {
        continue;
      }
      CAPTURE(old.id);
      bool followed = false;
      for (const Limit& next : limits()) {
        followed =
            followed || (next.from == old.until && next.jurisdiction == old.jurisdiction &&
                         next.product == old.product && next.agent == old.agent && next.basis == old.basis);
      }
      CHECK(followed);
    }
  }

  TEST_CASE("constants have their unit and their range") {
    const Constant* d0 = find_constant("drying.d0_minced");
    REQUIRE(d0 != nullptr);
    CHECK(d0->value == 1.5e-10);
    CHECK(d0->unit == "m2/s");
    CHECK(find_constant("drying.factor_sd")->unit.empty());
    CHECK(find_constant("safety.nitrite_refused")->value == 625.0);
  }

  TEST_CASE("both families have digits of one width, and what a face lacks is as wide as its stand-in") {
    for (const Face face :
         {Face::gentium_regular, Face::gentium_bold, Face::carlito_regular, Face::carlito_bold}) {
      const int zero = advance(face, U'0');
      CHECK(zero > 300);
      CHECK(zero < 700);
      for (char32_t digit = U'1'; digit <= U'9'; ++digit) {
        CHECK(advance(face, digit) == zero);
      }
      CHECK(advance(face, U'm') > advance(face, U'i'));
      CHECK(advance(face, U'\u00A0') == advance(face, U' '));
      const int stand_in = advance(face, char32_t{0x1F600});
      CHECK((stand_in == advance(face, U'?') || stand_in == advance(face, char32_t{0xFFFD})));
      CHECK(advance(face, char32_t{0x10FFFF}) > 0);
      CHECK(ascent(face) > 600);
      CHECK(descent(face) > 100);
    }
  }
}
