#include "core/desk/parts/run_cache.h"

#include <imgui.h>

#include <algorithm>
#include <cmath>
#include <cstring>
#include <iterator>
#include <utility>

namespace saltrafter::parts {
namespace {

constexpr int kSheet_px = 512;           // both ways; a larger picture has a texture of its own
constexpr std::size_t kMeasures = 4096;  // kept without a picture

std::string key_of(const RunText& run) {
  const int size = static_cast<int>(run.size_px);
  std::string key(run.utf8);
  key += '\0';
  key += static_cast<char>((run.family == Family::serif ? 1 : 0) | (run.bold ? 2 : 0) |
                           (run.right_to_left ? 4 : 0));
  key += static_cast<char>(size & 0xFF);
  key += static_cast<char>(size >> 8);
  return key;
}

bool sound(const Raster& r) {
  if (r.width_px <= 0 || r.height_px <= 0 || r.width_px > kWidestRaster_px ||
      r.height_px > kWidestRaster_px) {
    return false;
  }
  const std::size_t area = static_cast<std::size_t>(r.width_px) * static_cast<std::size_t>(r.height_px);
  return r.pixels.size() == area * 4;
}

}  // namespace

struct RunCache::Sheet {
  ImTextureData texture;
  std::uint64_t used = 0;
  // Pictures stand in shelves; the last is still open.
  int shelf_y = 0;
  int shelf_height = 0;
  int shelf_x = 0;

  Sheet(int width, int height) {
    texture.Create(ImTextureFormat_RGBA32, width, height);
    texture.RefCount = 1;
    texture.UseColors = true;
    texture.SetStatus(ImTextureStatus_WantCreate);
    // Clear white: smoothing mixes no black into the edges.
    unsigned char* pixels = static_cast<unsigned char*>(texture.GetPixels());
    for (std::size_t i = 0; i < bytes(); ++i) pixels[i] = i % 4 == 3 ? 0 : 255;
  }

  std::size_t bytes() const { return static_cast<std::size_t>(texture.GetSizeInBytes()); }

  bool place(int width, int height, int& x, int& y) {
    if (shelf_x + width > texture.Width) {
      shelf_y += shelf_height;
      shelf_x = shelf_height = 0;
    }
    if (width > texture.Width || shelf_y + height > texture.Height) return false;
    x = shelf_x;
    y = shelf_y;
    shelf_x += width;
    shelf_height = std::max(shelf_height, height);
    return true;
  }

  void write(const Raster& r, int x, int y) {
    const std::size_t row_bytes = static_cast<std::size_t>(r.width_px) * 4;
    for (int row = 0; row < r.height_px; ++row) {
      std::memcpy(texture.GetPixelsAt(x, y + row),
                  r.pixels.data() + static_cast<std::size_t>(row) * row_bytes, row_bytes);
    }
    if (texture.Status == ImTextureStatus_WantCreate) return;
    ImTextureRect rect;
    rect.x = static_cast<unsigned short>(x);
    rect.y = static_cast<unsigned short>(y);
    rect.w = static_cast<unsigned short>(r.width_px);
    rect.h = static_cast<unsigned short>(r.height_px);
    texture.Updates.push_back(rect);
    texture.SetStatus(ImTextureStatus_WantUpdates);
  }
};

RunCache::RunCache(std::size_t most_bytes) : most_bytes_(most_bytes) {}
RunCache::~RunCache() = default;

void RunCache::use(Rasteriser rasteriser) {
  rasteriser_ = std::move(rasteriser);
  while (!sheets_.empty()) drop(sheets_.begin());
  entries_.clear();
}

double RunCache::advance_px(const RunText& run) { return entry(run).advance_px; }

RunCache::Entry& RunCache::entry(const RunText& run) {
  Entry& e = entries_[key_of(run)];
  const bool fresh = e.used == 0;
  e.used = frame_;
  if (fresh) {
    const double advance = rasteriser_(run, false).advance_px;
    e.advance_px = std::isfinite(advance) ? std::fmin(1e6, std::fmax(0.0, advance)) : 0.0;
  }
  return e;
}

const RunCache::Picture* RunCache::picture(const RunText& run) {
  Entry& e = entry(run);
  if (!e.drawn) {
    const Raster raster = rasteriser_(run, true);
    e.drawn = !sound(raster) || put(raster, e);
  }
  if (e.sheet == nullptr) return nullptr;
  e.sheet->used = frame_;
  return &e.picture;
}

// False when there is no room in this frame; in the next there may be.
bool RunCache::put(const Raster& raster, Entry& e) {
  Picture& p = e.picture;
  Sheet* sheet = room(raster.width_px, raster.height_px, p.x, p.y);
  if (sheet == nullptr) return false;
  sheet->write(raster, p.x, p.y);
  p.texture = &sheet->texture;
  p.width = raster.width_px;
  p.height = raster.height_px;
  p.left = raster.left_px;
  p.top = raster.top_px;
  p.coloured = raster.coloured;
  e.sheet = sheet;
  return true;
}

RunCache::Sheet* RunCache::room(int width, int height, int& x, int& y) {
  // One clear pixel parts a picture from the next.
  const bool small = width < kSheet_px && height < kSheet_px;
  if (small && open_ != nullptr && open_->place(width + 1, height + 1, x, y)) return open_;
  const int sheet_width = small ? kSheet_px : width;
  const int sheet_height = small ? kSheet_px : height;
  const std::size_t bytes =
      static_cast<std::size_t>(sheet_width) * static_cast<std::size_t>(sheet_height) * 4;
  if (!make_room(bytes)) return nullptr;
  Sheet& sheet = sheets_.emplace_back(sheet_width, sheet_height);
  bytes_ += bytes;
  x = y = 0;
  if (small) {
    open_ = &sheet;
    sheet.place(width + 1, height + 1, x, y);
  }
  return &sheet;
}

bool RunCache::make_room(std::size_t bytes) {
  while (bytes_ + bytes > most_bytes_) {
    auto oldest = sheets_.end();
    for (auto it = sheets_.begin(); it != sheets_.end(); ++it) {
      // What this frame shows is still to be drawn.
      if (it->used != frame_ && (oldest == sheets_.end() || it->used < oldest->used)) oldest = it;
    }
    if (oldest == sheets_.end()) return false;
    drop(oldest);
  }
  return true;
}

void RunCache::drop(std::list<Sheet>::iterator sheet) {
  if (open_ == &*sheet) open_ = nullptr;
  bytes_ -= sheet->bytes();
  forget(&*sheet, frame_ + 1);
  // The library's list of the last frame may still name it: it stays until the next one begins.
  ImTextureData& texture = sheet->texture;
  texture.DestroyPixels();
  texture.Updates.clear();
  texture.UnusedFrames = 1;
  const bool unknown = texture.TexID == ImTextureID_Invalid;  // to the renderer
  texture.SetStatus(unknown ? ImTextureStatus_Destroyed : ImTextureStatus_WantDestroy);
  leaving_.splice(leaving_.end(), sheets_, sheet);
}

// Runs on that sheet, or on none, that no frame has asked for since.
void RunCache::forget(const Sheet* sheet, std::uint64_t before) {
  for (auto it = entries_.begin(); it != entries_.end();) {
    it = it->second.sheet == sheet && it->second.used < before ? entries_.erase(it) : std::next(it);
  }
}

void RunCache::begin_frame() {
  if (entries_.size() > kMeasures) forget(nullptr, frame_);
  ++frame_;
  for (Sheet& sheet : sheets_) {
    ImTextureData& texture = sheet.texture;
    // The graphics device was lost, and everything on it.
    if (texture.Status == ImTextureStatus_Destroyed) texture.SetStatus(ImTextureStatus_WantCreate);
    if (texture.Status != ImTextureStatus_WantUpdates) texture.Updates.resize(0);
  }
  leaving_.remove_if([](const Sheet& sheet) { return sheet.texture.Status == ImTextureStatus_Destroyed; });
}

void RunCache::end_frame(ImVector<ImTextureData*>& textures) {
  for (std::list<Sheet>* sheets : {&sheets_, &leaving_}) {
    for (Sheet& sheet : *sheets) textures.push_back(&sheet.texture);
  }
}

}  // namespace saltrafter::parts
