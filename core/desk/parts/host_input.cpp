// How input becomes presses, typing, focus and scrolling.
#include <cmath>

#include "core/desk/parts/host.h"

namespace saltrafter::parts {
namespace {

constexpr double kDrag = 8.0;    // CSS px; a finger that moves farther scrolls
constexpr double kPadDrag = 12.0;   // the same on the pad, where wet fingers slip
constexpr double kBounce_s = 0.15;  // a contact of the pad so soon after another is the same one
constexpr double kBeside = 110.0;   // CSS px; and so is one so near while the first is on: a key and its gap
constexpr double kPinch = 24.0;  // CSS px; two fingers, also one above the other, are at least so far apart

}  // namespace

void Host::push(Event event) { events_.push_back(std::move(event)); }

void Host::pointer_down(double x, double y, PointerSource source, int pointer) {
  Event e;
  e.kind = Event::Kind::pointer_down;
  e.x_px = x;
  e.y_px = y;
  e.source = source;
  e.pointer = pointer;
  push(std::move(e));
}

void Host::pointer_move(double x, double y, PointerSource source, int pointer) {
  // A mouse that only passes over changes nothing, so it costs nothing.
  if (!gesture_.down && events_.empty()) return;
  Event e;
  e.kind = Event::Kind::pointer_move;
  e.x_px = x;
  e.y_px = y;
  e.source = source;
  e.pointer = pointer;
  push(std::move(e));
}

void Host::pointer_up(double x, double y, PointerSource source, int pointer) {
  Event e;
  e.kind = Event::Kind::pointer_up;
  e.x_px = x;
  e.y_px = y;
  e.source = source;
  e.pointer = pointer;
  push(std::move(e));
}

void Host::pointer_cancel() {
  Event e;
  e.kind = Event::Kind::pointer_cancel;
  push(std::move(e));
}

void Host::wheel(double down_px) {
  Event e;
  e.kind = Event::Kind::wheel;
  e.y_px = down_px;
  push(std::move(e));
}

void Host::key_down(KeyPress key, bool shift) {
  Event e;
  e.kind = Event::Kind::key;
  e.key = key;
  e.shift = shift;
  push(std::move(e));
}

void Host::text(std::string_view utf8) {
  Event e;
  e.kind = Event::Kind::text;
  e.text = std::string(utf8);
  push(std::move(e));
}

bool Host::activate(std::uint64_t id) {
  if (target(id) == nullptr) return false;
  Event e;
  e.kind = Event::Kind::press;
  e.id = id;
  push(std::move(e));
  return true;
}

bool Host::fill(std::uint64_t id, std::string_view utf8) {
  const Target* t = target(id);
  if (t == nullptr || !t->field) return false;
  Event e;
  e.kind = Event::Kind::fill;
  e.id = id;
  e.text = std::string(utf8);
  push(std::move(e));
  return true;
}

bool Host::focus(std::uint64_t id, bool with_pad) {
  if (target(id) == nullptr) return false;
  Event e;
  e.kind = Event::Kind::focus;
  e.id = id;
  e.touched = with_pad;
  push(std::move(e));
  return true;
}

void Host::leave() {
  Event e;
  e.kind = Event::Kind::leave;
  push(std::move(e));
}

bool Host::press(const Node& wanted) {
  const std::uint64_t id = wanted.id;
  const Target* t = target(id);
  if (t == nullptr) return false;
  if (t->scrolls) reveal(id);
  t = target(id);
  if (t->hit.empty()) return false;
  const double x = t->hit.x + t->hit.width / 2.0;
  const double y = t->hit.y + t->hit.height / 2.0;
  const Target* top = hit(x, y);
  if (top == nullptr || top->id != id) return false;
  pad_touched_s_ = -1.0;  // meant, however soon
  pointer_down(x, y, PointerSource::touch);
  pointer_up(x, y, PointerSource::touch);
  return true;
}

bool Host::take(const Event& e) {
  settle(1);
  switch (e.kind) {
    case Event::Kind::pointer_down: {
      if (gesture_.down) {
        if (gesture_.pointer != e.pointer) take_second_finger(e);
        return false;
      }
      const bool gliding = std::abs(velocity_) > 60.0;
      velocity_ = 0.0;
      focus_visible_ = false;
      const Target* t = gliding ? nullptr : hit(e.x_px, e.y_px);
      gesture_ = Gesture();
      gesture_.down = true;
      gesture_.pointer = e.pointer;
      gesture_.source = e.source;
      gesture_.target = t == nullptr ? 0 : t->id;
      gesture_.start_x = gesture_.last_x = e.x_px;
      gesture_.start_y = gesture_.last_y = e.y_px;
      gesture_.dragging = gliding;
      if (t != nullptr && t->keeps_focus && e.source == PointerSource::touch) {
        if (now_s_ - pad_touched_s_ < kBounce_s) gesture_.target = 0;
        pad_touched_s_ = now_s_;
      }
      return false;
    }
    case Event::Kind::pointer_move:
      take_pointer_move(e);
      return false;
    case Event::Kind::pointer_up:
      return take_pointer_up(e);
    case Event::Kind::pointer_cancel:
      gesture_ = Gesture();
      velocity_ = 0.0;
      return false;
    case Event::Kind::wheel:
      scroll_by(e.y_px / text_scale_);
      return false;
    case Event::Kind::key:
      return take_key(e);
    case Event::Kind::text: {
      FieldState* state = active();
      if (state != nullptr) {
        state->buffer.type(e.text);
        state->typed = true;
        pad_open_ = false;  // a keyboard is at hand
      }
      return false;
    }
    case Event::Kind::press:
      press_x_.reset();
      if (e.touched) press_x_ = e.x_px;
      return deliver_press(e.id, e.source == PointerSource::touch);
    case Event::Kind::fill: {
      if (set_focus(e.id)) {
        events_.push_front(e);
        return true;
      }
      FieldState* state = active();
      if (state == nullptr) return false;
      state->buffer.set(e.text);
      state->typed = true;
      reveal_ = e.id;
      return false;
    }
    case Event::Kind::focus: {
      const bool judged = set_focus(e.id);
      focus_visible_ = !e.touched;
      pad_open_ = pad_open_ || e.touched;
      reveal_ = e.id;
      return judged;
    }
    case Event::Kind::leave:
      return set_focus(0);
  }
  return false;
}

Steering& Host::steering(std::uint64_t id) {
  if (steered_ != id) steering_ = Steering();
  steered_ = id;
  return steering_;
}

// On a part that is steered two fingers pinch; elsewhere neither presses. A wet finger that meets two keys of the
// pad, or one twice, has touched the first.
void Host::take_second_finger(const Event& e) {
  const Target* here = target(gesture_.target);
  const Target* there = hit(e.x_px, e.y_px);
  if (gesture_.pinching || gesture_.dragging) return;
  if (here != nullptr && here->steered && here == there && e.source == PointerSource::touch) {
    gesture_.pinching = true;
    gesture_.second = e.pointer;
    gesture_.second_x = e.x_px;
    return;
  }
  const bool same = now_s_ - pad_touched_s_ < kBounce_s ||
                    std::hypot(e.x_px - gesture_.start_x, e.y_px - gesture_.start_y) < kBeside;
  if (here != nullptr && here->keeps_focus && same) return;
  gesture_.target = 0;
}

void Host::take_pinch(const Event& e) {
  if (e.pointer != gesture_.pointer && e.pointer != gesture_.second) return;
  const double apart = std::fmax(kPinch, std::abs(gesture_.last_x - gesture_.second_x));
  const double middle = (gesture_.last_x + gesture_.second_x) / 2.0;
  (e.pointer == gesture_.pointer ? gesture_.last_x : gesture_.second_x) = e.x_px;
  Steering& s = steering(gesture_.target);
  s.pinch = true;
  s.zoom *= std::fmax(kPinch, std::abs(gesture_.last_x - gesture_.second_x)) / apart;
  s.at_px = (gesture_.last_x + gesture_.second_x) / 2.0;
  s.pan_px += s.at_px - middle;
}

void Host::take_pointer_move(const Event& e) {
  if (!gesture_.down) return;
  if (gesture_.pinching) return take_pinch(e);
  if (e.pointer != gesture_.pointer) return;
  const double across = e.x_px - gesture_.start_x;
  const double down = e.y_px - gesture_.start_y;
  const Target* t = target(gesture_.target);
  const double slack = t != nullptr && t->keeps_focus ? kPadDrag : kDrag;
  if (!gesture_.dragging && !gesture_.steering && std::hypot(across, down) > slack) {
    if (t != nullptr && t->steered && std::abs(across) > std::abs(down)) {
      gesture_.steering = true;
    } else if (gesture_.source == PointerSource::touch) {
      gesture_.dragging = true;
      gesture_.last_y = e.y_px;
    }
  }
  if (gesture_.steering) {
    Steering& s = steering(gesture_.target);
    s.pan_px += e.x_px - gesture_.last_x;
    s.at_px = e.x_px;
  }
  gesture_.last_x = e.x_px;
  if (!gesture_.dragging) return;
  const double up = (gesture_.last_y - e.y_px) / text_scale_;
  gesture_.last_y = e.y_px;
  moved_ += up;
  scroll_by(up);
}

bool Host::take_pointer_up(const Event& e) {
  if (!gesture_.down) return false;
  if (gesture_.pinching && (e.pointer == gesture_.pointer || e.pointer == gesture_.second)) {
    // The other finger, still on, does nothing until it is lifted too.
    take_pinch(e);
    gesture_ = Gesture();
    return false;
  }
  if (e.pointer != gesture_.pointer) return false;
  // A finger may lift farther off without a move in between.
  take_pointer_move(e);
  const Gesture done = gesture_;
  gesture_ = Gesture();
  if (done.steering) return false;
  if (done.dragging) {
    if (reduced_motion_) velocity_ = 0.0;
    return false;
  }
  velocity_ = 0.0;
  const Target* t = hit(e.x_px, e.y_px);
  if (done.target == 0) {
    // A touch on bare ground takes the focus away: a way out of any field and its pad.
    return t == nullptr ? set_focus(0) : false;
  }
  if (t == nullptr || t->id != done.target) return false;
  press_x_ = e.x_px;
  return deliver_press(done.target, done.source == PointerSource::touch);
}

bool Host::deliver_press(std::uint64_t id, bool by_touch) {
  const Target* t = target(id);
  if (t == nullptr) return false;
  if (!t->keeps_focus) {
    const bool was_here = focus_ == id;
    if (set_focus(id)) {
      // The field that was left is judged first; the press follows in the next frame, on fresh figures.
      Event again;
      again.kind = Event::Kind::press;
      again.id = id;
      again.touched = press_x_.has_value();
      again.x_px = press_x_.value_or(0.0);
      again.source = by_touch ? PointerSource::touch : PointerSource::mouse;
      events_.push_front(again);
      if (by_touch && t->role == Role::spinbutton) {
        pad_open_ = true;
        reveal_ = id;
      }
      return true;
    }
    if (t->role == Role::spinbutton && by_touch) {
      pad_open_ = true;
      reveal_ = id;
    }
    if (t->field && !was_here && by_touch) reveal_ = id;
  }
  pressed_ = id;
  press_touch_ = by_touch;
  const Node* n = node(id);
  asked_ = n != nullptr && !n->ready ? id : 0;
  settle(2);
  return true;
}

bool Host::set_focus(std::uint64_t id) {
  if (focus_ == id) return false;
  bool judged = false;
  const auto left = fields_.find(focus_);
  if (left != fields_.end()) {
    FieldState& state = left->second;
    state.editing = false;
    if (state.typed) {
      state.left = true;
      state.typed = false;
      judged = true;
    } else if (!state.kept) {
      fields_.erase(left);
    }
  }
  focus_ = id;
  const Target* t = target(id);
  if (t == nullptr || t->role != Role::spinbutton) pad_open_ = false;
  if (t != nullptr && t->field) {
    FieldState& state = fields_[id];
    if (!state.kept) {
      const Node* n = node(id);
      state.buffer.set(n == nullptr ? std::string_view() : std::string_view(n->value));
    }
    state.before = state.buffer.text();
    state.buffer.select_all();  // the first letter replaces; an arrow or Erase keeps
    state.editing = true;
    state.typed = false;
  }
  settle(2);
  return judged;
}

FieldState* Host::active() {
  const auto found = fields_.find(focus_);
  return found == fields_.end() || !found->second.editing ? nullptr : &found->second;
}

bool Host::take_key(const Event& e) {
  FieldState* state = active();
  focus_visible_ = focus_visible_ || e.key == KeyPress::tab || state == nullptr;
  switch (e.key) {
    case KeyPress::tab:
      return step_focus(e.shift ? -1 : 1);
    case KeyPress::escape:
      if (state != nullptr) {
        fields_.erase(focus_);
        focus_ = 0;
        pad_open_ = false;
      }
      opened_ = 0;
      settle(2);
      return false;
    case KeyPress::enter:
      press_x_.reset();
      if (state == nullptr) return focus_ != 0 && deliver_press(focus_, false);
      if (!state->typed) return false;
      state->left = true;
      state->typed = false;
      state->acted = true;
      state->by_pad = false;
      settle(2);
      return true;
    case KeyPress::undo:
    case KeyPress::redo:
      if (state != nullptr && state->typed) {
        // What is half typed goes first, back to what stood there; then the book's own edits.
        if (e.key == KeyPress::undo) {
          state->buffer.set(state->before);
          state->buffer.select_all();
          state->unit.clear();
          state->typed = false;
          state->kept = false;
        }
        settle(2);
        return false;
      }
      history_ = e.key;
      settle(2);
      return true;
    case KeyPress::space:
      press_x_.reset();
      if (state == nullptr && focus_ != 0) return deliver_press(focus_, false);
      return false;
    default:
      break;
  }
  if (state != nullptr) {
    take_field_key(*state, e);
    return false;
  }
  const Target* t = target(focus_);
  if (t != nullptr && t->steered && steer_by_key(e)) return false;
  const Node* here = node(focus_);
  const bool radio = here != nullptr && here->role == Role::radio;
  switch (e.key) {
    case KeyPress::left:
      return radio && step_radio(-1);
    case KeyPress::right:
      return radio && step_radio(1);
    case KeyPress::up:
      if (radio) return step_radio(-1);
      scroll_by(-60.0);
      return false;
    case KeyPress::down:
      if (radio) return step_radio(1);
      scroll_by(60.0);
      return false;
    case KeyPress::page_up:
      scroll_by(-0.85 * view_.height);
      return false;
    case KeyPress::page_down:
      scroll_by(0.85 * view_.height);
      return false;
    case KeyPress::home:
      scroll_by(-1e9);
      return false;
    case KeyPress::end:
      scroll_by(1e9);
      return false;
    default:
      return false;
  }
}

bool Host::steer_by_key(const Event& e) {
  constexpr int kWeek = 7;
  switch (e.key) {
    case KeyPress::left:
      steering(focus_).steps -= e.shift ? kWeek : 1;
      return true;
    case KeyPress::right:
      steering(focus_).steps += e.shift ? kWeek : 1;
      return true;
    case KeyPress::home:
      steering(focus_).ends = -1;
      return true;
    case KeyPress::end:
      steering(focus_).ends = 1;
      return true;
    default:
      return false;
  }
}

void Host::take_field_key(FieldState& state, const Event& e) {
  switch (e.key) {
    case KeyPress::left:
      state.buffer.move_left(e.shift);
      break;
    case KeyPress::right:
      state.buffer.move_right(e.shift);
      break;
    case KeyPress::home:
      state.buffer.home(e.shift);
      break;
    case KeyPress::end:
      state.buffer.end(e.shift);
      break;
    case KeyPress::select_all:
      state.buffer.select_all();
      break;
    case KeyPress::copy:
      copied_ = state.buffer.selected();
      break;
    case KeyPress::cut:
      copied_ = state.buffer.selected();
      state.buffer.type("");
      state.typed = true;
      break;
    case KeyPress::backspace:
      state.buffer.backspace();
      state.typed = true;
      break;
    case KeyPress::erase:
      state.buffer.erase_forward();
      state.typed = true;
      break;
    default:
      break;
  }
}

bool Host::step_focus(int direction) {
  std::vector<std::uint64_t> order;
  int here = -1;
  for (const Node& n : nodes_) {
    if (!n.focusable) continue;
    if (n.id == focus_) here = static_cast<int>(order.size());
    order.push_back(n.id);
  }
  if (order.empty()) return false;
  const int count = static_cast<int>(order.size());
  const int next = here < 0 ? (direction > 0 ? 0 : count - 1) : (here + direction + count) % count;
  const bool judged = set_focus(order[static_cast<std::size_t>(next)]);
  focus_visible_ = true;
  reveal_ = focus_;
  return judged;
}

// The neighbour in the same group: radios that follow each other without another control between.
bool Host::step_radio(int direction) {
  std::vector<const Node*> controls;
  int here = -1;
  for (const Node& n : nodes_) {
    if (!n.focusable) continue;
    if (n.id == focus_) here = static_cast<int>(controls.size());
    controls.push_back(&n);
  }
  const int next = here + direction;
  if (here < 0 || next < 0 || next >= static_cast<int>(controls.size())) return false;
  const Node* neighbour = controls[static_cast<std::size_t>(next)];
  if (neighbour->role != Role::radio) return false;
  return deliver_press(neighbour->id, false);
}

const Host::Target* Host::target(std::uint64_t id) const {
  for (const Target& t : targets_) {
    if (id != 0 && t.id == id) return &t;
  }
  return nullptr;
}

const Host::Target* Host::hit(double x, double y) const {
  for (std::size_t i = targets_.size(); i > 0; --i) {
    if (targets_[i - 1].hit.contains(x, y)) return &targets_[i - 1];
  }
  return nullptr;
}

void Host::reveal(std::uint64_t id) {
  const Target* t = target(id);
  if (t == nullptr || !t->scrolls) return;
  // The label over a field and the answer under it must show too.
  const double label = t->field ? 26.0 : 0.0;
  reveal(t->rect.y / text_scale_ - label, t->rect.bottom() / text_scale_, t->field ? 72.0 : 8.0);
}

void Host::reveal(double top, double bottom, double room) {
  if (view_.height <= 0.0) return;
  if (top >= view_.y + 8.0 && bottom + room <= view_.bottom()) return;
  if (bottom - top > view_.height && top < view_.bottom() && bottom > view_.y) return;
  // A third down, and higher where what stands under it would be cut.
  const double down = std::fmin(view_.height / 3.0, std::fmax(2.0, view_.height - room - (bottom - top)));
  scroll_by(top - (view_.y + down));
}

void Host::scroll_by(double down) {
  double& at = scrolls_[page_];
  const double most = std::fmax(0.0, content_height_ - view_.height);
  const double to = std::fmin(most, std::fmax(0.0, at + down));
  const double moved_px = (at - to) * text_scale_;
  if (moved_px == 0.0) return;
  at = to;
  // What is on the screen moves along at once, so that a touch in the same moment meets what it sees.
  const Rect view = {view_.x * text_scale_, view_.y * text_scale_, view_.width * text_scale_,
                     view_.height * text_scale_};
  for (Target& t : targets_) {
    if (!t.scrolls) continue;
    t.rect.y += moved_px;
    t.hit = common(t.rect, view);
  }
  settle(1);
}

}  // namespace saltrafter::parts
