// A recipe as the maker keeps it: kinds of lines, what each asks for, its method and its stages. Amounts are
// computed in scale.h.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "core/base/base.h"
#include "core/recipe/composition.h"

namespace saltrafter::recipe {

enum class LineKind {
  meat,      // amount: share of the meat, 0..1; the meat lines add to 1. `material`: a cut
  salt,      // amount: total sodium chloride wanted, g per kg of meat; what the curing mix brings is subtracted
  cure,      // amount: ingoing nitrite wanted, mg/kg of meat, as NaNO2; met by the recipe's curing mix
  additive,  // amount by its basis; `material`: an additive, or empty (the maker's own words alone)
  culture,   // amount: g per kg of meat, or by its packet where it has one; `material`: a culture, or empty
};

enum class Basis {
  percent_of_meat,  // amount is a share 0..1 of the meat mass
  g_per_kg,         // g per kg of meat
  fixed_g,          // g, whatever the meat mass
  g_per_piece,      // g for each piece that hangs
};

// A packet of culture: so many grams for so much meat. Source of the figures: the packet.
struct Packet {
  Grams holds;                    // > 0
  Grams for_meat;                 // > 0, meat that the whole packet serves
  std::optional<Date> opened_on;  // never opened: nothing
  bool kept_frozen = true;

  friend bool operator==(const Packet&, const Packet&) = default;
};

struct Line {
  Id id;
  LineKind kind = LineKind::additive;
  std::string name;      // the maker's own word
  std::string material;  // key of a row in assets/tables or of an own row (supplies.h), or empty
  Basis basis = Basis::g_per_kg;
  double amount = 0.0;   // as `kind` and `basis` say
  // Parts of 1 g of an own material, so that the recipe means the same where its row is not at hand.
  std::optional<Composition> parts = {};
  std::optional<Packet> packet = {};  // of a culture: its dose instead of `amount`

  friend bool operator==(const Line&, const Line&) = default;
};

// Mass shares of a curing mix; the rest is sodium chloride.
struct CuringMix {
  std::string name;
  double nitrite = 0.0;  // 0..1, of `nitrite_salt`
  double nitrate = 0.0;  // 0..1, of `nitrate_salt`
  bool potassium_nitrite = false;  // KNO2 instead of NaNO2
  bool potassium_nitrate = false;  // KNO3 instead of NaNO3
  // The own row (supplies.h) whose packet this is. Empty: nobody has read a packet for it here, as in a
  // friend's recipe; it is looked at, and weighed out only once it is bound.
  std::string supply = {};

  friend bool operator==(const CuringMix&, const CuringMix&) = default;
};

// The product class under which limits are looked up.
enum class ProductClass {
  comminuted_dry,       // minced, stuffed, fermented or not, dried for long
  whole_muscle_dry,     // one muscle, cured and dried
  comminuted_semi_dry,  // minced, fermented, dried little and never cooked: sliceable soft or spreadable
};

// How the salt gets into the meat.
enum class CureMethod {
  mixed_in,     // into the mince
  equilibrium,  // weighed by the meat and sealed with it; all is taken up
  salt_box,     // buried in salt for a time, then rinsed and rested; the salt line is what shall be taken up
  brine,        // laid in a brine
};

// How a piece lies to the air and to the salt.
enum class Form {
  round,        // a cylinder of `casing_diameter`
  slab,         // `casing_diameter` is its thickness, both faces open
  slab_closed,  // the same with one face shut by skin or fat
  rolled,       // a flat muscle rolled and tied, a cylinder of `casing_diameter`
  ham,          // neither round nor flat: `casing_diameter` is twice the way from the surface to the middle
};
inline constexpr bool is_flat(Form form) { return form == Form::slab || form == Form::slab_closed; }

struct Brine {
  double g_per_kg = 500.0;  // brine (water and all that is in it) to 1 kg of meat, 50..5000
  double pick_up = 0.10;    // share of the meat's mass taken up when it is not left to equalise, 0..0.5
  Days days{7.0};           // meant to lie in it; from 3 days on meat and brine count as one system

  friend bool operator==(const Brine&, const Brine&) = default;
};

// What the surface of a piece is covered with, on top of the recipe's casing or in its place.
enum class Surface {
  naked,   // no casing, or stripped of it
  cased,   // in a casing or wrapped in a sheet of it
  larded,  // smeared with fat or wax
};

enum class StageKind { cure, rest, ferment, cold_dry, dry, store };

// One stage of what is planned, in order. A stage ends by its days, or by its loss where it has one.
struct Stage {
  Id id;
  StageKind kind = StageKind::dry;
  Celsius temperature{13.0};
  std::optional<RelativeHumidity> humidity;  // nothing in a bag
  Days days{30.0};
  std::optional<double> until_loss;  // of the weight at hanging, 0..0.9
  bool sealed = false;               // vacuum bag, or tight box
  std::optional<Surface> surface = {};  // from its beginning on; nothing: as it was

  friend bool operator==(const Stage&, const Stage&) = default;
};

enum class StepKind {
  chill,
  cut,
  mince,      // `value` mm of the plate
  add,        // `lines`, in their order
  rehydrate,  // a culture in water
  mix,        // `value` minutes
  rest,
  stuff,
  prick,
  tie,
  rub,
  turn,
  rinse,
  ferment,
  hang,
  other,
};

// What a step asks to be measured and written down.
enum class Asked { nothing, temperature, ph, mass, minutes, words };

// One step of the method.
struct Step {
  Id id;
  StepKind kind = StepKind::other;
  StageKind stage = StageKind::cure;  // before or in which stage it is done
  bool before_stage = true;           // in the kitchen, before the first stage
  std::string words;                  // the maker's own words, may be empty
  std::vector<Id> lines;              // the lines that come in with it
  bool in_liquid = false;             // they are stirred into water, wine or another liquid first
  std::optional<double> value;        // mm of a plate, minutes of mixing; hours of a rest
  std::optional<Celsius> most;        // no warmer than this
  Asked asks = Asked::nothing;

  friend bool operator==(const Step&, const Step&) = default;
};

struct Recipe {
  std::string name;
  std::string note;
  ProductClass product_class = ProductClass::comminuted_dry;
  CureMethod method = CureMethod::mixed_in;
  CuringMix mix;
  std::vector<Line> lines;
  std::string casing;  // key of a casing, or empty
  Form form = Form::round;
  Metres casing_diameter{0.055};
  Metres piece_length{0.40};
  // Of a flat piece, 0.02..3 m. Nothing: three times as wide as thick for its weight (choice), and so wide that its
  // edges do not count where it dries.
  std::optional<Metres> piece_width = {};
  double bone_share = 0.0;           // of the weight on the tray: takes no salt, 0..0.5
  bool skin_on = false;              // a tenth of the weight counts as skin for the dose of nitrite
  std::optional<Brine> brine;        // of CureMethod::brine
  std::optional<double> wanted_ph;   // after fermentation, 4.2..5.6; nothing: not soured on purpose
  double wanted_loss = 0.35;         // of the weight at hanging, 0..1
  std::vector<Stage> stages;
  std::vector<Step> steps;

  friend bool operator==(const Recipe&, const Recipe&) = default;
};

// A recipe as it was before a change, and why it was changed.
struct Revision {
  Id id;
  Date until{};     // the day on which it was changed
  std::string why;  // the maker's words, may be empty
  Recipe was;

  friend bool operator==(const Revision&, const Revision&) = default;
};

}  // namespace saltrafter::recipe
