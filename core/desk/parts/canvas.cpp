#include "core/desk/parts/canvas.h"

#include <imgui.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "core/desk/parts/fonts/fonts.h"
#include "core/desk/parts/run_cache.h"
#include "core/desk/parts/script.h"
#include "core/desk/parts/type.h"

namespace saltrafter::parts {
namespace {

struct Face {
  ImFont* font = nullptr;
  double ascent_em = 0.0;   // above the baseline, positive
  double descent_em = 0.0;  // below it, positive

  // Asked of every letter in every frame, so the answers for the scripts of our faces are kept.
  bool has(char32_t code) const {
    if (code >= kept.size()) return font->IsGlyphInFont(static_cast<ImWchar>(code));
    signed char& answer = kept[code];
    if (answer == 0) answer = font->IsGlyphInFont(static_cast<ImWchar>(code)) ? 1 : -1;
    return answer > 0;
  }
  static bool has(const void* face, char32_t code) { return static_cast<const Face*>(face)->has(code); }

 private:
  mutable std::array<signed char, 0x2300> kept{};
};

unsigned read_u16(const unsigned char* p) { return static_cast<unsigned>(p[0] << 8 | p[1]); }
int read_i16(const unsigned char* p) {
  const unsigned v = read_u16(p);
  return v < 0x8000 ? static_cast<int>(v) : static_cast<int>(v) - 0x10000;
}

// Ascent and descent of a TrueType file in em, from its tables head and hhea.
// Source: OpenType specification 1.9, tables 'head' (unitsPerEm at 18) and 'hhea' (ascender 4, descender 6).
void read_metrics(const FontData& data, Face& face) {
  double units = 1000.0;
  int ascent = 800;
  int descent = -200;
  const unsigned tables = data.size > 12 ? read_u16(data.bytes + 4) : 0;
  for (unsigned i = 0; i < tables && 12 + 16 * (i + 1) <= data.size; ++i) {
    const unsigned char* entry = data.bytes + 12 + 16 * i;
    const std::size_t offset = static_cast<std::size_t>(read_u16(entry + 8)) << 16 | read_u16(entry + 10);
    const std::string_view tag(reinterpret_cast<const char*>(entry), 4);
    if (offset + 36 > data.size) continue;
    if (tag == "head") units = read_u16(data.bytes + offset + 18);
    if (tag == "hhea") {
      ascent = read_i16(data.bytes + offset + 4);
      descent = read_i16(data.bytes + offset + 6);
    }
  }
  face.ascent_em = ascent / units;
  face.descent_em = -descent / units;
}

ImU32 packed(Colour c) { return IM_COL32(c.red, c.green, c.blue, 255); }

// A boundary between clusters near the middle of a run that has two or more.
std::size_t middle_of(std::string_view run) {
  std::size_t middle = cluster_end(run, 0);
  for (std::size_t end = middle; end <= run.size() / 2; end = cluster_end(run, end)) middle = end;
  return middle;
}

}  // namespace

struct Canvas::Inside {
  ImGuiContext* context = nullptr;
  ImDrawList* list = nullptr;
  std::array<Face, 4> faces;
  RunCache runs;
  Settings settings;
  std::vector<Run> laid;  // runs of the text in hand, from the left

  const Face& face(const Font& font) const {
    return faces[(font.family == Family::serif ? 0U : 2U) + (font.bold ? 1U : 0U)];
  }
  // Letters are rasterised at whole sizes; in between they would be stretched and blurred.
  static double device_size(const Font& font, double scale) {
    return std::fmax(1.0, std::floor(font.size * scale + 0.5));
  }
  static float library_size(const Font& font, double scale) {
    return static_cast<float>(device_size(font, scale));
  }

  double face_advance_px(std::string_view utf8, const Font& font, double scale) const {
    if (utf8.empty()) return 0.0;
    const float size = library_size(font, scale);
    return static_cast<double>(
        face(font).font->CalcTextSizeA(size, 1e9F, 0.0F, utf8.data(), utf8.data() + utf8.size()).x);
  }

  static RunText run_text(const Run& run, const Font& font, double scale) {
    const bool right_to_left = run.hand == Hand::right_to_left;
    return RunText{run.text, font.family, font.bold, device_size(font, scale), right_to_left};
  }

  // Whether our own face sets all of it.
  bool is_ours(std::string_view utf8, const Font& font) const {
    if (!runs) return true;
    const Face& own = face(font);
    for (std::size_t at = 0; at < utf8.size();) {
      const CodePoint point = code_point_at(utf8, at);
      if (point.code >= 0x80 && point.valid && !own.has(point.code)) return false;
      at += point.size;
    }
    return true;
  }

  // Fills `laid`. What is longer than a texture is wide is set in halves.
  void lay(std::string_view utf8, const Font& font, double scale) {
    laid.clear();
    if (is_ours(utf8, font)) {
      laid.push_back(Run{utf8, Hand::face, face_advance_px(utf8, font, scale)});
      return;
    }
    const Face& own = face(font);
    for (Run& run : runs_of(utf8, {&Face::has, &own})) lay_run(run, font, scale);
  }

  void lay_run(Run& run, const Font& font, double scale) {
    constexpr std::size_t kLongest = 1024;  // bytes, measured whole
    if (run.hand == Hand::nothing) return;
    bool fits = true;
    if (run.hand == Hand::face) {
      run.advance_px = face_advance_px(run.text, font, scale);
    } else if (cluster_end(run.text, 0) == run.text.size()) {
      run.advance_px = runs.advance_px(run_text(run, font, scale));
    } else {
      fits = run.text.size() <= kLongest;
      if (fits) run.advance_px = runs.advance_px(run_text(run, font, scale));
      fits = fits && run.advance_px <= kWidestRaster_px - 2.0 * device_size(font, scale);
    }
    if (fits) {
      laid.push_back(run);
      return;
    }
    const std::size_t middle = middle_of(run.text);
    Run halves[] = {run, run};
    const std::size_t first = run.hand == Hand::right_to_left ? 1 : 0;
    halves[first].text = run.text.substr(0, middle);
    halves[1 - first].text = run.text.substr(middle);
    for (Run& half : halves) lay_run(half, font, scale);
  }

  // The left end at (x, baseline), both on whole device pixels.
  void draw(const Run& run, const Font& font, double scale, ImVec2 pen, ImU32 colour) {
    const float size = library_size(font, scale);
    if (run.hand == Hand::face) {
      ImFont* own = face(font).font;
      // The library draws from the top of its line box, whose ascent it rounds up to whole pixels.
      const ImVec2 top(pen.x, pen.y - own->GetFontBaked(size)->Ascent);
      const std::string_view utf8 = run.text;
      list->AddText(own, size, top, colour, utf8.data(), utf8.data() + utf8.size());
      return;
    }
    // What is out of sight is not rasterised.
    const ImVec2 from = list->GetClipRectMin();
    const ImVec2 to = list->GetClipRectMax();
    const float reach = size * static_cast<float>(kTallestRaster_em);
    if (pen.x > to.x + size || pen.x + static_cast<float>(run.advance_px) + size < from.x ||
        pen.y > to.y + reach || pen.y + reach < from.y) {
      return;
    }
    const RunCache::Picture* p = runs.picture(run_text(run, font, scale));
    if (p == nullptr) return;
    const ImVec2 corner(pen.x + static_cast<float>(p->left), pen.y - static_cast<float>(p->top));
    const float width = static_cast<float>(p->texture->Width);
    const float height = static_cast<float>(p->texture->Height);
    list->AddImage(p->texture->GetTexRef(), corner,
                   ImVec2(corner.x + static_cast<float>(p->width), corner.y + static_cast<float>(p->height)),
                   ImVec2(static_cast<float>(p->x) / width, static_cast<float>(p->y) / height),
                   ImVec2(static_cast<float>(p->x + p->width) / width,
                          static_cast<float>(p->y + p->height) / height),
                   p->coloured ? IM_COL32_WHITE : colour);
  }
};

namespace {

// Letters are white with their shape in alpha, but what lies between them in a new texture is black and
// clear; smoothing would mix that black into the edges of light letters. Clear white mixes in nothing.
void whiten_new_textures() {
  for (ImTextureData* texture : ImGui::GetPlatformIO().Textures) {
    if (texture->Status != ImTextureStatus_WantCreate || texture->BytesPerPixel != 4) continue;
    unsigned char* pixels = static_cast<unsigned char*>(texture->GetPixels());
    const std::size_t bytes = static_cast<std::size_t>(texture->GetSizeInBytes());
    for (std::size_t i = 0; i + 3 < bytes; i += 4) pixels[i] = pixels[i + 1] = pixels[i + 2] = 255;
  }
}

}  // namespace

Canvas::Canvas(bool has_renderer)
    : inside_(std::make_unique<Inside>()), theme_(&paper()), has_renderer_(has_renderer) {
  inside_->context = ImGui::CreateContext();
  ImGui::SetCurrentContext(inside_->context);
  ImGuiIO& io = ImGui::GetIO();
  io.IniFilename = nullptr;
  io.LogFilename = nullptr;
  io.ConfigFlags = ImGuiConfigFlags_NoMouseCursorChange;
  io.BackendFlags |= ImGuiBackendFlags_RendererHasTextures;
  const std::array<FontData, 4> data = {gentium_regular(), gentium_bold(), carlito_regular(), carlito_bold()};
  for (std::size_t i = 0; i < data.size(); ++i) {
    ImFontConfig config;
    config.FontDataOwnedByAtlas = false;
    config.OversampleH = 2;
    // Negative: sizes are those of the em, as in print, not of the face's whole height. The library holds
    // advances between two bounds that it multiplies by size over this; with a negative one their order turns
    // round.
    config.SizePixels = -20.0F;
    config.GlyphMinAdvanceX = 1e6F;
    config.GlyphMaxAdvanceX = -1e6F;
    // The library never writes into font data that it does not own.
    void* bytes = const_cast<unsigned char*>(data[i].bytes);
    inside_->faces[i].font =
        io.Fonts->AddFontFromMemoryTTF(bytes, static_cast<int>(data[i].size), 0.0F, &config);
    read_metrics(data[i], inside_->faces[i]);
  }
}

Canvas::~Canvas() {
  ImGui::SetCurrentContext(inside_->context);
  for (ImTextureData* texture : ImGui::GetPlatformIO().Textures) {
    if (!has_renderer_) texture->SetStatus(ImTextureStatus_Destroyed);
  }
  ImGui::DestroyContext(inside_->context);
}

void Canvas::use_device_fonts(Rasteriser rasteriser) {
  inside_->runs.use(std::move(rasteriser));
  inside_->settings.clear();
}

Settings& Canvas::settings() const { return inside_->settings; }

std::size_t Canvas::device_picture_bytes() const { return inside_->runs.bytes(); }

void Canvas::make_current() const { ImGui::SetCurrentContext(inside_->context); }

void Canvas::begin(int width_device_px, int height_device_px, double scale, const Theme& theme,
                   double delta_s) {
  theme_ = &theme;
  if (scale != scale_) inside_->settings.clear();
  inside_->settings.begin_frame();
  scale_ = scale;
  ImGui::SetCurrentContext(inside_->context);
  ImGuiIO& io = ImGui::GetIO();
  io.DisplaySize = ImVec2(static_cast<float>(width_device_px), static_cast<float>(height_device_px));
  io.DisplayFramebufferScale = ImVec2(1.0F, 1.0F);
  io.DeltaTime = static_cast<float>(std::fmax(1e-4, delta_s));
  ImGui::NewFrame();
  inside_->runs.begin_frame();
  inside_->list = ImGui::GetBackgroundDrawList();
  const Colour ground = theme.of(Ink::ground);
  inside_->list->AddRectFilled(ImVec2(0.0F, 0.0F), io.DisplaySize, packed(ground));
}

void Canvas::end() {
  ImGui::Render();
  inside_->list = nullptr;
  whiten_new_textures();
  inside_->runs.end_frame(ImGui::GetPlatformIO().Textures);
  if (has_renderer_) return;
  // Nobody draws: the requests for textures are answered here, or the library would repeat them.
  for (ImTextureData* texture : ImGui::GetPlatformIO().Textures) {
    if (texture->Status == ImTextureStatus_WantDestroy) {
      texture->SetTexID(ImTextureID_Invalid);
      texture->SetStatus(ImTextureStatus_Destroyed);
    } else if (texture->Status != ImTextureStatus_OK) {
      texture->SetTexID(1);
      texture->SetStatus(ImTextureStatus_OK);
    }
  }
}

double Canvas::width(std::string_view utf8, const Font& font) const {
  inside_->lay(utf8, font, scale_);
  double sum_px = 0.0;
  for (const Run& run : inside_->laid) sum_px += run.advance_px;
  return sum_px / scale_;
}

double Canvas::caret_x(std::string_view utf8, std::size_t offset, const Font& font) const {
  double before_px = 0.0;
  double caret_px = 0.0;
  inside_->lay(utf8, font, scale_);
  for (const Run& run : inside_->laid) {
    const std::size_t begin = static_cast<std::size_t>(run.text.data() - utf8.data());
    // Between two runs the later one says where, for that is where the next letter goes.
    if (begin <= offset && offset <= begin + run.text.size()) {
      double part_px = 0.0;
      if (run.hand == Hand::face) {
        part_px = inside_->face_advance_px(run.text.substr(0, offset - begin), font, scale_);
      } else {
        double clusters = 0.0;
        double typed = 0.0;
        for (std::size_t end = 0; end < run.text.size(); clusters += 1.0) {
          end = cluster_end(run.text, end);
          if (end <= offset - begin) typed = clusters + 1.0;
        }
        part_px = run.advance_px * typed / clusters;
      }
      caret_px = before_px + (run.hand == Hand::right_to_left ? run.advance_px - part_px : part_px);
    }
    before_px += run.advance_px;
  }
  return caret_px / scale_;
}

double Canvas::baseline(const Font& font, double line) const {
  const Face& f = inside_->face(font);
  const double size = Inside::device_size(font, scale_) / scale_;
  return (line - (f.ascent_em + f.descent_em) * size) / 2.0 + f.ascent_em * size;
}

bool Canvas::has_glyph(char32_t code_point, Family family, bool bold) const {
  return inside_->face(Font{family, bold, 18.0}).has(code_point);
}

namespace {

class Pen {
 public:
  explicit Pen(double scale) : scale_(scale) {}
  float snap(double v) const { return static_cast<float>(std::floor(v * scale_ + 0.5)); }
  // 1.5 px is one device pixel at ratio 1, three at 2.
  float thick(double v) const { return static_cast<float>(std::fmax(1.0, std::floor(v * scale_ + 0.45))); }
  ImVec2 at(double x, double y) const {
    return ImVec2(static_cast<float>(x * scale_), static_cast<float>(y * scale_));
  }
  float of(double v) const { return static_cast<float>(v * scale_); }

 private:
  double scale_;
};

}  // namespace

void Canvas::fill(const Rect& r, Colour colour, double radius) {
  const Pen pen(scale_);
  inside_->list->AddRectFilled(ImVec2(pen.snap(r.x), pen.snap(r.y)),
                               ImVec2(pen.snap(r.right()), pen.snap(r.bottom())), packed(colour),
                               pen.of(radius));
}

void Canvas::outline(const Rect& r, Colour colour, double thickness, double radius) {
  const Pen pen(scale_);
  const float t = pen.thick(thickness);
  // The library centres a line on its path, moved by half a pixel; the path lies half a thickness inside.
  const float inset = t / 2.0F;
  inside_->list->AddRect(ImVec2(pen.snap(r.x) + inset - 0.5F, pen.snap(r.y) + inset - 0.5F),
                         ImVec2(pen.snap(r.right()) - inset + 0.5F, pen.snap(r.bottom()) - inset + 0.5F),
                         packed(colour), pen.of(radius), 0, t);
}

void Canvas::dashed_outline(const Rect& r, Colour colour, double thickness, double radius) {
  const double h = thickness / 2.0;
  const double left = r.x + h;
  const double top = r.y + h;
  const double right = r.right() - h;
  const double bottom = r.bottom() - h;
  dashes(left + radius, top, right - radius, top, colour, thickness, 4.0, 3.0);
  dashes(left + radius, bottom, right - radius, bottom, colour, thickness, 4.0, 3.0);
  dashes(left, top + radius, left, bottom - radius, colour, thickness, 4.0, 3.0);
  dashes(right, top + radius, right, bottom - radius, colour, thickness, 4.0, 3.0);
  const Pen pen(scale_);
  const double k = radius;
  const std::array<std::array<double, 3>, 4> corners = {{{left + k, top + k, 3.14159265},
                                                         {right - k, top + k, 4.71238898},
                                                         {right - k, bottom - k, 0.0},
                                                         {left + k, bottom - k, 1.57079633}}};
  for (const auto& c : corners) {
    inside_->list->PathArcTo(pen.at(c[0], c[1]), pen.of(k), static_cast<float>(c[2] + 0.25),
                             static_cast<float>(c[2] + 1.32));
    inside_->list->PathStroke(packed(colour), 0, pen.of(thickness));
  }
}

void Canvas::hairline(double x1, double x2, double y, Colour colour) {
  const Pen pen(scale_);
  const float top = pen.snap(y);
  inside_->list->AddRectFilled(ImVec2(pen.snap(x1), top), ImVec2(pen.snap(x2), top + pen.thick(1.0)),
                               packed(colour));
}

void Canvas::upright(double x, double y1, double y2, Colour colour) {
  const Pen pen(scale_);
  const float left = pen.snap(x);
  inside_->list->AddRectFilled(ImVec2(left, pen.snap(y1)), ImVec2(left + pen.thick(1.0), pen.snap(y2)),
                               packed(colour));
}

void Canvas::line(double x1, double y1, double x2, double y2, Colour colour, double thickness) {
  const Pen pen(scale_);
  // Upright and level lines are rectangles on whole pixels; the others are smoothed.
  if (x1 == x2 || y1 == y2) {
    const float t = pen.thick(thickness);
    const bool level = y1 == y2;
    const float x = level ? pen.snap(std::fmin(x1, x2)) : pen.snap(x1 - thickness / 2.0);
    const float y = level ? pen.snap(y1 - thickness / 2.0) : pen.snap(std::fmin(y1, y2));
    const ImVec2 to =
        level ? ImVec2(pen.snap(std::fmax(x1, x2)), y + t) : ImVec2(x + t, pen.snap(std::fmax(y1, y2)));
    inside_->list->AddRectFilled(ImVec2(x, y), to, packed(colour));
    return;
  }
  // The library moves a line's ends by half a pixel; ours are meant where they are.
  const ImVec2 a = pen.at(x1, y1);
  const ImVec2 b = pen.at(x2, y2);
  inside_->list->AddLine(ImVec2(a.x - 0.5F, a.y - 0.5F), ImVec2(b.x - 0.5F, b.y - 0.5F), packed(colour),
                         pen.of(thickness));
}

void Canvas::dashes(double x1, double y1, double x2, double y2, Colour colour, double thickness, double dash,
                    double gap) {
  const double length = std::hypot(x2 - x1, y2 - y1);
  if (!(length > 0.0) || !(dash > 0.0) || !(gap > 0.0)) return;
  const double dx = (x2 - x1) / length;
  const double dy = (y2 - y1) / length;
  for (double at = 0.0; at < length; at += dash + gap) {
    const double to = std::fmin(length, at + dash);
    line(x1 + dx * at, y1 + dy * at, x1 + dx * to, y1 + dy * to, colour, thickness);
  }
}

void Canvas::polyline(const std::vector<figure::Point>& px, Colour colour, double thickness, bool closed) {
  const Pen pen(scale_);
  std::vector<ImVec2> points;
  points.reserve(px.size());
  for (const figure::Point& p : px) points.push_back(pen.at(p.x_mm, p.y_mm));
  inside_->list->AddPolyline(points.data(), static_cast<int>(points.size()), packed(colour),
                             closed ? ImDrawFlags_Closed : 0, std::fmax(1.0F, pen.of(thickness)));
}

void Canvas::polygon(const std::vector<figure::Point>& px, Colour colour) {
  if (px.size() < 3) return;
  const Pen pen(scale_);
  std::vector<ImVec2> points;
  points.reserve(px.size());
  double area = 0.0;
  for (std::size_t i = 0; i < px.size(); ++i) {
    const figure::Point& next = px[(i + 1) % px.size()];
    area += px[i].x_mm * next.y_mm - next.x_mm * px[i].y_mm;
    points.push_back(pen.at(px[i].x_mm, px[i].y_mm));
  }
  // The library fills outlines that run clockwise on the screen.
  if (area < 0.0) {
    for (std::size_t i = 0; i < points.size() / 2; ++i) std::swap(points[i], points[points.size() - 1 - i]);
  }
  if (points.size() <= 4) {
    inside_->list->AddConvexPolyFilled(points.data(), static_cast<int>(points.size()), packed(colour));
  } else {
    inside_->list->AddConcavePolyFilled(points.data(), static_cast<int>(points.size()), packed(colour));
  }
}

void Canvas::disc(double x, double y, double radius, Colour colour) {
  const Pen pen(scale_);
  inside_->list->AddCircleFilled(pen.at(x, y), pen.of(radius), packed(colour));
}

void Canvas::ring(double x, double y, double radius, double thickness, Colour colour) {
  const Pen pen(scale_);
  inside_->list->AddCircle(pen.at(x, y), pen.of(radius), packed(colour), 0, pen.of(thickness));
}

void Canvas::hatch(const Rect& r, Colour colour) {
  const std::vector<figure::Point> box = {
      {r.x, r.y}, {r.right(), r.y}, {r.right(), r.bottom()}, {r.x, r.bottom()}};
  for (const figure::Line& l : figure::hatch(box, 5.0, 1.0, figure::Paint())) {
    line(l.points[0].x_mm, l.points[0].y_mm, l.points[1].x_mm, l.points[1].y_mm, colour, 1.0);
  }
}

void Canvas::letters(double x, double y, std::string_view utf8, const Font& font, Colour colour) {
  if (utf8.empty()) return;
  const Pen pen(scale_);
  if (inside_->is_ours(utf8, font)) {
    // One run, which needs no measuring to be drawn.
    inside_->draw(Run{utf8, Hand::face}, font, scale_, ImVec2(pen.snap(x), pen.snap(y)), packed(colour));
  } else {
    inside_->lay(utf8, font, scale_);
    double from_px = 0.5;
    for (const Run& run : inside_->laid) {
      const float at = pen.snap(x) + static_cast<float>(std::floor(from_px));
      inside_->draw(run, font, scale_, ImVec2(at, pen.snap(y)), packed(colour));
      from_px += run.advance_px;
    }
  }
  if (listener_ != nullptr) note(x, y, utf8, font);
}

void Canvas::note(double x, double y, std::string_view utf8, const Font& font) const {
  // From the tallest capital to the deepest tail: a face's whole height holds accents that few texts have.
  const double above = 0.75 * font.size;
  const double below = 0.22 * font.size;
  const ImVec2 from = inside_->list->GetClipRectMin();
  const ImVec2 to = inside_->list->GetClipRectMax();
  const auto layout = [this](float v) { return static_cast<double>(v) / scale_; };
  listener_->push_back({std::string(utf8),
                        Rect{x, y - above, width(utf8, font), above + below},
                        Rect{layout(from.x), layout(from.y), layout(to.x - from.x), layout(to.y - from.y)}});
}

void Canvas::push_clip(const Rect& r) {
  const Pen pen(scale_);
  inside_->list->PushClipRect(ImVec2(pen.snap(r.x), pen.snap(r.y)),
                              ImVec2(pen.snap(r.right()), pen.snap(r.bottom())), true);
}

void Canvas::pop_clip() { inside_->list->PopClipRect(); }

}  // namespace saltrafter::parts
