// What stands on the screen, as data: the one source of the access mirror, of keyboard order and of tests.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace saltrafter::parts {

enum class Role {
  heading,
  text,
  button,
  link,
  textbox,     // words
  spinbutton,  // a number
  radio,       // one of few
  checkbox,
  row,   // a row of a list that is one target
  cell,  // of a table; the name holds its column's head too
  figure,
  status,  // said when it changes
  alert,   // said at once
  progressbar,
  place,  // one of the five places
};

// "button", "spinbutton", ...: the words of journeys and of the mirror.
std::string_view role_name(Role role);
std::optional<Role> role_of(std::string_view name);

// CSS pixels of the screen.
struct Rect {
  double x = 0.0;
  double y = 0.0;
  double width = 0.0;
  double height = 0.0;

  double right() const { return x + width; }
  double bottom() const { return y + height; }
  bool contains(double px, double py) const { return px >= x && px < right() && py >= y && py < bottom(); }
  bool empty() const { return width <= 0.0 || height <= 0.0; }

  friend bool operator==(const Rect&, const Rect&) = default;
};
Rect common(const Rect& a, const Rect& b);

struct Node {
  std::uint64_t id = 0;  // 0: nothing to press (a text)
  Role role = Role::text;
  std::string name;
  std::string value;
  std::string description;  // the error, finding or reason beneath
  std::optional<double> min;
  std::optional<double> max;
  std::optional<double> now;  // of a progress bar; of a chart, the day that is read

  bool focusable = false;
  bool focused = false;
  bool ready = true;  // false: shown, focusable, and pressing it says why not
  bool selected = false;
  bool invalid = false;
  bool current = false;  // the place one is in
  bool expanded = false;
  bool offscreen = false;  // scrolled out of view
  bool verbatim = false;   // its name is the maker's own words or a figure, not from the catalogue
  int level = 0;           // of a heading: 1, 2

  Rect rect;
  int order = 0;

  friend bool operator==(const Node&, const Node&) = default;
};

// The nth (from 0) node of that role and name, in reading order; null when there is none.
const Node* find(const std::vector<Node>& nodes, Role role, std::string_view name, int nth = 0);

// Any control of that name, whatever its role.
const Node* find_control(const std::vector<Node>& nodes, std::string_view name, int nth = 0);

}  // namespace saltrafter::parts
