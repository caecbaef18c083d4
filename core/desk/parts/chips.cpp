#include "core/desk/parts/chips.h"

#include <cmath>

namespace saltrafter::parts {
namespace {

constexpr double kTick = 26.0;  // room for the drawn tick, kept free where a chip is out: nothing moves
constexpr double kApart = 12.0;

bool chip(Page& page, const Chip& chip, const Rect& rect) {
  Canvas& c = page.canvas();
  Node node;
  node.id = chip.key.value();
  node.role = Role::checkbox;
  node.name = chip.name.plain();
  node.verbatim = chip.name.verbatim();
  node.focusable = true;
  node.selected = chip.in;
  node.rect = rect;
  const Touched touched = page.control(std::move(node));
  if (touched.held) c.fill(rect, c.colour(Ink::wash), 6.0);
  c.outline(rect, c.colour(chip.in ? Ink::accent : Ink::soft), chip.in ? 3.0 : 1.5, 6.0);
  const double middle = rect.y + rect.height / 2.0;
  const double x = rect.x + 14.0;
  if (chip.in) {
    c.polyline({{x, middle}, {x + 5.0, middle + 5.0}, {x + 14.0, middle - 6.0}}, c.colour(Ink::accent), 3.0, false);
  }
  const Setting& name = set(c, chip.name, type::text, rect.width - kTick - 26.0);
  draw(c, name, rect.x + 14.0 + kTick, middle - name.height() / 2.0);
  if (touched.shows_focus) page.focus_ring(rect);
  return touched.pressed;
}

}  // namespace

std::optional<int> chips(Page& page, const words::Text& label, const std::vector<Chip>& chips) {
  if (chips.empty()) return std::nullopt;
  Canvas& c = page.canvas();
  page.space(8.0);
  page.paragraph(label, type::text);
  if (!label.empty()) page.space(8.0);
  std::optional<int> pressed;
  Rect line;
  double x = 0.0;
  for (int i = 0; i < static_cast<int>(chips.size()); ++i) {
    const Chip& one = chips[static_cast<std::size_t>(i)];
    const double room = page.width() - kTick - 26.0;
    const Setting& name = set(c, one.name, type::text, room);
    const double width = name.width + 1.0 + kTick + 26.0;
    const double height = std::fmax(page.target_height(), name.height() + 20.0);
    if (i == 0 || x + width > line.right()) {
      if (i > 0) page.space(kApart);
      line = page.take(height);
      x = line.x;
    }
    if (chip(page, one, Rect{x, line.y, width, height})) pressed = i;
    x += width + (page.wet() ? 16.0 : kApart);
  }
  page.space(24.0);
  return pressed;
}

}  // namespace saltrafter::parts
