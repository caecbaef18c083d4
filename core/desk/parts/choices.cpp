#include "core/desk/parts/choices.h"

#include <cmath>

namespace saltrafter::parts {
namespace {

Touched radio(Page& page, const Choice& choice, bool selected, const Rect& rect) {
  Node node;
  node.id = choice.key.value();
  node.role = Role::radio;
  node.name = choice.name.plain();
  node.verbatim = choice.name.verbatim();
  node.description = choice.fact.plain();
  node.focusable = true;
  node.selected = selected;
  node.rect = rect;
  return page.control(std::move(node));
}

std::optional<int> side_by_side(Page& page, const std::vector<Choice>& choices, int chosen, double cell) {
  Canvas& c = page.canvas();
  std::optional<int> pressed;
  const double height = page.wet() ? 64.0 : 52.0;
  Rect all = page.take(height);
  all.width = cell * static_cast<double>(choices.size());
  for (int i = 0; i < static_cast<int>(choices.size()); ++i) {
    const Choice& choice = choices[static_cast<std::size_t>(i)];
    const Rect rect{all.x + cell * i, all.y, cell, height};
    const bool here = i == chosen;
    const Touched touched = radio(page, choice, here, rect);
    if (touched.pressed) pressed = i;
    if (touched.held) c.fill(rect, c.colour(Ink::wash), 6.0);
    if (here)
      c.fill(Rect{rect.x + 2.0, rect.bottom() - 6.0, rect.width - 4.0, 5.0}, c.colour(Ink::accent), 2.0);
    if (i > 0) c.upright(rect.x, rect.y, rect.bottom(), c.colour(Ink::soft));
    const Setting& name = set(c, choice.name, here ? type::strong : type::text, cell - 8.0);
    draw(c, name, rect.x, rect.y + (height - name.height()) / 2.0 - 1.0, cell, Align::centre, Ink::ink);
    if (touched.shows_focus) page.focus_ring(rect);
  }
  c.outline(all, c.colour(Ink::soft), 1.5, 6.0);
  return pressed;
}

std::optional<int> one_under_another(Page& page, const std::vector<Choice>& choices, int chosen) {
  Canvas& c = page.canvas();
  std::optional<int> pressed;
  for (int i = 0; i < static_cast<int>(choices.size()); ++i) {
    const Choice& choice = choices[static_cast<std::size_t>(i)];
    const bool here = i == chosen;
    const double inner = page.text_width() - 20.0;
    const Setting& name = set(c, choice.name, here ? type::strong : type::text, inner);
    const Setting& fact = set(c, choice.fact, type::soft, inner);
    const double text = name.height() + fact.height();
    Rect rect = page.take(std::fmax(page.target_height(), text + 20.0));
    rect.width = page.text_width();
    const Touched touched = radio(page, choice, here, rect);
    if (touched.pressed) pressed = i;
    if (touched.held) c.fill(rect, c.colour(Ink::wash));
    if (here) c.fill(Rect{rect.x, rect.y + 4.0, 5.0, rect.height - 8.0}, c.colour(Ink::accent), 2.0);
    c.hairline(rect.x, rect.right(), rect.bottom() - 1.0, c.colour(Ink::rule));
    const double y = rect.y + (rect.height - text) / 2.0;
    draw(c, name, rect.x + 16.0, y);
    draw(c, fact, rect.x + 16.0, y + name.height());
    if (touched.shows_focus) {
      c.outline(Rect{rect.x - 3.0, rect.y + 2.0, rect.width + 6.0, rect.height - 4.0}, c.colour(Ink::ink),
                3.0, 6.0);
    }
  }
  return pressed;
}

}  // namespace

std::optional<int> one_of(Page& page, const words::Text& label, const std::vector<Choice>& choices,
                          int chosen) {
  if (choices.empty()) return std::nullopt;
  Canvas& c = page.canvas();
  page.space(8.0);
  page.paragraph(label, type::text);
  if (!label.empty()) page.space(8.0);
  double widest = 0.0;
  bool facts = false;
  for (const Choice& choice : choices) {
    widest = std::fmax(widest, width_of(c, choice.name, type::strong));
    facts = facts || !choice.fact.empty();
  }
  const double cell = std::fmax(100.0, widest + 40.0);
  const bool fits =
      !facts && choices.size() <= 4 && cell * static_cast<double>(choices.size()) <= page.text_width();
  const std::optional<int> pressed =
      fits ? side_by_side(page, choices, chosen, cell) : one_under_another(page, choices, chosen);
  page.space(24.0);
  return pressed;
}

bool tick_box(Page& page, Key key, const words::Text& name, bool ticked) {
  Canvas& c = page.canvas();
  page.space(8.0);
  const Setting& text = set(c, name, type::text, page.text_width() - 44.0);
  Rect rect = page.take(std::fmax(page.target_height(), text.height() + 12.0));
  rect.width = text.width + 44.0;
  Node node;
  node.id = key.value();
  node.role = Role::checkbox;
  node.name = name.plain();
  node.verbatim = name.verbatim();
  node.focusable = true;
  node.selected = ticked;
  node.rect = rect;
  const Touched touched = page.control(std::move(node));
  const Rect box{rect.x, rect.y + (rect.height - 26.0) / 2.0, 26.0, 26.0};
  if (touched.held) c.fill(box, c.colour(Ink::wash), 4.0);
  c.outline(box, c.colour(ticked ? Ink::accent : Ink::soft), 2.0, 4.0);
  if (ticked) {
    c.polyline({{box.x + 6.0, box.y + 13.5}, {box.x + 11.0, box.y + 18.5}, {box.x + 20.5, box.y + 7.5}},
               c.colour(Ink::accent), 3.0, false);
  }
  draw(c, text, rect.x + 44.0, rect.y + (rect.height - text.height()) / 2.0);
  if (touched.shows_focus) page.focus_ring(rect);
  page.space(8.0);
  return touched.pressed;
}

}  // namespace saltrafter::parts
