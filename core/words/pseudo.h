// The pseudo-language: English that cannot be mistaken for text written in the code.
#pragma once

#include <string>
#include <string_view>

namespace saltrafter::words {

// Letters accented; nothing else changed, so that arguments and marks survive.
std::string accented(std::string_view english);

// What to put after a text so that it becomes two fifths longer than `letters` letters, in breakable pieces.
std::string padding(int letters);

}  // namespace saltrafter::words
