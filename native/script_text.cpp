#include "native/script_text.h"

#ifdef SALTRAFTER_PANGO

#include <pango/pangocairo.h>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <memory>
#include <string>

namespace saltrafter::native {
namespace {

template <auto release>
struct Release {
  template <typename T>
  void operator()(T* held) const {
    release(held);
  }
};
using Context = std::unique_ptr<PangoContext, Release<g_object_unref>>;
using Layout = std::unique_ptr<PangoLayout, Release<g_object_unref>>;
using Description = std::unique_ptr<PangoFontDescription, Release<pango_font_description_free>>;
using FontOptions = std::unique_ptr<cairo_font_options_t, Release<cairo_font_options_destroy>>;
using Surface = std::unique_ptr<cairo_surface_t, Release<cairo_surface_destroy>>;
using Pen = std::unique_ptr<cairo_t, Release<cairo_destroy>>;

// As our own faces are set: grey edges, no hinting, advances not rounded.
Context make_context() {
  Context context(pango_font_map_create_context(pango_cairo_font_map_get_default()));
  const FontOptions options(cairo_font_options_create());
  cairo_font_options_set_antialias(options.get(), CAIRO_ANTIALIAS_GRAY);
  cairo_font_options_set_hint_style(options.get(), CAIRO_HINT_STYLE_NONE);
  cairo_font_options_set_hint_metrics(options.get(), CAIRO_HINT_METRICS_OFF);
  pango_cairo_context_set_font_options(context.get(), options.get());
  pango_context_set_round_glyph_positions(context.get(), FALSE);
  return context;
}

Layout make_layout(PangoContext* context, const parts::RunText& run) {
  Layout layout(pango_layout_new(context));
  const Description font(pango_font_description_new());
  pango_font_description_set_family(font.get(), run.family == parts::Family::serif ? "serif" : "sans-serif");
  pango_font_description_set_weight(font.get(), run.bold ? PANGO_WEIGHT_BOLD : PANGO_WEIGHT_NORMAL);
  pango_font_description_set_absolute_size(font.get(), run.size_px * PANGO_SCALE);
  pango_layout_set_font_description(layout.get(), font.get());
  pango_context_set_base_dir(context, run.right_to_left ? PANGO_DIRECTION_RTL : PANGO_DIRECTION_LTR);
  pango_layout_set_auto_dir(layout.get(), FALSE);
  pango_layout_set_single_paragraph_mode(layout.get(), TRUE);
  pango_layout_set_text(layout.get(), run.utf8.data(), static_cast<int>(run.utf8.size()));
  return layout;
}

// Pango's units, rounded outwards to whole pixels.
int down(int units) { return static_cast<int>(std::floor(static_cast<double>(units) / PANGO_SCALE)); }
int up(int units) { return static_cast<int>(std::ceil(static_cast<double>(units) / PANGO_SCALE)); }

// Cairo's pixels are words of alpha, red, green, blue, multiplied by alpha; white letters have all four
// alike.
void take_pixels(const unsigned char* rows, std::size_t stride, parts::Raster& out) {
  const std::size_t width = static_cast<std::size_t>(out.width_px);
  const std::size_t height = static_cast<std::size_t>(out.height_px);
  const auto word = [&](std::size_t x, std::size_t y) {
    return *reinterpret_cast<const std::uint32_t*>(rows + y * stride + x * 4);
  };
  out.pixels.reserve(width * height * 4);
  for (std::size_t y = 0; y < height; ++y) {
    for (std::size_t x = 0; x < width; ++x) {
      const std::uint32_t alpha = word(x, y) >> 24U;
      out.coloured = out.coloured || word(x, y) != alpha * 0x01010101U;
      for (const unsigned shift : {16U, 8U, 0U}) {
        const std::uint32_t part = word(x, y) >> shift & 0xFFU;
        const std::uint32_t whole = alpha > 0 ? std::min(255U, (part * 255U + alpha / 2U) / alpha) : 255U;
        out.pixels.push_back(static_cast<unsigned char>(whole));
      }
      out.pixels.push_back(static_cast<unsigned char>(alpha));
    }
  }
}

parts::Raster rasterise(PangoContext* context, const parts::RunText& run, bool with_pixels) {
  const Layout layout = make_layout(context, run);
  PangoLayoutLine* line = pango_layout_get_line_readonly(layout.get(), 0);
  parts::Raster out;
  if (line == nullptr) return out;
  PangoRectangle ink;
  PangoRectangle logical;
  pango_layout_line_get_extents(line, &ink, &logical);
  out.advance_px = static_cast<double>(logical.width) / PANGO_SCALE;
  if (!with_pixels || ink.width <= 0 || ink.height <= 0) return out;
  // One pixel more on each side, for smoothed edges.
  const int tallest = static_cast<int>(run.size_px) * parts::kTallestRaster_em;
  out.left_px = down(ink.x) - 1;
  out.top_px = std::min(tallest / 2, 1 - down(ink.y));
  out.width_px = std::min(parts::kWidestRaster_px, up(ink.x + ink.width) + 1 - out.left_px);
  out.height_px = std::clamp(up(ink.y + ink.height) + 1 + out.top_px, 1, tallest);
  const Surface surface(cairo_image_surface_create(CAIRO_FORMAT_ARGB32, out.width_px, out.height_px));
  const Pen pen(cairo_create(surface.get()));
  cairo_set_source_rgb(pen.get(), 1.0, 1.0, 1.0);
  cairo_move_to(pen.get(), -out.left_px, out.top_px);
  pango_cairo_show_layout_line(pen.get(), line);
  cairo_surface_flush(surface.get());
  const unsigned char* rows = cairo_image_surface_get_data(surface.get());
  if (rows == nullptr) {
    out.width_px = out.height_px = 0;
    return out;
  }
  take_pixels(rows, static_cast<std::size_t>(cairo_image_surface_get_stride(surface.get())), out);
  return out;
}

}  // namespace

parts::Rasteriser device_fonts() {
  const std::shared_ptr<PangoContext> context = make_context();
  return [context](const parts::RunText& run, bool with_pixels) {
    return rasterise(context.get(), run, with_pixels);
  };
}

}  // namespace saltrafter::native

#else

namespace saltrafter::native {

parts::Rasteriser device_fonts() { return {}; }

}  // namespace saltrafter::native

#endif
