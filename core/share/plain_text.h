// Text from others without what could deceive a reader: control characters, marks that turn its direction.
#pragma once

#include <string>
#include <string_view>

namespace saltrafter::share {

// Leaves out U+0000..001F, U+007F, U+202A..202E and U+2066..2069; `plain_lines` keeps line feeds.
std::string plain_line(std::string_view text);
std::string plain_lines(std::string_view text);

}  // namespace saltrafter::share
