#include "core/desk/parts/nodes.h"

#include <array>
#include <cmath>

namespace saltrafter::parts {
namespace {

constexpr std::array<std::string_view, 15> kNames = {
    "heading", "text", "button", "link",   "textbox", "spinbutton",  "radio", "checkbox",
    "row",     "cell", "figure", "status", "alert",   "progressbar", "place"};

}  // namespace

std::string_view role_name(Role role) { return kNames[static_cast<std::size_t>(role)]; }

std::optional<Role> role_of(std::string_view name) {
  for (std::size_t i = 0; i < kNames.size(); ++i) {
    if (kNames[i] == name) return static_cast<Role>(i);
  }
  return std::nullopt;
}

Rect common(const Rect& a, const Rect& b) {
  Rect r;
  r.x = std::fmax(a.x, b.x);
  r.y = std::fmax(a.y, b.y);
  r.width = std::fmax(0.0, std::fmin(a.right(), b.right()) - r.x);
  r.height = std::fmax(0.0, std::fmin(a.bottom(), b.bottom()) - r.y);
  return r;
}

const Node* find(const std::vector<Node>& nodes, Role role, std::string_view name, int nth) {
  for (const Node& node : nodes) {
    if (node.role == role && node.name == name && nth-- == 0) return &node;
  }
  return nullptr;
}

const Node* find_control(const std::vector<Node>& nodes, std::string_view name, int nth) {
  for (const Node& node : nodes) {
    if (node.focusable && node.name == name && nth-- == 0) return &node;
  }
  return nullptr;
}

}  // namespace saltrafter::parts
