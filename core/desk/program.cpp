#include "core/desk/program.h"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <utility>

#include "core/desk/screens.h"
#include "core/desk/whereabouts.h"

namespace saltrafter::desk {
namespace {

constexpr char kField = '\x1f';
constexpr char kLine = '\x1e';

// In whole hundredths: some hundred rectangles are written after each frame, too many for printf.
void add(std::string& out, double value) {
  constexpr double kMost = 1e15;
  const double held = std::isfinite(value) ? std::fmin(kMost, std::fmax(-kMost, value)) : 0.0;
  const long long hundredths = std::llround(held * 100.0);
  const long long size = hundredths < 0 ? -hundredths : hundredths;
  char text[24];
  char* end = std::to_chars(text, text + sizeof text, size / 100).ptr;
  if (hundredths < 0) out += '-';
  out.append(text, end);
  out += '.';
  out += static_cast<char>('0' + size / 10 % 10);
  out += static_cast<char>('0' + size % 10);
  out += kField;
}

void add(std::string& out, const std::optional<double>& value) {
  if (value) {
    add(out, *value);
  } else {
    out += kField;
  }
}

void add(std::string& out, std::string_view text) {
  const auto from = static_cast<std::ptrdiff_t>(out.size());
  out += text;
  const auto parts_text = [](char c) { return c == kField || c == kLine; };
  std::replace_if(out.begin() + from, out.end(), parts_text, ' ');
  out += kField;
}

}  // namespace

Program::Program(Shell shell, book::FirstStore first, book::SecondStore second, words::Language language,
                 parts::Host::Renderer renderer)
    : session_(std::move(shell), std::move(first), std::move(second), language), host_(renderer) {
  if (session_.second_store_answered()) session_.second_store_has_answered();
  take_up_whereabouts(session_.shell.whereabouts, session_, host_);
}

void Program::set_display(const parts::Display& display) {
  display_ = display;
  apply_look();
}

void Program::set_device_theme(parts::ThemeName theme) {
  device_theme_ = theme;
  apply_look();
}

void Program::apply_look() {
  parts::Display display = display_;
  display.text_scale *= session_.look.text_scale;
  host_.set_display(display);
  host_.set_theme(session_.look.theme.value_or(device_theme_));
}

void Program::draw(double now_s) {
  host_.begin_frame(now_s);
  if (const auto asked = host_.take_history()) session_.step_history(*asked == parts::KeyPress::undo);
  draw_screen(session_, host_);
  host_.end_frame();
  apply_look();
  const bool awake = hands_are_wet(session_);
  if (awake != awake_ && session_.shell.keep_awake) session_.shell.keep_awake(awake);
  awake_ = awake;
  drawn_ = true;
}

void Program::keep_whereabouts() {
  // A page that is on the move is kept when it has come to rest, not at every step.
  if (!drawn_ || host_.moving() || !session_.shell.keep_whereabouts) return;
  drawn_ = false;
  std::string text = write_whereabouts(session_, host_);
  if (text == whereabouts_) return;
  session_.shell.keep_whereabouts(text);
  whereabouts_ = std::move(text);
}

double Program::work(double budget_ms) {
  const auto now_ms = static_cast<std::int64_t>(session_.shell.clock_ms());
  const book::SaveState before = session_.keeper.state();
  session_.tick(now_ms);
  keep_whereabouts();
  if (session_.working()) {
    session_.work(budget_ms);
    host_.wake();
    return 0.0;
  }
  // The other day changes what the screens say of every day on them.
  const Date today = session_.today();
  if (!(session_.keeper.state() == before) || today != day_) host_.wake();
  day_ = today;
  const auto midnight_ms = static_cast<double>(ms_to_midnight(session_.shell.ports));
  const std::optional<std::int64_t> deadline = session_.keeper.next_deadline();
  return deadline ? std::fmin(midnight_ms, static_cast<double>(std::max<std::int64_t>(0, *deadline - now_ms)))
                  : midnight_ms;
}

void Program::second_store_loaded(const std::vector<book::SlotText>& slots) {
  session_.keeper.loaded(slots);
  session_.second_store_has_answered();
  host_.wake();
}

void Program::second_store_failed() {
  session_.keeper.load_failed();
  session_.second_store_has_answered();
  host_.wake();
}

void Program::put_done(std::uint64_t ticket, bool ok) {
  session_.keeper.put_done(ticket, ok);
  host_.wake();
}

void Program::file_opened(const std::string& name, const std::string& text) {
  session_.file_opened(name, text);
  host_.wake();
}

std::string Program::address() const { return address_of(session_.view); }

void Program::go_to(std::string_view address) {
  if (const std::optional<View> view = view_at(address, session_.view)) {
    if (address_of(*view) != address_of(session_.view)) session_.notice.reset();
    session_.view = *view;
    session_.files.reset();
  }
  host_.wake();
}

std::string Program::mirror() const {
  std::string out;
  for (const parts::Node& node : host_.nodes()) {
    char id[24];
    out.append(id, std::to_chars(id, id + sizeof id, node.id, 16).ptr);
    out += kField;
    add(out, parts::role_name(node.role));
    add(out, std::string_view(node.name));
    add(out, std::string_view(node.value));
    add(out, std::string_view(node.description));
    add(out, node.rect.x);
    add(out, node.rect.y);
    add(out, node.rect.width);
    add(out, node.rect.height);
    std::string state;
    const std::pair<bool, char> letters[] = {{node.focusable, 'f'}, {node.focused, 'F'},   {!node.ready, 'd'},
                                             {node.selected, 's'},  {node.invalid, 'i'},   {node.current, 'c'},
                                             {node.expanded, 'e'},  {node.offscreen, 'o'}, {node.verbatim, 'v'}};
    for (const auto& [is, letter] : letters) {
      if (is) state += letter;
    }
    add(out, std::string_view(state));
    add(out, static_cast<double>(node.level));
    add(out, node.min);
    add(out, node.max);
    add(out, node.now);
    out += kLine;
  }
  return out;
}

}  // namespace saltrafter::desk
