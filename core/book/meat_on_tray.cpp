#include <cmath>
#include <cstdio>
#include <string>

#include "core/book/codec.h"
#include "core/recipe/recipe.h"

namespace saltrafter::book {
namespace {

std::string key_of(const Id& recipe) { return "meat_g/" + recipe.text; }

}  // namespace

Grams meat_on_tray(const Settings& settings, const Id& recipe) {
  const auto found = settings.values.find(key_of(recipe));
  if (found == settings.values.end()) return kFirstMeat;
  const Result<TypedNumber> typed =
      parse_number(found->second, NumberRule{"meat_g", NumberKind::plain, "", 0.0, recipe::kMostMeat.value});
  return typed.ok() ? Grams(typed.value().value) : kFirstMeat;
}

void set_meat_on_tray(Settings& settings, const Id& recipe, Grams meat) {
  // In the plain form that parse_number reads back; three digits after the point would pass for thousands.
  const long long mg = std::llround(meat.value * 1000.0);
  char text[32];
  if (mg % 1000 == 0) {
    std::snprintf(text, sizeof text, "%lld", mg / 1000);
  } else {
    std::snprintf(text, sizeof text, "%lld.%03lld0", mg / 1000, mg % 1000);
  }
  settings.values[key_of(recipe)] = text;
}

}  // namespace saltrafter::book
