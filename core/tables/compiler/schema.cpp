#include "core/tables/compiler/schema.h"

namespace saltrafter::table_compiler {
namespace {

using K = ColumnKind;

constexpr std::string_view kDegrees = "\u00B0C";

constexpr Column share(std::string_view name) { return {K::number, name, "", "", "1", 0.0, 1.0, true}; }
constexpr Column word(std::string_view name, std::string_view type, std::string_view words) {
  return {K::word, name, words, type, ""};
}
constexpr Column words(std::string_view name, std::string_view type, std::string_view words) {
  return {K::words, name, words, type, ""};
}
constexpr Column text(std::string_view name) { return {K::text, name, "", "", ""}; }
constexpr Column key(std::string_view name) { return {K::key, name, "", "", ""}; }
constexpr Column name_of(std::string_view prefix) { return {K::name, "name", prefix, "", ""}; }
constexpr Column origin(std::string_view prefix = "") { return {K::origin, "origin", prefix, "", ""}; }
constexpr Column celsius(std::string_view name) {
  return {K::typed, name, "", "Celsius", kDegrees, -20.0, 100.0};
}
constexpr Column day(std::string_view name) { return {K::day, name, "", "", ""}; }

constexpr Column kCuts[] = {key("key"),
                            name_of("cut_"),
                            word("species", "Species", "pork beef veal lamb goat horse game poultry"),
                            {K::integer, "ndb", "", "", "", 1.0, 99999.0},
                            share("water"),
                            share("protein"),
                            share("fat"),
                            share("ash"),
                            origin()};

constexpr std::string_view kAllergenWords =
    "gluten crustaceans egg fish peanut soy milk nuts celery mustard sesame sulphites lupin molluscs";

constexpr Column kAdditives[] = {key("key"),
                                 name_of("additive_"),
                                 share("water"),
                                 share("protein"),
                                 share("fat"),
                                 share("salt"),
                                 origin(),
                                 {K::number, "usual_low", "", "", "g/kg", 0.0, 1000.0},
                                 {K::number, "usual_high", "", "", "g/kg", 0.0, 1000.0},
                                 origin("usual_"),
                                 words("allergens", "Allergen", kAllergenWords),
                                 words("allergens_possible", "Allergen", kAllergenWords),
                                 origin("allergens_")};

constexpr Column kCuringMixes[] = {key("key"),           name_of("mix_"), share("nitrite"),
                                   share("nitrate"),     share("salt"),   text("nitrite_salt"),
                                   text("nitrate_salt"), origin()};

constexpr Column kCasings[] = {key("key"),
                               name_of("casing_"),
                               word("kind", "CasingKind", "natural collagen fibrous textile"),
                               {K::typed, "diameter_low", "", "Metres", "m", 0.005, 0.5},
                               {K::typed, "diameter_high", "", "Metres", "m", 0.005, 0.5},
                               origin(),
                               {K::number, "filling_low", "", "", "kg/m", 0.01, 100.0},
                               {K::number, "filling_high", "", "", "kg/m", 0.01, 100.0},
                               origin("filling_")};

constexpr Column kCultures[] = {key("key"),
                                name_of("culture_"),
                                text("organism"),
                                word("role", "CultureRole", "sours colours yeast mould"),
                                celsius("growth_low"),
                                celsius("best_low"),
                                celsius("best_high"),
                                celsius("growth_high"),
                                origin(),
                                celsius("use_low"),
                                celsius("use_high"),
                                origin("use_"),
                                {K::number, "ph_low", "", "", "1", 3.0, 8.0, false, true},
                                {K::number, "ph_high", "", "", "1", 3.0, 8.0, false, true},
                                origin("ph_"),
                                {K::number, "salt", "", "", "1", 0.0, 0.30, false, true},
                                origin("salt_")};

constexpr Column kOrganisms[] = {key("key"),
                                 name_of("organism_"),
                                 text("species"),
                                 word("hazard", "Hazard", "growth toxin"),
                                 {K::typed, "least_aw", "", "WaterActivity", "1", 0.6, 1.0},
                                 origin("aw_"),
                                 {K::number, "least_ph", "", "", "1", 3.0, 8.0},
                                 origin("ph_"),
                                 celsius("least_temperature"),
                                 origin("temperature_")};

constexpr Column kLimits[] = {key("id"),
                              word("jurisdiction", "Jurisdiction", "us eu ca"),
                              word("product", "LimitClass", "any comminuted_dry whole_muscle_dry"),
                              word("agent", "Agent", "nitrite nitrate nitrite_and_nitrate"),
                              word("basis", "LimitBasis", "ingoing residual"),
                              word("sense", "LimitSense", "most least"),
                              {K::typed, "value", "", "Ppm", "mg/kg", 0.0, 1e6},
                              word("expressed", "Expressed", "sodium_salt ion"),
                              day("from"),
                              day("until"),
                              origin()};

constexpr Column kSalts[] = {key("key"),
                             {K::number, "molar_mass", "", "", "g/mol", 1.0, 1000.0},
                             text("ion"),
                             {K::number, "ion_mass", "", "", "g/mol", 1.0, 1000.0},
                             origin()};

constexpr Column kConstants[] = {key("key"),
                                 {K::plain, "value", "", "", ""},
                                 {K::plain, "low", "", "", ""},
                                 {K::plain, "high", "", "", ""},
                                 {K::unit, "unit", "", "", ""},
                                 origin()};

// Water, protein, fat and ash are measured one by one, so that they do not add to 1 exactly.
constexpr Table kTables[] = {
    {"cuts", "Cut", kCuts, 0.95, 1.05},
    {"additives", "Additive", kAdditives, 0.0, 1.0},
    {"curing_mixes", "CuringMix", kCuringMixes, 1.0 - 1e-9, 1.0 + 1e-9},
    {"casings", "Casing", kCasings},
    {"cultures", "Culture", kCultures},
    {"organisms", "Organism", kOrganisms},
    {"limits", "Limit", kLimits},
    {"salts", "Salt", kSalts},
    {"constants", "Constant", kConstants},
};

constexpr Unit kUnits[] = {
    {"1", "1"},
    {"%", "1", 1.0, 100.0},
    {"g/100 g", "1", 1.0, 100.0},
    {"g/kg", "1", 1.0, 1000.0},
    {"g/kg", "g/kg"},
    {"mg/kg", "mg/kg"},
    {"mm", "m", 1.0, 1000.0},
    {"m", "m"},
    {"g/mol", "g/mol"},
    {"kg/m3", "kg/m3"},
    {"kg/m", "kg/m"},
    {"m2/s", "m2/s"},
    {"m/s", "m/s"},
    {"J/mol", "J/mol"},
    {"K", "K"},
    {kDegrees, kDegrees},
    {"h", "h"},
    {"Pa m2 s/kg", "Pa m2 s/kg"},
    {"W/(m2 K)", "W/(m2 K)"},
};

}  // namespace

std::span<const Table> tables() { return kTables; }

const Table* find_table(std::string_view name) {
  for (const Table& table : kTables) {
    if (table.name == name) {
      return &table;
    }
  }
  return nullptr;
}

bool is_unit(std::string_view name) {
  for (const Unit& unit : kUnits) {
    if (unit.written == name) {
      return true;
    }
  }
  return false;
}

const Unit* find_unit(std::string_view written, std::string_view stored) {
  for (const Unit& unit : kUnits) {
    if (unit.written == written && unit.stored == stored) {
      return &unit;
    }
  }
  return nullptr;
}

bool holds_word(std::string_view words, std::string_view word) {
  while (!words.empty()) {
    const std::size_t end = words.find(' ');
    if (!word.empty() && words.substr(0, end) == word) {
      return true;
    }
    words.remove_prefix(end == std::string_view::npos ? words.size() : end + 1);
  }
  return false;
}

}  // namespace saltrafter::table_compiler
