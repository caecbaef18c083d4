// One JSON file as a tree, refused when it is no JSON or names a key twice in one object.
#pragma once

#include <nlohmann/json.hpp>

#include <string>

namespace saltrafter::table_compiler {

using Json = nlohmann::ordered_json;

// True and `tree` filled, or false and `fault` a line that says what is wrong, beginning with `path`.
bool read_json(const std::string& path, Json& tree, std::string& fault);

}  // namespace saltrafter::table_compiler
