// The window of the desktop program: SDL's window, OpenGL 3 and the renderer of Dear ImGui's draw lists.
//
// window.cpp is the one file of the desktop program that includes Dear ImGui. Input does not pass through the
// library: see input.h.
#pragma once

#include <SDL.h>

#include <functional>
#include <string>

#include "core/desk/desk.h"
#include "native/input.h"
#include "native/picture.h"

struct ImGuiContext;

namespace saltrafter::native {

class Window {
 public:
  Window() = default;
  ~Window();
  Window(const Window&) = delete;
  Window& operator=(const Window&) = delete;

  // Sizes in CSS pixels, `scale` window units to one of them. Returns what went wrong, or nothing.
  std::string open(int width_px, int height_px, double scale);

  // Right after a program was made, and before its end: in between the renderer belongs to it.
  void attach();
  void detach();

  // One frame into the back buffer; show() brings it to the screen. `frame` runs the host's frame.
  void draw(desk::Program& program, double now_s);
  void draw(parts::Host& host, const std::function<void()>& frame);
  void show() { SDL_GL_SwapWindow(window_); }

  Extent extent() const;
  parts::Display display() const;
  bool visible() const;
  Picture picture() const;  // of the back buffer

 private:
  SDL_Window* window_ = nullptr;
  SDL_GLContext context_ = nullptr;
  double scale_ = 1.0;
  ImGuiContext* library_ = nullptr;  // of the program that the renderer belongs to
};

}  // namespace saltrafter::native
