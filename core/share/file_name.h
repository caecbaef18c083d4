// Names for files that every system takes.
#pragma once

#include <string>
#include <string_view>

namespace saltrafter::share {

// "Fennel salami.saltrafter.json": letters, digits, space, '_' and '-' of the name, at most 60, no name that a
// system reserves; `fallback` where nothing is left ("recipe"). Other characters become '-'.
std::string file_name(std::string_view name, std::string_view fallback, std::string_view ending = ".saltrafter.json");

}  // namespace saltrafter::share
