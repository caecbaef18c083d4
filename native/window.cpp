#include "native/window.h"

#include <SDL_opengl.h>
#include <imgui.h>
#include <imgui_impl_opengl3.h>

#include <cmath>
#include <cstddef>

namespace saltrafter::native {
namespace {

constexpr int kSmallest_px = 320;

}  // namespace

std::string Window::open(int width_px, int height_px, double scale) {
  scale_ = scale;
  // Fingers come as fingers only, and a mouse as a mouse.
  SDL_SetHint(SDL_HINT_TOUCH_MOUSE_EVENTS, "0");
  SDL_SetHint(SDL_HINT_MOUSE_TOUCH_EVENTS, "0");
  if (SDL_Init(SDL_INIT_VIDEO) != 0) return SDL_GetError();
  SDL_EnableScreenSaver();  // a tablet on a shelf may sleep
  SDL_GL_SetAttribute(SDL_GL_CONTEXT_PROFILE_MASK, SDL_GL_CONTEXT_PROFILE_CORE);
  SDL_GL_SetAttribute(SDL_GL_CONTEXT_MAJOR_VERSION, 3);
  SDL_GL_SetAttribute(SDL_GL_CONTEXT_MINOR_VERSION, 2);
  SDL_GL_SetAttribute(SDL_GL_DOUBLEBUFFER, 1);
  SDL_GL_SetAttribute(SDL_GL_DEPTH_SIZE, 0);
  const auto units = [scale](int px) { return static_cast<int>(std::lround(px * scale)); };
  window_ = SDL_CreateWindow("Saltrafter", SDL_WINDOWPOS_CENTERED, SDL_WINDOWPOS_CENTERED, units(width_px),
                             units(height_px),
                             SDL_WINDOW_OPENGL | SDL_WINDOW_RESIZABLE | SDL_WINDOW_ALLOW_HIGHDPI);
  if (window_ == nullptr) return SDL_GetError();
  SDL_SetWindowMinimumSize(window_, units(kSmallest_px), units(kSmallest_px));
  context_ = SDL_GL_CreateContext(window_);
  if (context_ == nullptr) return SDL_GetError();
  // The renderer lets go of the graphics library when a program is closed, and keeps pointers into it for the next.
  SDL_LoadObject("libOpenGL.so.0");
  SDL_GL_SetSwapInterval(1);
  SDL_EventState(SDL_DROPFILE, SDL_ENABLE);
  SDL_StartTextInput();
  return {};
}

Window::~Window() {
  detach();
  if (context_ != nullptr) SDL_GL_DeleteContext(context_);
  if (window_ != nullptr) SDL_DestroyWindow(window_);
  SDL_Quit();
}

void Window::attach() {
  if (library_ != nullptr) return;
  library_ = ImGui::GetCurrentContext();
  ImGui_ImplOpenGL3_Init("#version 150");
}

void Window::detach() {
  if (library_ == nullptr) return;
  ImGui::SetCurrentContext(library_);  // another host may have made one of its own since
  ImGui_ImplOpenGL3_Shutdown();
  library_ = nullptr;
}

void Window::draw(desk::Program& program, double now_s) {
  draw(program.host(), [&program, now_s] { program.draw(now_s); });
}

void Window::draw(parts::Host& host, const std::function<void()>& frame) {
  host.make_current();
  ImGui_ImplOpenGL3_NewFrame();
  frame();
  int width = 0;
  int height = 0;
  SDL_GL_GetDrawableSize(window_, &width, &height);
  glViewport(0, 0, width, height);
  glClear(GL_COLOR_BUFFER_BIT);
  ImGui_ImplOpenGL3_RenderDrawData(ImGui::GetDrawData());
}

Extent Window::extent() const {
  int width = 1;
  int height = 1;
  SDL_GetWindowSize(window_, &width, &height);
  return {static_cast<double>(width), static_cast<double>(height), scale_};
}

parts::Display Window::display() const {
  const Extent window = extent();
  int width = 1;
  int height = 1;
  SDL_GL_GetDrawableSize(window_, &width, &height);
  parts::Display display;
  display.width_px = window.width / scale_;
  display.height_px = window.height / scale_;
  display.pixel_ratio = static_cast<double>(width) / display.width_px;
  return display;
}

bool Window::visible() const {
  return (SDL_GetWindowFlags(window_) & (SDL_WINDOW_MINIMIZED | SDL_WINDOW_HIDDEN)) == 0;
}

Picture Window::picture() const {
  Picture out;
  SDL_GL_GetDrawableSize(window_, &out.width, &out.height);
  const std::size_t row = static_cast<std::size_t>(out.width) * 3;
  std::vector<unsigned char> from_below(row * static_cast<std::size_t>(out.height));
  glPixelStorei(GL_PACK_ALIGNMENT, 1);
  glReadPixels(0, 0, out.width, out.height, GL_RGB, GL_UNSIGNED_BYTE, from_below.data());
  // OpenGL counts its rows from the bottom.
  out.rgb.reserve(from_below.size());
  for (std::size_t y = static_cast<std::size_t>(out.height); y-- > 0;) {
    const auto from = from_below.begin() + static_cast<std::ptrdiff_t>(y * row);
    out.rgb.insert(out.rgb.end(), from, from + static_cast<std::ptrdiff_t>(row));
  }
  return out;
}

}  // namespace saltrafter::native
