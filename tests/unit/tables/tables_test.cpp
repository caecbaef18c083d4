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

  TEST_CASE("sugar is a part of an additive's rest, as the hexoses it splits into, each with an origin") {
    for (const Additive& row : additives()) {
      CAPTURE(row.key);
      CHECK_FALSE(row.sugar_origin.source.empty());
      // A disaccharide takes up water as it splits: 360.31 g of hexose from 342.30 g.
      const double rest = 1.0 - row.water - row.protein - row.fat - row.salt;
      CHECK(row.sugar <= 1.0526 * rest + 1e-3);
      CHECK(row.sugar >= 0.0);
    }
    CHECK(find_additive("dextrose")->sugar == near_abs(180.16 / 198.17, 1e-3));
    CHECK(find_additive("sucrose")->sugar == near_abs(360.31 / 342.30, 1e-3));
    CHECK(find_additive("lactose")->sugar == near_abs(360.31 / 360.31, 1e-3));
    CHECK(find_additive("gdl")->sugar == 0.0);
    CHECK_FALSE(is_evidence(find_additive("honey")->sugar_origin.known));
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
    CHECK(minced->value == 156.25);
    CHECK(minced->unit == "mg/kg");
    CHECK(minced->expressed == Expressed::sodium_salt);
    CHECK(is_evidence(minced->origin.known));
    const Limit* ion = find_limit("eu.nitrite.comminuted_dry.ingoing");
    REQUIRE(ion != nullptr);
    CHECK(ion->value == 80.0);
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

  TEST_CASE("degree-hours: classes of a scheme run from cool to warm, to one open class, with a falling limit") {
    for (const DegreeScheme scheme : {DegreeScheme::us, DegreeScheme::ca}) {
      const DegreeHourClass* before = nullptr;
      int rows = 0;
      for (const DegreeHourClass& row : degree_hours()) {
        if (row.scheme != scheme) continue;
        CAPTURE(row.key);
        ++rows;
        CHECK(row.unit == (scheme == DegreeScheme::us ? "\u00B0F h" : "\u00B0C h"));
        CHECK(row.highest.has_value() == (row.reach != ClassReach::open));
        CHECK(row.base > 0.0);
        if (before != nullptr) {
          REQUIRE(before->highest.has_value());
          CHECK((!row.highest || *row.highest > *before->highest));
          CHECK(row.limit < before->limit);
          CHECK(row.base == before->base);
          CHECK(row.ph == before->ph);
        }
        before = &row;
      }
      CHECK(rows == 3);
      REQUIRE(before != nullptr);
      CHECK(before->reach == ClassReach::open);
    }
    CHECK(find_degree_hours("us.below_90")->limit == 1200.0);
    CHECK(find_degree_hours("unicorn") == nullptr);
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
                         next.product == old.product && next.agent == old.agent && next.basis == old.basis &&
                         next.rule == old.rule);
      }
      CHECK(followed);
    }
  }

  TEST_CASE("each limit's unit is that of its agent, and its figure lies where such a figure can") {
    const auto unit_of = [](Agent agent) -> std::string_view {
      switch (agent) {
        case Agent::nitrite:
        case Agent::nitrate:
        case Agent::nitrite_and_nitrate:
        case Agent::ascorbate: return "mg/kg";
        case Agent::salt: return "g/kg";
        case Agent::water_activity: return "aw";
        case Agent::ph: return "pH";
        case Agent::temperature: return "\u00B0C";
        case Agent::days: return "d";
        case Agent::water_phase_salt:
        case Agent::moisture_protein_ratio: break;
      }
      return "";
    };
    for (const Limit& row : limits()) {
      CAPTURE(row.id);
      CHECK(row.unit == unit_of(row.agent));
      CHECK(row.value > 0.0);
      if (row.near_margin) CHECK(*row.near_margin >= 0.0);
      if (row.agent == Agent::water_activity) CHECK((row.value > 0.8 && row.value < 1.0));
      if (row.agent == Agent::ph) CHECK((row.value > 4.0 && row.value < 7.0));
      if (row.agent == Agent::water_phase_salt) CHECK(row.value < 0.27);
      if (row.agent == Agent::salt) CHECK((row.value > 15.0 && row.value < 50.0));
      const bool chemical = row.unit == "mg/kg";
      CHECK((row.expressed == Expressed::plain) == !chemical);
      if (row.expressed == Expressed::ion) CHECK((row.agent == Agent::nitrite || row.agent == Agent::nitrate));
      if (row.expressed == Expressed::acid) CHECK(row.agent == Agent::ascorbate);
    }
    CHECK(limits().size() >= 60);
  }

  TEST_CASE("colder freezing takes less time, thicker pieces more; heat works faster the hotter it is") {
    const Freezing* last[2] = {nullptr, nullptr};
    for (const Freezing& row : freezing()) {
      CAPTURE(row.key);
      CHECK((row.unit == "d" || row.unit == "h"));
      CHECK(row.lasts() > Days(0.0));
      if (row.thickness_most) CHECK(row.thickness_over < *row.thickness_most);
      if (row.parasite != Parasite::trichinella) continue;
      CHECK(is_evidence(row.origin.known));
      const std::size_t kind = row.where == FrozenWhere::core ? 0 : 1;
      const Freezing* before = last[kind];
      if (before != nullptr && before->temperature == row.temperature) {
        CHECK(before->lasts() < row.lasts());
        CHECK(*before->thickness_most == row.thickness_over);
      } else if (before != nullptr) {
        CHECK(before->temperature > row.temperature);
        CHECK(before->lasts() > row.lasts());
      }
      last[kind] = &row;
    }
    CHECK(find_freezing("core.-28.9")->lasts() == Days(35.0 / 24.0));
    for (std::size_t i = 1; i < heating().size(); ++i) {
      CAPTURE(heating()[i].key);
      CHECK(heating()[i].temperature > heating()[i - 1].temperature);
      CHECK(heating()[i].minutes <= heating()[i - 1].minutes);
    }
  }

  TEST_CASE("what is only remembered of salting and drying is marked so, what counts asks for all") {
    int counts = 0;
    for (const CuringMethod& row : curing_methods()) {
      CAPTURE(row.key);
      const bool read = row.method == "1" || row.method == "2";
      CHECK(is_evidence(row.origin.known) == read);
      if (row.total_days) CHECK(*row.total_days > row.drying_days);
      if (!read) continue;
      ++counts;
      CHECK(row.product != CuredProduct::whole_muscle);
      CHECK((row.particle_most && row.salt_least && row.diameter_most && row.total_days));
      CHECK(row.diameter_over < *row.diameter_most);
    }
    CHECK(counts == 5);
    for (const SouringMethod& row : souring_methods()) {
      CAPTURE(row.key);
      CHECK(row.ph_least <= row.ph_most);
      if (row.salt_below) CHECK(row.salt_least < *row.salt_below);
    }
  }

  TEST_CASE("each size of each product has one most daily loss, and it falls as pieces get thicker") {
    for (const CuredProduct product : {CuredProduct::sausage, CuredProduct::whole_muscle}) {
      const DailyLoss* before = nullptr;
      for (const DailyLoss& row : daily_loss()) {
        CAPTURE(row.key);
        CHECK(row.low <= row.high);
        CHECK_FALSE(is_evidence(row.origin.known));
        if (row.product != product) continue;
        CHECK(row.diameter_over == (before ? *before->diameter_most : Metres(0.0)));
        if (before) CHECK(row.high < before->high);
        before = &row;
      }
      REQUIRE(before != nullptr);
      CHECK_FALSE(before->diameter_most);
    }
  }

  TEST_CASE("constants have their unit and their range") {
    const Constant* d0 = find_constant("drying.d0_minced");
    REQUIRE(d0 != nullptr);
    CHECK(d0->value == 1e-10);
    CHECK(d0->unit == "m2/s");
    CHECK(find_constant("drying.factor_sd")->unit.empty());
    CHECK(find_constant("safety.nitrite_refused")->value == 625.0);
    for (const char* key : {"buffer", "buffer_protein", "acid_of_dextrose", "lactic_pk", "sugar_advised",
                            "sugar_rule_of_thumb", "half_hours", "lag_share", "warming"}) {
      CAPTURE(key);
      const Constant* souring = find_constant(std::string("souring.") + key);
      REQUIRE(souring != nullptr);
      CHECK(souring->low > 0.0);
    }
    CHECK(find_limit("ceiling")->value == find_constant("safety.nitrite_refused")->value);
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
