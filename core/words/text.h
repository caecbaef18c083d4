// A text that may be shown to a person.
//
// It is a type of its own so that a part cannot be handed a sentence written in the code: a Text comes from
// the catalogue (words::text), or is marked as the maker's own words or a bare figure (words::verbatim).
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace saltrafter::words {

class Text {
 public:
  // A stretch of one weight and one origin.
  struct Span {
    std::string text;
    bool strong = false;    // set bold: the name inside a sentence
    bool verbatim = false;  // not from the catalogue: the maker's words, or a figure

    friend bool operator==(const Span&, const Span&) = default;
  };

  Text() = default;

  const std::vector<Span>& spans() const { return spans_; }
  bool empty() const { return spans_.empty(); }
  std::string plain() const;  // without weights, UTF-8
  bool verbatim() const;      // nothing in it is from the catalogue (true for an empty text)
  Text strong() const;        // the same, all of it bold

  friend bool operator==(const Text&, const Text&) = default;

 private:
  friend class TextBuilder;
  std::vector<Span> spans_;
};

// The maker's own words (a recipe's name) or a figure that is already written out. Shown as it is.
Text verbatim(std::string_view text);

// The texts one after another with nothing between; weights and origins are kept.
Text join(const std::vector<Text>& texts);

// Builds texts; used by this module alone, and named here because Text trusts it.
class TextBuilder {
 public:
  void add(std::string_view text, bool strong, bool verbatim);
  void add(const Text& text, bool strong);
  Text take() { return static_cast<Text&&>(text_); }

 private:
  Text text_;
};

}  // namespace saltrafter::words
