#include "core/desk/parts/script.h"

#include <cstdint>

namespace saltrafter::parts {
namespace {

// A block's last point with its class; its first is the one after the last of the block before.
constexpr std::uint32_t upto(char32_t last, Script script) {
  return static_cast<std::uint32_t>(last) << 3U | static_cast<std::uint32_t>(script);
}

// Source: Unicode Standard 14.0, Blocks.txt; which class a block has is ours.
constexpr std::uint32_t kBlocks[] = {
    upto(0x0040, Script::neutral),       upto(0x005A, Script::letters),
    upto(0x0060, Script::neutral),       upto(0x007A, Script::letters),
    upto(0x00BF, Script::neutral),       upto(0x052F, Script::letters),
    upto(0x058F, Script::shaped),        upto(0x08FF, Script::right_to_left),
    upto(0x10FF, Script::shaped),        upto(0x11FF, Script::cells),
    upto(0x1C7F, Script::shaped),        upto(0x1C8F, Script::letters),
    upto(0x1CFF, Script::shaped),        upto(0x1FFF, Script::letters),
    upto(0x2BFF, Script::neutral),       upto(0x2C5F, Script::shaped),
    upto(0x2C7F, Script::letters),       upto(0x2DDF, Script::shaped),
    upto(0x2DFF, Script::letters),       upto(0x2E7F, Script::neutral),
    upto(0xA4CF, Script::cells),         upto(0xA63F, Script::shaped),
    upto(0xA69F, Script::letters),       upto(0xA6FF, Script::shaped),
    upto(0xA7FF, Script::letters),       upto(0xA95F, Script::shaped),
    upto(0xA97F, Script::cells),         upto(0xAB2F, Script::shaped),
    upto(0xAB6F, Script::letters),       upto(0xABFF, Script::shaped),
    upto(0xFAFF, Script::cells),         upto(0xFB06, Script::letters),
    upto(0xFB1C, Script::shaped),        upto(0xFDFF, Script::right_to_left),
    upto(0xFE0F, Script::neutral),       upto(0xFE1F, Script::cells),
    upto(0xFE2F, Script::letters),       upto(0xFE6F, Script::cells),
    upto(0xFEFE, Script::right_to_left), upto(0xFEFF, Script::neutral),
    upto(0xFFEF, Script::cells),         upto(0xFFFF, Script::neutral),
    upto(0x107FF, Script::shaped),       upto(0x10FFF, Script::right_to_left),
    upto(0x16FDF, Script::shaped),       upto(0x1B2FF, Script::cells),
    upto(0x1E7FF, Script::shaped),       upto(0x1EFFF, Script::right_to_left),
    upto(0x3FFFF, Script::cells),        upto(0xDFFFF, Script::shaped),
    upto(0xE0FFF, Script::neutral),      upto(0x10FFFF, Script::cells),
};

// Signs that no line starts with: what closes, small kana, marks of length and repetition, spaces that hold.
constexpr std::string_view kNoStart =
    "!%),.:;?]}\"'"
    "°’”…‰′″℃℉、。々〉》」』】〕〗〙〛〜〞〟〻ぁぃぅぇぉっゃゅょゎゕゖゝゞ゠ァィゥェォッャュョヮヵヶ・ーヽヾ"
    "！％），．：；？］｝｠｡｣､･ｧｨｩｪｫｬｭｮｯｰ"
    "\u00A0\u2009\u202F\u2060";
// Signs that no line ends with: what opens, and the same spaces.
constexpr std::string_view kNoEnd = "$([{\"'£‘“€№〈《「『【〔〖〘〚〝（［｛｟｢\u00A0\u2009\u202F\u2060";

bool among(std::string_view signs, char32_t code) {
  for (std::size_t at = 0; at < signs.size();) {
    const CodePoint sign = code_point_at(signs, at);
    if (sign.code == code) return true;
    at += sign.size;
  }
  return false;
}

bool is_control(char32_t c) { return c < 0x20 || (c >= 0x7F && c < 0xA0); }

// Between a cluster that begins with `a` and the next, which begins with `b`.
bool may_part_at(char32_t a, char32_t b) {
  if (script_of(a) != Script::cells && script_of(b) != Script::cells) return false;
  return !among(kNoEnd, a) && !among(kNoStart, b);
}

// The script that a text ends or starts with, passing over neutral signs; neutral when there is no other.
Script edge(std::string_view text, bool last) {
  Script found = Script::neutral;
  for (std::size_t at = 0; at < text.size(); at = cluster_end(text, at)) {
    const Script script = script_of(code_point_at(text, at).code);
    if (script == Script::neutral) continue;
    found = script;
    if (!last) break;
  }
  return found;
}

class Splitter {
 public:
  Splitter(std::string_view text, const FaceHas& in_face) : text_(text), in_face_(in_face) {}

  std::vector<Run> take() {
    for (std::size_t at = 0; at < text_.size();) {
      const std::size_t end = cluster_end(text_, at);
      add(at, end);
      at = end;
    }
    close(text_.size());
    return std::move(runs_);
  }

 private:
  struct Seen {
    bool foreign = false;             // holds what the face lacks
    bool neutral = true;              // holds nothing but spaces and signs
    Script script = Script::neutral;  // of the first character that is none of these
  };

  Seen look(std::size_t at, std::size_t end) const {
    Seen seen;
    while (at < end) {
      const CodePoint point = code_point_at(text_, at);
      at += point.size;
      if (is_unseen(point.code)) continue;
      const bool ours = !point.valid || is_control(point.code);
      const Script script = ours ? Script::letters : script_of(point.code);
      seen.foreign = seen.foreign || (!ours && !in_face_(point.code));
      seen.neutral = seen.neutral && script == Script::neutral;
      if (seen.script == Script::neutral) seen.script = script;
    }
    return seen;
  }

  void add(std::size_t at, std::size_t end) {
    const Seen seen = look(at, end);
    if (!seen.foreign) {
      if (open_ && seen.neutral) return;  // inside, if the run goes on
      close(at);
      own(at, end);
      return;
    }
    Hand hand = Hand::shaped;
    if (seen.script == Script::cells || seen.script == Script::neutral) hand = Hand::cell;
    if (seen.script == Script::right_to_left) hand = Hand::right_to_left;
    if (hand == Hand::cell) {
      close(at);
      runs_.push_back(Run{text_.substr(at, end - at), hand, 0.0});
      return;
    }
    if (!open_ || hand_ != hand) {
      close(at);
      open_ = true;
      hand_ = hand;
      begin_ = at;
    }
    end_ = end;
  }

  // The run that was open ends where its last letter did; signs after that stand outside.
  void close(std::size_t at) {
    if (!open_) return;
    open_ = false;
    runs_.push_back(Run{text_.substr(begin_, end_ - begin_), hand_, 0.0});
    own(end_, at);
  }

  // For our faces. What draws nothing is taken out, for a face that lacks it would draw a box.
  void own(std::size_t at, std::size_t end) {
    while (at < end) {
      const CodePoint point = code_point_at(text_, at);
      const Hand hand = is_unseen(point.code) && !in_face_(point.code) ? Hand::nothing : Hand::face;
      if (!runs_.empty() && runs_.back().hand == hand) {
        Run& run = runs_.back();
        run.text = std::string_view(run.text.data(), run.text.size() + point.size);
      } else {
        runs_.push_back(Run{text_.substr(at, point.size), hand, 0.0});
      }
      at += point.size;
    }
  }

  std::string_view text_;
  const FaceHas& in_face_;
  std::vector<Run> runs_;
  bool open_ = false;  // a shaped run is; all before it is in runs_
  Hand hand_ = Hand::shaped;
  std::size_t begin_ = 0;
  std::size_t end_ = 0;
};

}  // namespace

Script script_of(char32_t code) {
  std::size_t low = 0;
  std::size_t high = sizeof kBlocks / sizeof kBlocks[0] - 1;
  while (low < high) {
    const std::size_t middle = (low + high) / 2;
    if (kBlocks[middle] >> 3U < code) {
      low = middle + 1;
    } else {
      high = middle;
    }
  }
  return static_cast<Script>(kBlocks[low] & 7U);
}

std::vector<Run> runs_of(std::string_view text, const FaceHas& in_face) {
  return Splitter(text, in_face).take();
}

bool may_part(std::string_view before, std::string_view after) {
  if (before.empty() || after.empty()) return false;
  return may_part_at(code_point_at(before, cluster_start(before, before.size())).code,
                     code_point_at(after, 0).code);
}

std::size_t held_together(std::string_view word, std::size_t at) {
  char32_t before = code_point_at(word, at).code;
  for (std::size_t end = cluster_end(word, at); end < word.size(); end = cluster_end(word, end)) {
    const char32_t after = code_point_at(word, end).code;
    if (may_part_at(before, after)) return end;
    before = after;
  }
  return word.size();
}

bool goes_on(std::string_view before, std::string_view after) {
  // What follows is asked first: that it is of another script is soon seen, the end of `before` is far.
  const Script b = edge(after, false);
  return (b == Script::shaped || b == Script::right_to_left) && b == edge(before, true);
}

}  // namespace saltrafter::parts
