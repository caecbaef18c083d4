// The book's store on the desktop: one file a key in a folder of its own. It keeps what it has confirmed, so
// there is no second store.
#pragma once

#include <string>

#include "core/book/book.h"

namespace saltrafter::native {

// The folder is made when the first value is kept. Files of other kinds in it are neither read nor touched.
book::FirstStore folder_store(std::string folder);

// A key as a file name that every file system takes, and back; empty where it is no name of ours.
std::string file_of_key(const std::string& key);
std::string key_of_file(const std::string& file);

}  // namespace saltrafter::native
