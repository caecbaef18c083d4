#include <doctest/doctest.h>

#include <fstream>
#include <set>
#include <string>
#include <type_traits>

#include "core/book/book.h"

namespace saltrafter::book {
namespace {

// The name before the first parenthesis of a declaration.
std::string function_of(const std::string& line) {
  const std::size_t open = line.find('(');
  if (open == std::string::npos || open == 0) return {};
  std::size_t from = open;
  while (from > 0 && line[from - 1] != ' ' && line[from - 1] != '&' && line[from - 1] != '*') --from;
  return line.substr(from, open - from);
}

TEST_CASE("Only apply, undo and redo change a book") {
  static_assert(!std::is_copy_assignable_v<Book> && !std::is_move_assignable_v<Book>);
  std::ifstream in(SALTRAFTER_SOURCE_DIR "/core/book/document.h");
  std::string line;
  bool inside = false;
  std::set<std::string> changing;
  std::size_t looking = 0;
  while (std::getline(in, line)) {
    if (line == "class Book {") inside = true;
    if (!inside) continue;
    if (line == " private:") break;
    const std::size_t text = line.find_first_not_of(' ');
    if (text == std::string::npos || line.compare(text, 2, "//") == 0) continue;
    const std::string name = function_of(line);
    if (name.empty() || name == "Book" || line.find("= delete") != std::string::npos) continue;
    if (line.find(") const") != std::string::npos) {
      ++looking;
    } else {
      changing.insert(name);
    }
  }
  CHECK(changing == std::set<std::string>{"apply", "undo", "redo"});
  CHECK(looking >= 10);
}

}  // namespace
}  // namespace saltrafter::book
