// The text in a field while it is typed: UTF-8, a caret and a selection. Kept as typed, never corrected.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>

namespace saltrafter::parts {

class TextBuffer {
 public:
  static constexpr std::size_t kLongest = 4000;  // bytes; what goes beyond is not taken

  const std::string& text() const { return text_; }
  std::size_t caret() const { return caret_; }  // byte offset, between code points
  std::size_t anchor() const {
    return anchor_;
  }  // the selection's other end; equals caret when there is none
  bool has_selection() const { return caret_ != anchor_; }
  std::string selected() const;

  void set(std::string_view text);   // caret at the end
  void type(std::string_view utf8);  // replaces the selection; line breaks and controls become spaces
  void backspace();
  void erase_forward();
  void move_left(bool select);
  void move_right(bool select);
  void move_to(std::size_t offset, bool select);
  void home(bool select) { move_to(0, select); }
  void end(bool select) { move_to(text_.size(), select); }
  void select_all();

 private:
  void drop_selection();

  std::string text_;
  std::size_t caret_ = 0;
  std::size_t anchor_ = 0;
};

// The start of the code point before a byte offset.
std::size_t previous_point(std::string_view text, std::size_t at);

}  // namespace saltrafter::parts
