// The gallery as a reader sees it and as a listener is told it.
#include "tests/unit/desk/parts/seen.h"
#include "tests/unit/desk/parts/stage.h"

using namespace stage;

TEST_CASE("every text and control of the gallery is a node, and every node in sight is drawn") {
  for (const double scale : {1.0, 2.0}) {
    for (const double width : {390.0, 820.0, 1440.0}) {
      for (const double height : {844.0, 9000.0}) {
        CAPTURE(width);
        CAPTURE(height);
        CAPTURE(scale);
        Stage s;
        s.draw = [](Host& on, const words::Language& l) { gallery(on, l); };
        s.size(width * scale, height, scale);
        s.press(Role::button, "Ingoing nitrite");
        std::vector<Written> written;
        s.host.canvas().listen(&written);
        s.frame();
        s.host.canvas().listen(nullptr);
        seen::check_screen(s.host.nodes(), written, scale, false);
      }
    }
  }
}

TEST_CASE("a text that is drawn without a node is found, and a node without its text") {
  Stage s;
  s.draw = [](Host& on, const words::Language& l) {
    PageSetup setup;
    setup.key = Key("bare");
    Page page(on, l, setup);
    const Rect rect = page.take(30.0);
    page.say(words::verbatim("told"), Role::text, Rect{rect.x, rect.y, 200.0, 30.0});
    draw(page.canvas(), set(page.canvas(), words::verbatim("drawn"), type::text, 300.0), rect.x, rect.y);
  };
  s.size(390.0, 844.0);
  std::vector<Written> written;
  s.host.canvas().listen(&written);
  s.frame();
  s.host.canvas().listen(nullptr);
  CHECK(seen::untold(s.host.nodes(), written, 1.0) == std::vector<std::string>{"drawn"});
  CHECK(seen::undrawn(s.host.nodes(), written, 1.0) == std::vector<std::string>{"told"});
}
