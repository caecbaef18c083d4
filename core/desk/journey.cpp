#include "core/desk/journey.h"

namespace saltrafter::desk {
namespace {

constexpr std::string_view kDots = "…";

bool contains(std::string_view text, std::string_view piece) { return text.find(piece) != std::string_view::npos; }

Error bad_line(int line, std::string_view text) {
  Error error;
  error.code = ErrorCode::wrong_type;
  error.field = "line " + std::to_string(line);
  error.found = std::string(text.substr(0, 80));
  error.expected = "verb role \"name\" \"value\"";
  return error;
}

// Takes the next word or quoted text off the front; false at a quote that is not closed.
bool take(std::string_view& rest, std::string& piece) {
  while (!rest.empty() && rest.front() == ' ') rest.remove_prefix(1);
  piece.clear();
  if (rest.empty()) return true;
  if (rest.front() != '"') {
    const auto end = std::min(rest.find(' '), rest.size());
    piece = std::string(rest.substr(0, end));
    rest.remove_prefix(end);
    return true;
  }
  const auto close = rest.find('"', 1);
  if (close == std::string_view::npos) return false;
  piece = std::string(rest.substr(1, close - 1));
  rest.remove_prefix(close + 1);
  return true;
}

bool on_a_node(std::string_view verb) {
  for (const std::string_view known : {"see", "miss", "await", "press", "fill", "note", "changed"}) {
    if (verb == known) return true;
  }
  return false;
}

}  // namespace

Result<std::vector<Step>> read_journey(std::string_view text) {
  std::vector<Step> steps;
  int number = 0;
  while (!text.empty()) {
    const auto end = std::min(text.find('\n'), text.size());
    const std::string_view line = text.substr(0, end);
    text.remove_prefix(std::min(end + 1, text.size()));
    ++number;
    std::string_view rest = line;
    Step step;
    step.line = number;
    if (!take(rest, step.verb)) return bad_line(number, line);
    if (step.verb.empty() || step.verb.front() == '#') continue;
    if (on_a_node(step.verb) && (!take(rest, step.role) || !parts::role_of(step.role))) return bad_line(number, line);
    if (!take(rest, step.name) || !take(rest, step.value)) return bad_line(number, line);
    if (rest.find_first_not_of(' ') != std::string_view::npos) return bad_line(number, line);
    if (on_a_node(step.verb) && step.name.empty()) return bad_line(number, line);
    steps.push_back(std::move(step));
  }
  return steps;
}

namespace {

// Thin and non-breaking spaces as plain ones: a journey is typed on a keyboard.
std::string plain_spaces(std::string_view text) {
  std::string plain(text);
  for (const std::string_view space : {"\xE2\x80\x89", "\xE2\x80\xAF", "\xC2\xA0"}) {
    for (auto at = plain.find(space); at != std::string::npos; at = plain.find(space, at)) {
      plain.replace(at, space.size(), " ");
    }
  }
  return plain;
}

}  // namespace

bool matches(std::string_view pattern_as_typed, std::string_view text_as_shown) {
  const std::string spaced_pattern = plain_spaces(pattern_as_typed);
  const std::string spaced_text = plain_spaces(text_as_shown);
  std::string_view pattern = spaced_pattern;
  const std::string_view text = spaced_text;
  const bool open_start = pattern.substr(0, kDots.size()) == kDots;
  if (open_start) pattern.remove_prefix(kDots.size());
  const bool open_end = pattern.size() >= kDots.size() && pattern.substr(pattern.size() - kDots.size()) == kDots;
  if (open_end) pattern.remove_suffix(kDots.size());
  if (open_start && open_end) return contains(text, pattern);
  if (open_end) return text.substr(0, pattern.size()) == pattern;
  if (open_start) return text.size() >= pattern.size() && text.substr(text.size() - pattern.size()) == pattern;
  return text == pattern;
}

Player::Player(std::vector<Step> steps, ShellVerb shell) : steps_(std::move(steps)), shell_(std::move(shell)) {}

const parts::Node* Player::target(const parts::Host& host, const Step& step) const {
  const auto role = parts::role_of(step.role);
  const bool reads_value = step.verb == "see" || step.verb == "miss" || step.verb == "await";
  for (const parts::Node& node : host.nodes()) {
    if (!role || node.role != *role || !matches(step.name, node.name)) continue;
    if (reads_value && !step.value.empty() && !matches(step.value, node.value) &&
        !matches(step.value, node.description)) {
      continue;
    }
    return &node;
  }
  return nullptr;
}

bool Player::attempt(parts::Host& host) {
  const Step& step = steps_[at_];
  if (step.role.empty()) {
    const Result<Done> done = shell_(step);
    if (!done.ok()) error_ = done.error();
    return done.ok();
  }
  const parts::Node* node = target(host, step);
  if (step.verb == "miss") return node == nullptr;
  if (node == nullptr) return false;
  if (step.verb == "press") return host.press(*node);
  if (step.verb == "fill") {
    if (!host.fill(*node, step.value)) return false;
    host.leave();
    return true;
  }
  const std::string now = node->name + " " + node->value;
  if (step.verb == "note") {
    notes_[step.value] = now;
    return true;
  }
  if (step.verb == "changed") {
    const auto before = notes_.find(step.value);
    return before != notes_.end() && before->second != now;
  }
  return true;  // see, await
}

Player::State Player::advance(parts::Host& host) {
  if (at_ >= steps_.size()) return State::passed;
  const Step& step = steps_[at_];
  if (attempt(host)) {
    ++at_;
    tries_ = 0;
    return at_ >= steps_.size() ? State::passed : State::going;
  }
  const bool long_wait = step.verb == "await" || step.verb == "changed";
  if (++tries_ < (long_wait ? 10 * kPatience : kPatience)) return State::going;
  if (error_.field.empty()) error_.code = ErrorCode::not_found;
  error_.field = "line " + std::to_string(step.line);
  error_.found = step.verb + " " + step.role + " \"" + step.name + "\" \"" + step.value + "\"";
  return State::failed;
}

}  // namespace saltrafter::desk
