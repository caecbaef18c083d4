// How a figure came about: its formula's inputs, one a line, each with the source of its constant.
//
// Filled only when asked: functions take a `Working*` that may be null. Ids name figures of the report.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace saltrafter::recipe {

struct WorkingLine {
  std::string id;      // "nitrite.mix", "nitrite.strength"
  double value = 0.0;
  std::string unit;    // "g", "mg/kg", "1" for a ratio
  std::string source;  // key of a source, "maker" for what was typed, "computed" for a result

  friend bool operator==(const WorkingLine&, const WorkingLine&) = default;
};

using Working = std::vector<WorkingLine>;

// Adds a line where a working is wanted; nothing where `working` is null.
inline void note(Working* working, std::string_view id, double value, std::string_view unit,
                 std::string_view source) {
  if (working == nullptr) return;
  working->push_back(WorkingLine{std::string(id), value, std::string(unit), std::string(source)});
}

}  // namespace saltrafter::recipe
