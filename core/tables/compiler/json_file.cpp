#include "core/tables/compiler/json_file.h"

#include <fstream>
#include <iterator>
#include <set>
#include <vector>

namespace saltrafter::table_compiler {

bool read_json(const std::string& path, Json& tree, std::string& fault) {
  std::ifstream file(path, std::ios::binary);
  const std::string text((std::istreambuf_iterator<char>(file)), std::istreambuf_iterator<char>());
  if (!file) {
    fault = path + ": cannot be read";
    return false;
  }
  std::vector<std::set<std::string>> open_objects;
  std::string doubled;
  const auto note_keys = [&](int, Json::parse_event_t event, Json& parsed) {
    if (event == Json::parse_event_t::object_start) {
      open_objects.emplace_back();
    } else if (event == Json::parse_event_t::object_end) {
      open_objects.pop_back();
    } else if (event == Json::parse_event_t::key) {
      const std::string& key = parsed.get_ref<const std::string&>();
      if (!open_objects.back().insert(key).second && doubled.empty()) {
        doubled = key;
      }
    }
    return true;
  };
  tree = Json::parse(text, note_keys, /*allow_exceptions=*/false);
  if (tree.is_discarded()) {
    fault = path + ": not JSON (NaN and infinity are not either)";
    return false;
  }
  if (!doubled.empty()) {
    fault = path + ": the key \"" + doubled + "\" stands twice in one object";
    return false;
  }
  return true;
}

}  // namespace saltrafter::table_compiler
