// Who draws what of a text: our faces the characters they have, the device's own fonts the rest, in runs.
#pragma once

#include <string_view>
#include <vector>

#include "core/desk/parts/cluster.h"

namespace saltrafter::parts {

enum class Script {
  neutral,        // spaces, digits, punctuation, signs: goes with what is around it
  letters,        // Latin, Greek, Cyrillic
  cells,          // Han, kana, Hangul, wide signs and emoji: each stands by itself, lines break between them
  shaped,         // letters that change with their neighbours, or that stand above and below each other
  right_to_left,  // the same, read from the right
};

Script script_of(char32_t code);

enum class Hand {
  face,           // our own faces
  cell,           // one cluster, by the device's fonts
  shaped,         // a run that is shaped and ordered whole
  right_to_left,  // the same, whose first letter is at its right end
  nothing,        // draws nothing: a joiner without neighbours, a mark of direction
};

struct Run {
  std::string_view text;
  Hand hand = Hand::face;
  double advance_px = 0.0;  // once it is set, in device pixels
};

// Whether a face has a character.
struct FaceHas {
  bool (*has)(const void* face, char32_t code);
  const void* face;
  bool operator()(char32_t code) const { return has(face, code); }
};

// In the order of the text, nothing left out. A cluster of which our face lacks a character goes to the
// device's fonts whole. Spaces, digits and punctuation between two parts of a shaped run are inside it. Bytes
// that are no UTF-8 and control characters stay with the face.
std::vector<Run> runs_of(std::string_view text, const FaceHas& in_face);

// The end of what a line holds together from `at` on, in a text without spaces: cells may be parted, but no
// line starts with what closes or ends with what opens.
std::size_t held_together(std::string_view word, std::size_t at);

// Whether a line may be broken between the two texts, which no space parts.
bool may_part(std::string_view before, std::string_view after);

// Whether a shaped run that ends `before` goes on in `after`, over the spaces and signs between.
bool goes_on(std::string_view before, std::string_view after);

}  // namespace saltrafter::parts
