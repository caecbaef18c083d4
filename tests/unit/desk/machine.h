// A machine without a screen for the tests of the desk: the program, two stores, a clock that moves when told.
#pragma once

#include <doctest/doctest.h>

#include <fstream>
#include <map>
#include <memory>
#include <sstream>
#include <string>
#include <vector>

#include "core/desk/desk.h"
#include "tests/unit/book/samples.h"

namespace saltrafter::desk::sample {

inline std::string text_of(const std::string& path) {
  std::ifstream in(std::string(SALTRAFTER_SOURCE_DIR) + "/" + path, std::ios::binary);
  std::stringstream text;
  text << in.rdbuf();
  return text.str();
}

struct Machine {
  explicit Machine(double width_px = 1440.0, double height_px = 900.0) {
    display.width_px = width_px;
    display.height_px = height_px;
    world.now_ms = 1'795'608'000'000;  // 2026-11-25, noon UTC
  }

  void open(words::Language language = words::english()) {
    Shell shell;
    shell.ports = world.ports();
    // Each look at the clock takes time, so that a slice ends where its budget says.
    shell.clock_ms = [this] { return steady_ms += 0.25; };
    shell.whereabouts = whereabouts;
    shell.keep_whereabouts = [this](const std::string& text) { whereabouts = text; };
    shell.download = [this](const std::string& name, const std::string& text) { files[name] = text; last_file = name; };
    program = std::make_unique<Program>(std::move(shell), drawer.store(), vault.store(), language,
                                        parts::Host::Renderer::none);
    program->set_display(display);
    frames_open = 0;
    loaded = false;
  }

  // One frame with its work. The second store answers late: what it holds after `answer_frames`, each write in
  // the frame after.
  void frame() {
    steady_ms += 16.0;
    if (!loaded && ++frames_open > answer_frames) {
      loaded = true;
      program->second_store_loaded(vault.slots());
    }
    if (!vault.open.empty() && loaded) {
      const auto [ticket, slots] = vault.open.front();
      vault.open.erase(vault.open.begin());
      for (const book::SlotText& slot : slots) vault.texts[slot.key] = slot.text;
      program->put_done(ticket, true);
    }
    program->draw(steady_ms / 1000.0);
    program->work(budget_ms);
  }
  void frames(int count) {
    for (int i = 0; i < count; ++i) frame();
  }

  const parts::Node* node(parts::Role role, const std::string& name) {
    for (const parts::Node& found : program->host().nodes()) {
      if (found.role == role && matches(name, found.name)) return &found;
    }
    return nullptr;
  }
  void press(parts::Role role, const std::string& name) {
    const parts::Node* found = node(role, name);
    CAPTURE(name);
    REQUIRE(found != nullptr);
    program->host().activate(found->id);
    frames(4);
  }
  void fill(parts::Role role, const std::string& name, const std::string& text) {
    const parts::Node* found = node(role, name);
    CAPTURE(name);
    REQUIRE(found != nullptr);
    program->host().fill(found->id, text);
    program->host().leave();  // what was typed is judged when the field is left
    frames(4);
  }

  book::sample::World world;
  book::sample::Drawer drawer;
  book::sample::Vault vault;
  std::map<std::string, std::string> files;
  std::string last_file;
  std::string whereabouts;
  parts::Display display;
  double steady_ms = 0.0;
  double budget_ms = 50.0;
  int answer_frames = 5;
  int frames_open = 0;
  bool loaded = false;
  std::unique_ptr<Program> program;
};

}  // namespace saltrafter::desk::sample
