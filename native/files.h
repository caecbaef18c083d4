// Files as the program uses them: read whole, written so that a crash leaves the old or the new one.
//
// Errors everywhere: not_found, storage_denied, storage_full, too_large; `field` is the path.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include "core/base/base.h"
#include "core/desk/shell.h"

namespace saltrafter::native {

inline constexpr std::size_t kMostBytes = std::size_t{16} << 20U;  // of a file that is read; choice
inline constexpr std::size_t kMostEntries = 2000;                  // of a folder that is listed; choice

Result<std::string> read_file(const std::string& path);

// Under another name in the same folder, flushed to the disk, then renamed, and the folder flushed. A link is
// followed; a file that was there keeps its permissions.
Result<Done> write_file(const std::string& path, std::string_view text);

// Folders first, each by name; hidden ones are left out, and what goes beyond `most` entries.
Result<std::vector<desk::FolderEntry>> list_folder(const std::string& folder, std::size_t most = kMostEntries);

// The folder with all above it that are not there yet, for the user alone.
Result<Done> make_folders(const std::string& folder);

std::string join_path(const std::string& folder, std::string_view name);
std::string_view base_name(std::string_view path);

// $XDG_DATA_HOME/saltrafter, else ~/.local/share/saltrafter.
std::string default_data_folder();
// Where the path field starts: ~/Documents where there is one, else ~.
std::string default_start_folder();

// A new empty folder that nobody else has, for a journey; removed with all in it by remove_folder.
Result<std::string> make_passing_folder();
void remove_folder(const std::string& folder);

}  // namespace saltrafter::native
