// Days in words.
#pragma once

#include <string>
#include <vector>

#include "core/base/base.h"
#include "core/words/language.h"
#include "core/words/text.h"

namespace saltrafter::words {

Text month(const Language& language, int month_1_to_12);
Text month_short(const Language& language, int month_1_to_12);
Text weekday(const Language& language, Date date);
Text weekday_short(const Language& language, int iso_weekday);  // 1 Monday .. 7 Sunday

Text day_month(const Language& language, Date date);  // "25 Nov"
Text day_weekday(const Language& language, Date date);  // "Wed 25 Nov"
Text day_full(const Language& language, Date date);   // "Wed 25 November 2026"

// Owns the words that parse_typed_date takes; call view() for the argument.
struct TypedDateWords {
  std::vector<std::string> months;
  std::string today;
  std::string yesterday;

  DateWords view() const { return DateWords{months, today, yesterday}; }
};
TypedDateWords typed_date_words(const Language& language);

}  // namespace saltrafter::words
