#include "core/desk/parts/finding.h"

#include <cmath>

namespace saltrafter::parts {
namespace {

class BarDrawing {
 public:
  BarDrawing(Canvas& canvas, const LimitBar& bar, double x, double y, double width, Ink ink)
      : c_(canvas), bar_(bar), x_(x), y_(y), width_(width), ink_(ink) {}

  void draw() {
    const double mark = at(bar_.limit);
    const Rect forbidden =
        bar_.at_most ? Rect{mark, y_ - 6.0, x_ + width_ - mark, 12.0} : Rect{x_, y_ - 6.0, mark - x_, 12.0};
    c_.hatch(forbidden, c_.colour(Ink::soft));
    if (bar_.uncertainty > 0.0) {
      point();
    } else {
      bar(mark);
    }
    c_.fill(Rect{mark - 1.0, y_ - 9.0, 2.0, 18.0}, c_.colour(Ink::ink));
  }

 private:
  double at(double value) const {
    const double span = bar_.high - bar_.low;
    const double share = span > 0.0 && std::isfinite(value) ? (value - bar_.low) / span : 0.0;
    return x_ + width_ * std::fmin(1.0, std::fmax(0.0, share));
  }

  void bar(double mark) {
    const double end = at(bar_.value);
    c_.fill(Rect{x_, y_ - 3.0, end - x_, 6.0}, c_.colour(ink_));
    // Thicker where it must not be.
    if (bar_.at_most && end > mark) c_.fill(Rect{mark, y_ - 6.0, end - mark, 12.0}, c_.colour(ink_));
  }

  void point() {
    const double left = at(bar_.value - bar_.uncertainty);
    const double right = at(bar_.value + bar_.uncertainty);
    c_.fill(Rect{left, y_ - 1.0, right - left, 2.0}, c_.colour(ink_));
    c_.fill(Rect{left - 1.0, y_ - 5.0, 2.0, 10.0}, c_.colour(ink_));
    c_.fill(Rect{right - 1.0, y_ - 5.0, 2.0, 10.0}, c_.colour(ink_));
    c_.disc(at(bar_.value), y_, 5.0, c_.colour(ink_));
  }

  Canvas& c_;
  const LimitBar& bar_;
  double x_;
  double y_;
  double width_;
  Ink ink_;
};

}  // namespace

LimitBar bar_from_zero(double value, double limit, bool at_most) {
  // A most stands at three quarters, a least at two fifths: there is room to see what lies beyond.
  return LimitBar{value, limit, at_most, 0.0, limit * (at_most ? 1.3 : 2.5), 0.0};
}

LimitBar bar_of_water_activity(double value, double limit, double uncertainty) {
  return LimitBar{value, limit, true, 0.80, 1.00, uncertainty};
}

LimitBar bar_of_ph(double value, double limit, double uncertainty) {
  return LimitBar{value, limit, true, 4.0, 6.5, uncertainty};
}

bool finding(Page& page, const FindingRow& f) {
  Canvas& c = page.canvas();
  const words::Text word = level_word(page.language(), f.level);
  const bool loud = f.level == Level::met || f.level == Level::near || f.level == Level::not_met;
  const Style word_style = (loud ? type::strong : type::soft).in(level_ink(f.level));
  const Setting& level = set(c, word, word_style, page.width());
  // The word stands at the right of the rule's name, or beneath where it would cut a word of it.
  const double rule_room = page.width() - level.width - 20.0;
  const bool under = longest_word(c, f.rule, type::text) > rule_room;
  const Setting& rule = set(c, f.rule, type::text, under ? page.width() : rule_room);
  const double first = rule.height() + (under ? level.height() : 0.0);
  const bool has_bar = f.bar.has_value() || f.level == Level::not_known;
  // One length for all bars of a column, so that their marks can be compared.
  const double bar_beside = page.width() < 380.0 ? 120.0 : 160.0;
  const double found_width = width_of(c, f.found, type::text);
  const bool beside = !has_bar || found_width + bar_beside + 20.0 <= page.width();
  const Setting& found =
      set(c, f.found, type::text, page.width() - (beside && has_bar ? bar_beside + 20.0 : 0.0));
  std::vector<const Setting*> beneath;
  double beneath_height = 0.0;
  std::string beneath_words;
  for (const words::Text& text : f.beneath) {
    beneath.push_back(&set(c, text, type::text, page.text_width()));
    beneath_height += beneath.back()->height() + 4.0;
    beneath_words += " " + text.plain();
  }
  const double bar_line = has_bar && !beside ? 26.0 : 0.0;
  const double second = std::fmax(found.height(), has_bar && beside ? 25.0 : 0.0);
  const double beneath_gap = beneath.empty() ? 0.0 : 6.0;
  const double inner = first + second + bar_line + beneath_gap + beneath_height;
  const Rect rect = page.take(inner + 25.0);
  Node node;
  if (f.key) node.id = f.key->value();
  node.role = Role::row;
  node.name = f.rule.plain();
  node.verbatim = f.rule.verbatim();
  node.value = word.plain();
  node.description = f.found.plain() + beneath_words;
  const bool pressed = page.row_ground(std::move(node), rect).pressed;
  double y = rect.y + 12.0;
  draw(c, rule, rect.x, y);
  draw(c, level, rect.x, under ? y + rule.height() : y, rect.width, under ? Align::left : Align::right,
       word_style.ink);
  y += first;
  draw(c, found, rect.x, y);
  const double bar_width = beside ? bar_beside : rect.width;
  const double bar_x = rect.right() - bar_width;
  const double bar_y = beside ? y + 13.0 : y + second + 13.0;
  if (f.bar) {
    BarDrawing(c, *f.bar, bar_x, bar_y, bar_width, level_ink(f.level)).draw();
  } else if (f.level == Level::not_known) {
    c.dashes(bar_x, bar_y, bar_x + bar_width, bar_y, c.colour(Ink::soft), 2.0, 3.0, 6.0);
  }
  y += second + bar_line + beneath_gap;
  for (const Setting* setting : beneath) {
    draw(c, *setting, rect.x, y);
    y += setting->height() + 4.0;
  }
  return pressed;
}

}  // namespace saltrafter::parts
