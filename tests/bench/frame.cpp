// What a frame costs the processor, 1440 × 900: the gallery of all parts beside Dear ImGui's own demo window
// with its eight headers open, in one process, in turns. Both stand scrolled to where most vertices are. There
// is no renderer: its one duty, to say that textures are made, is done here. Run it by frame.sh.
#include <imgui.h>
#include <imgui_internal.h>

#include <algorithm>
#include <cstdio>
#include <ctime>
#include <string>
#include <utility>
#include <vector>

#include "core/desk/desk.h"
#include "core/desk/parts/fonts/fonts.h"

namespace {

using namespace saltrafter;

constexpr int kWidth_px = 1440;
constexpr int kHeight_px = 900;
constexpr double kFrame_s = 1.0 / 60.0;
constexpr int kWarm = 30;
constexpr int kBlocks = 10;
constexpr int kInBlock = 30;

double cpu_ms() { return 1e3 * static_cast<double>(std::clock()) / static_cast<double>(CLOCKS_PER_SEC); }

struct Took {
  double drawing_ms = 0.0;
  double mirror_ms = 0.0;
};

// As the page runs it: a program whose only screen is the gallery.
class Ours {
 public:
  Ours() : program_(shell(), {}, {}, words::english(), parts::Host::Renderer::none) {
    parts::Display display;
    display.width_px = kWidth_px;
    display.height_px = kHeight_px;
    program_.set_display(display);
  }

  // Every frame writes the lines of the mirror, though a shell asks only where they have changed.
  Took frame() {
    const double from_ms = cpu_ms();
    parts::Host& host = program_.host();
    host.begin_frame(now_s_ += kFrame_s);
    parts::gallery(host, program_.session().language);
    host.end_frame();
    const double drawn_ms = cpu_ms();
    mirror_ = program_.mirror();
    return {drawn_ms - from_ms, cpu_ms() - drawn_ms};
  }

  // The vertices of the frame before.
  int vertices() {
    program_.host().make_current();
    return ImGui::GetDrawData()->TotalVtxCount;
  }
  std::size_t mirror_bytes() const { return mirror_.size(); }

  double scroll() {
    const parts::Host::Kept kept = program_.host().kept();
    return kept.scrolls.empty() ? 0.0 : kept.scrolls.front().second;
  }
  void scroll_to(double y_px) {
    program_.host().wheel(y_px - scroll());
    frame();
  }
  // A pixel down, then a pixel up, in turns.
  Took scrolling_frame() {
    program_.host().wheel(down_ ? 1.0 : -1.0);
    down_ = !down_;
    return frame();
  }

 private:
  static desk::Shell shell() {
    desk::Shell shell;
    shell.ports.now_utc_ms = [] { return std::int64_t{1'795'608'000'000}; };
    shell.ports.zone_offset_min = [](std::int64_t) { return 60; };
    shell.ports.random_bits = [bits = std::uint64_t{1}]() mutable { return bits++; };
    shell.clock_ms = [] { return 0.0; };
    return shell;
  }

  desk::Program program_;
  double now_s_ = 0.0;
  bool down_ = false;
  std::string mirror_;
};

// The library's own demonstration, filling its screen, in one of our faces.
class Theirs {
 public:
  Theirs() : context_(ImGui::CreateContext()) {
    ImGui::SetCurrentContext(context_);
    ImGuiIO& io = ImGui::GetIO();
    io.IniFilename = nullptr;
    io.LogFilename = nullptr;
    io.BackendFlags |= ImGuiBackendFlags_RendererHasTextures;
    io.DisplaySize = ImVec2(kWidth_px, kHeight_px);
    io.DeltaTime = static_cast<float>(kFrame_s);
    ImFontConfig config;
    config.FontDataOwnedByAtlas = false;
    const parts::FontData face = parts::carlito_regular();
    io.Fonts->AddFontFromMemoryTTF(const_cast<unsigned char*>(face.bytes), static_cast<int>(face.size), 16.0F,
                                   &config);
  }
  Theirs(const Theirs&) = delete;
  Theirs& operator=(const Theirs&) = delete;
  ~Theirs() {
    ImGui::SetCurrentContext(context_);
    for (ImTextureData* texture : ImGui::GetPlatformIO().Textures) {
      texture->SetStatus(ImTextureStatus_Destroyed);
    }
    ImGui::DestroyContext(context_);
  }

  Took frame() {
    ImGui::SetCurrentContext(context_);
    const double from_ms = cpu_ms();
    ImGui::NewFrame();
    ImGui::SetNextWindowPos(ImVec2(0.0F, 0.0F));
    ImGui::SetNextWindowSize(ImVec2(kWidth_px, kHeight_px));
    ImGui::ShowDemoWindow();
    ImGui::Render();
    const double drawn_ms = cpu_ms();
    for (ImTextureData* texture : ImGui::GetPlatformIO().Textures) {
      if (texture->Status == ImTextureStatus_WantDestroy) {
        texture->SetTexID(ImTextureID_Invalid);
        texture->SetStatus(ImTextureStatus_Destroyed);
      } else if (texture->Status != ImTextureStatus_OK) {
        texture->SetTexID(1);
        texture->SetStatus(ImTextureStatus_OK);
      }
    }
    return {drawn_ms - from_ms, 0.0};
  }

  int vertices() const {
    ImGui::SetCurrentContext(context_);
    return ImGui::GetDrawData()->TotalVtxCount;
  }

  // False where this version of the library has no such header: its content would not have grown.
  bool open(const char* header) {
    const float before = window()->ContentSize.y;
    window()->StateStorage.SetInt(window()->GetID(header), 1);
    for (int i = 0; i < 3; ++i) frame();
    return window()->ContentSize.y > before + 1.0F;
  }

  double scroll() const { return static_cast<double>(window()->Scroll.y); }
  void scroll_to(double y_px) {
    ImGui::SetCurrentContext(context_);
    ImGui::SetScrollY(window(), static_cast<float>(y_px));
    for (int i = 0; i < 2; ++i) frame();
  }

 private:
  ImGuiWindow* window() const {
    ImGui::SetCurrentContext(context_);
    return ImGui::FindWindowByName("Dear ImGui Demo");
  }

  ImGuiContext* context_;
};

// Stands still where most is drawn.
template <class Screen>
void scroll_to_fullest(Screen& screen) {
  double fullest_px = 0.0;
  int most = 0;
  for (double y_px = 0.0;; y_px += 50.0) {
    screen.scroll_to(y_px);
    if (screen.vertices() > most) {
      most = screen.vertices();
      fullest_px = screen.scroll();
    }
    if (screen.scroll() < y_px - 1.0) break;
  }
  screen.scroll_to(fullest_px);
}

double median(std::vector<double> values) {
  std::sort(values.begin(), values.end());
  return values[values.size() / 2];
}

struct Series {
  std::vector<double> drawing_ms;
  std::vector<double> mirror_ms;
  std::vector<double> both_ms;

  template <class Frame>
  void block(const Frame& frame) {
    for (int i = 0; i < kInBlock; ++i) {
      const Took took = frame();
      drawing_ms.push_back(took.drawing_ms);
      mirror_ms.push_back(took.mirror_ms);
      both_ms.push_back(took.drawing_ms + took.mirror_ms);
    }
  }
};

}  // namespace

int main() {
  Ours ours;
  Theirs theirs;
  for (int i = 0; i < kWarm; ++i) {
    ours.frame();
    theirs.frame();
  }
  for (const char* header : {"Help", "Configuration", "Window options", "Widgets", "Layout & Scrolling",
                             "Popups & Modal windows", "Tables & Columns", "Inputs & Focus"}) {
    if (theirs.open(header)) continue;
    std::fprintf(stderr, "The demo window of this Dear ImGui has no header \"%s\".\n", header);
    return 1;
  }
  scroll_to_fullest(ours);
  scroll_to_fullest(theirs);
  for (int i = 0; i < kWarm; ++i) {
    ours.frame();
    theirs.frame();
  }

  Series our_series;
  Series scrolling_series;
  Series their_series;
  for (int i = 0; i < kBlocks; ++i) {
    our_series.block([&] { return ours.frame(); });
    their_series.block([&] { return theirs.frame(); });
    scrolling_series.block([&] { return ours.scrolling_frame(); });
  }
  const double ours_ms = median(our_series.both_ms);
  const double theirs_ms = median(their_series.both_ms);
  const double ours_per_1000 = 1e3 * ours_ms / ours.vertices();
  const double theirs_per_1000 = 1e3 * theirs_ms / theirs.vertices();
  std::printf("%-34s %10s %10s %19s\n", "", "ms a frame", "vertices", "ms a 1000 vertices");
  std::printf("%-34s %10.3f %10d %19.4f\n", "gallery with mirror", ours_ms, ours.vertices(), ours_per_1000);
  std::printf("%-34s %10.3f\n", "  of it drawing", median(our_series.drawing_ms));
  std::printf("%-34s %10.3f\n", "  of it the mirror's lines", median(our_series.mirror_ms));
  std::printf("%-34s %10.3f\n", "  the whole while it scrolls", median(scrolling_series.both_ms));
  std::printf("%-34s %10.3f %10d %19.4f\n", "Dear ImGui's demo, 8 headers open", theirs_ms, theirs.vertices(),
              theirs_per_1000);
  std::printf("ours is %.2f times theirs by vertices (wanted: at most 2), %.3f ms a frame (at most 1)\n",
              ours_per_1000 / theirs_per_1000, ours_ms);
  std::printf("medians of %d frames, scrolled to %.0f and %.0f px; %zu bytes of mirror\n", kBlocks * kInBlock,
              ours.scroll(), theirs.scroll(), ours.mirror_bytes());
  return 0;
}
