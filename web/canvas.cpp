#include "web/canvas.h"

#include <GLES3/gl3.h>
#include <emscripten/emscripten.h>
#include <emscripten/html5.h>
#include <imgui.h>
#include <imgui_impl_opengl3.h>

namespace saltrafter::web {
namespace {

constexpr const char* kCanvas = "#canvas";

// clang-format off
EM_JS(void, report_first_frame, (), { Module.firstFrame(); });
EM_JS(void, report_restored, (), { Module.restored(); });
// clang-format on

// Emscripten's callbacks carry no reliable owner: the page has one canvas.
struct Canvas {
  EMSCRIPTEN_WEBGL_CONTEXT_HANDLE context = 0;
  int drawn = 0;
  bool lost = false;
};
Canvas canvas;

EM_BOOL on_context_lost(int, const void*, void*) {
  canvas.lost = true;
  return EM_TRUE;  // prevents the default, so that the browser may restore it
}

EM_BOOL on_context_restored(int, const void*, void*) {
  canvas.lost = false;
  emscripten_webgl_make_context_current(canvas.context);
  // Everything that was on the card is gone; the library asks for its textures anew.
  ImGui_ImplOpenGL3_DestroyDeviceObjects();
  ImGui_ImplOpenGL3_CreateDeviceObjects();
  report_restored();
  return EM_TRUE;
}

}  // namespace

std::string open_canvas() {
  EmscriptenWebGLContextAttributes wanted;
  emscripten_webgl_init_context_attributes(&wanted);
  wanted.majorVersion = 2;
  wanted.alpha = EM_FALSE;
  wanted.depth = EM_FALSE;
  wanted.stencil = EM_FALSE;
  wanted.antialias = EM_FALSE;
  canvas.context = emscripten_webgl_create_context(kCanvas, &wanted);
  if (canvas.context <= 0) return "the browser gave no WebGL 2";
  emscripten_webgl_make_context_current(canvas.context);
  emscripten_set_webglcontextlost_callback(kCanvas, nullptr, EM_FALSE, on_context_lost);
  emscripten_set_webglcontextrestored_callback(kCanvas, nullptr, EM_FALSE, on_context_restored);
  if (!ImGui_ImplOpenGL3_Init("#version 300 es")) return "the renderer did not start";
  return {};
}

bool canvas_ready() { return !canvas.lost; }

void before_frame() { ImGui_ImplOpenGL3_NewFrame(); }

void show_frame(int width_px, int height_px) {
  glViewport(0, 0, width_px, height_px);
  glClear(GL_COLOR_BUFFER_BIT);
  ImGui_ImplOpenGL3_RenderDrawData(ImGui::GetDrawData());
  if (++canvas.drawn == 1) report_first_frame();
}

int frames_drawn() { return canvas.drawn; }

}  // namespace saltrafter::web
