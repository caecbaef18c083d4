// The hand that draws: lines, areas and letters in layout pixels, turned into device pixels once, here.
//
// Layout pixels are CSS pixels divided by the maker's text size: at 200 % the page is half as wide and twice
// as large. Hairlines fall on whole device pixels.
#pragma once

#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "core/desk/parts/nodes.h"
#include "core/desk/parts/raster.h"
#include "core/desk/parts/theme.h"

namespace saltrafter::parts {

class Settings;  // type.h

// A run of letters as it was set, layout px; `clip` is what of the page it could show in.
struct Written {
  std::string text;
  Rect rect;
  Rect clip;
};

class Canvas {
 public:
  // Without a renderer everything works but the picture: for tests and for playing a story.
  explicit Canvas(bool has_renderer);
  ~Canvas();
  Canvas(const Canvas&) = delete;
  Canvas& operator=(const Canvas&) = delete;

  // Of several canvases in one program, this is the one the shell's renderer sees from now on.
  void make_current() const;

  // The device's own fonts, for runs that our faces lack. Without them such characters show the faces' box.
  void use_device_fonts(Rasteriser rasteriser);
  std::size_t device_picture_bytes() const;  // that they take on textures now

  // One frame; size in device pixels, `scale` device pixels to a layout pixel.
  void begin(int width_device_px, int height_device_px, double scale, const Theme& theme, double delta_s);
  void end();
  const Theme& theme() const { return *theme_; }
  Colour colour(Ink ink) const { return theme_->of(ink); }

  // How far a text runs, and where its baseline lies under the top of a line box of `line` px.
  double width(std::string_view utf8, const Font& font) const;
  double baseline(const Font& font, double line) const;
  // Where a caret stands between two clusters; inside a run of the device's fonts about where letters part.
  double caret_x(std::string_view utf8, std::size_t offset, const Font& font) const;
  bool has_glyph(char32_t code_point, Family family, bool bold) const;
  Settings& settings() const;  // texts broken into lines, good for this scale and these fonts

  void fill(const Rect& rect, Colour colour, double radius = 0.0);
  void outline(const Rect& rect, Colour colour, double thickness, double radius = 0.0);  // inside the rect
  void dashed_outline(const Rect& rect, Colour colour, double thickness, double radius);
  void hairline(double x1, double x2, double y, Colour colour);  // 1 px, horizontal
  void upright(double x, double y1, double y2, Colour colour);   // 1 px, vertical
  void line(double x1, double y1, double x2, double y2, Colour colour, double thickness);
  void dashes(double x1, double y1, double x2, double y2, Colour colour, double thickness, double dash,
              double gap);
  void polyline(const std::vector<figure::Point>& px, Colour colour, double thickness, bool closed);
  void polygon(const std::vector<figure::Point>& px, Colour colour);
  void disc(double x, double y, double radius, Colour colour);
  void ring(double x, double y, double radius, double thickness, Colour colour);
  void hatch(const Rect& rect, Colour colour);  // 45°, 5 px apart: the forbidden side

  // `x` is the left end, `y` the baseline.
  void letters(double x, double y, std::string_view utf8, const Font& font, Colour colour);

  // From now on each run of letters is noted in `list` too; null: no longer. Who listens, draws nothing else.
  void listen(std::vector<Written>* list) { listener_ = list; }

  void push_clip(const Rect& rect);
  void pop_clip();

 private:
  struct Inside;
  void note(double x, double y, std::string_view utf8, const Font& font) const;
  std::unique_ptr<Inside> inside_;
  const Theme* theme_ = nullptr;
  double scale_ = 1.0;
  bool has_renderer_ = false;
  std::vector<Written>* listener_ = nullptr;
};

}  // namespace saltrafter::parts
