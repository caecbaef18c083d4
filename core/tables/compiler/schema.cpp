#include "core/tables/compiler/schema.h"

namespace saltrafter::table_compiler {
namespace {

using K = ColumnKind;

constexpr Column share(std::string_view name) { return {K::number, name, "", "", "1", 0.0, 1.0, true}; }
constexpr Column word(std::string_view name, std::string_view type, std::string_view words) {
  return {K::word, name, words, type, ""};
}
constexpr Column text(std::string_view name) { return {K::text, name, "", "", ""}; }
constexpr Column key(std::string_view name) { return {K::key, name, "", "", ""}; }
constexpr Column name_of(std::string_view prefix) { return {K::name, "name", prefix, "", ""}; }
constexpr Column origin(std::string_view prefix = "") { return {K::origin, "origin", prefix, "", ""}; }
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

constexpr Column kAdditives[] = {key("key"),
                                 name_of("additive_"),
                                 share("water"),
                                 share("protein"),
                                 share("fat"),
                                 share("salt"),
                                 origin(),
                                 {K::number, "usual_low", "", "", "g/kg", 0.0, 1000.0},
                                 {K::number, "usual_high", "", "", "g/kg", 0.0, 1000.0},
                                 origin("usual_")};

constexpr Column kCuringMixes[] = {key("key"),           name_of("mix_"), share("nitrite"),
                                   share("nitrate"),     share("salt"),   text("nitrite_salt"),
                                   text("nitrate_salt"), origin()};

constexpr Column kCasings[] = {key("key"),
                               name_of("casing_"),
                               word("kind", "CasingKind", "natural collagen fibrous"),
                               {K::typed, "diameter_low", "", "Metres", "m", 0.005, 0.5},
                               {K::typed, "diameter_high", "", "Metres", "m", 0.005, 0.5},
                               origin()};

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
    {"m2/s", "m2/s"},
    {"m/s", "m/s"},
    {"J/mol", "J/mol"},
    {"K", "K"},
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
