#include "core/recipe/scale.h"

#include <algorithm>
#include <cmath>
#include <cstdio>

#include "core/recipe/line_mass.h"
#include "core/recipe/materials.h"
#include "core/recipe/pickle.h"

namespace saltrafter::recipe {
namespace {

// Thresholds are compared after rounding away binary noise.
constexpr double kNoise = 1e-9;

std::string number_text(double value) {
  char text[40];
  std::snprintf(text, sizeof text, "%.6g", value);
  return text;
}

// What was put in for a line, all together: what is in the mix stays in it. Nothing: not yet.
std::optional<Grams> put_in(const Line& line, const Hands& hands) {
  std::optional<Grams> sum;
  for (const WeighedIn& in : hands.weighed) {
    if (in.line == line.id) sum = sum.value_or(Grams(0.0)) + in.mass;
  }
  return sum;
}

Result<Done> check_hands(const Recipe& recipe, const Hands& hands) {
  const auto step = [](const char* field, Grams value) -> Result<Done> {
    if (value.value > 0.0 && value.value <= 1000.0) return Done{};
    return out_of_range(field, value.value, 0.0, 1000.0, "g");
  };
  const Result<Done> fine = step("scales/fine_step", hands.scales.fine_step);
  if (!fine.ok()) return fine;
  const Result<Done> coarse = step("scales/coarse_step", hands.scales.coarse_step);
  if (!coarse.ok()) return coarse;
  const double most_g = hands.scales.fine_most.value;
  if (!(most_g >= 0.0 && most_g <= 1e9)) return out_of_range("scales/fine_most", most_g, 0.0, 1e9, "g");
  for (std::size_t i = 0; i < hands.weighed.size(); ++i) {
    const WeighedIn& in = hands.weighed[i];
    const std::string at = "weighed/" + std::to_string(i) + "/";
    if (!(in.mass.value >= 0.0 && in.mass <= kMostMeat)) {
      return out_of_range(at + "mass", in.mass.value, 0.0, kMostMeat.value, "g");
    }
    const bool there = std::any_of(recipe.lines.begin(), recipe.lines.end(),
                                   [&in](const Line& line) { return line.id == in.line; });
    if (there) continue;
    Error lost;
    lost.code = ErrorCode::not_found;
    lost.field = at + "line";
    lost.found = in.line.text;
    return lost;
  }
  return Done{};
}

// The meat as weighed in, as asked where it is not yet.
double meat_mass_g(const Recipe& recipe, double asked_g, const Hands& hands) {
  double sum_g = 0.0;
  bool weighed = false;
  for (const Line& line : recipe.lines) {
    if (line.kind != LineKind::meat) continue;
    const std::optional<Grams> in = put_in(line, hands);
    weighed = weighed || in.has_value();
    sum_g += in ? in->value : line.amount * asked_g;
  }
  return weighed ? sum_g : asked_g;  // shares may add to a little more or less than 1
}

bool is_ascorbate(std::string_view key) {
  return key == "sodium_ascorbate" || key == "sodium_erythorbate" || key == "ascorbic_acid";
}

Composition all_rest(double mass_g) {
  Composition parts;
  parts.rest_g = mass_g;
  return parts;
}

// Puts the lines of one sheet together. Each step builds on those before it, in the order of `run`.
class Scaling {
 public:
  Scaling(const Recipe& recipe, const Hands& hands, double asked_g, double meat_g)
      : recipe_(recipe), hands_(hands), asked_g_(asked_g), base_(meat_base(recipe, meat_g)) {}

  Result<Sheet> run() {
    sheet_.meat = Grams(base_.meat_g);
    sheet_.curing_base = Grams(base_.dose_g);
    sheet_.pieces = pieces_in(recipe_, filled_g(recipe_, base_));
    for (const Line& line : recipe_.lines) add_line(line);
    if (recipe_.method == CureMethod::brine) {
      const Result<Pickle> pickle = pickle_of(recipe_, base_, pickle_parts());
      if (!pickle.ok()) return pickle.error();
      pickle_ = pickle.value();
      sheet_.curing_base = Grams(pickle_->base_g);
    }
    weigh_mix();
    weigh_salt();
    if (pickle_) fill_pickle();
    for (SheetLine& line : sheet_.lines) {
      line.share_of_meat = line.exact / sheet_.meat;
      sheet_.total = sheet_.total + line.weighed;
    }
    count_doses();
    compose();
    return std::move(sheet_);
  }

 private:
  void add_line(const Line& line) {
    SheetLine out;
    out.id = line.id;
    out.kind = line.kind;
    // The mix in use has its own name, whatever the line was called when it was written.
      out.name = line.kind == LineKind::cure && !recipe_.mix.name.empty() ? recipe_.mix.name : line.name;
    out.material = line.material;
    const bool itself = line.kind == LineKind::salt || line.kind == LineKind::cure;
    out.parts_known = itself || parts_of_line(line, hands_.supplies).has_value();
    if (line.kind == LineKind::meat) {
      out.exact = Grams(line.amount * asked_g_);
    } else if (!itself) {
      out.exact = Grams(line_mass_g(line, base_, sheet_.pieces));
      if (line.basis == Basis::g_per_piece && !(line.kind == LineKind::culture && line.packet)) {
        out.each_g = line.amount;
      }
    }
    if (!itself) weigh(out, line, as_weighed(out.exact, hands_.scales));
    sheet_.lines.push_back(std::move(out));
  }

  // As it was weighed in, else as to be weighed.
  void weigh(SheetLine& out, const Line& line, Grams asked) const {
    const std::optional<Grams> in = put_in(line, hands_);
    out.asked = asked;
    out.is_in = in.has_value();
    out.weighed = in.value_or(asked);
  }

  // The sheet's line of a kind that stands once, in the recipe's place.
  std::optional<std::size_t> place_of(LineKind kind) const {
    for (std::size_t i = 0; i < sheet_.lines.size(); ++i) {
      if (sheet_.lines[i].kind == kind) return i;
    }
    return std::nullopt;
  }

  // Of 1 g; nothing known counts as rest.
  Composition parts_at(std::size_t i) const {
    return parts_of_line(recipe_.lines[i], hands_.supplies).value_or(all_rest(1.0));
  }

  bool is_additive(std::size_t i) const {
    return sheet_.lines[i].kind == LineKind::additive || sheet_.lines[i].kind == LineKind::culture;
  }

  // Of the meat that is in, and of the rest as computed: rounded, a brine would not scale in a line.
  double meat_water_g() const {
    double water_g = 0.0;
    for (std::size_t i = 0; i < sheet_.lines.size(); ++i) {
      const SheetLine& line = sheet_.lines[i];
      if (line.kind != LineKind::meat) continue;
      const Grams mass = line.is_in ? line.weighed : line.exact;
      water_g += parts_at(i).water_g * mass.value * (1.0 - recipe_.bone_share);
    }
    return water_g;
  }

  PickleParts pickle_parts() const {
    PickleParts parts;
    parts.meat_water_g = meat_water_g();
    for (std::size_t i = 0; i < sheet_.lines.size(); ++i) {
      if (!is_additive(i)) continue;
      parts.additive_g += sheet_.lines[i].exact.value;
      parts.additive_water_g += parts_at(i).water_g * sheet_.lines[i].exact.value;
    }
    return parts;
  }

  void weigh_mix() {
    const std::optional<std::size_t> at = place_of(LineKind::cure);
    sheet_.nitrite_wanted = Ppm(at ? recipe_.lines[*at].amount : 0.0);
    const Grams exact = mix_for(sheet_.nitrite_wanted, sheet_.curing_base, recipe_.mix);
    sheet_.mix_step = scale_step(exact, hands_.scales);
    if (!at) return;
    SheetLine& line = sheet_.lines[*at];
    line.exact = exact;
    weigh(line, recipe_.lines[*at], as_weighed_at_most(exact, hands_.scales));
    sheet_.mix = line.weighed;
    sheet_.salt_from_mix = sheet_.mix * sodium_chloride_share(recipe_.mix);
  }

  void weigh_salt() {
    const std::optional<std::size_t> at = place_of(LineKind::salt);
    if (!at) return;
    const Line& salt = recipe_.lines[*at];
    SheetLine& line = sheet_.lines[*at];
    sheet_.salt_wanted = Grams(pickle_ ? pickle_->salt_g : line_mass_g(salt, base_, sheet_.pieces));
    const std::optional<std::size_t> cure = place_of(LineKind::cure);
    const Grams mix_exact = cure ? sheet_.lines[*cure].exact : Grams(0.0);
    const Grams exact = sheet_.salt_wanted - mix_exact * sodium_chloride_share(recipe_.mix);
    line.exact = Grams(std::max(0.0, exact.value));
    weigh(line, salt, as_weighed(sheet_.salt_wanted - sheet_.salt_from_mix, hands_.scales));
    if (sheet_.salt_from_mix.value <= sheet_.salt_wanted.value + kNoise) return;
    const double reaches = pickle_ ? taken_up(recipe_, base_, *pickle_, meat_water_g()) : 1.0;
    Error over = out_of_range("lines/" + std::to_string(*at) + "/amount", salt.amount,
                              sheet_.salt_from_mix.value * reaches * 1e3 / base_.flesh_g, 500.0, "g/kg");
    over.high.reset();
    sheet_.too_salty = over;
  }

  // The water is taken for the lines as asked: a slip at the scale does not change what is in the pot.
  // From then on the pickle is what was really put together.
  void fill_pickle() {
    double asked_g = 0.0;
    double real_g = 0.0;
    double other_water_g = 0.0;
    for (std::size_t i = 0; i < sheet_.lines.size(); ++i) {
      const SheetLine& line = sheet_.lines[i];
      if (line.kind == LineKind::meat) continue;
      asked_g += (line.is_in ? line.exact : line.weighed).value;
      real_g += line.weighed.value;
      if (is_additive(i)) other_water_g += parts_at(i).water_g * line.weighed.value;
    }
    // Rounded up, so that a full scale step too little never makes the pickle stronger than asked.
    const Grams wanted(std::max(0.0, pickle_->mass_g - asked_g));
    sheet_.water = as_weighed_at_least(wanted, hands_.scales);
    pickle_->mass_g = sheet_.water.value + real_g;
    pickle_->plain_water_g = sheet_.water.value;
    pickle_->water_g = sheet_.water.value + other_water_g;
    pickle_->base_g =
        pickle_->equalised ? base_.dose_g + pickle_->mass_g : pickle_->mass_g / recipe_.brine->pick_up;
    sheet_.curing_base = Grams(pickle_->base_g);
  }

  void count_doses() {
    double nitrate_g = sheet_.mix.value * as_sodium_nitrate(recipe_.mix);
    double ascorbate_g = 0.0;
    for (std::size_t i = 0; i < sheet_.lines.size(); ++i) {
      const Line& line = recipe_.lines[i];
      const Supply* supply = find_supply(hands_.supplies, line.material);
      if (supply != nullptr && supply->brings_nitrate) {
        nitrate_g += sheet_.lines[i].weighed.value * supply->nitrate_share.value_or(0.0);
      }
      if (is_additive(i) && is_ascorbate(table_key(line, hands_.supplies))) {
        ascorbate_g += sheet_.lines[i].weighed.value;
      }
    }
    const Grams nitrite = sheet_.mix * as_sodium_nitrite(recipe_.mix);
    sheet_.nitrite = ingoing(nitrite, sheet_.curing_base);
    sheet_.nitrite_ion = as_ion(sheet_.nitrite, CureSalt::sodium_nitrite);
    sheet_.nitrate = ingoing(Grams(nitrate_g), sheet_.curing_base);
    sheet_.nitrate_ion = as_ion(sheet_.nitrate, CureSalt::sodium_nitrate);
    sheet_.ascorbate = ingoing(Grams(ascorbate_g), sheet_.curing_base);
    judge_ceiling();
  }

  void judge_ceiling() {
    double most_ppm = std::max(sheet_.nitrite.value, sheet_.nitrite_wanted.value);
    if (recipe_.mix.potassium_nitrite) {
      // The law counts the mass of whichever salt is used, and the potassium salt weighs more.
      most_ppm = as_salt(as_ion(Ppm(most_ppm), CureSalt::sodium_nitrite), CureSalt::potassium_nitrite).value;
    }
    if (!(most_ppm > kNitriteCeiling.value + kNoise)) return;
    Error error;
    error.code = ErrorCode::refused;
    error.field = "nitrite_ceiling";
    error.found = number_text(most_ppm);
    error.unit = "mg/kg";
    error.high = kNitriteCeiling.value;
    sheet_.refused = error;
  }

  void compose() {
    const double reaches = pickle_ ? taken_up(recipe_, base_, *pickle_, meat_water_g()) : 1.0;
    for (std::size_t i = 0; i < sheet_.lines.size(); ++i) {
      const double mass_g = sheet_.lines[i].weighed.value;
      Composition parts;
      switch (sheet_.lines[i].kind) {
        case LineKind::meat:
          // Bone neither cures nor dries.
          parts = parts_at(i) * (mass_g * (1.0 - recipe_.bone_share)) + all_rest(mass_g * recipe_.bone_share);
          sheet_.composition = sheet_.composition + parts;
          continue;
        case LineKind::salt: parts.salt_g = salt_that_counts_g(mass_g); break;
        case LineKind::cure:
          parts.salt_g = mass_g * sodium_chloride_share(recipe_.mix);
          parts.rest_g = mass_g - parts.salt_g;
          break;
        case LineKind::culture:
        case LineKind::additive: parts = parts_at(i) * mass_g; break;
      }
      if (pickle_) parts = dissolved(parts, sheet_.lines[i].kind) * reaches;
      sheet_.composition = sheet_.composition + parts;
    }
    // What is taken up of a pickle that does not even out is taken up whole, water and all.
    if (pickle_ && !pickle_->equalised) sheet_.composition.water_g += pickle_->water_g * reaches;
  }

  // In a salt box more lies around the meat than it takes up.
  double salt_that_counts_g(double mass_g) const {
    if (recipe_.method != CureMethod::salt_box) return mass_g;
    return std::min(mass_g, std::max(0.0, sheet_.salt_wanted.value - sheet_.salt_from_mix.value));
  }

  // Salts and sugars go into the meat; what else swims in a pickle stays there, and its water is counted
  // with the pickle's.
  static Composition dissolved(const Composition& parts, LineKind kind) {
    Composition out;
    out.salt_g = parts.salt_g;
    out.sugar_g = parts.sugar_g;
    out.rest_g = kind == LineKind::cure ? parts.rest_g : std::min(parts.rest_g, parts.sugar_g);
    return out;
  }

  const Recipe& recipe_;
  const Hands& hands_;
  const double asked_g_;
  const MeatBase base_;
  Sheet sheet_;
  std::optional<Pickle> pickle_;
};

void note_nitrite(Working* working, const Sheet& sheet, const CuringMix& mix) {
  note(working, "nitrite.meat", sheet.curing_base.value, "g", "maker");
  note(working, "nitrite.mix", sheet.mix.value, "g", "computed");
  note(working, "nitrite.strength", as_sodium_nitrite(mix), "1", "maker");
  note(working, "nitrite.ingoing", sheet.nitrite.value, "mg/kg", "FSIS Calculations Handbook 1995, ch. 3");
  note(working, "nitrite.ion_per_salt", ion_per_salt(CureSalt::sodium_nitrite), "1", "molar masses");
  note(working, "nitrite.ingoing_ion", sheet.nitrite_ion.value, "mg/kg", "computed");
}

}  // namespace

Result<Sheet> scale(const Recipe& recipe, Grams meat, Working* working, const Hands& hands) {
  if (!(meat.value > 0.0) || meat > kMostMeat)
    return out_of_range("meat", meat.value, 0.0, kMostMeat.value, "g");
  const Result<Done> checked = check_recipe(recipe, hands.supplies);
  if (!checked.ok()) return checked.error();
  const Result<Done> held = check_hands(recipe, hands);
  if (!held.ok()) return held.error();
  const double meat_g = meat_mass_g(recipe, meat.value, hands);
  if (!(meat_g > 0.0) || meat_g > kMostMeat.value)
    return out_of_range("meat", meat_g, 0.0, kMostMeat.value, "g");
  Result<Sheet> sheet = Scaling(recipe, hands, meat.value, meat_g).run();
  if (sheet.ok()) note_nitrite(working, sheet.value(), recipe.mix);
  return sheet;
}

Result<Done> may_be_used(const Sheet& sheet) {
  if (sheet.refused) return *sheet.refused;
  return Done{};
}

Composition finished(const Sheet& sheet, double loss) { return after_loss(sheet.composition, loss); }

}  // namespace saltrafter::recipe
