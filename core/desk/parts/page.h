// A page: the rail or bar of places, margins, one or two columns under one scroll, and the pad over it.
//
// A screen makes a Page within a frame, calls parts on it from top to bottom, and lets it go out of scope.
#pragma once

#include <optional>
#include <vector>

#include "core/desk/parts/host.h"
#include "core/desk/parts/type.h"

namespace saltrafter::parts {

struct Place {
  Key key;
  words::Text name;
};

struct PageSetup {
  Key key;                    // scrolling is kept for each key
  std::vector<Place> places;  // at most 5; none: no rail and no bar (a step to be finished or left)
  int current = 0;
  words::Text status;        // at the rail's foot: "Saved on this device"; on narrow, the end of the page
  bool two_columns = false;  // a second column from 1240 px on; below that it follows the first
  bool wet = false;          // hands are wet: larger acts, rows and gaps
  bool from_top = false;     // somebody was sent here: not where the page stood last
};

// What can be done with one control in this frame.
struct Touched {
  bool pressed = false;
  bool held = false;         // a finger is on it now
  bool shows_focus = false;  // the keyboard's focus is to be drawn
};

class Page {
 public:
  Page(Host& host, const words::Language& language, const PageSetup& setup);
  ~Page();  // draws what lies over the content and closes the frame of the page
  Page(const Page&) = delete;
  Page& operator=(const Page&) = delete;

  std::optional<int> chosen_place() const { return chosen_; }
  void second_column();  // what follows stands in the second column, or below
  bool has_two_columns() const { return two_; }
  bool narrow() const { return layout_width_ < 700.0; }
  bool wide() const { return layout_width_ >= 1100.0; }
  bool wet() const { return wet_; }
  bool pad_beside() const { return pad_beside_; }  // the pad is open and takes the right half of a low screen

  // --- for parts ---
  Host& host() { return host_; }
  const Host& host() const { return host_; }
  Canvas& canvas() { return host_.canvas(); }
  const words::Language& language() const { return language_; }
  double x() const { return x_ + inset_; }
  double y() const { return y_; }
  double width() const { return width_ - inset_; }
  double text_width() const { return width() < 700.0 ? width() : 700.0; }
  double target_height() const { return wet_ ? 64.0 : 48.0; }

  // Keeps at least `gap` free above what follows; the larger of two neighbours' gaps holds.
  void space(double gap);
  // Exactly this gap before what follows, whatever it asks for: two lines that belong together.
  void hold(double gap);
  // Starts a part of `height`: applies the gap above and returns its rectangle over the whole width.
  Rect take(double height);
  void inset(double by) { inset_ += by; }
  // What was drawn from `top` on and did not stand there in the last frame comes into sight.
  // What it is told by is its page too: the next page has not shown it yet.
  void bring(Key what, double top) {
    host_.bring((what / static_cast<int>(key_ & 0x7fffffff)).value(), Rect{x(), top, width(), y_ - top});
  }

  Touched control(Node node, bool keeps_focus = false);  // emits it and says what happened to it
  // The ground of a row: emits its node, which has an id where the whole row can be pressed, and shows a
  // finger or the focus on it. The hairline beneath belongs to it.
  Touched row_ground(Node node, const Rect& rect);
  void say(const words::Text& text, Role role, const Rect& rect, int level = 0);  // emits a text
  bool visible(const Rect& rect) const;                                           // worth drawing
  void focus_ring(const Rect& rect, double radius = 9.0);

  // A text over the column's width, drawn and emitted.
  void paragraph(const words::Text& text, const Style& style, Role role = Role::text, int level = 0);

 private:
  friend class Pad;
  void draw_rail(const PageSetup& setup);
  void draw_bar(const PageSetup& setup);
  bool place_node(const PageSetup& setup, int i, const Rect& rect);
  void draw_thumb();

  Host& host_;
  const words::Language& language_;
  words::Text status_;
  std::uint64_t key_ = 0;
  double layout_width_ = 0.0;
  double layout_height_ = 0.0;
  Rect view_;  // where content shows, layout px
  Rect clip_;  // of the nodes emitted now
  bool scrolls_ = true;
  bool two_ = false;
  bool wet_ = false;
  bool pad_beside_ = false;
  double x_ = 0.0;
  double y_ = 0.0;
  double width_ = 0.0;
  double inset_ = 0.0;
  double top_ = 0.0;  // y of the content's first line
  double pending_ = 0.0;
  bool held_ = false;
  bool fresh_ = true;  // nothing in this column yet
  double second_x_ = 0.0;
  double second_width_ = 0.0;
  double first_end_ = 0.0;
  std::optional<int> chosen_;

 public:
  // The focused number field and what its pad needs; filled by number_field.
  struct PadFor {
    Rect field;
    words::Text act;
    bool ready = true;
    std::uint64_t id = 0;
    std::vector<std::string> units;
    double step = 0.0;
    std::string last;
  };
  std::optional<PadFor> pad_for;
  const Rect& view() const { return view_; }
  double layout_width() const { return layout_width_; }
  double layout_height() const { return layout_height_; }
  double second_x() const { return second_x_; }
  double second_width() const { return second_width_; }
};

}  // namespace saltrafter::parts
