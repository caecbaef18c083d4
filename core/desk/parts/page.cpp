#include "core/desk/parts/page.h"

#include <cmath>

#include "core/desk/parts/pad.h"

namespace saltrafter::parts {
namespace {

constexpr double kRail = 148.0;
constexpr double kBar = 68.0;
constexpr double kTwoFrom = 1240.0;
constexpr double kGap = 64.0;
constexpr double kLow = 480.0;  // a screen lower than this, and wider than high, lies
constexpr double kEnd = 24.0;  // content ends this far above the bar or the pad

double between(double v, double low, double high) { return std::fmin(high, std::fmax(low, v)); }

}  // namespace

Page::Page(Host& host, const words::Language& language, const PageSetup& setup)
    : host_(host), language_(language), status_(setup.status), key_(setup.key.value()), wet_(setup.wet) {
  const Display& d = host.display();
  const double s = host.layout_scale();
  layout_width_ = d.width_px / s;
  layout_height_ = d.height_px / s;
  const double safe_left = d.safe_left_px / s;
  const double safe_right = d.safe_right_px / s;
  const double safe_top = d.safe_top_px / s;
  const double safe_bottom = d.safe_bottom_px / s;
  const bool places = !setup.places.empty();
  const bool rail = wide() && places;
  const double margin = narrow() ? 20.0 : 36.0;
  const double left = safe_left + (rail ? 204.0 : (wide() ? 62.0 : margin));
  double right = layout_width_ - safe_right - (wide() ? 62.0 : margin);

  const bool pad_in_second = wide() && setup.two_columns && layout_width_ >= kTwoFrom;
  // A phone that lies: under the field there is no room for keys.
  pad_beside_ = host.pad_open() && !pad_in_second && layout_height_ < kLow && layout_width_ > layout_height_;
  const bool pad_below = host.pad_open() && !pad_in_second && !pad_beside_;
  double bottom = layout_height_ - safe_bottom;
  if (pad_below) {
    bottom -= Pad::height(*this);
  } else if (places && !rail && !pad_beside_) {
    bottom -= kBar;
  }
  view_ = Rect{rail ? kRail : 0.0, 0.0, layout_width_ - (rail ? kRail : 0.0), std::fmax(80.0, bottom)};
  if (pad_beside_) {
    view_.width = std::fmax(80.0, layout_width_ - safe_right - Pad::width(*this) - view_.x);
    right = std::fmin(right, view_.right() - margin);
  }
  clip_ = Rect{0.0, 0.0, layout_width_, layout_height_};
  scrolls_ = false;
  if (rail) draw_rail(setup);
  if (places && !rail && !pad_below && !pad_beside_) draw_bar(setup);

  const double room = right - left;
  two_ = setup.two_columns && layout_width_ >= kTwoFrom;
  if (two_) {
    second_width_ = between((room - kGap) * 0.39, 320.0, 460.0);
    width_ = std::fmin(700.0, room - kGap - second_width_);
    second_width_ = std::fmin(460.0, room - kGap - width_);
    second_x_ = left + width_ + kGap;
  } else {
    width_ = std::fmin(room, 760.0);
  }
  x_ = left;
  clip_ = view_;
  scrolls_ = true;
  if (setup.from_top) host.to_top(key_);
  top_ = safe_top + (narrow() ? 24.0 : 30.0) - host.scroll(key_);
  y_ = top_;
  host_.canvas().push_clip(view_);
}

Page::~Page() {
  if (!status_.empty() && !wide()) {
    space(36.0);
    paragraph(status_, type::small, Role::status);
  }
  const double end = std::fmax(first_end_, y_);
  host_.canvas().pop_clip();
  host_.set_page(key_, view_, end - top_ + kEnd + 30.0);
  draw_thumb();
  clip_ = Rect{0.0, 0.0, layout_width_, layout_height_};
  scrolls_ = false;
  if (pad_for && host_.pad_open()) Pad(*this, *pad_for).draw();
}

void Page::second_column() {
  if (two_) {
    first_end_ = y_;
    x_ = second_x_;
    width_ = second_width_;
    y_ = top_;
    fresh_ = true;
    held_ = false;
    pending_ = 0.0;
  } else {
    space(36.0);
  }
}

void Page::space(double gap) {
  if (!fresh_ && !held_) pending_ = std::fmax(pending_, gap);
}

void Page::hold(double gap) {
  pending_ = gap;
  held_ = true;
}

Rect Page::take(double height) {
  y_ += pending_;
  const Rect rect{x(), y_, width(), height};
  y_ += height;
  pending_ = 0.0;
  held_ = false;
  fresh_ = false;
  return rect;
}

bool Page::visible(const Rect& rect) const {
  return rect.bottom() > clip_.y - 40.0 && rect.y < clip_.bottom() + 40.0;
}

Touched Page::control(Node node, bool keeps_focus) {
  Touched t;
  t.pressed = host_.pressed(node.id);
  t.held = host_.held(node.id);
  t.shows_focus = host_.shows_focus(node.id);
  host_.emit(std::move(node), clip_, scrolls_, keeps_focus);
  return t;
}

Touched Page::row_ground(Node node, const Rect& rect) {
  node.focusable = node.id != 0;
  const bool selected = node.selected;
  node.rect = rect;
  const Touched touched = control(std::move(node));
  Canvas& c = canvas();
  const Rect wide{rect.x - 8.0, rect.y, rect.width + 16.0, rect.height};
  if (selected) c.fill(wide, c.colour(Ink::sheet));
  if (touched.held) c.fill(wide, c.colour(Ink::wash));
  c.hairline(rect.x, rect.right(), rect.bottom() - 1.0, c.colour(Ink::rule));
  if (touched.shows_focus) {
    c.outline(Rect{wide.x, wide.y + 1.0, wide.width, wide.height - 3.0}, c.colour(Ink::ink), 3.0, 6.0);
  }
  return touched;
}

void Page::say(const words::Text& text, Role role, const Rect& rect, int level) {
  if (text.empty()) return;
  Node node;
  node.role = role;
  node.name = text.plain();
  node.verbatim = text.verbatim();
  node.level = level;
  node.rect = rect;
  host_.emit(std::move(node), clip_, scrolls_, false);
}

void Page::focus_ring(const Rect& r, double radius) {
  const Rect ring{r.x - 6.0, r.y - 6.0, r.width + 12.0, r.height + 12.0};
  canvas().outline(ring, canvas().colour(Ink::ink), 3.0, radius);
}

void Page::paragraph(const words::Text& text, const Style& style, Role role, int level) {
  if (text.empty()) return;
  const Setting& setting = set(canvas(), text, style, text_width());
  const Rect rect = take(setting.height());
  say(text, role, rect, level);
  if (visible(rect)) parts::draw(canvas(), setting, rect.x, rect.y);
}

bool Page::place_node(const PageSetup& setup, int i, const Rect& rect) {
  const Place& place = setup.places[static_cast<std::size_t>(i)];
  Node node;
  node.id = place.key.value();
  node.role = Role::place;
  node.name = place.name.plain();
  node.verbatim = place.name.verbatim();
  node.focusable = true;
  node.current = i == setup.current;
  node.rect = rect;
  const Touched touched = control(std::move(node));
  if (touched.pressed) chosen_ = i;
  if (touched.held) canvas().fill(rect, canvas().colour(Ink::wash));
  if (touched.shows_focus) {
    const Rect inner{rect.x + 9.0, rect.y + 3.0, rect.width - 18.0, rect.height - 6.0};
    canvas().outline(inner, canvas().colour(Ink::ink), 3.0, 6.0);
  }
  return i == setup.current;
}

void Page::draw_rail(const PageSetup& setup) {
  Canvas& c = canvas();
  const double top = host_.display().safe_top_px / host_.layout_scale();
  c.upright(kRail - 1.0, 0.0, layout_height_, c.colour(Ink::rule));
  double y = top + 33.0;
  for (int i = 0; i < static_cast<int>(setup.places.size()); ++i) {
    const Rect rect{0.0, y, kRail - 1.0, 56.0};
    const bool here = place_node(setup, i, rect);
    const Setting& name = set(c, setup.places[static_cast<std::size_t>(i)].name, type::task, kRail - 36.0);
    if (here) c.fill(Rect{0.0, y + 14.0, 6.0, 28.0}, c.colour(Ink::accent));
    parts::draw(c, name, 28.0, y + (56.0 - name.height()) / 2.0, name.width, Align::left,
                here ? Ink::ink : Ink::soft);
    y += 56.0;
  }
  if (setup.status.empty()) return;
  const Setting& status = set(c, setup.status, type::small, kRail - 36.0);
  const Rect foot{28.0, layout_height_ - 24.0 - status.height(), kRail - 36.0, status.height()};
  say(setup.status, Role::status, foot);
  parts::draw(c, status, foot.x, foot.y);
}

void Page::draw_bar(const PageSetup& setup) {
  Canvas& c = canvas();
  const Display& d = host_.display();
  const double top = layout_height_ - d.safe_bottom_px / host_.layout_scale() - kBar;
  c.hairline(0.0, layout_width_, top, c.colour(Ink::rule));
  const double n = static_cast<double>(setup.places.size());
  // Where the names do not fit at their size, they are set as large as fits, on the glass at least as ever.
  Style style = type::task;
  double widest = 0.0;
  for (const Place& place : setup.places) widest = std::fmax(widest, width_of(c, place.name, style));
  const double cell = layout_width_ / n;
  if (widest > cell - 8.0) {
    const double least = 17.0 / std::fmax(1.0, host_.layout_scale());
    style.size = std::fmax(least, std::floor(2.0 * style.size * (cell - 4.0) / widest) / 2.0);
  }
  for (int i = 0; i < static_cast<int>(setup.places.size()); ++i) {
    const Rect rect{cell * i, top + 1.0, cell, kBar - 1.0};
    const bool here = place_node(setup, i, rect);
    const words::Text& name = setup.places[static_cast<std::size_t>(i)].name;
    const Setting& set_name = set(c, name, style, cell);
    const double mark = std::fmin(92.0, cell * 0.56);
    if (here) c.fill(Rect{rect.x + (cell - mark) / 2.0, top, mark, 5.0}, c.colour(Ink::accent));
    parts::draw(c, set_name, rect.x, rect.y + (kBar - set_name.height()) / 2.0, cell, Align::centre,
                here ? Ink::ink : Ink::soft);
  }
}

void Page::draw_thumb() {
  const double content = std::fmax(first_end_, y_) - top_ + kEnd + 30.0;
  if (content <= view_.height + 1.0) return;
  const double at = host_.scroll(key_);
  const double length = std::fmax(36.0, view_.height * view_.height / content);
  const double run = (view_.height - length - 8.0) * std::fmin(1.0, at / (content - view_.height));
  Canvas& c = canvas();
  c.fill(Rect{view_.right() - 6.0, view_.y + 4.0 + run, 4.0, length},
         mix(c.colour(Ink::soft), c.colour(Ink::ground), 0.6), 2.0);
}

}  // namespace saltrafter::parts
