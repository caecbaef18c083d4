// A host without a renderer and the frames that a shell would run: the whole of the desk, in a test program.
#pragma once

#include <doctest/doctest.h>

#include <functional>
#include <string>

#include "core/desk/parts/parts.h"

namespace stage {

using namespace saltrafter;
using namespace saltrafter::parts;

struct Stage {
  Host host{Host::Renderer::none};
  words::Language language = words::english();
  std::function<void(Host&, const words::Language&)> draw;
  double now_s = 0.0;
  int frames = 0;

  void frame() {
    now_s += 1.0 / 60.0;
    host.begin_frame(now_s);
    draw(host, language);
    host.end_frame();
    ++frames;
  }

  // Frames until nothing is left to do, as a shell runs them. Fails when that does not come.
  void settle() {
    int n = 0;
    while (host.wants_frame() && n < 600) {
      frame();
      ++n;
    }
    CHECK(n < 600);
  }

  void size(double width, double height, double text_scale = 1.0, double ratio = 1.0) {
    Display d;
    d.width_px = width;
    d.height_px = height;
    d.text_scale = text_scale;
    d.pixel_ratio = ratio;
    host.set_display(d);
    settle();
  }

  const Node& node(Role role, const std::string& name, int nth = 0) {
    const Node* found = find(host.nodes(), role, name, nth);
    INFO("no " << std::string(role_name(role)) << " named " << name);
    REQUIRE(found != nullptr);
    return *found;
  }

  void press(Role role, const std::string& name) {
    CHECK(host.press(node(role, name)));
    settle();
  }
  void fill(Role role, const std::string& name, const std::string& text) {
    CHECK(host.fill(node(role, name), text));
    settle();
  }
  void key(KeyPress k, bool shift = false) {
    host.key_down(k, shift);
    settle();
  }
  void type(const std::string& text) {
    host.text(text);
    settle();
  }
};

}  // namespace stage
