// The least that a page of this make can weigh: SDL2, WebGL 2, Dear ImGui, one face, one empty window.
// The bench puts the real page beside it; boot.js starts both alike.
#include "core/desk/parts/fonts/fonts.h"

#include <SDL.h>
#include <SDL_opengles2.h>
#include <emscripten/emscripten.h>
#include <imgui.h>
#include <imgui_impl_opengl3.h>
#include <imgui_impl_sdl2.h>

namespace {

// clang-format off
EM_JS(void, report_first_frame, (), { Module.firstFrame(); });
// clang-format on

SDL_Window* window = nullptr;
int drawn = 0;

void frame() {
  SDL_Event event;
  while (SDL_PollEvent(&event) != 0) ImGui_ImplSDL2_ProcessEvent(&event);
  ImGui_ImplOpenGL3_NewFrame();
  ImGui_ImplSDL2_NewFrame();
  ImGui::NewFrame();
  ImGui::Begin("Floor");
  ImGui::End();
  ImGui::Render();
  int width = 0;
  int height = 0;
  SDL_GL_GetDrawableSize(window, &width, &height);
  glViewport(0, 0, width, height);
  glClearColor(1.0f, 1.0f, 1.0f, 1.0f);
  glClear(GL_COLOR_BUFFER_BIT);
  ImGui_ImplOpenGL3_RenderDrawData(ImGui::GetDrawData());
  SDL_GL_SwapWindow(window);
  if (++drawn == 1) report_first_frame();
}

}  // namespace

extern "C" {
EMSCRIPTEN_KEEPALIVE void saltrafter_wake() {}
EMSCRIPTEN_KEEPALIVE int saltrafter_frames() { return drawn; }
}

int main() {
  if (SDL_Init(SDL_INIT_VIDEO) != 0) return 1;
  SDL_GL_SetAttribute(SDL_GL_CONTEXT_PROFILE_MASK, SDL_GL_CONTEXT_PROFILE_ES);
  SDL_GL_SetAttribute(SDL_GL_CONTEXT_MAJOR_VERSION, 3);
  window = SDL_CreateWindow("Floor", SDL_WINDOWPOS_UNDEFINED, SDL_WINDOWPOS_UNDEFINED, 1000, 700,
                            SDL_WINDOW_OPENGL | SDL_WINDOW_RESIZABLE | SDL_WINDOW_ALLOW_HIGHDPI);
  if (window == nullptr) return 1;
  SDL_GLContext context = SDL_GL_CreateContext(window);
  ImGui::CreateContext();
  ImFontConfig config;
  config.FontDataOwnedByAtlas = false;
  const saltrafter::parts::FontData face = saltrafter::parts::carlito_regular();
  ImGui::GetIO().Fonts->AddFontFromMemoryTTF(const_cast<unsigned char*>(face.bytes),
                                             static_cast<int>(face.size), 18.0f, &config);
  ImGui_ImplSDL2_InitForOpenGL(window, context);
  ImGui_ImplOpenGL3_Init("#version 300 es");
  emscripten_set_main_loop(frame, 0, 0);
  return 0;
}
