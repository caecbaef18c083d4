#include "core/desk/parts/acts.h"

#include <cmath>

namespace saltrafter::parts {
namespace {

double padding(const Act& act, bool wet) { return act.kind == ActKind::bare ? 12.0 : (wet ? 26.0 : 20.0); }

Style style_of(const Act& act, bool wet) {
  Style style = type::act;
  if (wet) style.size = 20.0;
  if (!act.ready) return style.in(Ink::soft);
  return act.kind == ActKind::main ? style.in(Ink::on_accent) : style;
}

}  // namespace

ActSize act_size(Page& page, const Act& a, double most_width) {
  const double pad = padding(a, page.wet());
  const Setting& label =
      set(page.canvas(), a.name, style_of(a, page.wet()), std::fmax(40.0, most_width - 2.0 * pad));
  return ActSize{label.width + 2.0 * pad, std::fmax(page.target_height(), label.height() + 22.0)};
}

bool act_at(Page& page, const Act& a, const Rect& rect) {
  Canvas& c = page.canvas();
  Node node;
  node.id = a.key.value();
  node.role = Role::button;
  node.name = a.name.plain();
  node.verbatim = a.name.verbatim();
  node.description = a.ready ? std::string() : a.reason.plain();
  node.focusable = true;
  node.ready = a.ready;
  node.rect = rect;
  const Touched touched = page.control(std::move(node));
  if (!page.visible(rect)) return touched.pressed && a.ready;
  if (!a.ready) {
    if (touched.held) c.fill(rect, c.colour(Ink::wash), 6.0);
    c.dashed_outline(rect, c.colour(Ink::soft), 1.5, 6.0);
  } else if (a.kind == ActKind::main) {
    const Colour accent = c.colour(Ink::accent);
    c.fill(rect, touched.held ? mix(c.colour(Ink::ink), accent, 0.2) : accent, 6.0);
  } else {
    if (touched.held) c.fill(rect, c.colour(Ink::wash), 6.0);
    if (a.kind == ActKind::other) c.outline(rect, c.colour(Ink::accent), 2.0, 6.0);
  }
  const Style style = style_of(a, page.wet());
  const double pad = padding(a, page.wet());
  const Setting& label = set(c, a.name, style, rect.width - 2.0 * pad + 0.5);
  draw(c, label, rect.x + pad, rect.y + (rect.height - label.height()) / 2.0, rect.width - 2.0 * pad,
       Align::centre, style.ink);
  if (touched.shows_focus) page.focus_ring(rect);
  return touched.pressed && a.ready;
}

std::optional<int> acts(Page& page, const std::vector<Act>& list) {
  page.space(16.0);
  std::optional<int> pressed;
  const double between = page.wet() ? 16.0 : 12.0;
  const double width = page.width();
  double x = 0.0;
  double y = page.take(0.0).y;
  double line = 0.0;
  for (int i = 0; i < static_cast<int>(list.size()); ++i) {
    const Act& a = list[static_cast<std::size_t>(i)];
    const ActSize size = act_size(page, a, width);
    if (x > 0.0 && x + size.width > width) {
      x = 0.0;
      y += line + between;
      line = 0.0;
    }
    // A bare word at the line's start stands flush with the text above it.
    const double left = x == 0.0 && a.kind == ActKind::bare ? -12.0 : x;
    if (act_at(page, a, Rect{page.x() + left, y, size.width, size.height})) pressed = i;
    x = left + size.width + between;
    line = std::fmax(line, size.height);
  }
  page.take(y + line - page.y());
  for (const Act& a : list) {
    if (a.ready || a.reason.empty() || !page.host().asked(a.key.value())) continue;
    page.space(8.0);
    page.paragraph(a.reason, type::text, Role::alert);
  }
  page.space(24.0);
  return pressed;
}

bool act(Page& page, const Act& a) { return acts(page, {a}).has_value(); }

bool way_back(Page& page, const Act& a) {
  const bool pressed = act(page, a);
  page.hold(0.0);
  return pressed;
}

std::optional<int> text_with_acts(Page& page, const words::Text& text, const std::vector<Act>& list) {
  Canvas& c = page.canvas();
  const double said = width_of(c, text, type::soft);
  double width = said + 16.0;
  double height = 0.0;
  for (const Act& a : list) {
    const ActSize size = act_size(page, a, page.width());
    width += size.width;
    height = std::fmax(height, size.height);
  }
  if (width > page.width()) {
    page.paragraph(text, type::soft);
    page.hold(0.0);
    return acts(page, list);
  }
  const Rect line = page.take(height);
  const Setting& words = set(c, text, type::soft, said + 1.0);
  const Rect at{line.x, line.y + (height - words.height()) / 2.0, words.width, words.height()};
  page.say(text, Role::text, at);
  draw(c, words, at.x, at.y);
  std::optional<int> pressed;
  double x = line.x + said + 16.0;
  for (int i = 0; i < static_cast<int>(list.size()); ++i) {
    const ActSize size = act_size(page, list[static_cast<std::size_t>(i)], page.width());
    if (act_at(page, list[static_cast<std::size_t>(i)], Rect{x, line.y, size.width, height})) pressed = i;
    x += size.width;
  }
  page.space(24.0);
  return pressed;
}

}  // namespace saltrafter::parts
