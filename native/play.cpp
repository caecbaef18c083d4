#include "native/play.h"

#include <cstdio>
#include <map>
#include <string>
#include <utility>
#include <vector>

#include "native/app.h"
#include "native/files.h"
#include "native/loop.h"
#include "native/ports.h"

namespace saltrafter::native {
namespace {

constexpr double kSlice_ms = 20.0;
constexpr int kFramesToLook = 6;
constexpr int kMostSettling = 400;  // frames until a picture is taken all the same

std::string plain(const Error& error) { return words::sentence(words::english(), error).plain(); }

// Folders that a journey needs and nobody after it.
class PassingFolders {
 public:
  PassingFolders() = default;
  ~PassingFolders() {
    for (const std::string& folder : folders_) remove_folder(folder);
  }
  PassingFolders(const PassingFolders&) = delete;
  PassingFolders& operator=(const PassingFolders&) = delete;

  Result<std::string> another() {
    Result<std::string> made = make_passing_folder();
    if (made.ok()) folders_.push_back(made.value());
    return made;
  }

 private:
  std::vector<std::string> folders_;
};

class Stage {
 public:
  Stage(const Options& options, App& app, Window& window, PassingFolders& folders)
      : options_(options), app_(app), window_(window), folders_(folders) {}

  int run(std::vector<desk::Step> steps);

 private:
  // The verbs of this host. What ends the program waits until the step is over: the player still holds it.
  Result<Done> shell_verb(const desk::Step& step);
  Result<Done> take_file(const desk::Step& step);
  Result<Done> open_file(const desk::Step& step);
  void close();
  void reopen();
  void keep_picture(const desk::Step& step, int number);
  bool frame();

  const Options& options_;
  App& app_;
  Window& window_;
  PassingFolders& folders_;
  std::map<std::string, std::string> taken_;  // name -> path
  int saved_for_line_ = 0;
  bool close_ = false;
  bool reopen_ = false;
  // What a closed program leaves to look at.
  parts::Host nothing_{parts::Host::Renderer::none};
};

Error missing(const std::string& what) {
  Error error;
  error.code = ErrorCode::not_found;
  error.field = what;
  return error;
}

Result<Done> Stage::shell_verb(const desk::Step& step) {
  if (step.verb == "offline" || step.verb == "online") return Done{};  // it never uses a network
  if (step.verb == "close") {
    close_ = true;
    return Done{};
  }
  if (step.verb == "reopen") {
    close_ = reopen_ = true;
    return Done{};
  }
  if (step.verb == "new_visitor") {
    const Result<std::string> folder = folders_.another();
    if (!folder.ok()) return folder.error();
    app_.use_data_folder(folder.value());
    close_ = reopen_ = true;
    return Done{};
  }
  if (step.verb == "take_file") return take_file(step);
  if (step.verb == "open_file") return open_file(step);
  Error error;
  error.code = ErrorCode::unknown_value;
  error.found = step.verb;
  error.expected = "close, reopen, offline, online, new_visitor, take_file, open_file";
  return error;
}

// Saves what the path screen offers, and takes a copy: the friend's machine is another one.
Result<Done> Stage::take_file(const desk::Step& step) {
  if (app_.saved_last().empty() && app_.program() != nullptr && saved_for_line_ != step.line) {
    parts::Host& host = app_.program()->host();
    const std::string save = words::text(words::english(), words::Id::files_save).plain();
    const parts::Node* node = parts::find(host.nodes(), parts::Role::button, save);
    if (node != nullptr && host.press(*node)) saved_for_line_ = step.line;
  }
  if (app_.saved_last().empty()) return missing(step.name);  // tried again in the next frame
  const Result<std::string> text = read_file(app_.saved_last());
  if (!text.ok()) return text.error();
  const Result<std::string> folder = folders_.another();
  if (!folder.ok()) return folder.error();
  const std::string path = join_path(folder.value(), base_name(app_.saved_last()));
  const Result<Done> copied = write_file(path, text.value());
  if (!copied.ok()) return copied.error();
  taken_[step.name] = path;
  app_.forget_saved();
  return Done{};
}

Result<Done> Stage::open_file(const desk::Step& step) {
  const auto taken = taken_.find(step.name);
  if (taken == taken_.end() || app_.program() == nullptr) return missing(step.name);
  app_.open_file(taken->second);
  return Done{};
}

void Stage::close() {
  if (app_.program() != nullptr) {
    window_.detach();
    app_.close();
  }
  close_ = false;
}

void Stage::reopen() {
  app_.open();
  window_.attach();
  reopen_ = false;
}

// Events, work and at most one frame. False when the window was closed by hand.
bool Stage::frame() {
  if (!take_events(app_, window_, 0.0)) return false;
  if (app_.program() == nullptr) return true;
  app_.program()->work(kSlice_ms);
  if (draw_if_wanted(app_, window_)) window_.show();
  return true;
}

void Stage::keep_picture(const desk::Step& step, int number) {
  if (options_.shots.empty()) return;
  for (int i = 0; i < kMostSettling && app_.program()->wants_frame(); ++i) {
    app_.program()->work(kSlice_ms);
    app_.program()->set_display(window_.display());
    window_.draw(*app_.program(), steady_ms() / 1000.0);
  }
  // The back buffer is undefined after it was shown: one frame more, and its pixels before that.
  window_.draw(*app_.program(), steady_ms() / 1000.0);
  std::string words = step.verb + (step.name.empty() ? "" : "-" + step.name);
  for (char& c : words) {
    const bool letter = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9');
    if (!letter) c = '-';
  }
  char count[16];
  std::snprintf(count, sizeof count, "%03d-", number);
  (void)write_file(join_path(options_.shots, count + words.substr(0, 60) + ".png"), png(window_.picture()));
  window_.show();
}

int Stage::run(std::vector<desk::Step> steps) {
  using State = desk::Player::State;
  const std::vector<desk::Step> all = steps;
  desk::Player player(std::move(steps), [this](const desk::Step& step) { return shell_verb(step); });
  State state = State::going;
  while (state == State::going) {
    if (!frame()) {
      std::fprintf(stderr, "The window was closed before the journey ended.\n");
      return 1;
    }
    const int before = player.done();
    state = player.advance(app_.program() == nullptr ? nothing_ : app_.program()->host());
    if (close_) close();
    if (reopen_) reopen();
    if (player.done() == before || app_.program() == nullptr) continue;
    // A person looks at what a step has done before the next one.
    for (int i = 0; i < kFramesToLook && app_.program()->wants_frame(); ++i) {
      if (!frame()) break;
    }
    keep_picture(all[static_cast<std::size_t>(before)], player.done());
  }
  if (state == State::passed) {
    std::printf("%d steps passed\n", player.done());
    return 0;
  }
  const Error& error = player.error();
  std::fprintf(stderr, "%s, %s failed: %s\n", options_.play.c_str(), error.field.c_str(), error.found.c_str());
  if (app_.program() == nullptr) return 1;
  if (const desk::Step* step = player.step()) keep_picture(*step, player.done() + 1);
  std::fprintf(stderr, "On the screen:\n");
  for (const parts::Node& node : app_.program()->host().nodes()) {
    std::fprintf(stderr, "  %s \"%s\" \"%s\" %s\n", std::string(parts::role_name(node.role)).c_str(),
                 node.name.c_str(), node.value.c_str(), node.description.c_str());
  }
  return 1;
}

}  // namespace

int play(const Options& options) {
  const Result<std::string> text = read_file(options.play);
  if (!text.ok()) {
    std::fprintf(stderr, "%s: %s\n", options.play.c_str(), plain(text.error()).c_str());
    return 2;
  }
  Result<std::vector<desk::Step>> steps = desk::read_journey(text.value());
  if (!steps.ok()) {
    std::fprintf(stderr, "%s, %s: %s\n", options.play.c_str(), steps.error().field.c_str(),
                 plain(steps.error()).c_str());
    return 2;
  }
  PassingFolders folders;
  const Result<std::string> data = options.data.empty() ? folders.another() : Result<std::string>(options.data);
  const Result<std::string> files = folders.another();
  const Result<Done> shots = options.shots.empty() ? Result<Done>(Done{}) : make_folders(options.shots);
  if (!data.ok() || !files.ok() || !shots.ok()) {
    const Error& error = !data.ok() ? data.error() : !files.ok() ? files.error() : shots.error();
    std::fprintf(stderr, "%s: %s\n", error.field.c_str(), plain(error).c_str());
    return 1;
  }
  Window window;
  const std::string fault = window.open(options.width_px, options.height_px, options.scale);
  if (!fault.empty()) {
    std::fprintf(stderr, "The window could not be opened: %s\n", fault.c_str());
    return 1;
  }
  SDL_GL_SetSwapInterval(0);  // nobody watches each frame
  App app(options, data.value(), files.value());
  app.open();
  window.attach();
  const int code = Stage(options, app, window, folders).run(std::move(steps).value());
  window.detach();
  app.close();
  return code;
}

}  // namespace saltrafter::native
