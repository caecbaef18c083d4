#include "core/tables/tables.h"
#include "tests/near.h"

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
