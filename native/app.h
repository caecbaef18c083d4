// The program with this machine around it: ports, the folder of its book, files by path.
#pragma once

#include <memory>
#include <optional>
#include <string>

#include "core/desk/desk.h"
#include "native/options.h"

namespace saltrafter::native {

class App {
 public:
  // `data_folder` holds the book, `start_folder` is where the path field begins.
  App(const Options& options, std::string data_folder, std::string start_folder);
  App(const App&) = delete;
  App& operator=(const App&) = delete;

  // Makes the program from what its folder holds; drops it. Between the two there is one.
  void open();
  void close() { program_.reset(); }
  desk::Program* program() { return program_.get(); }
  // The folder of the next open().
  void use_data_folder(std::string folder) { data_folder_ = std::move(folder); }

  // Opens a file by its path; what is wrong with it is said on the screen.
  void open_file(const std::string& path);

  // The path of the file that the maker saved last; empty when none was.
  const std::string& saved_last() const { return saved_last_; }
  void forget_saved() { saved_last_.clear(); }

 private:
  Options options_;
  std::string data_folder_;
  std::string start_folder_;
  std::string saved_last_;
  std::unique_ptr<desk::Program> program_;
};

}  // namespace saltrafter::native
