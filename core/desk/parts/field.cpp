#include "core/desk/parts/field.h"

#include <algorithm>
#include <cmath>

#include "core/desk/parts/cluster.h"

namespace saltrafter::parts {
namespace {

struct Measures {
  Style value;
  Style unit;
  double box = 44.0;  // height of the line with the value
  double width = 0.0;
  double caret = 2.0;
};

Measures measures(Page& page, const Field& field, Role role) {
  Measures m;
  m.value = type::value;
  m.unit = type::text;
  m.width = std::fmin(page.width(), role == Role::spinbutton ? 240.0 : 460.0);
  if (field.large) {
    m.value = type::typed;
    m.unit = type::task;
    m.box = 72.0;
    m.width = page.text_width();
    m.caret = 4.0;
  } else if (role == Role::textbox) {
    m.value = type::task;
  }
  return m;
}

class FieldPart {
 public:
  FieldPart(Page& page, const Field& field, Role role)
      : page_(page), field_(field), role_(role), m_(measures(page, field, role)) {}

  Typed run() {
    judge();
    label();
    box();
    beneath();
    page_.space(24.0);
    return std::move(typed_);
  }

 private:
  std::uint64_t id() const { return field_.key.value(); }

  // A field that was left in this frame: its text is taken, or stays with its error.
  void judge() {
    FieldState* state = page_.host().field(id());
    if (state == nullptr) return;
    if (state->left) {
      state->left = false;
      const std::string text = in_unit(*state);
      const bool empty = text.find_first_not_of(' ') == std::string::npos;
      state->error =
          (empty && field_.may_stay_empty) || !field_.judge ? words::Text() : field_.judge(text).error;
      state->kept = !state->error.empty();
      if (!state->kept) {
        typed_.committed = text;
        typed_.acted = state->acted;
        typed_.by_pad = state->by_pad;
        if (!state->editing) {
          page_.host().drop_field(id());
          state = nullptr;
        }
      }
      if (state != nullptr) state->acted = state->by_pad = false;
      page_.host().wake();
    }
    if (state == nullptr) return;
    typed_.judged = in_unit(*state);
    typed_.editing = state->editing;
    typed_.changed = state->typed;
    if (state->editing && state->typed) state->error = words::Text();
  }

  // What stands there is still what stood there before: a unit chosen now is for what will be typed.
  static bool untouched(const FieldState& state) { return state.editing && !state.typed && !state.kept; }

  // What was typed with the unit that was chosen for it, unless one was typed too.
  static std::string in_unit(const FieldState& state) {
    if (untouched(state)) return state.buffer.text();
    const std::string& text = state.buffer.text();
    const bool named = std::any_of(text.begin(), text.end(), [](char c) {
      return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || c == '%' || static_cast<unsigned char>(c) == 0xC2;
    });
    const bool empty = text.find_first_not_of(' ') == std::string::npos;
    return state.unit.empty() || named || empty ? text : text + " " + state.unit;
  }

  words::Text unit() {
    const FieldState* state = page_.host().field(id());
    const bool other = state != nullptr && !state->unit.empty() && !untouched(*state);
    return other ? words::verbatim(state->unit) : field_.unit;
  }

  std::string shown() {
    const FieldState* state = page_.host().field(id());
    return state != nullptr ? state->buffer.text() : (typed_.committed ? *typed_.committed : field_.value);
  }

  words::Text error() {
    const FieldState* state = page_.host().field(id());
    if (state != nullptr && state->kept && !state->typed) return state->error;
    return state != nullptr && state->editing ? words::Text() : field_.error;
  }

  void label() {
    page_.space(8.0);
    if (field_.label.empty()) return;
    page_.paragraph(field_.label, type::text);
  }

  void box() {
    Canvas& c = page_.canvas();
    typed_.text = shown();
    const words::Text wrong = error();
    const words::Text unit_name = unit();
    const double unit_width = unit_name.empty() ? 0.0 : width_of(c, unit_name, m_.unit) + 12.0;
    const double room = m_.width - unit_width;
    if (!typed_.editing) {
      // Long words stand on several lines while nobody types; nothing is cut.
      while (m_.value.size > 18.0 && width_of(c, words::verbatim(typed_.text), m_.value) > room)
        m_.value.size -= 2.0;
      const Setting& lines = set(c, words::verbatim(typed_.text), m_.value, room);
      m_.box = std::fmax(m_.box, lines.height() + 12.0);
    }
    Rect rect = page_.take(m_.box);
    rect.width = m_.width;
    Node node;
    node.id = id();
    node.role = role_;
    node.name = field_.label.plain();
    node.verbatim = field_.label.verbatim();
    node.value = typed_.text;
    node.min = field_.min;
    node.max = field_.max;
    node.focusable = true;
    node.invalid = !wrong.empty();
    node.description = (wrong.empty() ? field_.answer : wrong).plain();
    node.rect = rect;
    const Touched touched = page_.control(std::move(node));
    if (touched.held && !typed_.editing) c.fill(rect, c.colour(Ink::wash));
    if (touched.pressed) place_caret(rect, room);
    const double base = rect.y + c.baseline(m_.value.font(false), m_.box) + 2.0;
    if (typed_.editing) {
      const bool shell_draws = role_ == Role::textbox && page_.host().words_typed_by_shell();
      if (!shell_draws) draw_edited(rect, room, base);
    } else {
      const Setting& lines = set(c, words::verbatim(typed_.text), m_.value, room);
      draw(c, lines, rect.x, rect.y + (m_.box - lines.height()) / 2.0 + 2.0);
    }
    if (!unit_name.empty()) {
      const Setting& set_unit = set(c, unit_name, m_.unit, m_.width);
      const double y = base - c.baseline(m_.unit.font(false), m_.unit.line());
      draw(c, set_unit, rect.x, y, rect.width, Align::right, m_.unit.ink);
      page_.say(unit_name, Role::text, Rect{rect.right() - set_unit.width, y, set_unit.width, set_unit.height()});
    }
    const Ink line_ink = typed_.editing ? Ink::accent : (wrong.empty() ? Ink::soft : Ink::not_met);
    const double thickness = typed_.editing || !wrong.empty() ? 3.0 : 1.5;
    c.fill(Rect{rect.x, rect.bottom() - (thickness > 2.0 ? 1.0 : 0.0), rect.width, thickness},
           c.colour(line_ink));
    if (touched.shows_focus) page_.focus_ring(Rect{rect.x, rect.y, rect.width, rect.height + 2.0});
    if (typed_.editing && role_ == Role::spinbutton) {
      page_.pad_for =
          Page::PadFor{rect, field_.pad_act, field_.pad_ready, id(), field_.units, field_.step, field_.last};
      page_.host().set_pad_row(field_.units.size() > 1 || field_.step > 0.0 || !field_.last.empty());
    }
  }

  // Where the text starts so that the caret shows.
  double shift(const TextBuffer& buffer, double room) {
    const double at = page_.canvas().caret_x(buffer.text(), buffer.caret(), m_.value.font(false));
    return std::fmax(0.0, at - (room - 6.0));
  }

  void draw_edited(const Rect& rect, double room, double base) {
    Canvas& c = page_.canvas();
    const FieldState* state = page_.host().field(id());
    if (state == nullptr) return;
    const TextBuffer& buffer = state->buffer;
    const Font font = m_.value.font(false);
    const double moved = shift(buffer, room);
    const std::string_view text = buffer.text();
    const double caret_x = rect.x - moved + c.caret_x(text, buffer.caret(), font);
    const double top = base - 0.82 * m_.value.size;
    const double bottom = base + 0.22 * m_.value.size;
    c.push_clip(Rect{rect.x - 1.0, rect.y, room + 4.0, rect.height + 2.0});
    if (buffer.has_selection()) {
      const double other_x = rect.x - moved + c.caret_x(text, buffer.anchor(), font);
      c.fill(Rect{std::fmin(caret_x, other_x), top, std::abs(caret_x - other_x), bottom - top},
             mix(c.colour(Ink::accent), c.colour(Ink::ground), 0.24));
    }
    c.letters(rect.x - moved, base, text, font, c.colour(Ink::ink));
    c.fill(Rect{caret_x, top, m_.caret, bottom - top}, c.colour(Ink::accent));
    c.pop_clip();
  }

  void place_caret(const Rect& rect, double room) {
    FieldState* state = page_.host().field(id());
    const std::optional<double> press_x = page_.host().press_x();
    if (state == nullptr || !press_x) return;
    // The first touch of a number selects it, so that a new weight replaces the old; later ones place the
    // caret.
    if (role_ == Role::spinbutton && state->buffer.has_selection() && !state->typed) return;
    Canvas& c = page_.canvas();
    const Font font = m_.value.font(false);
    const double wanted = *press_x / page_.host().layout_scale() - rect.x + shift(state->buffer, room);
    const std::string& text = state->buffer.text();
    std::size_t best = 0;
    double nearest = std::abs(c.caret_x(text, 0, font) - wanted);
    for (std::size_t at = 0; at < text.size();) {
      at = cluster_end(text, at);
      const double off = std::abs(c.caret_x(text, at, font) - wanted);
      if (off < nearest) {
        nearest = off;
        best = at;
      }
    }
    state->buffer.move_to(best, false);
  }

  void beneath() {
    Canvas& c = page_.canvas();
    const words::Text wrong = error();
    page_.space(7.0);
    if (!wrong.empty()) {
      const Style style = type::strong.in(Ink::not_met);
      const Setting& lines = set(c, wrong, style, page_.text_width() - 18.0);
      const Rect rect = page_.take(lines.height());
      // The drawn mark: a stroke and a point.
      c.fill(Rect{rect.x + 2.0, rect.y + 5.0, 4.0, 10.0}, c.colour(Ink::not_met), 1.0);
      c.disc(rect.x + 4.0, rect.y + 19.0, 2.4, c.colour(Ink::not_met));
      draw(c, lines, rect.x + 18.0, rect.y);
      page_.say(wrong, Role::alert, rect);
      return;
    }
    words::Text answer = field_.answer;
    if (typed_.editing && field_.judge && typed_.changed) answer = field_.judge(typed_.judged).answer;
    page_.paragraph(answer, field_.large ? Style{Family::sans, false, 20.0, 1.4, Ink::ink} : type::text,
                    Role::status);
  }

  Page& page_;
  const Field& field_;
  Role role_;
  Measures m_;
  Typed typed_;
};

}  // namespace

FontData text_field_face() { return gentium_regular(); }

Typed number_field(Page& page, const Field& field) { return FieldPart(page, field, Role::spinbutton).run(); }

Typed text_field(Page& page, const Field& field) { return FieldPart(page, field, Role::textbox).run(); }

}  // namespace saltrafter::parts
