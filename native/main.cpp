// The desktop program. See native/options.cpp, or --help, for its command line.
#include <cstdio>
#include <string>
#include <vector>

#include "native/app.h"
#include "native/files.h"
#include "native/gallery.h"
#include "native/loop.h"
#include "native/options.h"
#include "native/play.h"
#include "native/report.h"
#include "native/window.h"

namespace {

int open_window(const saltrafter::native::Options& options) {
  using namespace saltrafter::native;
  Window window;
  const std::string fault = window.open(options.width_px, options.height_px, options.scale);
  if (!fault.empty()) {
    std::fprintf(stderr, "The window could not be opened: %s\n", fault.c_str());
    return 1;
  }
  App app(options, options.data.empty() ? default_data_folder() : options.data, default_start_folder());
  app.open();
  window.attach();
  if (!options.file.empty()) app.open_file(options.file);
  run_loop(app, window);
  window.detach();
  app.close();
  return 0;
}

}  // namespace

int main(int count, char** words) {
  using namespace saltrafter::native;
  const ReadOptions read = read_options(std::vector<std::string>(words + (count > 0 ? 1 : 0), words + count));
  if (!read.fault.empty()) {
    std::fprintf(stderr, "%s\n", read.fault.c_str());
    return 2;
  }
  const Options& options = read.options;
  if (options.help) {
    std::fputs(help(), stdout);
    return 0;
  }
  if (!options.report.empty()) return report(options);
  if (!options.play.empty()) return play(options);
  if (!options.gallery.empty()) return gallery(options);
  return open_window(options);
}
