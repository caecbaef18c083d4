#include "tests/near.h"

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>
#include <vector>

// Runs the table compiler as the build does, on copies of the tables with one thing made wrong.
namespace {

namespace fs = std::filesystem;

std::string read(const fs::path& path) {
  std::ifstream file(path, std::ios::binary);
  return std::string((std::istreambuf_iterator<char>(file)), std::istreambuf_iterator<char>());
}

struct Outcome {
  bool ok = false;
  bool wrote = false;
  std::string message;
};

// Replaces the first `from` by `to` in the table of that name; "" changes nothing.
Outcome compile(const std::string& table, const std::string& from, const std::string& to) {
  const fs::path folder = fs::temp_directory_path() / "saltrafter-unit-tables";
  fs::remove_all(folder);
  fs::create_directories(folder);
  std::string command =
      std::string("\"") + SALTRAFTER_TABLE_COMPILER + "\" \"" + (folder / "out.cpp").string() + "\"";
  for (const auto& entry : fs::directory_iterator(fs::path(SALTRAFTER_SOURCE_DIR) / "assets/tables")) {
    std::string text = read(entry.path());
    if (entry.path().stem() == table) {
      const std::size_t at = text.find(from);
      REQUIRE(at != std::string::npos);
      text.replace(at, from.size(), to);
    }
    const fs::path copy = folder / entry.path().filename();
    std::ofstream(copy, std::ios::binary) << text;
    command += " \"" + copy.string() + "\"";
  }
  command +=
      std::string(" \"") + SALTRAFTER_ADVANCE_WIDTHS + "\" 2> \"" + (folder / "message").string() + "\"";
  Outcome outcome;
  outcome.ok = std::system(command.c_str()) == 0;
  outcome.wrote = fs::exists(folder / "out.cpp");
  outcome.message = read(folder / "message");
  fs::remove_all(folder);
  return outcome;
}

void refused(const std::string& table, const std::string& from, const std::string& to,
             const std::string& why) {
  const Outcome outcome = compile(table, from, to);
  CAPTURE(from);
  CAPTURE(to);
  CAPTURE(outcome.message);
  CHECK_FALSE(outcome.ok);
  CHECK_FALSE(outcome.wrote);
  CHECK(outcome.message.find(why) != std::string::npos);
  CHECK(outcome.message.find(table + ".json") != std::string::npos);
  CHECK(outcome.message.find('\n') == outcome.message.size() - 1);  // one line
}

}  // namespace

TEST_SUITE("tables/compiler") {
  TEST_CASE("the tables as they are pass") {
    const Outcome outcome = compile("", "", "");
    CHECK(outcome.message == "");
    CHECK(outcome.ok);
    CHECK(outcome.wrote);
  }

  TEST_CASE("the build stops on a row without a source") {
    refused("cuts", "\"source\": \"USDA National Nutrient Database SR26, NDB 10070\", ", "", "no source");
    refused("cuts", "\"source\": \"USDA National Nutrient Database SR26, NDB 10070\"", "\"source\": \"\"",
            "no source");
    refused("additives", "\"usual_source\": \"usual amounts in recipes\", ", "",
            "row 1 (salt): no usual_source");
    refused("additives", "\"sugar_source\": \"taken as none\", ", "", "row 1 (salt): no sugar_source");
    refused("additives", "\"allergens_source\": \"Regulation (EU) No 1169/2011, annex II, remembered\", ", "",
            "row 1 (salt): no allergens_source");
    refused("casings", "\"filling_known\": \"practice\"", "\"filling_known\": \"sure\"",
            "filling_known is the unknown word \"sure\"");
    refused("cultures", "\"use_known\": \"practice\"", "\"use_known\": \"\"",
            "use_known is the unknown word");
    refused("organisms", "\"aw_known\": \"read_copy\", ", "", "row 1 (salmonella): no aw_known");
    refused("degree_hours", "\"end_known\": \"read_copy\", ", "", "row 1 (us.below_90): no end_known");
    refused("freezing", "table 1, group 1, up to 6 in\", \"known\": \"read\"",
            "table 1, group 1, up to 6 in\"", "row 1 (chamber.-15.group_1): no known");
    refused("souring_methods", ", \"temperature_known\": \"read\"", "",
            "row 1 (ph_4.6): no temperature_known");
  }

  TEST_CASE("the build stops on an unknown word for how a figure is known") {
    refused("limits", "\"known\": \"read_copy\"", "\"known\": \"surely\"",
            "known is the unknown word \"surely\"");
    refused("limits", "\"known\": \"read_copy\"", "\"known\": \"read read_copy\"", "unknown word");
    refused("limits", ", \"known\": \"read_copy\"", "", "no known");
  }

  TEST_CASE("the build stops on a word that its closed list does not have") {
    refused("cuts", "\"species\": \"pork\"", "\"species\": \"unicorn\"",
            "species is the unknown word \"unicorn\"");
    refused("casings", "\"kind\": \"natural\"", "\"kind\": \"plastic\"",
            "kind is the unknown word \"plastic\"");
    refused("additives", "\"allergens\": [\"milk\"]", "\"allergens\": [\"cheese\"]",
            "allergens has the unknown word \"cheese\"");
    refused("additives", "\"allergens\": [\"milk\"]", "\"allergens\": [\"milk\", \"milk\"]",
            "allergens has \"milk\" twice");
    refused("additives", "\"allergens\": [\"milk\"]", "\"allergens\": \"milk\"", "allergens is no list");
    refused("additives", "\"allergens\": [\"milk\"]", "\"allergens\": [7]",
            "allergens has the unknown word \"7\"");
    refused("additives", "\"allergens\": [], ", "", "row 1 (salt): no allergens");
    refused("cultures", "\"role\": \"sours\"", "\"role\": \"sweetens\"",
            "role is the unknown word \"sweetens\"");
    refused("degree_hours", "\"reach\": \"below\"", "\"reach\": \"about\"",
            "reach is the unknown word \"about\"");
    refused("degree_hours", "\"unit\": \"\u00B0F h\"", "\"unit\": \"grains\"", "unknown unit \"grains\"");
    refused("degree_hours", "\"limit\": 1200", "\"limit\": null", "limit is no number");
    refused("freezing", "\"where\": \"core\"", "\"where\": \"cellar\"",
            "where is the unknown word \"cellar\"");
    refused("curing_methods", "\"product\": \"pepperoni\"", "\"product\": \"bacon\"",
            "product is the unknown word \"bacon\"");
    refused("freezing", "\"unit\": \"d\"", "\"unit\": \"moons\"", "unknown unit \"moons\"");
    refused("organisms", "\"hazard\": \"toxin\"", "\"hazard\": \"smell\"",
            "hazard is the unknown word \"smell\"");
  }

  TEST_CASE("the build stops on an unknown unit, or one of another quantity") {
    refused("cuts", "\"water\": \"g/100 g\"", "\"water\": \"grains\"",
            "water has the unknown unit \"grains\"");
    refused("casings", "\"diameter_low\": \"mm\"", "\"diameter_low\": \"mg/kg\"",
            "cannot be written in \"mg/kg\"");
    refused("casings", "\"diameter_low\": \"mm\", ", "", "diameter_low has no unit");
    refused("constants", "\"m2/s\"", "\"acre\"", "unknown unit \"acre\"");
  }

  TEST_CASE("the build stops on a key that stands twice") {
    refused("cuts", "\"pork_butt\"", "\"pork_shoulder\"", "row 3 (pork_shoulder): the key stands twice");
    refused("cuts", "\"species\": \"pork\"", "\"species\": \"pork\", \"species\": \"beef\"",
            "\"species\" stands twice");
  }

  TEST_CASE("the build stops on what is no number or out of bounds") {
    refused("cuts", "\"water\": 64.02", "\"water\": NaN", "not JSON");
    refused("cuts", "\"water\": 64.02", "\"water\": \"NaN\"", "water is no number");
    refused("cuts", "\"water\": 64.02", "\"water\": 1e999", "not JSON");
    refused("cuts", "\"water\": 64.02", "\"water\": -64.02", "outside");
    refused("cuts", "\"water\": 64.02", "\"water\": 46.02", "the parts add to");
    refused("cuts", "\"water\": 64.02, ", "", "no water");
    refused("limits", "\"from\": \"2025-10-09\"", "\"from\": \"October\"", "from is no day");
  }

  TEST_CASE("null stands only where a figure may lack, and never for a figure left out") {
    CHECK(compile("cultures", "\"salt\": 9", "\"salt\": null").ok);
    refused("cultures", "\"salt\": 9, ", "", "row 1 (sakei_mild): no salt");
    refused("cultures", "\"growth_low\": 4", "\"growth_low\": null", "growth_low is no number");
    refused("organisms", "\"least_ph\": 3.8", "\"least_ph\": null", "least_ph is no number");
    refused("organisms", "\"least_aw\": 0.94", "\"least_aw\": 94", "outside");
  }

  TEST_CASE("the build stops on a limit of no rule, of an unknown unit, or without its near margin") {
    refused("limits", "\"rule\": \"nitrite_ingoing\"", "\"rule\": \"nitrite\"", "rule is the unknown word");
    refused("limits", "\"unit\": \"g/kg\"", "\"unit\": \"g/lb\"", "unknown unit");
    refused("limits", "\"near_margin\": null, ", "", "no near_margin");
    refused("limits", "\"jurisdiction\": \"ca\"", "\"jurisdiction\": \"uk\"", "unknown word \"uk\"");
    CHECK(compile("limits", "\"near_margin\": 0.4", "\"near_margin\": null").ok);
  }

  TEST_CASE("the build stops on a table that is broken, unknown or missing") {
    refused("cuts", "{", "", "not JSON");
    refused("cuts", "\"rows\"", "\"lines\"", "\"rows\" a list");
    refused("cuts", "\"table\": \"cuts\"", "\"table\": \"cats\"", "the table \"cats\" is not known");
    refused("cuts", "\"ash\": 0.88", "\"ash\": 0.88, \"colour\": 3", "unknown column \"colour\"");
  }
}
