// What the command line asks for.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "core/base/base.h"
#include "core/desk/desk.h"

namespace saltrafter::native {

struct Options {
  bool help = false;
  int width_px = 1240;
  int height_px = 800;
  double scale = 1.0;  // window units to a CSS pixel
  parts::ThemeName theme = parts::ThemeName::paper;
  std::optional<Date> today;
  std::string data;    // folder of the book; empty: the usual one
  std::string report;  // file to report on
  std::string play;    // journey to play
  std::string shots;   // folder for the pictures of a journey
  std::string gallery;  // folder for the pictures of all parts
  std::string file;    // to open at once
};

struct ReadOptions {
  Options options;
  std::string fault;  // one line; empty when all was understood
};

ReadOptions read_options(const std::vector<std::string>& words);

// What there is to say on the command line.
const char* help();

}  // namespace saltrafter::native
