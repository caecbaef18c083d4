#include "core/desk/parts/host.h"

#include <cmath>

namespace saltrafter::parts {
namespace {

bool is_field(Role role) { return role == Role::textbox || role == Role::spinbutton; }

}  // namespace

Host::Host(Renderer renderer) : canvas_(renderer == Renderer::shell) {}

void Host::set_display(const Display& display) {
  Display held = display;
  const auto between = [](double v, double low, double high) {
    return std::isfinite(v) ? std::fmin(high, std::fmax(low, v)) : low;
  };
  held.width_px = between(held.width_px, 100.0, 20000.0);
  held.height_px = between(held.height_px, 100.0, 20000.0);
  held.pixel_ratio = between(held.pixel_ratio, 0.5, 4.0);
  held.text_scale = between(held.text_scale, 0.8, 2.0);
  if (held == display_) return;
  display_ = held;
  text_scale_ = held.text_scale;
  reveal_ = focus_;
  settle(2);
}

void Host::set_theme(ThemeName theme) {
  if (theme == theme_) return;
  theme_ = theme;
  settle(1);
}

void Host::set_reduced_motion(bool reduced) { reduced_motion_ = reduced; }

bool Host::wants_frame() const { return settle_ > 0 || !events_.empty() || velocity_ != 0.0; }

void Host::begin_frame(double now_s) {
  const double delta_s = first_frame_ ? 1.0 / 60.0 : std::fmin(0.1, std::fmax(0.0, now_s - now_s_));
  now_s_ = now_s;
  first_frame_ = false;
  if (settle_ > 0) --settle_;
  pressed_ = 0;
  press_touch_ = false;
  moved_ = 0.0;
  steered_ = 0;
  while (!events_.empty()) {
    const Event event = events_.front();
    events_.pop_front();
    if (take(event)) break;
  }
  if (gesture_.down && gesture_.dragging && delta_s > 0.0) {
    velocity_ = 0.4 * velocity_ + 0.6 * (moved_ / std::fmax(delta_s, 1.0 / 120.0));
    if (std::abs(velocity_) < 5.0) velocity_ = 0.0;  // the finger rests
  } else if (!gesture_.down) {
    glide(delta_s);
  }
  building_.clear();
  building_targets_.clear();
  bringing_ = 0;
  const double device = display_.pixel_ratio;
  canvas_.begin(static_cast<int>(std::lround(display_.width_px * device)),
                static_cast<int>(std::lround(display_.height_px * device)), device * text_scale_,
                theme_ == ThemeName::paper ? paper() : cellar(), delta_s);
}

void Host::end_frame() {
  canvas_.end();
  nodes_.swap(building_);
  targets_.swap(building_targets_);
  bool still_there = focus_ == 0;
  for (const Node& node : nodes_) still_there = still_there || node.id == focus_;
  if (!still_there) set_focus(0);  // what is half typed is judged when its field is drawn again
  if (!(nodes_ == building_)) ++nodes_version_;  // swapped: those of the frame before
  if (reveal_ != 0) {
    const std::uint64_t id = reveal_;
    reveal_ = 0;
    reveal(id);
  }
  if (bringing_ != brought_ && bringing_ != 0) reveal(bring_.y, bring_.bottom(), 8.0);
  brought_ = bringing_;
}

void Host::bring(std::uint64_t id, const Rect& rect) {
  bringing_ = id;
  bring_ = rect;
}

void Host::glide(double delta_s) {
  if (velocity_ == 0.0) return;
  const double before = scrolls_[page_];
  scroll_by(velocity_ * delta_s);
  velocity_ *= std::exp(-delta_s / 0.325);  // the speed falls to a third in about as many seconds
  if (std::abs(velocity_) < 20.0 || (delta_s > 0.0 && scrolls_[page_] == before)) velocity_ = 0.0;
  settle(1);
}

const Node* Host::node(std::uint64_t id) const {
  for (const Node& node : nodes_) {
    if (id != 0 && node.id == id) return &node;
  }
  return nullptr;
}

void Host::emit(Node node, const Rect& clip, bool scrolls, bool keeps_focus) {
  const double s = text_scale_;
  node.rect = Rect{node.rect.x * s, node.rect.y * s, node.rect.width * s, node.rect.height * s};
  const Rect visible = common(node.rect, Rect{clip.x * s, clip.y * s, clip.width * s, clip.height * s});
  node.offscreen = visible.empty();
  node.order = static_cast<int>(building_.size());
  node.focused = node.id != 0 && node.id == focus_;
  if (node.id != 0) {
    Target t;
    t.id = node.id;
    t.rect = node.rect;
    t.hit = visible;
    t.scrolls = scrolls;
    t.keeps_focus = keeps_focus;
    t.field = is_field(node.role);
    t.role = node.role;
    building_targets_.push_back(t);
  }
  building_.push_back(std::move(node));
}

void Host::block(const Rect& rect) {
  const double s = text_scale_;
  Target t;
  t.rect = t.hit = Rect{rect.x * s, rect.y * s, rect.width * s, rect.height * s};
  t.scrolls = false;
  t.keeps_focus = true;
  building_targets_.push_back(t);
}

void Host::steer(std::uint64_t id) {
  for (Target& t : building_targets_) t.steered = t.steered || t.id == id;
}

ChartState& Host::chart(std::uint64_t id) {
  constexpr std::size_t kMost = 16;
  for (std::size_t i = 0; i < charts_.size(); ++i) {
    if (charts_[i].first != id) continue;
    const auto found = charts_[i];
    charts_.erase(charts_.begin() + static_cast<std::ptrdiff_t>(i));
    charts_.push_back(found);
    return charts_.back().second;
  }
  if (charts_.size() == kMost) charts_.pop_front();
  charts_.push_back({id, ChartState()});
  return charts_.back().second;
}

bool Host::held(std::uint64_t id) const {
  return id != 0 && gesture_.down && !gesture_.dragging && gesture_.target == id;
}

FieldState* Host::field(std::uint64_t id) {
  const auto found = fields_.find(id);
  return found == fields_.end() ? nullptr : &found->second;
}

void Host::drop_field(std::uint64_t id) { fields_.erase(id); }

int Host::kept_step(std::uint64_t id) const {
  const auto found = steps_.find(id);
  return found == steps_.end() ? 0 : found->second;
}

void Host::keep_step(std::uint64_t id, int step) {
  if (step == 0) {
    steps_.erase(id);
  } else {
    steps_[id] = step;
  }
  settle(1);
}

std::string Host::kept_text(std::uint64_t id) const {
  const auto found = texts_.find(id);
  return found == texts_.end() ? std::string() : found->second;
}

void Host::keep_text(std::uint64_t id, const std::string& text) {
  if (text.empty()) {
    texts_.erase(id);
  } else {
    texts_[id] = text;
  }
  settle(1);
}

double Host::scroll(std::uint64_t page) { return scrolls_[page]; }

void Host::set_page(std::uint64_t page, const Rect& view, double content_height) {
  if (page != page_) velocity_ = 0.0;
  page_ = page;
  view_ = view;
  content_height_ = content_height;
  const double most = std::fmax(0.0, content_height - view.height);
  double& at = scrolls_[page];
  if (at > most || at < 0.0) {
    at = std::fmin(most, std::fmax(0.0, at));
    settle(1);
  }
}

std::optional<ActiveField> Host::active_field() const {
  const auto found = fields_.find(focus_);
  const Node* n = node(focus_);
  if (found == fields_.end() || n == nullptr || !found->second.editing) return std::nullopt;
  return ActiveField{focus_, n->role, found->second.buffer.text(), n->rect};
}

Host::Kept Host::kept() const {
  constexpr std::size_t kMost = 40;  // of each; more is not worth keeping
  Kept kept;
  for (const auto& [page, at] : scrolls_) {
    if (at > 0.0 && kept.scrolls.size() < kMost) kept.scrolls.emplace_back(page, at);
  }
  for (const auto& [id, state] : fields_) {
    // A unit chosen on the pad is written out: what is read later must mean what was typed.
    const std::string text = state.buffer.text() + (state.unit.empty() ? "" : " " + state.unit);
    if (state.editing && (state.typed || state.kept)) kept.typing = {id, text};
    const bool waits = !state.editing && (state.kept || state.left);
    if (waits && kept.refused.size() < kMost) kept.refused.emplace_back(id, text);
  }
  return kept;
}

void Host::take_up(const Kept& kept) {
  for (const auto& [page, at] : kept.scrolls) {
    if (std::isfinite(at) && at > 0.0) scrolls_[page] = at;
  }
  for (const auto& [id, text] : kept.refused) {
    FieldState& state = fields_[id];
    state.buffer.set(text);
    state.left = true;
  }
  if (kept.typing) {
    FieldState& state = fields_[kept.typing->first];
    state.buffer.set(kept.typing->second);
    state.editing = true;
    state.typed = true;
    focus_ = kept.typing->first;
  }
}

std::optional<KeyPress> Host::take_history() {
  std::optional<KeyPress> out;
  out.swap(history_);
  return out;
}

std::optional<std::string> Host::take_copied() {
  std::optional<std::string> out;
  out.swap(copied_);
  return out;
}

}  // namespace saltrafter::parts
