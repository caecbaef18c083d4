#include "web/text_in.h"

#include <emscripten/emscripten.h>

#include <algorithm>
#include <utility>

namespace saltrafter::web {
namespace {

std::string room;

}  // namespace

std::string take_text(int bytes) {
  std::string text = std::exchange(room, {});
  text.resize(bytes > 0 ? static_cast<std::size_t>(bytes) : 0);
  return text;
}

std::vector<std::string> split(const std::string& text, char mark) {
  std::vector<std::string> parts;
  std::size_t from = 0;
  while (from < text.size()) {
    const std::size_t to = std::min(text.find(mark, from), text.size());
    parts.push_back(text.substr(from, to - from));
    from = to + 1;
  }
  return parts;
}

}  // namespace saltrafter::web

extern "C" {

// Where a script may put a text of so many bytes, to be taken by the next call that says so.
EMSCRIPTEN_KEEPALIVE char* saltrafter_room(int bytes) {
  saltrafter::web::room.resize(bytes > 0 ? static_cast<std::size_t>(bytes) : 0);
  return saltrafter::web::room.data();
}

}  // extern "C"
