#include "native/gallery.h"

#include <cstdio>
#include <string>

#include "native/files.h"
#include "native/ports.h"
#include "native/window.h"

namespace saltrafter::native {
namespace {

constexpr int kMostSettling = 400;
constexpr int kMostPictures = 60;
constexpr double kOverlap_px = 140.0;  // the bar of places, and a strip that is on both pictures
constexpr double kEdge_px = 0.5;

class Photographer {
 public:
  Photographer(const Options& options, Window& window)
      : options_(options), window_(window), host_(parts::Host::Renderer::shell) {
    host_.set_theme(options.theme);
    host_.set_display(window.display());
  }

  // Pictures until scrolling moves nothing. False with a line on what went wrong.
  bool run() {
    for (int number = 1; number <= kMostPictures; ++number) {
      settle();
      if (!whole() || !keep(number)) return false;
      const double before = top();
      host_.wheel(host_.display().height_px - kOverlap_px);
      settle();
      if (top() == before) return true;
    }
    std::fprintf(stderr, "The gallery has no end.\n");
    return false;
  }

 private:
  void frame() {
    window_.draw(host_, [this] {
      host_.begin_frame(steady_ms() / 1000.0);
      parts::gallery(host_, words::english());
      host_.end_frame();
    });
  }

  void settle() {
    for (int i = 0; i < kMostSettling && host_.wants_frame(); ++i) frame();
  }

  // Where the content stands: its first heading, in sight or not.
  double top() const {
    for (const parts::Node& node : host_.nodes()) {
      if (node.role == parts::Role::heading) return node.rect.y;
    }
    return 0.0;
  }

  bool whole() const {
    for (const parts::Node& node : host_.nodes()) {
      if (node.rect.x >= -kEdge_px && node.rect.right() <= host_.display().width_px + kEdge_px) continue;
      std::fprintf(stderr, "Cut at a side: %s \"%s\", %.1f to %.1f of %.0f\n",
                   std::string(parts::role_name(node.role)).c_str(), node.name.c_str(), node.rect.x,
                   node.rect.right(), host_.display().width_px);
      return false;
    }
    return true;
  }

  bool keep(int number) {
    char name[16];
    std::snprintf(name, sizeof name, "%02d.png", number);
    frame();  // the back buffer holds it until it is shown
    const Result<Done> done = write_file(join_path(options_.gallery, name), png(window_.picture()));
    window_.show();
    if (done.ok()) return true;
    std::fprintf(stderr, "%s could not be written.\n", join_path(options_.gallery, name).c_str());
    return false;
  }

  const Options& options_;
  Window& window_;
  parts::Host host_;
};

}  // namespace

int gallery(const Options& options) {
  if (!make_folders(options.gallery).ok()) {
    std::fprintf(stderr, "%s could not be made.\n", options.gallery.c_str());
    return 1;
  }
  Window window;
  const std::string fault = window.open(options.width_px, options.height_px, options.scale);
  if (!fault.empty()) {
    std::fprintf(stderr, "The window could not be opened: %s\n", fault.c_str());
    return 1;
  }
  SDL_GL_SetSwapInterval(0);
  Photographer photographer(options, window);
  window.attach();
  const bool all = photographer.run();
  window.detach();
  return all ? 0 : 1;
}

}  // namespace saltrafter::native
