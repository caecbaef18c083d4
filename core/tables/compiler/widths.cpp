#include "core/tables/compiler/widths.h"

#include <map>

namespace saltrafter::table_compiler {
namespace {

constexpr const char* kFaces[] = {"gentium_regular", "gentium_bold", "carlito_regular", "carlito_bold"};

// Whole number 0..5000 of that member; -1 when there is none.
int thousandths(const Json& object, const char* name) {
  const auto found = object.find(name);
  if (found == object.end() || !found->is_number_integer()) {
    return -1;
  }
  const auto value = found->get<std::int64_t>();
  return value >= 0 && value <= 5000 ? static_cast<int>(value) : -1;
}

bool write_face(const std::string& name, const Json& face, std::string& code, std::string& fault) {
  const int ascent = thousandths(face, "ascent");
  const int descent = thousandths(face, "descent");
  const auto advances = face.find("advances");
  if (ascent < 0 || descent < 0 || advances == face.end() || !advances->is_object() || advances->empty()) {
    fault = name + ": ascent, descent and advances are needed, in thousandths of an em";
    return false;
  }
  std::map<unsigned long, int> sorted;
  for (const auto& member : advances->items()) {
    char* end = nullptr;
    const unsigned long code_point = std::strtoul(member.key().c_str(), &end, 10);
    const int width = thousandths(*advances, member.key().c_str());
    if (member.key().empty() || *end != '\0' || code_point > 0x10FFFF || width < 0) {
      fault = name + ": the advance of \"" + member.key() + "\" is no width of a code point";
      return false;
    }
    sorted[code_point] = width;
  }
  code += "\nconstexpr Advance k_" + name + "[] = {\n";
  int in_line = 0;
  for (const auto& entry : sorted) {
    code += "{" + std::to_string(entry.first) + "," + std::to_string(entry.second) + "},";
    in_line = (in_line + 1) % 12;
    code += in_line == 0 ? "\n" : "";
  }
  code += "};\nconstexpr FaceMetrics k_" + name + "_metrics{" + std::to_string(ascent) + ", " +
          std::to_string(descent) + ", k_" + name + "};\n";
  return true;
}

}  // namespace

bool write_widths(const Json& file, std::string& code, std::string& fault) {
  const auto faces = file.find("faces");
  if (faces == file.end() || !faces->is_object()) {
    fault = "\"faces\" must be an object";
    return false;
  }
  std::string choose = "\nconst FaceMetrics& face_metrics(Face face) {\n  switch (face) {\n";
  for (const char* name : kFaces) {
    const auto face = faces->find(name);
    if (face == faces->end() || !face->is_object()) {
      fault = "no face " + std::string(name);
      return false;
    }
    if (!write_face(name, *face, code, fault)) {
      return false;
    }
    choose += "    case Face::" + std::string(name) + ": return k_" + name + "_metrics;\n";
  }
  code += choose + "  }\n  return k_gentium_regular_metrics;\n}\n";
  return true;
}

}  // namespace saltrafter::table_compiler
