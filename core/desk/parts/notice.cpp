#include "core/desk/parts/notice.h"

#include <cmath>

namespace saltrafter::parts {

std::optional<int> notice(Page& page, const words::Text& text, const std::vector<Act>& acts) {
  Canvas& c = page.canvas();
  page.space(8.0);
  std::vector<ActSize> sizes;
  double acts_width = 0.0;
  double acts_height = 0.0;
  for (const Act& a : acts) {
    sizes.push_back(act_size(page, a, page.width() / 2.0));
    acts_width += sizes.back().width;
    acts_height = std::fmax(acts_height, sizes.back().height);
  }
  // A few words keep their line; a longer text gets the whole width, and its acts stand beneath.
  const bool beside = width_of(c, text, type::text) + acts_width + 36.0 <= page.width();
  const Setting& words = set(c, text, type::text, page.width() - 32.0 - (beside ? acts_width + 8.0 : 0.0));
  const double inner = beside ? std::fmax(words.height(), acts_height)
                              : words.height() + (acts.empty() ? 10.0 : acts_height);
  const Rect rect = page.take(inner + 16.0);
  c.fill(rect, c.colour(Ink::wash));
  c.fill(Rect{rect.x, rect.y, rect.width, 3.0}, c.colour(Ink::accent));
  const double y = rect.y + 10.0 + (beside ? (inner - words.height()) / 2.0 : 0.0);
  draw(c, words, rect.x + 16.0, y);
  page.say(text, Role::status, Rect{rect.x + 16.0, y, words.width, words.height()});
  page.space(16.0);
  std::optional<int> pressed;
  double x = beside ? rect.right() - acts_width - 4.0 : rect.x + 4.0;
  const double top = beside ? rect.y + 10.0 + (inner - acts_height) / 2.0 : y + words.height();
  for (std::size_t i = 0; i < acts.size(); ++i) {
    if (act_at(page, acts[i], Rect{x, top, sizes[i].width, sizes[i].height})) pressed = static_cast<int>(i);
    x += sizes[i].width;
  }
  return pressed;
}

bool trouble(Page& page, const words::Text& what, const words::Text& meanwhile, const std::optional<Act>& a) {
  Canvas& c = page.canvas();
  page.space(8.0);
  const Rect line = page.take(3.0);
  c.fill(line, c.colour(Ink::not_met));
  page.space(8.0);
  page.paragraph(what, type::strong.in(Ink::not_met), Role::alert);
  page.paragraph(meanwhile, type::text);
  page.hold(2.0);
  const bool pressed = a && act(page, *a);
  page.space(8.0);
  return pressed;
}

bool progress(Page& page, Key key, const words::Text& text, double done) {
  Canvas& c = page.canvas();
  page.space(16.0);
  page.paragraph(text, type::text);
  const Act stop{key / "stop", words::text(page.language(), words::Id::stop), ActKind::bare, true, {}};
  const ActSize size = act_size(page, stop, 200.0);
  const Rect line = page.take(size.height);
  const double share = std::isfinite(done) ? std::fmin(1.0, std::fmax(0.0, done)) : 0.0;
  const Rect bar{line.x, line.y + (line.height - 12.0) / 2.0,
                 std::fmin(250.0, line.width - size.width - 16.0), 12.0};
  c.fill(Rect{bar.x, bar.y, bar.width * share, bar.height}, c.colour(Ink::accent));
  c.outline(bar, c.colour(Ink::soft), 1.0);
  Node node;
  node.id = (key / "bar").value();
  node.role = Role::progressbar;
  node.name = text.plain();
  node.verbatim = text.verbatim();
  node.min = 0.0;
  node.max = 1.0;
  node.now = share;
  node.rect = bar;
  page.control(std::move(node));
  const bool pressed = act_at(page, stop, Rect{bar.right() + 12.0, line.y, size.width, size.height});
  page.space(16.0);
  return pressed;
}

bool empty_state(Page& page, const words::Text& what, const words::Text& what_to_do,
                 const std::optional<Act>& a) {
  page.space(16.0);
  page.paragraph(what, type::task);
  page.space(2.0);
  page.paragraph(what_to_do, type::text);
  const bool pressed = a && act(page, *a);
  page.space(16.0);
  return pressed;
}

}  // namespace saltrafter::parts
