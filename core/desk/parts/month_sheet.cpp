#include "core/desk/parts/month_sheet.h"

#include <chrono>
#include <cmath>

#include "core/desk/parts/acts.h"

namespace saltrafter::parts {
namespace {

using std::chrono::days;
using std::chrono::months;
using std::chrono::sys_days;

constexpr int kDaysOfWeek = 7;

std::uint64_t key_of(const MonthSheet& sheet, Date day) {
  return (sheet.key / "day" / static_cast<int>(day.time_since_epoch().count())).value();
}

bool day_cell(Page& page, const MonthSheet& sheet, Date day, const Rect& rect) {
  Canvas& c = page.canvas();
  const words::Language& l = page.language();
  const bool allowed = !sheet.future_refused || day <= sheet.today;
  const bool chosen = sheet.chosen && *sheet.chosen == day;
  Node node;
  node.id = key_of(sheet, day);
  node.role = Role::button;
  const words::Text name = words::day_full(l, day);
  node.name = name.plain();
  node.focusable = true;
  node.ready = allowed;
  node.selected = chosen;
  node.current = day == sheet.today;
  node.rect = rect;
  const Touched touched = page.control(std::move(node));
  if (touched.held && allowed) c.fill(rect, c.colour(Ink::wash), 6.0);
  if (chosen) c.outline(rect, c.colour(Ink::ink), 2.0, 6.0);
  const unsigned number = static_cast<unsigned>(std::chrono::year_month_day(day).day());
  const Style style = (day == sheet.today ? type::strong : type::text).in(allowed ? Ink::ink : Ink::soft);
  const Setting& text = set(c, words::verbatim(std::to_string(number)), style, rect.width);
  const double y = rect.y + (rect.height - text.height()) / 2.0;
  draw(c, text, rect.x, y, rect.width, Align::centre, style.ink);
  if (day == sheet.today) {
    const double middle = rect.x + rect.width / 2.0;
    c.fill(Rect{middle - text.width / 2.0, y + text.height() - 3.0, text.width, 2.0}, c.colour(Ink::ink));
  }
  if (touched.shows_focus) c.outline(rect, c.colour(Ink::ink), 3.0, 6.0);
  return touched.pressed && allowed;
}

}  // namespace

void turn_back(Host& host, Key sheet) {
  const std::uint64_t turned = (sheet / "turned").value();
  if (host.kept_step(turned) != 0) host.keep_step(turned, 0);
}

std::optional<Date> month_sheet(Page& page, const MonthSheet& sheet) {
  Canvas& c = page.canvas();
  const words::Language& l = page.language();
  Host& host = page.host();
  const std::uint64_t turned = (sheet.key / "turned").value();
  const std::chrono::year_month_day from(sheet.shown);
  const std::chrono::year_month month =
      std::chrono::year_month(from.year(), from.month()) + months(host.kept_step(turned));
  const sys_days first(month / std::chrono::day(1));
  const sys_days last(month / std::chrono::last);

  page.space(8.0);
  page.paragraph(words::text(l, words::Id::sheet_month,
                             {words::arg("month", words::month(l, static_cast<int>(static_cast<unsigned>(month.month())))),
                              words::arg("year", words::verbatim(std::to_string(static_cast<int>(month.year()))))}),
                 type::task);
  page.hold(4.0);
  const bool later = !sheet.future_refused || last < sheet.today;
  const std::optional<int> turn =
      acts(page, {Act{sheet.key / "earlier", words::text(l, words::Id::sheet_earlier), ActKind::bare, true, {}},
                  Act{sheet.key / "later", words::text(l, words::Id::sheet_later), ActKind::bare, later,
                      words::text(l, words::Id::sheet_no_later)}});
  if (turn) host.keep_step(turned, host.kept_step(turned) + (*turn == 0 ? -1 : 1));

  const double wanted = page.wet() ? 64.0 : 48.0;
  const double cell = std::fmin(wanted, std::floor(page.width() / kDaysOfWeek));
  // Weeks begin on Monday (ISO 8601).
  const int lead = static_cast<int>(std::chrono::weekday(first).iso_encoding()) - 1;
  page.hold(4.0);
  const Rect heads = page.take(28.0);
  for (int i = 0; i < kDaysOfWeek; ++i) {
    const words::Text name = words::weekday_short(l, i + 1);
    const Rect rect{heads.x + cell * i, heads.y, cell, heads.height};
    const Setting& text = set(c, name, type::small, cell);
    draw(c, text, rect.x, rect.y, cell, Align::centre, Ink::soft);
    page.say(name, Role::text, rect);
  }
  std::optional<Date> pressed;
  bool asked = false;  // a day to come was pressed: it says why not
  const int count = static_cast<int>((last - first).count()) + 1;
  Rect week;
  for (int n = 0; n < count; ++n) {
    const int column = (lead + n) % kDaysOfWeek;
    if (n == 0 || column == 0) week = page.take(cell);
    const Date day = first + days(n);
    if (day_cell(page, sheet, day, Rect{week.x + cell * column, week.y, cell, cell})) pressed = day;
    asked = asked || host.asked(key_of(sheet, day));
  }
  if (asked) page.paragraph(words::text(l, words::Id::sheet_no_later), type::text, Role::alert);
  page.space(16.0);
  return pressed;
}

}  // namespace saltrafter::parts
