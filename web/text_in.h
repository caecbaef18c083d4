// Texts that the page's scripts hand to the program: one room in memory, filled by the script, taken at once.
#pragma once

#include <string>
#include <vector>

namespace saltrafter::web {

// What separates the parts and the lines of a list that goes over the border, as in desk::Program::mirror.
inline constexpr char kPart = '\x1f';
inline constexpr char kLine = '\x1e';

// The text that the script has put into the room, `bytes` long; the room is free again.
std::string take_text(int bytes);

// The text in its parts; an empty text has none.
std::vector<std::string> split(const std::string& text, char mark);

}  // namespace saltrafter::web
