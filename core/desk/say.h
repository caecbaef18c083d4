// Quantities as the screens write them: digits by what is known, the unit after a thin space.
#pragma once

#include "core/base/base.h"
#include "core/safety/safety.h"
#include "core/words/words.h"

namespace saltrafter::desk {

words::Text grams(const words::Language& l, Grams mass);       // "3 150 g", "8.1 g"
words::Text per_cent(const words::Language& l, double share, int decimals);
words::Text mg_per_kg(const words::Language& l, Ppm dose);
words::Text millimetres(const words::Language& l, Metres length);
words::Text celsius(const words::Language& l, Celsius t);
words::Text pascal(const words::Language& l, Pascal p);

// A share of the meat with the digits a recipe needs: "75 %", "2.6 %", "0.025 %".
words::Text share_of_meat(const words::Language& l, double share);

// What stands in a number field: the same digits without unit.
std::string typed_number(const words::Language& l, double value, int most_decimals);

// What a line is made of, by the key of a table's row or of an own one.
words::Text material_name(const recipe::Supplies& supplies, const words::Language& l, std::string_view key);

words::Text standing_word(const words::Language& l, safety::Standing standing);
words::Text species_name(const words::Language& l, tables::Species species);
words::Text allergen_name(const words::Language& l, tables::Allergen allergen);
// A member of a recipe that two revisions differ in: "casing_diameter".
words::Text field_name(const words::Language& l, const std::string& field);

// An edit by the name it was applied under: "Weighing".
words::Text edit_name(const words::Language& l, const std::string& name);

words::Text whose(const words::Language& l, const safety::Finding& finding);
words::Text known(const words::Language& l, tables::Known known);
words::Text amount(const words::Language& l, const safety::Amount& amount);

}  // namespace saltrafter::desk
