#include "core/words/language.h"

#include <string>

#include "core/base/base.h"

namespace saltrafter::words {

Language english(char decimal_mark) { return Language{"en", decimal_mark, false}; }

Language pseudo_language(char decimal_mark) { return Language{"en-XA", decimal_mark, true}; }

Text number(const Language& language, double value, int decimals) {
  return verbatim(format_number(value, decimals, NumberStyle{language.decimal_mark}));
}

Text measure(const Language& language, double value, int decimals, std::string_view unit) {
  std::string text = format_number(value, decimals, NumberStyle{language.decimal_mark});
  if (!unit.empty()) {
    text += "\xE2\x80\x89";  // thin space
    text += unit;
  }
  return verbatim(text);
}

int plural_form(const Language&, double count) { return count == 1.0 ? 0 : 1; }

}  // namespace saltrafter::words
