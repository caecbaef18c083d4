#include "web/script_text.h"

#include <emscripten/emscripten.h>

#include <array>
#include <cstddef>

namespace saltrafter::web {
namespace {

// clang-format off
EM_JS(int, has_script_text, (), { return Module.scriptText ? 1 : 0; });
// `out`: advance, left, top, width, height, whether it is coloured.
EM_JS(void, set_run, (const char* text, int bytes, int serif, int bold, double size_px, int right_to_left,
                      int pixels, double* out), {
  const run = Module.scriptText.set(UTF8ToString(text, bytes), serif, bold, size_px, right_to_left, pixels);
  HEAPF64.set(run, out >> 3);
});
EM_JS(void, take_pixels, (unsigned char* into), { HEAPU8.set(Module.scriptText.pixels(), into); });
// clang-format on

parts::Raster rasterise(const parts::RunText& run, bool with_pixels) {
  std::array<double, 6> out{};
  set_run(run.utf8.data(), static_cast<int>(run.utf8.size()), run.family == parts::Family::serif ? 1 : 0,
          run.bold ? 1 : 0, run.size_px, run.right_to_left ? 1 : 0, with_pixels ? 1 : 0, out.data());
  parts::Raster raster;
  raster.advance_px = out[0];
  if (!with_pixels) return raster;
  raster.left_px = static_cast<int>(out[1]);
  raster.top_px = static_cast<int>(out[2]);
  raster.width_px = static_cast<int>(out[3]);
  raster.height_px = static_cast<int>(out[4]);
  raster.coloured = out[5] != 0.0;
  raster.pixels.resize(static_cast<std::size_t>(raster.width_px * raster.height_px * 4));
  take_pixels(raster.pixels.data());
  return raster;
}

}  // namespace

parts::Rasteriser device_fonts() {
  if (has_script_text() == 0) return {};
  return rasterise;
}

}  // namespace saltrafter::web
