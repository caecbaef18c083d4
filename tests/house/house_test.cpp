// The rules of the house, read from the sources: who includes whom, where libraries live, what the core never calls.
#include <doctest/doctest.h>

#include <cstdio>
#include <filesystem>
#include <fstream>
#include <map>
#include <regex>
#include <set>
#include <sstream>
#include <string>
#include <vector>

namespace fs = std::filesystem;

namespace {

const fs::path kRoot = SALTRAFTER_SOURCE_DIR;

std::string read(const fs::path& path) {
  std::ifstream in(path, std::ios::binary);
  std::stringstream text;
  text << in.rdbuf();
  return text.str();
}

std::vector<std::string> words_of(const std::string& text) {
  std::vector<std::string> words;
  const std::regex word("[A-Za-z_/]+");
  for (std::sregex_iterator it(text.begin(), text.end(), word), end; it != end; ++it) words.push_back(it->str());
  return words;
}

// The two-column table of DEVELOPERS.md whose head starts with `head`: first cell -> words of the second.
std::map<std::string, std::set<std::string>> table(const std::string& head) {
  std::map<std::string, std::set<std::string>> rows;
  std::istringstream in(read(kRoot / "DEVELOPERS.md"));
  bool inside = false;
  for (std::string line; std::getline(in, line);) {
    if (line.rfind("| " + head + " |", 0) == 0) {
      inside = true;
    } else if (inside && line.rfind("|", 0) != 0) {
      break;
    } else if (inside && line.rfind("| ---", 0) != 0) {
      const auto bar = line.find('|', 1);
      const auto names = words_of(line.substr(0, bar));
      const auto allowed = words_of(line.substr(bar));
      for (const auto& name : names) rows[name] = {allowed.begin(), allowed.end()};
    }
  }
  return rows;
}

struct Source {
  std::string path;    // from the root, with '/'
  std::string module;  // "" outside core
  std::vector<std::string> includes;
};

std::string module_of(const std::string& path) {
  if (path.rfind("core/", 0) != 0) return "";
  if (path.rfind("core/desk/parts/", 0) == 0) return "desk/parts";
  return path.substr(5, path.find('/', 5) - 5);
}

std::vector<Source> sources(const std::vector<std::string>& folders) {
  std::vector<Source> found;
  const std::regex include("^[ \t]*#[ \t]*include[ \t]*[<\"]([^>\"]+)[>\"]");
  for (const auto& folder : folders) {
    for (const auto& entry : fs::recursive_directory_iterator(kRoot / folder)) {
      const auto ext = entry.path().extension();
      if (ext != ".h" && ext != ".cpp" && ext != ".inc") continue;
      Source source;
      source.path = fs::relative(entry.path(), kRoot).generic_string();
      source.module = module_of(source.path);
      std::istringstream in(read(entry.path()));
      for (std::string line; std::getline(in, line);) {
        std::smatch match;
        if (std::regex_search(line, match, include)) source.includes.push_back(match[1]);
      }
      found.push_back(source);
    }
  }
  return found;
}

bool starts(const std::string& text, const std::string& with) { return text.rfind(with, 0) == 0; }

}  // namespace

TEST_CASE("a module includes only the public headers of the modules that its row allows") {
  const auto rows = table("module");
  REQUIRE(rows.size() == 14);
  const auto all = sources({"core"});
  REQUIRE(all.size() > 20);
  int crossings = 0;
  for (const auto& source : all) {
    CAPTURE(source.path);
    REQUIRE(rows.count(source.module) == 1);
    for (const auto& include : source.includes) {
      if (!starts(include, "core/")) continue;
      const std::string target = module_of(include);
      if (target == source.module) continue;
      CAPTURE(include);
      ++crossings;
      CHECK(rows.at(source.module).count(target) == 1);
      const std::string own = target.substr(target.find('/') == std::string::npos ? 0 : target.find('/') + 1);
      const bool fonts = starts(include, "core/desk/parts/fonts/");
      CHECK((fonts || include == "core/" + target + "/" + own + ".h"));
    }
  }
  CHECK(crossings > 10);
}

TEST_CASE("every module of the table stands in the tree with its public header") {
  for (const auto& [module, allowed] : table("module")) {
    CAPTURE(module);
    const std::string own = module.substr(module.find('/') == std::string::npos ? 0 : module.find('/') + 1);
    CHECK(fs::exists(kRoot / "core" / module / (own + ".h")));
  }
}

TEST_CASE("outside libraries stay in their rooms") {
  const auto homes = table("library");
  REQUIRE(homes.count("imgui") == 1);
  std::map<std::string, std::set<std::string>> imgui_files;
  for (const auto& source : sources({"core", "web", "native"})) {
    for (const auto& include : source.includes) {
      CAPTURE(source.path);
      CAPTURE(include);
      const bool imgui = include.find("imgui") != std::string::npos;
      if (imgui) {
        if (source.module.empty()) {
          imgui_files[source.path.substr(0, source.path.find('/'))].insert(source.path);
        } else {
          CHECK(source.module == "desk/parts");
        }
        continue;
      }
      for (const auto& [library, rooms] : homes) {
        if (library == "imgui" || library == "doctest") continue;
        if (include != library && !starts(include, library + "/") && !starts(include, library + ".h")) continue;
        bool home = false;
        for (const auto& room : rooms) home = home || starts(source.path, room + "/");
        CHECK(home);
      }
    }
  }
  for (const auto& [shell, files] : imgui_files) {
    CAPTURE(shell);
    CHECK(files.size() == 1);
  }
}

TEST_CASE("nothing in core prints, exits, reads a clock or draws lots by itself") {
  const std::regex banned(
      "\\b(printf|puts|abort|exit|rand|srand|time|clock|getenv)\\s*\\(|std::(cout|cerr|random_device)|"
      "(system|steady|high_resolution)_clock|setlocale");
  for (const auto& source : sources({"core"})) {
    if (starts(source.path, "core/tables/compiler/")) continue;
    std::istringstream in(read(kRoot / source.path));
    int number = 0;
    for (std::string line; std::getline(in, line);) {
      ++number;
      const auto comment = line.find("//");
      const std::string code = comment == std::string::npos ? line : line.substr(0, comment);
      CAPTURE(source.path);
      CAPTURE(number);
      CHECK_FALSE(std::regex_search(code, banned));
    }
  }
}

TEST_CASE("the document changes through the edit door alone") {
  // Whatever of Book is public and not const must be one of these.
  const std::set<std::string> doors = {"apply", "undo", "redo"};
  std::istringstream in(read(kRoot / "core/book/document.h"));
  bool inside = false;
  bool is_public = false;
  int seen = 0;
  const std::regex method("^  [A-Za-z_:<>\\*& ]+ ([a-z_]+)\\(.*\\)( const)?;");
  for (std::string line; std::getline(in, line);) {
    if (std::regex_search(line, std::regex("^class Book \\{"))) inside = true;
    if (inside && starts(line, "};")) inside = false;
    if (!inside) continue;
    if (line.find("public:") != std::string::npos) is_public = true;
    if (line.find("private:") != std::string::npos) is_public = false;
    std::smatch match;
    if (is_public && std::regex_search(line, match, method) && match[2].length() == 0 &&
        line.find("static ") == std::string::npos && line.find("explicit ") == std::string::npos) {
      CAPTURE(line);
      CHECK(doors.count(match[1]) == 1);
      ++seen;
    }
  }
  CHECK(seen == 3);
}

#ifdef SALTRAFTER_CORE_LIBRARIES
TEST_CASE("no object of the core throws") {
  std::istringstream list(SALTRAFTER_CORE_LIBRARIES);
  int libraries = 0;
  for (std::string library; std::getline(list, library, ',');) {
    CAPTURE(library);
    FILE* pipe = popen(("nm -u " + library + " 2>/dev/null").c_str(), "r");
    REQUIRE(pipe != nullptr);
    std::string symbols;
    char chunk[4096];
    while (const std::size_t n = std::fread(chunk, 1, sizeof chunk, pipe)) symbols.append(chunk, n);
    CHECK(pclose(pipe) == 0);
    CHECK(symbols.find(" U ") != std::string::npos);
    CHECK(symbols.find("__cxa_throw") == std::string::npos);
    ++libraries;
  }
  CHECK(libraries >= 13);
}
#endif
