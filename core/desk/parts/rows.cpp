#include "core/desk/parts/rows.h"

#include <cmath>

namespace saltrafter::parts {

words::Text level_word(const words::Language& l, Level level) {
  switch (level) {
    case Level::met:
      return words::text(l, words::Id::level_met);
    case Level::near:
      return words::text(l, words::Id::level_near);
    case Level::not_met:
      return words::text(l, words::Id::level_not_met);
    case Level::not_known:
      return words::text(l, words::Id::level_not_known);
    case Level::does_not_apply:
      return words::text(l, words::Id::level_does_not_apply);
  }
  return words::Text();
}

Ink level_ink(Level level) {
  switch (level) {
    case Level::met:
      return Ink::accent;
    case Level::near:
      return Ink::near;
    case Level::not_met:
      return Ink::not_met;
    default:
      return Ink::soft;
  }
}

bool row(Page& page, const Row& r) {
  Canvas& c = page.canvas();
  const double figure_width = r.figure.empty() ? 0.0 : width_of(c, r.figure, type::task);
  const double name_width = width_of(c, r.name, type::task);
  // The figure stands at the right of the name, or where both do not fit, under it.
  const bool beside = name_width + figure_width + 20.0 <= page.width() ||
                      (figure_width < 0.4 * page.width() &&
                       longest_word(c, r.name, type::task) + figure_width + 20.0 <= page.width());
  const double room = page.width() - (beside && figure_width > 0.0 ? figure_width + 20.0 : 0.0);
  const Setting& name = set(c, r.name, type::task, room);
  const Setting& fact = set(c, r.fact, type::soft, page.width());
  const Setting& figure = set(c, r.figure, type::task, page.width());
  const double inner = name.height() + fact.height() + (beside ? 0.0 : figure.height());
  const Rect rect = page.take(std::fmax(page.wet() ? 72.0 : 56.0, inner + 26.0) + 1.0);
  Node node;
  node.name = r.name.plain();
  node.verbatim = r.name.verbatim();
  node.value = r.figure.plain();
  node.description = r.fact.plain();
  if (r.key) node.id = r.key->value();
  node.selected = r.selected;
  node.role = Role::row;
  const bool pressed = page.row_ground(std::move(node), rect).pressed;
  double y = rect.y + (rect.height - 1.0 - inner) / 2.0;
  draw(c, name, rect.x, y);
  if (beside) {
    draw(c, figure, rect.x, y, rect.width, Align::right, Ink::ink);
    }
  y += name.height();
  if (!beside) {
    draw(c, figure, rect.x, y);
      y += figure.height();
  }
  draw(c, fact, rect.x, y);
  return pressed;
}

bool recipe_line(Page& page, const RecipeLine& line) {
  Canvas& c = page.canvas();
  const double grams_column =
      page.narrow() ? std::fmax(92.0, width_of(c, line.grams, type::task) + 12.0) : 116.0;
  const double share_column = page.narrow() ? 0.0 : 110.0;
  const double room = page.width() - grams_column - share_column;
  // Where the name would be cut beside its grams, they stand on the share's line.
  const bool under = page.narrow() && longest_word(c, line.name, type::text) > room;
  const Setting& name = set(c, line.name, type::text, under ? page.width() : room);
  const Setting& grams = set(c, line.grams, type::task, page.width());
  const Setting& share = set(c, line.share, page.narrow() ? type::soft : type::text, page.width());
  const Setting& note = set(c, line.note, type::soft, page.text_width());
  const bool hard = line.level == Level::near || line.level == Level::not_met;
  const Style finding_style = hard ? type::strong.in(level_ink(line.level)) : type::soft;
  const Setting& finding = set(c, line.finding, finding_style, page.text_width());
  const double first = std::fmax(name.height(), 25.0);
  const double inner = first + (page.narrow() ? share.height() : 0.0) + note.height() + finding.height();
  const Rect rect = page.take(std::fmax(page.wet() ? 64.0 : 47.0, inner + 22.0) + 1.0);
  Node node;
  node.name = line.name.plain();
  node.verbatim = line.name.verbatim();
  node.value =
      line.share.plain() + (line.share.empty() || line.grams.empty() ? "" : ", ") + line.grams.plain();
  node.description =
      line.note.plain() + (line.note.empty() || line.finding.empty() ? "" : " ") + line.finding.plain();
  if (line.key) node.id = line.key->value();
  node.selected = line.selected;
  node.role = Role::row;
  const bool pressed = page.row_ground(std::move(node), rect).pressed;
  double y = rect.y + (rect.height - 1.0 - inner) / 2.0;
  draw(c, name, rect.x, y);
  // One baseline for the sans name and the larger serif figure.
  const double base = c.baseline(type::text.font(false), type::text.line());
  const double grams_base = c.baseline(type::task.font(false), type::task.line());
  const double grams_y = y + (under ? first : 0.0) + base - grams_base;
  draw(c, grams, rect.x, grams_y, rect.width, Align::right, Ink::ink);
  const double share_x = page.narrow() ? rect.x : rect.right() - grams_column - share.width;
  const double share_y = page.narrow() ? y + first : y;
  draw(c, share, share_x, share_y);
  y += first + (page.narrow() ? share.height() : 0.0);
  draw(c, note, rect.x, y);
  y += note.height();
  draw(c, finding, rect.x, y);
  return pressed;
}

bool task(Page& page, const Task& t) {
  Canvas& c = page.canvas();
  Style style = type::task;
  if (t.urgent) style.size = 25.0;
  const bool beside = page.width() >= 560.0 && t.act;
  ActSize size;
  if (t.act) size = act_size(page, *t.act, page.width());
  const double room = page.width() - (beside ? size.width + 28.0 : 0.0);
  const Setting& sentence = set(c, t.sentence, style, std::fmin(700.0, room));
  const Setting& because = set(c, t.because, t.urgent ? type::text : type::soft, std::fmin(700.0, room));
  const double between = because.lines.empty() ? 0.0 : 4.0;
  const double words_height = sentence.height() + between + because.height();
  const double inner =
      beside ? std::fmax(words_height, size.height) : words_height + (t.act ? 16.0 + size.height : 0.0);
  const Rect rect = page.take(inner + 37.0);
  c.hairline(rect.x, rect.right(), rect.bottom() - 1.0, c.colour(Ink::rule));
  const double y = rect.y + 18.0 + (beside ? (inner - words_height) / 2.0 : 0.0);
  draw(c, sentence, rect.x, y);
  const double because_y = y + sentence.height() + between;
  draw(c, because, rect.x, because_y);
  page.say(t.sentence, Role::text, Rect{rect.x, y, sentence.width, sentence.height()});
  page.say(t.because, Role::text, Rect{rect.x, because_y, because.width, because.height()});
  if (!t.act) return false;
  const Rect at = beside ? Rect{rect.right() - size.width, rect.y + 18.0 + (inner - size.height) / 2.0,
                                size.width, size.height}
                         : Rect{rect.x, y + words_height + 16.0, size.width, size.height};
  return act_at(page, *t.act, at);
}

}  // namespace saltrafter::parts
