// saltrafter_table_compiler OUT FILE...: checks the JSON tables and the fonts' widths and writes them as OUT,
// one C++ file of constants. Each table must be there once. The first fault ends it: one line, exit 1,
// nothing written.

#include <cstdio>
#include <fstream>
#include <set>
#include <string>

#include "core/tables/compiler/rows.h"
#include "core/tables/compiler/widths.h"

namespace saltrafter::table_compiler {
namespace {

constexpr const char* kWidths = "advance widths";

int stop(const std::string& fault) {
  std::fprintf(stderr, "table compiler: %s\n", fault.c_str());
  return 1;
}

int run(int count, char** arguments) {
  if (count < 3) {
    return stop("usage: saltrafter_table_compiler OUT FILE...");
  }
  std::string code =
      "// Made from assets/tables by the table compiler; changes go there.\n"
      "#include \"core/tables/metrics.h\"\n#include \"core/tables/tables.h\"\n\nnamespace saltrafter::tables "
      "{\n";
  std::set<std::string> there;
  for (int i = 2; i < count; ++i) {
    const std::string path = arguments[i];
    Json file;
    std::string fault;
    if (!read_json(path, file, fault)) {
      return stop(fault);
    }
    std::string name = kWidths;
    bool written = false;
    if (file.is_object() && file.contains("faces")) {
      written = write_widths(file, code, fault);
    } else {
      name = file.is_object() && file.contains("table") && file["table"].is_string()
                 ? file["table"].get<std::string>()
                 : "";
      const Table* table = find_table(name);
      if (table == nullptr) {
        return stop(path + ": the table \"" + name + "\" is not known");
      }
      written = write_rows(*table, file, code, fault);
    }
    if (!written) {
      return stop(path + ": " + fault);
    }
    if (!there.insert(name).second) {
      return stop(path + ": \"" + name + "\" was in another file already");
    }
  }
  for (const Table& table : tables()) {
    if (there.count(std::string(table.name)) == 0) {
      return stop("the table \"" + std::string(table.name) + "\" is missing");
    }
  }
  if (there.count(kWidths) == 0) {
    return stop("the fonts' advance widths are missing");
  }
  code += "\n}  // namespace saltrafter::tables\n";
  std::ofstream out(arguments[1], std::ios::binary | std::ios::trunc);
  out << code;
  out.close();
  return out ? 0 : stop(std::string(arguments[1]) + ": cannot be written");
}

}  // namespace
}  // namespace saltrafter::table_compiler

int main(int count, char** arguments) { return saltrafter::table_compiler::run(count, arguments); }
