#include <set>

#include "tests/unit/desk/parts/stage.h"

using namespace stage;

namespace {

// The gallery on a stage of its own.
struct Gallery : Stage {
  explicit Gallery(const words::Language& l) {
    language = l;
    draw = [](Host& on, const words::Language& in) { gallery(on, in); };
  }
};

}  // namespace

TEST_CASE(
    "every node of the gallery lies within the width, from 360 px to 2560 px, at 100 and 200 per cent") {
  for (const double scale : {1.0, 2.0}) {
    for (const double width : {360.0, 390.0, 700.0, 820.0, 1100.0, 1240.0, 1440.0, 2560.0}) {
      if (scale > 1.0 && width < 700.0) continue;
      for (const bool pseudo : {false, true}) {
        Gallery s(pseudo ? words::pseudo_language() : words::english());
        s.size(width, 800.0, scale);
        CAPTURE(width);
        CAPTURE(scale);
        CAPTURE(pseudo);
        CHECK(s.host.nodes().size() > 60);
        for (const Node& n : s.host.nodes()) {
          CAPTURE(n.name);
          // A bare act at the start of a line reaches 12 px into the margin, so that its word stands flush.
          CHECK(n.rect.x >= 0.0);
          CHECK(n.rect.right() <= width + 0.01);
          CHECK(n.rect.width > 0.0);
          CHECK(n.rect.height > 0.0);
        }
      }
    }
  }
}

TEST_CASE("every control is at least 44 px high and wide") {
  for (const double width : {360.0, 820.0, 1440.0}) {
    Gallery s(words::english());
    s.size(width, 800.0);
    for (const Node& n : s.host.nodes()) {
      if (!n.focusable) continue;
      CAPTURE(n.name);
      CHECK(n.rect.height >= 43.99);
      CHECK(n.rect.width >= 43.99);
    }
  }
}

TEST_CASE("no two controls overlap") {
  for (const double width : {360.0, 820.0, 1440.0}) {
    Gallery s(words::pseudo_language());
    s.size(width, 9000.0);  // all of it in sight
    for (const Node& a : s.host.nodes()) {
      for (const Node& b : s.host.nodes()) {
        if (!a.focusable || !b.focusable || a.order >= b.order) continue;
        CAPTURE(a.name);
        CAPTURE(b.name);
        CHECK(common(a.rect, b.rect).empty());
      }
    }
  }
}

TEST_CASE("ids of controls are unique and do not depend on the language") {
  Gallery en(words::english());
  Gallery xa(words::pseudo_language());
  en.size(1440.0, 900.0);
  xa.size(1440.0, 900.0);
  std::set<std::uint64_t> ids;
  for (const Node& n : en.host.nodes()) {
    if (n.id != 0) CHECK(ids.insert(n.id).second);
  }
  for (const Node& n : xa.host.nodes()) {
    if (n.id != 0) CHECK(ids.count(n.id) == 1);
  }
}

TEST_CASE("under the pseudo-language every text is bracketed or marked as the maker's own") {
  for (const double width : {390.0, 1440.0}) {
    Gallery s(words::pseudo_language());
    s.size(width, 844.0);
    int bracketed = 0;
    for (const Node& n : s.host.nodes()) {
      CAPTURE(n.name);
      const bool catalogued = n.name.find('[') != std::string::npos && n.name.find(']') != std::string::npos;
      CHECK((catalogued || n.verbatim));
      bracketed += catalogued ? 1 : 0;
    }
    CHECK(bracketed > 50);
  }
}

TEST_CASE("the page does not move with the pixel ratio: letters are set alike within a pixel in a hundred") {
  Gallery one(words::english());
  Gallery three(words::english());
  one.size(1440.0, 900.0, 1.0, 1.0);
  three.size(1440.0, 900.0, 1.0, 3.0);
  REQUIRE(one.host.nodes().size() == three.host.nodes().size());
  for (std::size_t i = 0; i < one.host.nodes().size(); ++i) {
    CAPTURE(one.host.nodes()[i].name);
    CHECK(std::abs(one.host.nodes()[i].rect.y - three.host.nodes()[i].rect.y) < 1.0);
  }
}

TEST_CASE("an opened working shows its lines and closes again") {
  Gallery s(words::english());
  s.size(390.0, 844.0);
  const auto formula = [&] { return find(s.host.nodes(), Role::text, "156: 9 CFR 424.21(c)"); };
  CHECK(formula() == nullptr);
  s.press(Role::button, "Ingoing nitrite");
  CHECK(formula() != nullptr);
  CHECK(s.node(Role::button, "Ingoing nitrite").expanded);
  s.press(Role::button, "Ingoing nitrite");
  CHECK(formula() == nullptr);
}

TEST_CASE("two columns stand side by side from 1240 px on and follow each other below") {
  Gallery s(words::english());
  s.size(1240.0, 900.0);
  const double first = s.node(Role::heading, "Caraway salami").rect.y;
  CHECK(std::abs(s.node(Role::heading, "Two limits are near, one not known").rect.y - first) < 60.0);
  s.size(1239.0, 900.0);
  CHECK(s.node(Role::heading, "Two limits are near, one not known").rect.y > first + 600.0);
}
