#include "core/recipe/scale.h"

#include <algorithm>
#include <cmath>
#include <cstdio>

#include "core/recipe/materials.h"

namespace saltrafter::recipe {
namespace {

// Thresholds are compared after rounding away binary noise.
constexpr double kNoise = 1e-9;

double steps_per_gram(double mass_g) { return mass_g < 1000.0 - kNoise ? 10.0 : 1.0; }

std::string number_text(double value) {
  char text[40];
  std::snprintf(text, sizeof text, "%.6g", value);
  return text;
}

// Grams of a line that depends on nothing but itself.
double own_mass_g(const Line& line, double meat_g) {
  switch (line.kind) {
    case LineKind::meat: return line.amount * meat_g;
    case LineKind::salt: return line.amount * 1e-3 * meat_g;
    case LineKind::cure: return 0.0;
    case LineKind::additive: break;
  }
  switch (line.basis) {
    case Basis::percent_of_meat: return line.amount * meat_g;
    case Basis::g_per_kg: return line.amount * 1e-3 * meat_g;
    case Basis::fixed_g: break;
  }
  return line.amount;
}

const Line* first_of(const Recipe& recipe, LineKind kind) {
  for (const Line& line : recipe.lines) {
    if (line.kind == kind) return &line;
  }
  return nullptr;
}

Composition parts_of(const SheetLine& line, const CuringMix& mix) {
  Composition one;
  switch (line.kind) {
    case LineKind::meat: return cut_parts(line.material).value_or(Composition{}) * line.weighed.value;
    case LineKind::salt: one.salt_g = line.weighed.value; return one;
    case LineKind::cure:
      one.salt_g = line.weighed.value * sodium_chloride_share(mix);
      one.rest_g = line.weighed.value - one.salt_g;
      return one;
    case LineKind::additive: break;
  }
  if (!line.parts_known) {
    one.rest_g = line.weighed.value;
    return one;
  }
  return additive_parts(line.material).value_or(Composition{}) * line.weighed.value;
}

Error above_ceiling(double ppm) {
  Error error;
  error.code = ErrorCode::refused;
  error.field = "nitrite_ceiling";
  error.found = number_text(ppm);
  error.unit = "mg/kg";
  error.high = kNitriteCeiling.value;
  return error;
}

void note_nitrite(Working* working, const Sheet& sheet, const CuringMix& mix) {
  note(working, "nitrite.meat", sheet.meat.value, "g", "maker");
  note(working, "nitrite.mix", sheet.mix.value, "g", "computed");
  note(working, "nitrite.strength", mix.nitrite, "1", "maker");
  note(working, "nitrite.ingoing", sheet.nitrite.value, "mg/kg", "FSIS Calculations Handbook 1995, ch. 3");
  note(working, "nitrite.ion_per_salt", ion_per_salt(CureSalt::sodium_nitrite), "1", "molar masses");
  note(working, "nitrite.ingoing_ion", sheet.nitrite_ion.value, "mg/kg", "computed");
}

}  // namespace

Grams scale_step(Grams mass) { return Grams(1.0 / steps_per_gram(mass.value)); }

Grams as_weighed(Grams exact) {
  if (!(exact.value > 0.0)) return Grams(0.0);
  const double per_gram = steps_per_gram(exact.value);
  return Grams(std::floor(exact.value * per_gram + 0.5 + kNoise) / per_gram);
}

Grams as_weighed_at_most(Grams exact) {
  if (!(exact.value > 0.0)) return Grams(0.0);
  const double per_gram = steps_per_gram(exact.value);
  return Grams(std::floor(exact.value * per_gram + kNoise) / per_gram);
}

Result<Sheet> scale(const Recipe& recipe, Grams meat, Working* working) {
  if (!(meat.value > 0.0) || meat > kMostMeat)
    return out_of_range("meat", meat.value, 0.0, kMostMeat.value, "g");
  const Result<Done> checked = check_recipe(recipe);
  if (!checked.ok()) return checked.error();

  const Line* cure = first_of(recipe, LineKind::cure);
  const Line* salt = first_of(recipe, LineKind::salt);
  const double salt_share = sodium_chloride_share(recipe.mix);

  Sheet sheet;
  sheet.meat = meat;
  sheet.nitrite_wanted = Ppm(cure != nullptr ? cure->amount : 0.0);
  sheet.salt_wanted = Grams(salt != nullptr ? own_mass_g(*salt, meat.value) : 0.0);
  const Grams mix_exact = mix_for(sheet.nitrite_wanted, meat, recipe.mix);
  sheet.mix = as_weighed_at_most(mix_exact);
  sheet.salt_from_mix = sheet.mix * salt_share;

  for (std::size_t i = 0; i < recipe.lines.size(); ++i) {
    const Line& line = recipe.lines[i];
    SheetLine out;
    out.id = line.id;
    out.kind = line.kind;
    out.name = line.name;
    out.material = line.material;
    out.parts_known = line.kind != LineKind::additive || !line.material.empty();
    if (line.kind == LineKind::cure) {
      out.exact = mix_exact;
      out.weighed = sheet.mix;
    } else if (line.kind == LineKind::salt) {
      out.exact = Grams(std::max(0.0, sheet.salt_wanted.value - mix_exact.value * salt_share));
      out.weighed = as_weighed(sheet.salt_wanted - sheet.salt_from_mix);
      if (sheet.salt_from_mix.value > sheet.salt_wanted.value + kNoise) {
        Error over = out_of_range("lines/" + std::to_string(i) + "/amount", line.amount,
                                  sheet.salt_from_mix.value * 1e3 / meat.value, 500.0, "g/kg");
        over.high.reset();
        sheet.too_salty = over;
      }
    } else {
      out.exact = Grams(own_mass_g(line, meat.value));
      out.weighed = as_weighed(out.exact);
    }
    out.share_of_meat = out.exact / meat;
    sheet.total = sheet.total + out.weighed;
    sheet.composition = sheet.composition + parts_of(out, recipe.mix);
    sheet.lines.push_back(out);
  }

  sheet.nitrite = ingoing(sheet.mix * recipe.mix.nitrite, meat);
  sheet.nitrite_ion = as_ion(sheet.nitrite, CureSalt::sodium_nitrite);
  sheet.nitrate = ingoing(sheet.mix * recipe.mix.nitrate, meat);
  sheet.nitrate_ion = as_ion(sheet.nitrate, CureSalt::sodium_nitrate);
  const double most_ppm = std::max(sheet.nitrite.value, sheet.nitrite_wanted.value);
  if (most_ppm > kNitriteCeiling.value + kNoise) sheet.refused = above_ceiling(most_ppm);
  note_nitrite(working, sheet, recipe.mix);
  return sheet;
}

Result<Done> may_be_used(const Sheet& sheet) {
  if (sheet.refused) return *sheet.refused;
  return Done{};
}

Composition finished(const Sheet& sheet, double loss) { return after_loss(sheet.composition, loss); }

}  // namespace saltrafter::recipe
