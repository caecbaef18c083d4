#include "core/recipe/cure.h"

#include <algorithm>
#include <cassert>
#include <string_view>

#include "core/tables/tables.h"

namespace saltrafter::recipe {
namespace {

constexpr std::string_view table_key(CureSalt salt) {
  switch (salt) {
    case CureSalt::sodium_nitrite: break;
    case CureSalt::potassium_nitrite: return "KNO2";
    case CureSalt::sodium_nitrate: return "NaNO3";
    case CureSalt::potassium_nitrate: return "KNO3";
  }
  return "NaNO2";
}

}  // namespace

double ion_per_salt(CureSalt salt) {
  const tables::Salt* row = tables::find_salt(table_key(salt));
  assert(row != nullptr);
  return row != nullptr ? row->ion_share() : 1.0;
}

Ppm as_ion(Ppm as_salt, CureSalt salt) { return Ppm(as_salt.value * ion_per_salt(salt)); }

Ppm as_salt(Ppm as_ion, CureSalt salt) { return Ppm(as_ion.value / ion_per_salt(salt)); }

double sodium_chloride_share(const CuringMix& mix) {
  return std::clamp(1.0 - mix.nitrite - mix.nitrate, 0.0, 1.0);
}

double as_sodium_nitrite(const CuringMix& mix) {
  if (!mix.potassium_nitrite) return mix.nitrite;
  return mix.nitrite * ion_per_salt(CureSalt::potassium_nitrite) / ion_per_salt(CureSalt::sodium_nitrite);
}

double as_sodium_nitrate(const CuringMix& mix) {
  if (!mix.potassium_nitrate) return mix.nitrate;
  return mix.nitrate * ion_per_salt(CureSalt::potassium_nitrate) / ion_per_salt(CureSalt::sodium_nitrate);
}

Ppm ingoing(Grams pure_salt, Grams meat) {
  if (!(meat.value > 0.0)) return Ppm(0.0);
  return Ppm(pure_salt.value * 1e6 / meat.value);
}

Ppm ingoing_pumped(Grams pure_salt, double taken_up, Grams pickle) {
  if (!(pickle.value > 0.0) || !(taken_up > 0.0)) return Ppm(0.0);
  return Ppm(pure_salt.value * taken_up * 1e6 / pickle.value);
}

Ppm ingoing_immersed(Grams pure_salt, Grams meat, Grams pickle) { return ingoing(pure_salt, meat + pickle); }

Grams mix_for(Ppm nitrite_wanted, Grams meat, const CuringMix& mix) {
  if (!(mix.nitrite > 0.0)) return Grams(0.0);
  return Grams(nitrite_wanted.value * 1e-6 * meat.value / as_sodium_nitrite(mix));
}

}  // namespace saltrafter::recipe
