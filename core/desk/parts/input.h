// What comes in from outside, in our own terms: no key code or event of a library.
#pragma once

#include <cstdint>
#include <string>

namespace saltrafter::parts {

enum class PointerSource { mouse, touch };

enum class KeyPress {
  tab,
  enter,
  space,
  escape,
  left,
  right,
  up,
  down,
  home,
  end,
  page_up,
  page_down,
  backspace,
  erase,  // the key that erases forward
  select_all,
  copy,
  cut,
  undo,
  redo,
};

struct Display {
  double width_px = 1440.0;  // CSS pixels
  double height_px = 900.0;
  double pixel_ratio = 1.0;  // device pixels to a CSS pixel; held to 0.5..4
  double text_scale = 1.0;   // the maker's text size; held to 0.8..2
  double safe_left_px = 0.0;
  double safe_top_px = 0.0;
  double safe_right_px = 0.0;
  double safe_bottom_px = 0.0;

  friend bool operator==(const Display&, const Display&) = default;
};

enum class ThemeName { paper, cellar };

// One thing that happened, waiting for its frame.
struct Event {
  enum class Kind {
    pointer_down,
    pointer_move,
    pointer_up,
    pointer_cancel,
    wheel,
    key,
    text,
    press,
    fill,
    focus,
    leave
  };
  Kind kind = Kind::key;
  double x_px = 0.0;
  double y_px = 0.0;
  PointerSource source = PointerSource::mouse;
  int pointer = 0;
  KeyPress key = KeyPress::tab;
  bool shift = false;
  bool touched = false;  // of a press: a finger or the mouse was at x_px; of a focus: the pad opens with it
  std::uint64_t id = 0;
  std::string text;
};

}  // namespace saltrafter::parts
