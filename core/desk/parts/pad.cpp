#include "core/desk/parts/pad.h"

#include <array>
#include <cmath>
#include <string>

namespace saltrafter::parts {
namespace {

constexpr double kRow = 52.0;         // at most, the height of the keys over the digits
constexpr double kMargins = 40.0;     // over and under the keys
constexpr double kFieldRoom = 190.0;  // what a field and its answer take above the pad
constexpr double kStep = 64.0;        // width of the keys that take off and add on
constexpr double kUnit = 48.0;        // width of a unit's key
constexpr double kSmallest = 8.0;     // of a key's letters, where the text is twice as large
constexpr double kLeast_px = 48.0;    // of a key's height, on the glass

}  // namespace

Pad::Measure Pad::size(const Page& page) {
  Measure m{};
  if (page.pad_beside()) {
    m.gap = 8.0;
    m.key_width = std::fmin(96.0, (page.layout_width() / 2.0 - 64.0) / 4.0);
    m.key_height = 72.0;
  } else if (page.narrow()) {
    m.gap = 8.0;
    m.key_width = (page.layout_width() - 64.0) / 4.0;
    m.key_height = 66.0;
  } else if (page.wide()) {
    m.gap = 10.0;
    m.key_width = 80.0;
    m.key_height = 64.0;
  } else {
    m.gap = 12.0;
    m.key_width = 120.0;
    m.key_height = 72.0;
  }
  // On a low screen the keys are lower: the field stays in sight.
  const Display& display = page.host().display();
  const double scale = page.host().layout_scale();
  const double margins = page.pad_beside() ? kMargins / 2.0 : kMargins + kFieldRoom;
  const double room = page.layout_height() - (display.safe_top_px + display.safe_bottom_px) / scale - margins;
  const double rows = page.host().pad_row() ? 5.0 : 4.0;
  const double least = kLeast_px / std::fmax(1.0, scale);
  m.key_height = std::fmin(m.key_height, std::fmax(least, std::floor((room - (rows - 1.0) * m.gap) / rows)));
  m.row_height = std::fmin(kRow, m.key_height);
  return m;
}

double Pad::height(const Page& page) {
  const Measure m = size(page);
  return 4.0 * m.key_height + 3.0 * m.gap + kMargins + (page.host().pad_row() ? m.row_height + m.gap : 0.0);
}

double Pad::width(const Page& page) {
  const Measure m = size(page);
  return 4.0 * m.key_width + 3.0 * m.gap + kMargins;
}

void Pad::type(std::string_view sign, bool replaces) {
  FieldState* state = page_.host().field(for_.id);
  if (state == nullptr) return;
  if (state->buffer.has_selection() && !replaces) state->buffer.end(false);
  state->buffer.type(sign);
  state->typed = true;
}

bool Pad::key_at(const Rect& rect, const words::Text& face, std::string_view name, const Style& style,
                 const words::Text& said, bool chosen) {
  Canvas& c = page_.canvas();
  Node node;
  node.id = (Key("pad") / name).value();
  node.role = Role::button;
  node.name = said.plain();
  node.verbatim = said.verbatim();
  node.selected = chosen;
  node.rect = rect;
  // The keyboard has its own digits: the pad's keys are touched, not tabbed through.
  const Touched touched = page_.control(std::move(node), true);
  c.fill(rect, c.colour(touched.held ? Ink::wash : Ink::sheet), 6.0);
  c.outline(rect, c.colour(chosen ? Ink::accent : Ink::soft), chosen ? 3.0 : 1.5, 6.0);
  const Style fitted = fitting(c, face, style, rect.width - 6.0, kSmallest);
  const Setting& set_face = set(c, face, fitted, rect.width - 4.0);
  parts::draw(c, set_face, rect.x, rect.y + (rect.height - set_face.height()) / 2.0, rect.width,
              Align::centre, style.ink);
  return touched.pressed;
}

bool Pad::key(const Measure& m, int column, int row, const words::Text& face, std::string_view name,
              Family family, const words::Text& said) {
  const Rect rect{m.x + column * (m.key_width + m.gap), m.y + row * (m.key_height + m.gap), m.key_width,
                  m.key_height};
  const bool digit = family == Family::serif;
  const double size = digit ? 30.0 : (name == "erase" ? 18.0 : 28.0);
  return key_at(rect, face, name,
                Style{family, !digit, std::fmin(size, 0.8 * m.key_height), 1.2,
                      digit ? Ink::ink : Ink::accent},
                said, false);
}

// Adds to what stands in the field; text that is no plain number yet stays.
void Pad::step(double by) {
  FieldState* state = page_.host().field(for_.id);
  if (state == nullptr) return;
  const char mark = page_.language().decimal_mark;
  const Result<TypedNumber> now =
      parse_number(state->buffer.text(), NumberRule{"", NumberKind::plain, "", -1e6, 1e6});
  if (!now.ok()) return;
  std::string text = format_number(now.value().value + by, 1, NumberStyle{mark});
  if (text.size() > 2 && text[text.size() - 2] == mark && text.back() == '0') text.resize(text.size() - 2);
  state->buffer.set(text);
  state->typed = true;
}

// Steps, units and the last value, over the digits and never beside them.
void Pad::row(const Measure& m, double y) {
  const words::Language& l = page_.language();
  const Style face{Family::sans, true, 18.0, 1.2, Ink::accent};
  const double whole = 4.0 * m.key_width + 3.0 * m.gap;
  const std::size_t units = for_.units.size() > 1 ? for_.units.size() : 0;
  // Where the screen is narrow for its letters, the keys are as wide as fits.
  const double gaps = (for_.step > 0.0 ? 3.0 * m.gap : 0.0) + static_cast<double>(units) * m.gap;
  const double keys = (for_.step > 0.0 ? 2.0 * kStep : 0.0) + static_cast<double>(units) * kUnit;
  const double shrunk = std::fmin(1.0, (whole + m.gap - gaps) / std::fmax(1.0, keys));
  const double step_width = kStep * shrunk;
  const double unit_width = kUnit * shrunk;
  double x = m.x;
  if (for_.step > 0.0) {
    const words::Text size = words::number(l, for_.step, for_.step < 1.0 ? 1 : 0);
    const words::Text less = words::text(l, words::Id::pad_less, {words::arg("step", size)});
    const words::Text more = words::text(l, words::Id::pad_more, {words::arg("step", size)});
    if (key_at(Rect{x, y, step_width, m.row_height}, less, "less", face, less, false)) step(-for_.step);
    x += step_width + m.gap;
    if (key_at(Rect{x, y, step_width, m.row_height}, more, "more", face, more, false)) step(for_.step);
    x += step_width + 2.0 * m.gap;
  }
  FieldState* state = page_.host().field(for_.id);
  for (std::size_t i = 0; i < units; ++i) {
    const std::string& unit = for_.units[i];
    const bool chosen = state != nullptr && (i == 0 ? state->unit.empty() : state->unit == unit);
    const words::Text name = words::verbatim(unit);
    const Rect rect{x, y, unit_width, m.row_height};
    if (key_at(rect, name, "unit " + unit, face, name, chosen) && state != nullptr) {
      state->unit = i == 0 ? std::string() : unit;
    }
    x += unit_width + m.gap;
  }
  if (for_.last.empty()) return;
  const words::Text last = words::text(l, words::Id::pad_last, {words::arg("value", for_.last)});
  const double width = std::fmin(whole - (x - m.x), width_of(page_.canvas(), last, face) + 24.0);
  if (width < 64.0) return;
  const Rect rect{m.x + whole - width, y, width, m.row_height};
  if (key_at(rect, last, "last", face, last, false) && state != nullptr) {
    state->buffer.set(for_.last);
    state->unit.clear();
    state->typed = true;
  }
}

void Pad::act(const Measure& m) {
  Canvas& c = page_.canvas();
  const words::Text label = for_.act.empty() ? words::text(page_.language(), words::Id::pad_done) : for_.act;
  const Rect rect{m.x + 3.0 * (m.key_width + m.gap), m.y + 2.0 * (m.key_height + m.gap), m.key_width,
                  2.0 * m.key_height + m.gap};
  Node node;
  node.id = (Key("pad") / "act").value();
  node.role = Role::button;
  node.name = label.plain();
  node.verbatim = label.verbatim();
  node.ready = for_.ready;
  node.rect = rect;
  const Touched touched = page_.control(std::move(node), true);
  Ink ink = Ink::on_accent;
  if (for_.ready) {
    const Colour fill = c.colour(Ink::accent);
    c.fill(rect, touched.held ? mix(c.colour(Ink::ink), fill, 0.2) : fill, 6.0);
  } else {
    c.fill(rect, c.colour(Ink::ground), 6.0);
    c.dashed_outline(rect, c.colour(Ink::soft), 1.5, 6.0);
    ink = Ink::soft;
  }
  Style style = type::act;
  style.size = 19.0;
  const double room = rect.width - (rect.width < kUnit ? 4.0 : 12.0);
  const Setting& set_label = set(c, label, fitting(c, label, style, room, kSmallest), room);
  parts::draw(c, set_label, rect.x, rect.y + (rect.height - set_label.height()) / 2.0, rect.width,
              Align::centre, ink);
  if (touched.pressed && for_.ready) {
    if (FieldState* state = page_.host().field(for_.id); state != nullptr) state->acted = state->by_pad = true;
    page_.host().leave();
  }
}

void Pad::draw() {
  Measure m = size(page_);
  Canvas& c = page_.canvas();
  const double whole = 4.0 * m.key_width + 3.0 * m.gap;
  const double safe = page_.host().display().safe_bottom_px / page_.host().layout_scale();
  Rect ground;
  if (page_.wide() && page_.has_two_columns()) {
    m.x = page_.second_x();
    m.y = std::fmin(std::fmax(24.0, for_.field.y), page_.layout_height() - height(page_) + 12.0);
    // The whole column gives way: what stood over and under the keys would only look torn.
    ground = Rect{m.x - 16.0, 0.0, std::fmax(whole, page_.second_width()) + 32.0, page_.layout_height()};
  } else if (page_.pad_beside()) {
    const double safe_right = page_.host().display().safe_right_px / page_.host().layout_scale();
    const double safe_top = page_.host().display().safe_top_px / page_.host().layout_scale();
    m.x = page_.layout_width() - safe_right - kMargins / 2.0 - whole;
    m.y = safe_top + kMargins / 4.0;
    const double left = page_.view().right();
    ground = Rect{left, 0.0, page_.layout_width() - left, page_.layout_height()};
  } else {
    m.x = (page_.layout_width() - whole) / 2.0;
    m.y = page_.layout_height() - safe - height(page_) + 20.0;
    ground = Rect{0.0, m.y - 20.0, page_.layout_width(), height(page_) + safe};
  }
  c.fill(ground, c.colour(Ink::ground));
  if (page_.pad_beside()) c.upright(ground.x, 0.0, ground.bottom(), c.colour(Ink::rule));
  if (ground.x <= 0.0) c.hairline(0.0, ground.right(), ground.y, c.colour(Ink::rule));
  page_.host().block(ground);
  if (page_.host().pad_row()) {
    row(m, m.y);
    m.y += m.row_height + m.gap;
  }

  const words::Language& l = page_.language();
  const std::array<const char*, 9> digits = {"7", "8", "9", "4", "5", "6", "1", "2", "3"};
  for (int i = 0; i < 9; ++i) {
    const char* d = digits[static_cast<std::size_t>(i)];
    if (key(m, i % 3, i / 3, words::verbatim(d), d, Family::serif, words::verbatim(d))) type(d, true);
  }
  if (key(m, 0, 3, words::verbatim("0"), "0", Family::serif, words::verbatim("0"))) type("0", true);
  const std::string mark(1, l.decimal_mark);
  if (key(m, 1, 3, words::verbatim(mark), "mark", Family::serif,
          words::text(l, words::Id::pad_decimal_mark))) {
    type(mark, true);
  }
  const words::Text minus = words::verbatim("\xE2\x88\x92");
  if (key(m, 2, 3, minus, "minus", Family::sans, words::text(l, words::Id::pad_minus)))
    type("\xE2\x88\x92", false);
  const words::Text erase = words::text(l, words::Id::pad_erase);
  if (key(m, 3, 0, erase, "erase", Family::sans, erase)) {
    FieldState* state = page_.host().field(for_.id);
    if (state != nullptr) {
      if (state->buffer.has_selection()) state->buffer.end(false);
      state->buffer.backspace();
      state->typed = true;
    }
  }
  const words::Text plus = words::verbatim("+");
  if (key(m, 3, 1, plus, "plus", Family::sans, words::text(l, words::Id::pad_plus))) type("+", false);
  act(m);
}

}  // namespace saltrafter::parts
