#include "core/desk/parts/prose.h"

#include <cmath>

namespace saltrafter::parts {

void heading(Page& page, const words::Text& text, const words::Text& aside) {
  page.space(16.0);
  Canvas& c = page.canvas();
  const double aside_width = aside.empty() ? 0.0 : width_of(c, aside, type::soft) + 24.0;
  const Setting& all = set(c, text, type::heading, page.width() - aside_width);
  if (aside.empty() || all.lines.size() > 1) {
    page.paragraph(text, type::heading, Role::heading, 1);
    page.space(4.0);
    page.paragraph(aside, type::soft);
  } else {
    const Rect rect = page.take(all.height());
    page.say(text, Role::heading, Rect{rect.x, rect.y, all.width, rect.height}, 1);
    draw(c, all, rect.x, rect.y);
    const Setting& right = set(c, aside, type::soft, aside_width);
    // Both stand on one baseline.
    const double base = c.baseline(type::heading.font(false), type::heading.line());
    const double y = rect.y + base - c.baseline(type::soft.font(false), type::soft.line());
    draw(c, right, rect.x, y, rect.width, Align::right, Ink::soft);
    page.say(aside, Role::text, Rect{rect.right() - right.width, y, right.width, right.height()});
  }
  page.space(8.0);
}

void second_heading(Page& page, const words::Text& text, const words::Text& beneath) {
  page.space(36.0);
  page.paragraph(text, type::second, Role::heading, 2);
  if (!beneath.empty()) page.space(4.0);
  page.paragraph(beneath, type::soft);
  page.space(8.0);
}

void lead(Page& page, const words::Text& text) {
  page.space(8.0);
  page.paragraph(text, type::second);
  page.space(16.0);
}

void paragraph(Page& page, const words::Text& text) {
  page.space(8.0);
  page.paragraph(text, type::text);
  page.space(8.0);
}

void reason(Page& page, const words::Text& text) {
  page.space(4.0);
  page.paragraph(text, type::soft);
  page.space(8.0);
}

void over_heading(Page& page, const words::Text& text) {
  page.space(16.0);
  page.paragraph(text, type::soft);
  page.hold(0.0);
}

void huge_figure(Page& page, const words::Text& name, const words::Text& figure, const words::Text& facts) {
  Canvas& c = page.canvas();
  page.space(8.0);
  const Style style = fitting(c, figure, type::weigh, page.width(), 30.0);
  const double figure_width = width_of(c, figure, style);
  const bool beside = longest_word(c, name, type::second) + figure_width + 24.0 <= page.width();
  const double room = page.width() - (beside ? figure_width + 24.0 : 0.0);
  const Setting& said = set(c, name, type::second, room);
  const Setting& fact = set(c, facts, type::soft, room);
  const Setting& large = set(c, figure, style, page.width());
  const double words_height = said.height() + fact.height();
  const Rect rect = page.take(beside ? std::fmax(words_height, large.height()) : words_height + 8.0 + large.height());
  page.say(name, Role::heading, Rect{rect.x, rect.y, said.width, said.height()}, 2);
  draw(c, said, rect.x, rect.y);
  page.say(facts, Role::text, Rect{rect.x, rect.y + said.height(), fact.width, fact.height()});
  draw(c, fact, rect.x, rect.y + said.height());
  const double y = beside ? rect.y : rect.y + words_height + 8.0;
  const double x = beside ? rect.right() - large.width : rect.x;
  page.say(figure, Role::text, Rect{x, y, large.width, large.height()});
  draw(c, large, x, y);
  page.space(8.0);
}

void rule(Page& page) {
  page.space(12.0);
  const Rect rect = page.take(1.0);
  page.canvas().hairline(rect.x, rect.right(), rect.y, page.canvas().colour(Ink::rule));
  page.space(12.0);
}

void list_rule(Page& page) {
  page.space(8.0);
  const Rect rect = page.take(1.0);
  page.canvas().hairline(rect.x, rect.right(), rect.y, page.canvas().colour(Ink::rule));
  page.hold(0.0);
}

void gap(Page& page, double px) { page.space(px); }

}  // namespace saltrafter::parts
