#include "core/share/file_name.h"

#include <algorithm>
#include <array>

namespace saltrafter::share {
namespace {

bool is_plain(char c) {
  return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '_';
}

// Device names of one widespread system, whatever their case and ending.
bool is_reserved(std::string name) {
  for (char& c : name) c = c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
  constexpr std::array<std::string_view, 4> kDevices{"con", "prn", "aux", "nul"};
  if (std::find(kDevices.begin(), kDevices.end(), name) != kDevices.end()) return true;
  const std::string_view start = std::string_view(name).substr(0, 3);
  return name.size() == 4 && (start == "com" || start == "lpt") && name[3] >= '0' && name[3] <= '9';
}

}  // namespace

std::string file_name(std::string_view name, std::string_view fallback, std::string_view ending) {
  constexpr std::size_t kLongest = 60;
  std::string out;
  for (const char c : name) {
    if (is_plain(c)) {
      out += c;
    } else if (!out.empty() && out.back() != ' ' && out.back() != '-') {
      out += c == ' ' ? ' ' : '-';  // never two in a row: the bytes of one character give one
    }
    if (out.size() == kLongest) break;
  }
  while (!out.empty() && (out.back() == ' ' || out.back() == '-')) out.pop_back();
  if (out.empty()) out = std::string(fallback);
  if (is_reserved(out)) out += "_";
  return out + std::string(ending);
}

}  // namespace saltrafter::share
