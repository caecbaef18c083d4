#include "core/desk/parts/text_buffer.h"

#include <algorithm>

#include "core/desk/parts/cluster.h"

namespace saltrafter::parts {
namespace {

bool continues(char c) { return (static_cast<unsigned char>(c) & 0xC0) == 0x80; }

}  // namespace

std::size_t previous_point(std::string_view text, std::size_t at) {
  if (at == 0) return 0;
  --at;
  while (at > 0 && continues(text[at])) --at;
  return at;
}

std::string TextBuffer::selected() const {
  const std::size_t from = std::min(caret_, anchor_);
  return text_.substr(from, std::max(caret_, anchor_) - from);
}

void TextBuffer::set(std::string_view text) {
  text_ = std::string(text.substr(0, kLongest));
  caret_ = anchor_ = text_.size();
}

void TextBuffer::type(std::string_view utf8) {
  drop_selection();
  std::string clean;
  for (const char c : utf8) clean += static_cast<unsigned char>(c) < 0x20 || c == 0x7F ? ' ' : c;
  if (text_.size() + clean.size() > kLongest) return;
  text_.insert(caret_, clean);
  caret_ += clean.size();
  anchor_ = caret_;
}

// Takes back what was typed last: a mark leaves its letter standing.
void TextBuffer::backspace() {
  if (!has_selection()) anchor_ = previous_point(text_, caret_);
  drop_selection();
}

void TextBuffer::erase_forward() {
  if (!has_selection()) anchor_ = cluster_end(text_, caret_);
  drop_selection();
}

void TextBuffer::move_left(bool select) {
  const std::size_t to =
      has_selection() && !select ? std::min(caret_, anchor_) : cluster_start(text_, caret_);
  move_to(to, select);
}

void TextBuffer::move_right(bool select) {
  const std::size_t to = has_selection() && !select ? std::max(caret_, anchor_) : cluster_end(text_, caret_);
  move_to(to, select);
}

void TextBuffer::move_to(std::size_t offset, bool select) {
  caret_ = std::min(offset, text_.size());
  while (caret_ > 0 && caret_ < text_.size() && continues(text_[caret_])) --caret_;
  if (!select) anchor_ = caret_;
}

void TextBuffer::select_all() {
  anchor_ = 0;
  caret_ = text_.size();
}

void TextBuffer::drop_selection() {
  const std::size_t from = std::min(caret_, anchor_);
  text_.erase(from, std::max(caret_, anchor_) - from);
  caret_ = anchor_ = from;
}

}  // namespace saltrafter::parts
