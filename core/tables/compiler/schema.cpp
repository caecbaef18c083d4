#include "core/tables/compiler/schema.h"

namespace saltrafter::table_compiler {
namespace {

using K = ColumnKind;

constexpr std::string_view kDegrees = "\u00B0C";
constexpr std::string_view kCelsiusHours = "\u00B0C h";
constexpr std::string_view kFahrenheitHours = "\u00B0F h";

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
                                 {K::number, "sugar", "", "", "1", 0.0, 1.1},
                                 origin("sugar_"),
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

constexpr std::string_view kRules =
    "nitrite_ceiling nitrite_ingoing nitrite_residual nitrate_ingoing nitrate_residual cure_ingoing cure_residual "
    "ascorbate_ingoing nitrate_in_short mix_as_packet mix_confused acid_with_nitrite least_salt salt_in_water "
    "cure_time meat_ph staging cold_until_salted sealing fermentation parasites kill_not_shown listeria "
    "moisture_protein_ratio water_activity keeps species";

constexpr Column kLimits[] = {
    key("id"),
    word("jurisdiction", "Jurisdiction", "us eu ca any"),
    word("product", "LimitClass", "any comminuted_dry whole_muscle_dry comminuted_semi_dry minced "
         "whole_muscle_rubbed whole_muscle_brined"),
    {K::text, "rule", kRules, "", ""},
    text("way"),
    word("agent", "Agent",
         "nitrite nitrate nitrite_and_nitrate ascorbate salt water_phase_salt water_activity ph temperature days "
         "moisture_protein_ratio"),
    word("basis", "LimitBasis", "ingoing residual finished raw centre stage"),
    word("sense", "LimitSense", "most least"),
    {K::plain, "value", "", "", ""},
    {K::unit, "unit", "", "", ""},
    {K::plain, "near_margin", "", "", "", 0.0, 0.0, false, true},
    word("expressed", "Expressed", "sodium_salt ion acid plain"),
    day("from"),
    day("until"),
    origin()};

// Base, class and limit are written in the unit of their scheme.
constexpr Column kDegreeHours[] = {key("key"),
                                   word("scheme", "DegreeScheme", "us ca"),
                                   {K::unit, "unit", "", "", ""},
                                   {K::plain, "base", "", "", ""},
                                   {K::plain, "ph", "", "", ""},
                                   origin("end_"),
                                   {K::plain, "highest", "", "", "", 0.0, 0.0, false, true},
                                   word("reach", "ClassReach", "below through open"),
                                   {K::plain, "limit", "", "", ""},
                                   origin()};

constexpr Column kFreezing[] = {key("key"),
                                word("parasite", "Parasite", "trichinella toxoplasma"),
                                word("where", "FrozenWhere", "chamber core"),
                                {K::typed, "temperature", "", "Celsius", kDegrees, -60.0, 0.0},
                                {K::typed, "thickness_over", "", "Metres", "m", 0.0, 2.0},
                                {K::typed, "thickness_most", "", "Metres", "m", 0.01, 2.0, false, true},
                                {K::plain, "value", "", "", ""},
                                {K::unit, "unit", "", "", ""},
                                origin()};

constexpr Column kHeating[] = {
    key("key"), celsius("temperature"), {K::number, "minutes", "", "", "min", 0.0, 10000.0}, origin()};

constexpr Column kCuringMethods[] = {
    key("key"),
    word("product", "CuredProduct", "sausage pepperoni whole_muscle"),
    text("method"),
    {K::typed, "particle_most", "", "Metres", "m", 0.001, 0.1, false, true},
    {K::number, "salt_least", "", "", "1", 0.0, 0.20, false, true},
    {K::typed, "diameter_over", "", "Metres", "m", 0.0, 0.5},
    {K::typed, "diameter_most", "", "Metres", "m", 0.005, 0.5, false, true},
    {K::number, "smoke_hours", "", "", "h", 0.0, 1000.0, false, true},
    {K::typed, "smoke_temperature", "", "Celsius", kDegrees, 0.0, 100.0, false, true},
    {K::typed, "cure_days", "", "Days", "d", 0.0, 365.0, false, true},
    {K::typed, "cure_temperature", "", "Celsius", kDegrees, 0.0, 30.0, false, true},
    {K::typed, "drying_days", "", "Days", "d", 0.5, 365.0},
    {K::typed, "drying_temperature", "", "Celsius", kDegrees, 0.0, 100.0},
    {K::typed, "total_days", "", "Days", "d", 0.5, 730.0, false, true},
    origin()};

constexpr Column kSouringMethods[] = {key("key"),
                                      {K::number, "ph_least", "", "", "1", 3.0, 8.0},
                                      {K::number, "ph_most", "", "", "1", 3.0, 8.0},
                                      {K::number, "salt_least", "", "", "1", 0.0, 0.20},
                                      {K::number, "salt_below", "", "", "1", 0.0, 0.20, false, true},
                                      {K::typed, "days", "", "Days", "d", 0.5, 365.0},
                                      origin(),
                                      celsius("temperature_least"),
                                      origin("temperature_")};

constexpr Column kDailyLoss[] = {key("key"),
                                 word("product", "CuredProduct", "sausage whole_muscle"),
                                 {K::typed, "diameter_over", "", "Metres", "m", 0.0, 0.5},
                                 {K::typed, "diameter_most", "", "Metres", "m", 0.005, 0.5, false, true},
                                 {K::number, "low", "", "", "1", 0.001, 0.2},
                                 {K::number, "high", "", "", "1", 0.001, 0.2},
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
    {"degree_hours", "DegreeHourClass", kDegreeHours},
    {"freezing", "Freezing", kFreezing},
    {"heating", "Heating", kHeating},
    {"curing_methods", "CuringMethod", kCuringMethods},
    {"souring_methods", "SouringMethod", kSouringMethods},
    {"daily_loss", "DailyLoss", kDailyLoss},
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
    {"mol/kg", "mol/kg"},
    {"kg/m3", "kg/m3"},
    {"kg/m", "kg/m"},
    {"m2/s", "m2/s"},
    {"m/s", "m/s"},
    {"J/mol", "J/mol"},
    {"K", "K"},
    {kDegrees, kDegrees},
    {"h", "h"},
    {kCelsiusHours, kCelsiusHours},
    {kFahrenheitHours, kFahrenheitHours},
    {"mmol/kg", "mmol/kg"},
    {"mmol/g", "mmol/g"},
    {"d", "d"},
    {"1/d", "1/d"},
    {"g", "g"},
    {"pH", "pH"},
    {"aw", "aw"},
    {"min", "min"},
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
