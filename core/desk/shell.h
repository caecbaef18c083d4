// What a shell does for the screens: files, and a steady clock to cut long work by. The page gives the browser's
// ways, the desktop program a folder; what a shell does not have is left empty, and the screens do without.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "core/base/base.h"

namespace saltrafter::desk {

struct FolderEntry {
  std::string name;
  bool folder = false;
};

struct Shell {
  Ports ports;
  std::function<double()> clock_ms;  // steady; its zero does not matter

  // Where the maker was when the program was last here, as it was handed to keep_whereabouts.
  std::string whereabouts;
  std::function<void(const std::string& text)> keep_whereabouts;

  // The page: hands a file to the browser, asks the browser for one (answered by Program::file_opened).
  std::function<void(const std::string& name, const std::string& text)> download;
  std::function<void()> pick_file;

  // Keeps the screen lit, or lets it sleep again.
  std::function<void(bool on)> keep_awake;

  // The desktop: one folder at a time, through the path field. Errors: not_found, storage_denied, storage_full,
  // too_large; `field` is the path.
  std::function<Result<std::vector<FolderEntry>>(const std::string& folder)> list_folder;
  std::function<Result<std::string>(const std::string& path)> read_file;
  std::function<Result<Done>(const std::string& path, const std::string& text)> write_file;
  std::string start_folder;
  std::string data_folder;  // where the book is kept; empty on the page
};

}  // namespace saltrafter::desk
