// The host of all screens: takes input, owns fonts, themes, focus, scrolling and half-typed fields, runs
// frames.
//
// A frame: begin_frame, draw the whole page in parts, end_frame; then the shell renders what the library
// holds. Draw when wants_frame() says so and not otherwise. Presses, typing and scrolling are ours; the
// library under it only sets letters and fills areas.
#pragma once

#include <deque>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "core/desk/parts/canvas.h"
#include "core/desk/parts/input.h"
#include "core/desk/parts/key.h"
#include "core/desk/parts/nodes.h"
#include "core/desk/parts/text_buffer.h"
#include "core/words/words.h"

namespace saltrafter::parts {

// What a field holds between two frames.
struct FieldState {
  TextBuffer buffer;
  std::string before;    // what stood there when it got the focus
  bool editing = false;  // has the focus
  bool typed = false;    // changed since it got it
  bool left = false;     // to be judged by its part in this frame
  bool kept = false;     // was refused: its text stays as typed
  bool acted = false;    // left by Enter or by the act of its pad
  bool by_pad = false;
  std::string unit;      // chosen on the pad for what is typed; empty: the field's own
  words::Text error;
};

// What a finger or a key did since the last frame to a part that is steered: a chart.
struct Steering {
  double pan_px = 0.0;  // CSS px to the right
  bool pinch = false;
  double zoom = 1.0;    // of a pinch, fingers apart: above 1
  double at_px = 0.0;   // where the finger is, or between the two
  int steps = 0;        // by the arrow keys, to the right
  int ends = 0;         // -1: to the first, 1: to the last
};

// How a chart is looked at: what of it is visible, where it is read, whether its table is open.
struct ChartState {
  std::optional<double> from_day;  // with to_day; neither: all of it
  std::optional<double> to_day;
  std::optional<int> day;
  bool as_table = false;
};

// The field that takes letters now, for the shell's soft keyboard and its real text element.
struct ActiveField {
  std::uint64_t id = 0;
  Role role = Role::textbox;
  std::string text;
  Rect rect;
};

class Host {
 public:
  enum class Renderer { none, shell };
  explicit Host(Renderer renderer);

  // The device's own fonts, for what our faces lack.
  void use_device_fonts(Rasteriser rasteriser) {
    canvas_.use_device_fonts(std::move(rasteriser));
    settle(1);
  }

  // --- input, at any time between frames ---
  void set_display(const Display& display);
  void set_theme(ThemeName theme);
  void set_reduced_motion(bool reduced);
  // The shell lays an element of its own over a field of words while it is typed in: no letters and no caret of
  // ours there.
  void set_words_typed_by_shell() { words_by_shell_ = true; }
  bool words_typed_by_shell() const { return words_by_shell_; }
  void pointer_down(double x_px, double y_px, PointerSource source, int pointer = 0);
  void pointer_move(double x_px, double y_px, PointerSource source, int pointer = 0);
  void pointer_up(double x_px, double y_px, PointerSource source, int pointer = 0);
  void pointer_cancel();
  void wheel(double down_px);
  void key_down(KeyPress key, bool shift = false);
  void text(std::string_view utf8);  // typed or pasted
  void wake() { settle(1); }         // something outside changed: one more frame

  // --- frames ---
  void make_current() const { canvas_.make_current(); }  // before the shell prepares its renderer
  bool wants_frame() const;
  bool moving() const { return velocity_ != 0.0 || gesture_.dragging || gesture_.steering || gesture_.pinching; }
  bool animating() const { return velocity_ != 0.0; }  // wants the next frame soon, not at the next event
  void begin_frame(double now_s);
  void end_frame();

  // --- what is there ---
  const std::vector<Node>& nodes() const { return nodes_; }
  std::uint64_t nodes_version() const { return nodes_version_; }  // changes when any node changes
  const Node* node(std::uint64_t id) const;
  std::uint64_t focused() const { return focus_; }
  std::optional<ActiveField> active_field() const;
  // What outlasts the program's end: where pages stand, and what was typed and not taken.
  struct Kept {
    std::vector<std::pair<std::uint64_t, double>> scrolls;       // page, layout px
    std::vector<std::pair<std::uint64_t, std::string>> refused;  // field, text: judged again when taken up
    std::optional<std::pair<std::uint64_t, std::string>> typing;
  };
  Kept kept() const;
  void take_up(const Kept& kept);  // before the first frame
  // Undo or redo was asked for by the keyboard, outside a field in which something is typed.
  std::optional<KeyPress> take_history();
  std::optional<std::string> take_copied();  // what copy or cut put aside, for the system's clipboard
  const Display& display() const { return display_; }
  ThemeName theme() const { return theme_; }

  // --- acting by node, as a finger or as assistive software does ---
  bool press(const Node& node);                        // a finger: scrolls there, goes down and up
  bool activate(std::uint64_t id);                     // the same without a finger
  bool fill(std::uint64_t id, std::string_view text);  // replaces what stands in a field
  bool focus(std::uint64_t id, bool with_pad = false);
  void leave();  // takes the focus away; a field is judged
  bool fill(const Node& node, std::string_view text) { return fill(node.id, text); }

  // --- for parts ---
  struct Target {
    std::uint64_t id = 0;
    Rect rect;  // CSS px
    Rect hit;   // what of it can be touched
    bool scrolls = true;
    bool keeps_focus = false;  // a key of the pad
    bool field = false;
    bool steered = false;
    Role role = Role::button;
  };
  Canvas& canvas() { return canvas_; }
  double layout_scale() const { return text_scale_; }  // CSS px to a layout px
  void emit(Node node, const Rect& clip, bool scrolls, bool keeps_focus);
  void block(const Rect& rect);  // nothing beneath can be touched
  // Level drags, pinches and the arrow keys on this control, emitted before, are told to its part.
  void steer(std::uint64_t id);
  const Steering* steered(std::uint64_t id) const {
    return id != 0 && steered_ == id ? &steering_ : nullptr;
  }
  ChartState& chart(std::uint64_t id);  // kept for the charts looked at last
  bool pressed(std::uint64_t id) const { return id != 0 && pressed_ == id; }
  bool held(std::uint64_t id) const;  // a finger is on it
  bool shows_focus(std::uint64_t id) const { return focus_visible_ && focus_ == id; }
  bool asked(std::uint64_t id) const { return asked_ == id; }  // not ready and pressed: says why
  FieldState* field(std::uint64_t id);                         // null unless it is edited, left or kept
  void drop_field(std::uint64_t id);
  bool pad_open() const { return pad_open_ && focus_ != 0; }
  void leave_pad() { pad_open_ = false; }
  // CSS px, of the press that this frame delivers; nothing when no finger pressed.
  std::optional<double> press_x() const { return press_x_; }
  // The pad of the focused field has a row of steps, units or a last value over its keys.
  bool pad_row() const { return pad_row_; }
  void set_pad_row(bool has) {
    if (has == pad_row_) return;
    pad_row_ = has;
    settle(1);
  }
  // What a part keeps between frames: a small whole number, 0 at first (the month a sheet shows), and a text, empty
  // at first (the word a list is looked through for).
  int kept_step(std::uint64_t id) const;
  void keep_step(std::uint64_t id, int step);
  std::string kept_text(std::uint64_t id) const;
  void keep_text(std::uint64_t id, const std::string& text);
  bool pressed_by_touch() const { return press_touch_; }
  double scroll(std::uint64_t page);
  void to_top(std::uint64_t page) { scrolls_.erase(page); }
  // A text that was not there in the frame before comes into sight; layout px, as drawn.
  void bring(std::uint64_t id, const Rect& rect);
  void set_page(std::uint64_t page, const Rect& view, double content_height);  // layout px
  void open_words(std::uint64_t id) {
    opened_ = opened_ == id ? 0 : id;
    settle(1);
  }
  bool opened(std::uint64_t id) const { return id != 0 && opened_ == id; }

 private:
  struct Gesture {
    bool down = false;
    int pointer = 0;
    PointerSource source = PointerSource::mouse;
    std::uint64_t target = 0;
    double start_x = 0.0;
    double start_y = 0.0;
    double last_x = 0.0;
    double last_y = 0.0;
    bool dragging = false;
    bool steering = false;  // drags level over a part that is steered
    int second = 0;         // with it a second finger, of a pinch
    double second_x = 0.0;
    bool pinching = false;
  };

  void settle(int frames) { settle_ = settle_ > frames ? settle_ : frames; }
  void push(Event event);
  bool take(const Event& event);  // true: the frame has its outcome, later events wait
  void take_second_finger(const Event& event);
  void take_pointer_move(const Event& event);
  void take_pinch(const Event& event);
  Steering& steering(std::uint64_t id);
  bool take_pointer_up(const Event& event);
  bool take_key(const Event& event);
  bool steer_by_key(const Event& event);
  void take_field_key(FieldState& state, const Event& event);
  bool deliver_press(std::uint64_t id, bool by_touch);
  bool set_focus(std::uint64_t id);  // true: a field was left and is judged in this frame
  bool step_focus(int direction);
  bool step_radio(int direction);
  const Target* target(std::uint64_t id) const;
  const Target* hit(double x_px, double y_px) const;
  void reveal(std::uint64_t id);
  void reveal(double top, double bottom, double room);  // layout px; `room` is kept free beneath
  void scroll_by(double down);  // layout px
  void glide(double delta_s);
  FieldState* active();

  Canvas canvas_;
  Display display_;
  ThemeName theme_ = ThemeName::paper;
  bool reduced_motion_ = false;
  bool words_by_shell_ = false;
  double text_scale_ = 1.0;

  std::deque<Event> events_;
  Gesture gesture_;
  double velocity_ = 0.0;  // of the content, layout px/s
  double moved_ = 0.0;     // since the last frame
  double now_s_ = 0.0;
  bool first_frame_ = true;
  int settle_ = 2;

  std::vector<Node> nodes_;
  std::vector<Node> building_;
  std::vector<Target> targets_;
  std::vector<Target> building_targets_;
  std::uint64_t nodes_version_ = 0;

  std::uint64_t pressed_ = 0;
  std::uint64_t focus_ = 0;
  std::uint64_t asked_ = 0;
  std::uint64_t opened_ = 0;
  std::uint64_t reveal_ = 0;
  std::uint64_t brought_ = 0;  // drawn in the last frame by a part that comes into sight when it is new
  std::uint64_t bringing_ = 0;
  Rect bring_;
  std::optional<double> press_x_;
  bool press_touch_ = false;
  bool focus_visible_ = false;
  bool pad_open_ = false;
  bool pad_row_ = false;
  double pad_touched_s_ = -1.0;  // when a finger last came down on it
  std::map<std::uint64_t, int> steps_;
  std::map<std::uint64_t, std::string> texts_;
  std::map<std::uint64_t, FieldState> fields_;
  std::optional<std::string> copied_;
  std::optional<KeyPress> history_;

  std::uint64_t steered_ = 0;
  Steering steering_;
  std::deque<std::pair<std::uint64_t, ChartState>> charts_;  // the one looked at last stands last

  std::map<std::uint64_t, double> scrolls_;
  std::uint64_t page_ = 0;
  Rect view_;  // layout px
  double content_height_ = 0.0;
};

}  // namespace saltrafter::parts
