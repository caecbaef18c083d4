#include "core/words/dates.h"

#include <chrono>

#include "core/words/sentence.h"

namespace saltrafter::words {
namespace {

Id nth(Id first, int n_from_1, int count) {
  const int n = n_from_1 < 1 ? 1 : (n_from_1 > count ? count : n_from_1);
  return static_cast<Id>(static_cast<int>(first) + n - 1);
}

struct Parts {
  int year;
  int month;
  int day;
  int weekday;  // 1 Monday .. 7 Sunday
};

Parts parts_of(Date date) {
  const std::chrono::year_month_day ymd(date);
  const std::chrono::weekday wd(date);
  return Parts{static_cast<int>(ymd.year()), static_cast<int>(static_cast<unsigned>(ymd.month())),
               static_cast<int>(static_cast<unsigned>(ymd.day())), static_cast<int>(wd.iso_encoding())};
}

Arg figure(std::string_view name, int value) { return arg(name, verbatim(std::to_string(value))); }

}  // namespace

Text month(const Language& l, int m) { return text(l, nth(Id::month_1, m, 12)); }

Text month_short(const Language& l, int m) { return text(l, nth(Id::month_short_1, m, 12)); }

Text weekday(const Language& l, Date date) { return text(l, nth(Id::weekday_1, parts_of(date).weekday, 7)); }

Text weekday_short(const Language& l, int iso_weekday) { return text(l, nth(Id::weekday_short_1, iso_weekday, 7)); }

Text day_month(const Language& l, Date date) {
  const Parts p = parts_of(date);
  return text(l, Id::date_day_month, {figure("day", p.day), arg("month", month_short(l, p.month))});
}

Text day_weekday(const Language& l, Date date) {
  const Parts p = parts_of(date);
  return text(l, Id::date_weekday_day_month,
              {arg("weekday", text(l, nth(Id::weekday_short_1, p.weekday, 7))), figure("day", p.day),
               arg("month", month_short(l, p.month))});
}

Text day_full(const Language& l, Date date) {
  const Parts p = parts_of(date);
  return text(l, Id::date_full,
              {arg("weekday", text(l, nth(Id::weekday_short_1, p.weekday, 7))), figure("day", p.day),
               arg("month", month(l, p.month)), figure("year", p.year)});
}

TypedDateWords typed_date_words(const Language& language) {
  // What people type is never in brackets: the plain language, also under the pseudo-language.
  Language l = language;
  l.pseudo = false;
  TypedDateWords words;
  for (int m = 1; m <= 12; ++m) words.months.push_back(month(l, m).plain());
  words.today = text(l, Id::today).plain();
  words.yesterday = text(l, Id::yesterday).plain();
  return words;
}

}  // namespace saltrafter::words
