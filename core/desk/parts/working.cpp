#include "core/desk/parts/working.h"

#include <cmath>

namespace saltrafter::parts {

void working_block(Page& page, const WorkingView& view) {
  Canvas& c = page.canvas();
  page.space(8.0);
  page.take(0.0);
  const double top = page.y();
  const double x = page.x();
  page.inset(18.0);
  // A name without a figure is the row's own, just above.
  if (!view.value.empty()) {
    page.paragraph(words::join({view.name, words::verbatim(" "), view.value.strong()}), type::text);
  }
  for (const words::Text& line : view.lines) page.paragraph(line, type::text);
  page.inset(-18.0);
  c.fill(Rect{x, top, 3.0, page.y() - top}, c.colour(Ink::accent));
  page.space(16.0);
}

void working(Page& page, const WorkingView& view) {
  Canvas& c = page.canvas();
  const bool open = page.host().opened(view.key.value());
  const double value_width = width_of(c, view.value, type::strong) + 22.0;
  const bool beside = width_of(c, view.name, type::text) + value_width + 16.0 <= page.width();
  const Setting& name = set(c, view.name, type::text, page.width() - (beside ? value_width + 16.0 : 0.0));
  const Setting& value = set(c, view.value, type::strong, page.width() - 22.0);
  const double inner = name.height() + (beside ? 0.0 : value.height());
  const Rect rect = page.take(std::fmax(48.0, inner + 22.0));
  Node node;
  node.id = view.key.value();
  node.role = Role::button;
  node.name = view.name.plain();
  node.verbatim = view.name.verbatim();
  node.value = view.value.plain();
  node.expanded = open;
  if (page.row_ground(std::move(node), rect).pressed) page.host().open_words(view.key.value());
  const double y = rect.y + (rect.height - 1.0 - inner) / 2.0;
  draw(c, name, rect.x, y);
  const double value_y = beside ? y : y + name.height();
  if (beside) {
    draw(c, value, rect.x, value_y, rect.width - 22.0, Align::right, Ink::ink);
  } else {
    draw(c, value, rect.x, value_y);
  }
  // A drawn hook: down when it can be opened, up when it can be closed.
  const double mid = rect.y + (rect.height - 1.0) / 2.0;
  const double tip = open ? -3.0 : 3.0;
  c.polyline(
      {{rect.right() - 13.0, mid - tip}, {rect.right() - 7.0, mid + tip}, {rect.right() - 1.0, mid - tip}},
      c.colour(Ink::accent), 2.0, false);
  if (open) working_block(page, view);
}

}  // namespace saltrafter::parts
