// tables: reference data from assets/tables/*.json, checked and compiled into constants when the program is
// built.
//
// Each figure says how it is known and where it stands; which of them may prove a limit kept is for safety to
// decide. Names are ids of the word catalogue. Nothing is computed here, nothing can fail at run time.
#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <string_view>

#include "core/base/base.h"

namespace saltrafter::tables {

// How a figure came here. A limit may be called met only on the first three.
enum class Known {
  read,       // stands so in the source, which was opened
  read_copy,  // stands so in another document that quotes the source
  derived,    // computed from such figures
  practice,   // common practice of the trade, no source
  memory,     // remembered, not opened
  choice,     // chosen for this program
};

// True of read, read_copy and derived.
constexpr bool is_evidence(Known known) {
  return known == Known::read || known == Known::read_copy || known == Known::derived;
}

// Where a figure or a whole row comes from. `source` names a publication, for people.
struct Origin {
  std::string_view source;
  Known known = Known::memory;
};

enum class Species { pork, beef, veal, lamb, goat, horse, game, poultry };

// Raw meat or fat, trimmed as named: mass shares 0..1. What is missing to 1 is carbohydrate and rounding.
struct Cut {
  std::string_view key;   // "pork_shoulder"
  std::string_view name;  // word id, "cut_pork_shoulder"
  Species species = Species::pork;
  int ndb = 0;  // number in the USDA nutrient database, SR26
  double water = 0.0;
  double protein = 0.0;
  double fat = 0.0;
  double ash = 0.0;
  Origin origin;
};

// What Regulation (EU) No 1169/2011, annex II, asks to be named on food.
enum class Allergen : std::uint8_t {
  gluten,
  crustaceans,
  egg,
  fish,
  peanut,
  soy,
  milk,
  nuts,
  celery,
  mustard,
  sesame,
  sulphites,  // above 10 mg/kg as SO2 in the food as sold
  lupin,
  molluscs
};

struct AllergenSet {
  std::uint16_t bits = 0;

  constexpr bool has(Allergen allergen) const { return (bits >> static_cast<unsigned>(allergen) & 1U) != 0; }
  constexpr bool empty() const { return bits == 0; }
  constexpr AllergenSet with(Allergen allergen) const {
    return {static_cast<std::uint16_t>(bits | 1U << static_cast<unsigned>(allergen))};
  }

  friend constexpr bool operator==(const AllergenSet&, const AllergenSet&) = default;
};

// Whatever else goes into a mix: mass shares 0..1 (what is missing to 1 is rest) and the usual amount.
struct Additive {
  std::string_view key;   // "black_pepper"
  std::string_view name;  // word id, "additive_black_pepper"
  double water = 0.0;
  double protein = 0.0;
  double fat = 0.0;
  double salt = 0.0;  // sodium chloride
  Origin composition;
  double sugar = 0.0;  // of the rest: what a culture can sour, as dextrose C6H12O6; of sucrose above 1
  Origin sugar_origin;
  double usual_low = 0.0;  // g per kg of meat
  double usual_high = 0.0;
  Origin usual;
  AllergenSet allergens;           // what it holds by its nature
  AllergenSet allergens_possible;  // what some packets of it hold as well: the label decides
  Origin allergens_origin;
};

// Curing mixes as sold: mass shares 0..1, together 1.
struct CuringMix {
  std::string_view key;           // "cure_2"
  std::string_view name;          // word id, "mix_cure_2"
  double nitrite = 0.0;           // as `nitrite_salt`
  double nitrate = 0.0;           // as `nitrate_salt`
  double salt = 0.0;              // sodium chloride
  std::string_view nitrite_salt;  // key of a Salt: "NaNO2"
  std::string_view nitrate_salt;  // key of a Salt: "NaNO3" or "KNO3"
  Origin origin;
};

enum class CasingKind { natural, collagen, fibrous, textile };

struct Casing {
  std::string_view key;
  std::string_view name;  // word id, "casing_hog"
  CasingKind kind = CasingKind::natural;
  Metres diameter_low;
  Metres diameter_high;
  Origin origin;
  double filling_low = 0.0;  // kg of meat in a metre filled firmly to diameter_low
  double filling_high = 0.0;
  Origin filling;
};

enum class CultureRole {
  sours,    // makes lactic acid from sugar
  colours,  // reduces nitrate, guards colour and flavour
  yeast,    // on the surface
  mould,    // on the surface
};

// A starter culture by its species and the temperatures it is used at; sold ones are often of several.
struct Culture {
  std::string_view key;       // "sakei_mild"
  std::string_view name;      // word id, "culture_sakei_mild"
  std::string_view organism;  // "Latilactobacillus sakei"
  CultureRole role = CultureRole::sours;
  Celsius growth_low;  // grows from here to growth_high, best from best_low to best_high
  Celsius best_low;
  Celsius best_high;
  Celsius growth_high;
  Origin origin;
  Celsius use_low;  // usual in the making of sausages
  Celsius use_high;
  Origin use;
  std::optional<double> ph_low;  // usual final pH; none where it does not sour
  std::optional<double> ph_high;
  Origin ph;
  std::optional<double> salt;  // most in the water phase, share, at which it works; none: not known
  Origin salt_origin;

  constexpr bool sours() const { return role == CultureRole::sours; }
};

enum class Hazard { growth, toxin };

// The least at which an organism grows, or makes its toxin, while all else is ideal. Below any one of them it
// does not; at the figure itself count it as growing. No growth is not death.
struct Organism {
  std::string_view key;      // "s_aureus_toxin"
  std::string_view name;     // word id, "organism_s_aureus_toxin"
  std::string_view species;  // "Staphylococcus aureus"
  Hazard hazard = Hazard::growth;
  WaterActivity least_aw;
  Origin aw;
  double least_ph = 0.0;
  Origin ph;
  Celsius least_temperature;
  Origin temperature;
};

enum class Jurisdiction {
  us,
  eu,
  ca,
  any,  // none's: trade practice, microbiology, a choice of this program
};
enum class LimitClass {
  any,
  comminuted_dry,
  whole_muscle_dry,
  comminuted_semi_dry,
  minced,  // both comminuted ones
  whole_muscle_rubbed,  // salted dry: rubbed, in a bag, in a box
  whole_muscle_brined,  // laid in a pickle, or pumped with one
};
// What a limit is of. Its unit: mg/kg for curing salts and ascorbate; g/kg of meat for salt; a share 0..1 for
// salt in the water phase; pH; a water activity; °C; days; a ratio.
enum class Agent {
  nitrite,
  nitrate,
  nitrite_and_nitrate,
  ascorbate,
  salt,
  water_phase_salt,
  water_activity,
  ph,
  temperature,
  days,
  moisture_protein_ratio,
};
enum class LimitBasis {
  ingoing,   // added, per mass of meat
  residual,  // found in the product by analysis, through its life or as sold
  finished,  // of the product at its wanted loss, by its composition
  raw,       // of the meat before anything is added
  centre,    // measured or computed in the middle of a piece
  stage,     // of the stages as planned
};
enum class LimitSense { most, least };
enum class Expressed {
  sodium_salt,  // mg/kg of NaNO2 or NaNO3, of sodium ascorbate or erythorbate
  ion,          // mg/kg of NO2- or NO3-
  acid,         // mg/kg of ascorbic or erythorbic acid
  plain,        // what the agent says
};

// One figure that one rule of the findings goes by.
struct Limit {
  std::string_view id;  // "us.nitrite.comminuted_dry.ingoing"; kept for good, acknowledgements name it
  Jurisdiction jurisdiction = Jurisdiction::us;
  LimitClass product = LimitClass::any;
  std::string_view rule;  // key of a rule of safety: "nitrite_ingoing"
  std::string_view way;   // rows of one rule with one way hold together, other ways stand for it; "only"
  Agent agent = Agent::nitrite;
  LimitBasis basis = LimitBasis::ingoing;
  LimitSense sense = LimitSense::most;
  double value = 0.0;
  std::string_view unit;              // "mg/kg", "g/kg", "pH", "aw", "°C", "d"; empty for a ratio or a share
  std::optional<double> near_margin;  // in `unit`; none: the usual one
  Expressed expressed = Expressed::plain;
  std::string_view from;   // first day it holds, "2025-10-09"; empty: not stated
  std::string_view until;  // first day it no longer holds; empty: still does
  Origin origin;
};

enum class DegreeScheme {
  us,  // degrees Fahrenheit above 60 F
  ca,  // degrees Celsius above 15.6 C
};
enum class ClassReach {
  below,    // holds where the highest temperature is under `highest`
  through,  // under it or at it
  open,     // above all
};

// How many degree-hours above `base` a mince may spend until its pH is down to `ph`, by the highest temperature
// met on the way. Of one scheme the first row that reaches the temperature holds; all figures as printed, in `unit`.
struct DegreeHourClass {
  std::string_view key;  // "us.below_90"
  DegreeScheme scheme = DegreeScheme::us;
  std::string_view unit;  // degree-hours of the limit, "°F h"; base and highest are in its degrees
  double base = 0.0;
  double ph = 0.0;
  Origin end;  // of base and pH
  std::optional<double> highest;
  ClassReach reach = ClassReach::open;
  double limit = 0.0;
  Origin origin;  // of highest and limit
};

enum class Parasite { trichinella, toxoplasma };
enum class FrozenWhere {
  chamber,  // the freezer's air; the time is that of the meat in it
  core,     // the middle of the meat; the time counts from when it is that cold there
};

// How long pork stays at or below `temperature` before the parasite counts as killed.
struct Freezing {
  std::string_view key;  // "chamber.-15.group_1"
  Parasite parasite = Parasite::trichinella;
  FrozenWhere where = FrozenWhere::chamber;
  Celsius temperature;
  Metres thickness_over;  // of the piece or layer: over this, and at most
  std::optional<Metres> thickness_most;
  double value = 0.0;     // as printed, in `unit`
  std::string_view unit;  // "d" or "h"
  Origin origin;

  constexpr Days lasts() const { return Days(unit == "h" ? value / 24.0 : value); }
};

// How long the middle of pork stays at or above `temperature` before Trichinella counts as killed.
struct Heating {
  std::string_view key;  // "core.130_f"
  Celsius temperature;
  double minutes = 0.0;  // 0: at once
  Origin origin;
};

enum class CuredProduct { sausage, pepperoni, whole_muscle };

// A published way to free pork of Trichinella by salt and drying. What it does not ask for is lacking.
struct CuringMethod {
  std::string_view key;  // "1.to_89"
  CuredProduct product = CuredProduct::sausage;
  std::string_view method;  // "1", as its publication has it
  std::optional<Metres> particle_most;
  std::optional<double> salt_least;  // share of the mix before stuffing, or of the meat of a whole piece
  Metres diameter_over;              // at stuffing: over this, and at most
  std::optional<Metres> diameter_most;
  std::optional<double> smoke_hours;  // least
  std::optional<Celsius> smoke_temperature;
  std::optional<Days> cure_days;
  std::optional<Celsius> cure_temperature;
  Days drying_days;
  Celsius drying_temperature;  // least
  std::optional<Days> total_days;  // from the salting
  Origin origin;
};

// Days after stuffing in which Trichinella was gone from a fermented sausage, by pH and salt.
struct SouringMethod {
  std::string_view key;  // "salt_1.3"
  double ph_least = 0.0;
  double ph_most = 0.0;
  double salt_least = 0.0;  // share of the mix: from this on, and below
  std::optional<double> salt_below;
  Days days;
  Origin origin;
  Celsius temperature_least;  // of the coolest drying that was tried
  Origin temperature_origin;
};

// The most that a piece may lose in a day, share of its weight at hanging: `low` to `high`, as practice gives a range.
// Of one product the rows reach from nothing to any size without a gap.
struct DailyLoss {
  std::string_view key;  // "sausage.to_60"
  CuredProduct product = CuredProduct::sausage;
  Metres diameter_over;  // or thickness, at hanging: over this, and at most
  std::optional<Metres> diameter_most;
  double low = 0.0;
  double high = 0.0;
  Origin origin;
};

// A salt, and the part of it that a limit may be expressed in.
struct Salt {
  std::string_view key;     // "NaNO2"
  double molar_mass = 0.0;  // g/mol
  std::string_view ion;     // "NO2-"
  double ion_mass = 0.0;    // g/mol
  Origin origin;

  constexpr double ion_share() const { return ion_mass / molar_mass; }  // kg of ion in a kg of the salt
};

// A number that a model starts from, with the range it may take (equal to the value where it is fixed).
struct Constant {
  std::string_view key;  // "drying.d0_minced"
  double value = 0.0;
  double low = 0.0;
  double high = 0.0;
  std::string_view unit;  // "m2/s"; empty for a ratio
  Origin origin;
};

// All rows, in the order of the file.
std::span<const Cut> cuts();
std::span<const Additive> additives();
std::span<const CuringMix> curing_mixes();
std::span<const Casing> casings();
std::span<const Culture> cultures();
std::span<const Organism> organisms();
std::span<const Limit> limits();
std::span<const DegreeHourClass> degree_hours();
std::span<const Freezing> freezing();
std::span<const Heating> heating();
std::span<const CuringMethod> curing_methods();
std::span<const SouringMethod> souring_methods();
std::span<const DailyLoss> daily_loss();
std::span<const Salt> salts();
std::span<const Constant> constants();

// The row of that key, or nullptr.
const Cut* find_cut(std::string_view key);
const Additive* find_additive(std::string_view key);
const CuringMix* find_curing_mix(std::string_view key);
const Casing* find_casing(std::string_view key);
const Culture* find_culture(std::string_view key);
const Organism* find_organism(std::string_view key);
const Limit* find_limit(std::string_view id);
const DegreeHourClass* find_degree_hours(std::string_view key);
const Freezing* find_freezing(std::string_view key);
const Heating* find_heating(std::string_view key);
const CuringMethod* find_curing_method(std::string_view key);
const SouringMethod* find_souring_method(std::string_view key);
const DailyLoss* find_daily_loss(std::string_view key);
const Salt* find_salt(std::string_view key);
const Constant* find_constant(std::string_view key);

// The four faces of the page's two families.
enum class Face { gentium_regular, gentium_bold, carlito_regular, carlito_bold };

// Advance width of one character in thousandths of an em; that of U+FFFD, else of '?', where the face lacks
// it.
int advance(Face face, char32_t code_point);

// Heights above and below the base line, thousandths of an em, both positive.
int ascent(Face face);
int descent(Face face);

}  // namespace saltrafter::tables
