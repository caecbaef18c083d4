#include "native/app.h"

#include <SDL.h>

#include <utility>

#include "native/files.h"
#include "native/ports.h"
#include "native/script_text.h"
#include "native/store.h"

namespace saltrafter::native {

App::App(const Options& options, std::string data_folder, std::string start_folder)
    : options_(options), data_folder_(std::move(data_folder)), start_folder_(std::move(start_folder)) {}

void App::open() {
  desk::Shell shell;
  shell.ports = ports(options_.today);
  shell.clock_ms = steady_ms;
  shell.list_folder = [](const std::string& folder) { return list_folder(folder); };
  shell.read_file = read_file;
  shell.write_file = [this](const std::string& path, const std::string& text) {
    Result<Done> done = write_file(path, text);
    if (done.ok()) saved_last_ = path;
    return done;
  };
  const std::string whereabouts = join_path(data_folder_, "whereabouts.json");
  if (Result<std::string> kept = read_file(whereabouts); kept.ok()) shell.whereabouts = std::move(kept).value();
  // Refused or full: the book's own trouble is told by the book.
  shell.keep_whereabouts = [whereabouts](const std::string& text) { (void)write_file(whereabouts, text); };
  shell.keep_awake = [](bool on) { on ? SDL_DisableScreenSaver() : SDL_EnableScreenSaver(); };
  shell.start_folder = start_folder_;
  shell.data_folder = data_folder_;
  program_ = std::make_unique<desk::Program>(std::move(shell), folder_store(data_folder_), book::SecondStore{},
                                             words::english(), parts::Host::Renderer::shell);
  program_->set_device_theme(options_.theme);
  program_->host().use_device_fonts(device_fonts());
}

void App::open_file(const std::string& path) {
  const Result<std::string> text = read_file(path);
  if (text.ok()) {
    program_->file_opened(std::string(base_name(path)), text.value());
    return;
  }
  desk::Session& session = program_->session();
  session.tell_wrong(words::sentence(session.language, text.error()));
  program_->host().wake();
}

}  // namespace saltrafter::native
