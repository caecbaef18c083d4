// Reads the small CSV tables of tests/reference/data: comment lines, one line of names, rows without quotes.
#pragma once

#include <doctest/doctest.h>

#include <cstdlib>
#include <fstream>
#include <map>
#include <string>
#include <vector>

namespace rows {

using Row = std::map<std::string, std::string>;

inline std::vector<std::string> cells(const std::string& line) {
  std::vector<std::string> out(1);
  for (const char c : line) {
    if (c == ',') {
      out.emplace_back();
    } else if (c != '\r') {
      out.back() += c;
    }
  }
  return out;
}

inline std::vector<Row> read(const std::string& name) {
  std::ifstream in(std::string(SALTRAFTER_SOURCE_DIR) + "/tests/reference/data/" + name);
  REQUIRE_MESSAGE(in.good(), name);
  std::vector<Row> out;
  std::vector<std::string> names;
  for (std::string line; std::getline(in, line);) {
    if (line.empty() || line[0] == '#') {
      continue;
    }
    const std::vector<std::string> values = cells(line);
    if (names.empty()) {
      names = values;
      continue;
    }
    REQUIRE_MESSAGE(values.size() == names.size(), name << ": " << line);
    Row row;
    for (std::size_t i = 0; i < names.size(); ++i) {
      row[names[i]] = values[i];
    }
    out.push_back(row);
  }
  REQUIRE_MESSAGE(!out.empty(), name);
  return out;
}

inline double number(const Row& row, const std::string& name) {
  const auto found = row.find(name);
  REQUIRE_MESSAGE(found != row.end(), name);
  char* end = nullptr;
  const double value = std::strtod(found->second.c_str(), &end);
  REQUIRE_MESSAGE(end != found->second.c_str(), name << ": " << found->second);
  return value;
}

}  // namespace rows
