// Draws the gallery's charts in a window and writes each as seen (PNG) and as SVG:
// chart_pictures FOLDER WIDTH
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <fstream>
#include <string>

#include "core/desk/parts/parts.h"
#include "core/share/share.h"
#include "native/picture.h"
#include "native/window.h"

using namespace saltrafter;

namespace {

constexpr int kHeight_px = 960;

void write(const std::string& path, const std::string& text) {
  std::ofstream(path, std::ios::binary).write(text.data(), static_cast<std::streamsize>(text.size()));
}

native::Picture cut(const native::Picture& from, int left, int top, int width, int height) {
  native::Picture out;
  out.width = width;
  out.height = height;
  for (int y = top; y < top + height; ++y) {
    const auto row = from.rgb.begin() + (static_cast<std::ptrdiff_t>(y) * from.width + left) * 3;
    out.rgb.insert(out.rgb.end(), row, row + static_cast<std::ptrdiff_t>(width) * 3);
  }
  return out;
}

}  // namespace

int main(int count, char** words) {
  if (count != 3) return 2;
  const std::string folder = words[1];
  const int width_px = std::atoi(words[2]);
  native::Window window;
  const std::string fault = window.open(width_px, kHeight_px, 1.0);
  if (!fault.empty()) {
    std::fprintf(stderr, "The window could not be opened: %s\n", fault.c_str());
    return 1;
  }
  const words::Language language = words::english();
  parts::Host host(parts::Host::Renderer::shell);
  host.make_current();
  window.attach();
  parts::Display display;
  display.width_px = width_px;
  display.height_px = kHeight_px;
  host.set_display(display);
  double width_mm = 0.0;
  int nth = 0;
  for (const parts::ChartView& view : parts::gallery_charts(language)) {
    double now_s = 0.0;
    const auto frame = [&] {
      host.begin_frame(now_s += 0.02);
      {
        parts::PageSetup setup;
        setup.key = parts::Key("charts");
        parts::Page page(host, language, setup);
        width_mm = parts::figure_width_mm(page);
        parts::chart(page, view);
      }
      host.end_frame();
    };
    // The picture is that of the back buffer, drawn and not shown.
    for (int i = 0; i < 6; ++i) window.draw(host, frame);
    const parts::Node* node = parts::find(host.nodes(), parts::Role::figure, view.name.plain());
    if (node == nullptr) return 1;
    const std::string base = folder + "/chart-" + std::to_string(++nth);
    const auto whole = [](double v) { return static_cast<int>(std::lround(v)); };
    write(base + ".png", native::png(cut(window.picture(), whole(node->rect.x), whole(node->rect.y),
                                         whole(node->rect.width), whole(node->rect.height))));
    const figure::ChartPicture picture = figure::lay_out(view.chart, width_mm, figure::advance_from_tables());
    write(base + ".svg", share::svg(picture.figure, share::paper_palette(), view.name.plain()));
  }
  window.detach();
  return nth == 2 ? 0 : 1;
}
