// What the device's fonts have set: advances, and pictures on textures that the renderer is handed like those
// of the library's own letters. Pictures take at most so many bytes; the texture that was least recently used
// goes.
#pragma once

#include <cstddef>
#include <cstdint>
#include <list>
#include <map>
#include <string>

#include "core/desk/parts/raster.h"

struct ImTextureData;
template <typename T>
struct ImVector;

namespace saltrafter::parts {

class RunCache {
 public:
  static constexpr std::size_t kMostBytes = std::size_t{64} << 20;

  explicit RunCache(std::size_t most_bytes = kMostBytes);
  ~RunCache();
  RunCache(const RunCache&) = delete;
  RunCache& operator=(const RunCache&) = delete;

  void use(Rasteriser rasteriser);
  explicit operator bool() const { return rasteriser_ != nullptr; }

  // Measures without drawing, once a run.
  double advance_px(const RunText& run);

  // A run's place on a texture.
  struct Picture {
    ImTextureData* texture = nullptr;
    int x = 0;  // on the texture
    int y = 0;
    int width = 0;
    int height = 0;
    int left = 0;  // as in Raster
    int top = 0;
    bool coloured = false;
  };
  // Null when there is nothing to see, or when this frame alone has filled all the room.
  const Picture* picture(const RunText& run);

  // Around a frame: answers of the renderer are taken in; what it is to do is added to the library's list.
  void begin_frame();
  void end_frame(ImVector<ImTextureData*>& textures);

  std::size_t bytes() const { return bytes_; }  // of all live textures
  std::size_t runs() const { return entries_.size(); }

 private:
  struct Sheet;
  struct Entry {
    double advance_px = 0.0;
    std::uint64_t used = 0;  // frame; 0: not measured yet
    bool drawn = false;      // the picture has been asked for
    Sheet* sheet = nullptr;  // null: nothing to see
    Picture picture;
  };

  Entry& entry(const RunText& run);
  bool put(const Raster& raster, Entry& entry);
  Sheet* room(int width, int height, int& x, int& y);
  bool make_room(std::size_t bytes);
  void drop(std::list<Sheet>::iterator sheet);
  void forget(const Sheet* sheet, std::uint64_t before);

  std::size_t most_bytes_;
  Rasteriser rasteriser_;
  std::map<std::string, Entry> entries_;
  std::list<Sheet> sheets_;
  std::list<Sheet> leaving_;  // the renderer has still to let go of them
  Sheet* open_ = nullptr;     // that small pictures are put on
  std::size_t bytes_ = 0;
  std::uint64_t frame_ = 1;
};

}  // namespace saltrafter::parts
