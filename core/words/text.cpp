#include "core/words/text.h"

namespace saltrafter::words {

std::string Text::plain() const {
  std::string all;
  for (const Span& span : spans_) all += span.text;
  return all;
}

bool Text::verbatim() const {
  for (const Span& span : spans_) {
    if (!span.verbatim) return false;
  }
  return true;
}

Text Text::strong() const {
  TextBuilder builder;
  builder.add(*this, true);
  return builder.take();
}

Text verbatim(std::string_view text) {
  TextBuilder builder;
  builder.add(text, false, true);
  return builder.take();
}

Text join(const std::vector<Text>& texts) {
  TextBuilder builder;
  for (const Text& text : texts) builder.add(text, false);
  return builder.take();
}

void TextBuilder::add(std::string_view text, bool strong, bool verbatim) {
  if (text.empty()) return;
  if (!text_.spans_.empty()) {
    Text::Span& last = text_.spans_.back();
    if (last.strong == strong && last.verbatim == verbatim) {
      last.text += text;
      return;
    }
  }
  text_.spans_.push_back(Text::Span{std::string(text), strong, verbatim});
}

void TextBuilder::add(const Text& text, bool strong) {
  for (const Text::Span& span : text.spans()) add(span.text, strong || span.strong, span.verbatim);
}

}  // namespace saltrafter::words
