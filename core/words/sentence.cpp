#include "core/words/sentence.h"

#include <array>
#include <string>
#include <vector>

#include "core/words/pseudo.h"

namespace saltrafter::words {
namespace {

constexpr std::array<std::string_view, static_cast<std::size_t>(kIdCount)> kEnglish = {
#define SALTRAFTER_TEXT(id, english) english,
#include "core/words/english.inc"
#undef SALTRAFTER_TEXT
};

// Where the brace opened at `open` closes, or npos.
std::size_t closing(std::string_view s, std::size_t open) {
  int depth = 0;
  for (std::size_t i = open; i < s.size(); ++i) {
    if (s[i] == '{') ++depth;
    if (s[i] == '}' && --depth == 0) return i;
  }
  return std::string_view::npos;
}

// "name|one|other" at its outermost bars.
std::vector<std::string_view> split_forms(std::string_view s) {
  std::vector<std::string_view> parts;
  int depth = 0;
  std::size_t start = 0;
  for (std::size_t i = 0; i < s.size(); ++i) {
    if (s[i] == '{') ++depth;
    if (s[i] == '}') --depth;
    if (s[i] == '|' && depth == 0) {
      parts.push_back(s.substr(start, i - start));
      start = i + 1;
    }
  }
  parts.push_back(s.substr(start));
  return parts;
}

class Expander {
 public:
  Expander(const Language& language, std::span<const Arg> args) : language_(language), args_(args) {}

  void expand(std::string_view s) {
    std::size_t at = 0;
    while (at < s.size()) {
      const std::size_t mark = s.find_first_of("{*", at);
      literal(s.substr(at, mark == std::string_view::npos ? mark : mark - at));
      if (mark == std::string_view::npos) return;
      if (s[mark] == '*') {
        strong_ = !strong_;
        at = mark + 1;
        continue;
      }
      const std::size_t end = closing(s, mark);
      if (end == std::string_view::npos) {
        literal(s.substr(mark));
        return;
      }
      argument(s.substr(mark + 1, end - mark - 1));
      at = end + 1;
    }
  }

  Text take() {
    if (!language_.pseudo) return builder_.take();
    TextBuilder bracketed;
    bracketed.add("[", false, false);
    bracketed.add(builder_.take(), false);
    bracketed.add(padding(letters_) + "]", false, false);
    return bracketed.take();
  }

 private:
  void literal(std::string_view s) {
    letters_ += static_cast<int>(s.size());
    if (language_.pseudo) {
      builder_.add(accented(s), strong_, false);
    } else {
      builder_.add(s, strong_, false);
    }
  }

  void argument(std::string_view inside) {
    const std::vector<std::string_view> parts = split_forms(inside);
    const Arg* found = nullptr;
    for (const Arg& a : args_) {
      if (a.name == parts[0]) found = &a;
    }
    if (found == nullptr || (parts.size() > 1 && !found->is_count)) {
      builder_.add("{" + std::string(parts[0]) + "?}", strong_, false);
      return;
    }
    if (parts.size() == 1) {
      builder_.add(found->is_count ? number(language_, found->count, 0) : found->text, strong_);
      return;
    }
    const std::size_t form = static_cast<std::size_t>(plural_form(language_, found->count));
    expand(parts[form + 1 < parts.size() ? form + 1 : parts.size() - 1]);
  }

  const Language& language_;
  std::span<const Arg> args_;
  TextBuilder builder_;
  bool strong_ = false;
  int letters_ = 0;
};

}  // namespace

Arg arg(std::string_view name, Text text) {
  Arg a;
  a.name = name;
  a.text = static_cast<Text&&>(text);
  return a;
}

Arg arg(std::string_view name, std::string_view verbatim_text) { return arg(name, verbatim(verbatim_text)); }

Arg count(std::string_view name, int n) {
  Arg a;
  a.name = name;
  a.count = n;
  a.is_count = true;
  return a;
}

std::optional<Id> find(std::string_view name) {
  static constexpr std::string_view kNames[] = {
#define SALTRAFTER_TEXT(id, english) #id,
#include "core/words/english.inc"
#undef SALTRAFTER_TEXT
  };
  for (std::size_t i = 0; i < std::size(kNames); ++i) {
    if (kNames[i] == name) return static_cast<Id>(i);
  }
  return std::nullopt;
}

std::string_view pattern(Id id) { return kEnglish[static_cast<std::size_t>(id)]; }

Text text(const Language& language, Id id, std::initializer_list<Arg> args) {
  return text(language, id, std::span<const Arg>(args.begin(), args.size()));
}

Text text(const Language& language, Id id, std::span<const Arg> args) {
  Expander expander(language, args);
  expander.expand(pattern(id));
  return expander.take();
}

}  // namespace saltrafter::words
