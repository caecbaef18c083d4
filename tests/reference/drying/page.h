// Rows of TRUTH.md, so that a test can hold the page to what it computes.
#pragma once

#include <cstdlib>
#include <fstream>
#include <sstream>
#include <string>
#include <vector>

#include "tests/near.h"

namespace page {

// With SALTRAFTER_PRINT set the tests print the rows instead of comparing them.
inline bool printing() { return std::getenv("SALTRAFTER_PRINT") != nullptr; }

// The cells, trimmed, of the row whose first one is `key`; the first cell has index 1.
inline std::vector<std::string> row(const std::string& key) {
  std::ifstream in(std::string(SALTRAFTER_SOURCE_DIR) + "/tests/reference/drying/TRUTH.md");
  for (std::string line; std::getline(in, line);) {
    std::vector<std::string> cells;
    std::istringstream parts(line);
    for (std::string cell; std::getline(parts, cell, '|');) {
      const auto first = cell.find_first_not_of(' ');
      cells.push_back(first == std::string::npos ? "" : cell.substr(first, cell.find_last_not_of(' ') - first + 1));
    }
    if (cells.size() > 2 && cells[1] == key) {
      return cells;
    }
  }
  return {};
}

// The figures of a row from cell `first` on, each within `tolerance`.
inline void compare(const std::string& key, std::size_t first, const std::vector<double>& figures, double tolerance) {
  const std::vector<std::string> cells = row(key);
  CAPTURE(key);
  REQUIRE(cells.size() >= first + figures.size());
  for (std::size_t i = 0; i < figures.size(); ++i) {
    CHECK(std::strtod(cells[first + i].c_str(), nullptr) == near_abs(figures[i], tolerance));
  }
}

}  // namespace page
