#include "core/desk/parts/acts.h"
#include "core/desk/parts/field.h"
#include "core/desk/parts/month_sheet.h"

namespace saltrafter::parts {
namespace {

Result<Date> read(const std::string& typed, const DateField& field, const words::Language& language) {
  const words::TypedDateWords words = words::typed_date_words(language);
  return parse_typed_date(typed, field.today, words.view());
}

}  // namespace

std::optional<Date> date_field(Page& page, const DateField& field) {
  const words::Language& l = page.language();
  std::optional<Date> chosen;
  Field typed;
  typed.key = field.key;
  typed.label = field.label;
  typed.may_stay_empty = false;
  if (field.value) {
    typed.value = words::day_month(l, *field.value).plain();
    typed.answer = words::day_full(l, *field.value);
  }
  typed.judge = [&](const std::string& text) {
    Judged judged;
    const Result<Date> day = read(text, field, l);
    if (!day.ok()) {
      judged.error = words::sentence(l, day.error());
    } else if (field.future_refused && day.value() > field.today) {
      judged.error = field.future_error;
    } else {
      judged.answer = words::day_full(l, day.value());
    }
    return judged;
  };
  const Typed result = text_field(page, typed);
  if (result.committed) {
    const Result<Date> day = read(*result.committed, field, l);
    if (day.ok()) chosen = day.value();
  }
  page.hold(2.0);
  const Key sheet_key = field.key / "sheet";
  Host& host = page.host();
  const std::optional<int> quick =
      acts(page,
           {Act{field.key / "today", words::text(l, words::Id::act_today), ActKind::bare, true, {}},
            Act{field.key / "yesterday", words::text(l, words::Id::act_yesterday), ActKind::bare, true, {}},
            Act{field.key / "month", words::text(l, words::Id::sheet_open), ActKind::bare, true, {}}});
  std::optional<Date> pointed;  // chosen without typing: what is half typed gives way
  if (quick && *quick < 2) pointed = field.today - std::chrono::days(*quick);
  if (quick && *quick == 2) host.open_words(sheet_key.value());
  if (host.opened(sheet_key.value())) {
    const std::optional<Date> day = month_sheet(
        page, {sheet_key, field.value.value_or(field.today), field.value, field.today, field.future_refused});
    if (day) {
      pointed = day;
      host.open_words(sheet_key.value());
    }
  }
  if (pointed) {
    host.drop_field(field.key.value());
    chosen = pointed;
  }
  if (chosen) turn_back(host, sheet_key);  // the month shown is that of the new day
  return chosen;
}

}  // namespace saltrafter::parts
