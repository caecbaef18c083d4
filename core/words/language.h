// Which language the texts are in, and how it writes numbers. Handed to whoever makes a text; never a global.
#pragma once

#include <string_view>

#include "core/words/text.h"

namespace saltrafter::words {

struct Language {
  std::string_view tag = "en";  // BCP 47
  char decimal_mark = '.';      // '.' or ','
  bool pseudo = false;  // each text in brackets, accented and two fifths longer: shows what is not catalogued
};

Language english(char decimal_mark = '.');
Language pseudo_language(char decimal_mark = '.');

// A number with fixed decimals (0..6) as the language writes it. Not finite: an en dash.
Text number(const Language& language, double value, int decimals);

// The same with its unit after a thin space: "4 200 g". Units are signs, the same in every language.
Text measure(const Language& language, double value, int decimals, std::string_view unit);

// 0-based index of the plural form for a count; English has one and other.
int plural_form(const Language& language, double count);

}  // namespace saltrafter::words
