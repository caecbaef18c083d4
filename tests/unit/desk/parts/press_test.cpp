#include "tests/unit/desk/parts/stage.h"

using namespace stage;

namespace {

struct Toggling {
  Stage stage;
  int pressed = 0;
  bool on = false;
  int place = 0;

  Toggling() {
    stage.draw = [this](Host& host, const words::Language& l) {
      PageSetup setup;
      setup.key = Key("t");
      setup.places = {{Key("p") / 1, words::text(l, words::Id::place_round)},
                      {Key("p") / 2, words::text(l, words::Id::place_bench)}};
      setup.current = place;
      Page page(host, l, setup);
      heading(page, words::verbatim("Top"));
      if (act(page, {Key("act"), words::verbatim("Hang"), ActKind::main, true, {}})) ++pressed;
      if (tick_box(page, Key("tick"), words::verbatim("Tick"), on)) on = !on;
      if (act(page,
              {Key("later"), words::verbatim("Later"), ActKind::other, false, words::verbatim("Not yet.")})) {
        ++pressed;
      }
      for (int i = 0; i < 40; ++i) {
        if (row(page, {Key("row") / i, words::verbatim("Row " + std::to_string(i)), {}, {}})) ++pressed;
      }
      if (page.chosen_place()) place = *page.chosen_place();
    };
    stage.size(390.0, 844.0);
  }

  Rect at(const std::string& name) { return find_control(stage.host.nodes(), name)->rect; }
};

}  // namespace

TEST_CASE("a touch toggles once, acts on release and needs no further frame after it") {
  Toggling t;
  const Rect r = t.at("Tick");
  t.stage.host.pointer_down(r.x + 10.0, r.y + 10.0, PointerSource::touch);
  t.stage.settle();
  CHECK_FALSE(t.on);
  t.stage.host.pointer_up(r.x + 10.0, r.y + 10.0, PointerSource::touch);
  t.stage.settle();
  CHECK(t.on);
  CHECK(t.stage.node(Role::checkbox, "Tick").selected);
  const int frames = t.stage.frames;
  t.stage.settle();
  CHECK(t.stage.frames == frames);
  CHECK_FALSE(t.stage.host.wants_frame());
}

TEST_CASE("down, away and up does nothing, by finger and by mouse") {
  Toggling t;
  const Rect r = t.at("Hang");
  for (const PointerSource source : {PointerSource::touch, PointerSource::mouse}) {
    t.stage.host.pointer_down(r.x + 10.0, r.y + 10.0, source);
    t.stage.frame();
    t.stage.host.pointer_up(r.x + 300.0, r.y + 300.0, source);
    t.stage.settle();
    CHECK(t.pressed == 0);
  }
}

TEST_CASE("a drag that starts on a control scrolls and fires nothing") {
  Toggling t;
  const Rect before = t.at("Row 5");
  t.stage.host.pointer_down(before.x + 40.0, before.y + 10.0, PointerSource::touch);
  for (int i = 1; i <= 10; ++i) {
    t.stage.host.pointer_move(before.x + 40.0, before.y + 10.0 - 20.0 * i, PointerSource::touch);
    t.stage.frame();
  }
  t.stage.host.pointer_up(before.x + 40.0, before.y - 190.0, PointerSource::touch);
  t.stage.settle();
  CHECK(t.pressed == 0);
  CHECK(t.at("Row 5").y < before.y - 180.0);
}

TEST_CASE("a flick glides on and comes to rest; with reduced motion it stops with the finger") {
  for (const bool reduced : {false, true}) {
    Toggling t;
    t.stage.host.set_reduced_motion(reduced);
    const double before = t.at("Row 5").y;
    t.stage.host.pointer_down(100.0, 700.0, PointerSource::touch);
    for (int i = 1; i <= 6; ++i) {
      t.stage.host.pointer_move(100.0, 700.0 - 20.0 * i, PointerSource::touch);
      t.stage.frame();
    }
    t.stage.host.pointer_up(100.0, 580.0, PointerSource::touch);
    t.stage.settle();
    const double moved = before - t.at("Row 5").y;
    CAPTURE(reduced);
    CHECK(moved >= 100.0);
    CHECK((moved > 150.0) == !reduced);
  }
}

TEST_CASE("a second finger cancels the press") {
  Toggling t;
  const Rect r = t.at("Hang");
  t.stage.host.pointer_down(r.x + 10.0, r.y + 10.0, PointerSource::touch, 1);
  t.stage.host.pointer_down(r.x + 200.0, r.y + 200.0, PointerSource::touch, 2);
  t.stage.host.pointer_up(r.x + 200.0, r.y + 200.0, PointerSource::touch, 2);
  t.stage.host.pointer_up(r.x + 10.0, r.y + 10.0, PointerSource::touch, 1);
  t.stage.settle();
  CHECK(t.pressed == 0);
}

TEST_CASE("what is scrolled out of sight has a node, and pressing it by name scrolls there first") {
  Toggling t;
  CHECK(t.stage.node(Role::row, "Row 39").offscreen);
  t.stage.press(Role::row, "Row 39");
  CHECK(t.pressed == 1);
  CHECK_FALSE(t.stage.node(Role::row, "Row 39").offscreen);
}

TEST_CASE("what is told anew comes into sight once, on each page that tells it, and can be scrolled away") {
  Stage stage;
  bool told = false;
  const char* name = "first";
  stage.draw = [&told, &name](Host& host, const words::Language& l) {
    PageSetup setup;
    setup.key = Key(name);
    Page page(host, l, setup);
    for (int i = 0; i < 80; ++i) {
      if (i == 40 && told) {
        const double top = page.y();
        notice(page, words::verbatim("It is kept."), {});
        page.bring(Key("kept"), top);
      }
      paragraph(page, words::verbatim("A line."));
    }
  };
  stage.size(390.0, 844.0);
  for (const char* page : {"first", "second"}) {
    CAPTURE(page);
    name = page;
    told = true;
    stage.host.wake();
    stage.settle();
    CHECK_FALSE(stage.node(Role::status, "It is kept.").offscreen);
    stage.host.wheel(-3000.0);
    stage.settle();
    CHECK(stage.node(Role::status, "It is kept.").offscreen);
  }
}

TEST_CASE("an act that is not ready does nothing and says why beneath") {
  Toggling t;
  CHECK_FALSE(t.stage.node(Role::button, "Later").ready);
  CHECK(find(t.stage.host.nodes(), Role::alert, "Not yet.") == nullptr);
  t.stage.press(Role::button, "Later");
  CHECK(t.pressed == 0);
  CHECK(find(t.stage.host.nodes(), Role::alert, "Not yet.") != nullptr);
}

TEST_CASE("a content scrolled under the bar cannot be touched through it") {
  Toggling t;
  const Rect bar = t.stage.node(Role::place, "Bench").rect;
  t.stage.host.pointer_down(bar.x + 20.0, bar.y + 20.0, PointerSource::touch);
  t.stage.host.pointer_up(bar.x + 20.0, bar.y + 20.0, PointerSource::touch);
  t.stage.settle();
  CHECK(t.pressed == 0);
  CHECK(t.place == 1);
  CHECK(t.stage.node(Role::place, "Bench").current);
}

TEST_CASE(
    "Tab goes through the controls in the order of the nodes, Shift and Tab back, Enter and space press") {
  Toggling t;
  std::vector<std::string> by_nodes;
  for (const Node& n : t.stage.host.nodes()) {
    if (n.focusable) by_nodes.push_back(n.name);
  }
  REQUIRE(by_nodes.size() == 45);
  std::vector<std::string> by_tab;
  for (std::size_t i = 0; i < by_nodes.size(); ++i) {
    t.stage.key(KeyPress::tab);
    const Node* n = t.stage.host.node(t.stage.host.focused());
    REQUIRE(n != nullptr);
    by_tab.push_back(n->name);
    CHECK_FALSE(n->offscreen);
  }
  CHECK(by_tab == by_nodes);
  t.stage.key(KeyPress::tab);
  CHECK(t.stage.host.node(t.stage.host.focused())->name == by_nodes[0]);
  t.stage.key(KeyPress::tab, true);
  CHECK(t.stage.host.node(t.stage.host.focused())->name == by_nodes.back());
  CHECK(t.stage.host.focus(find_control(t.stage.host.nodes(), "Hang")->id));
  t.stage.key(KeyPress::enter);
  CHECK(t.pressed == 1);
  t.stage.key(KeyPress::space);
  CHECK(t.pressed == 2);
}

TEST_CASE("the focus is drawn only after a key") {
  Toggling t;
  t.stage.press(Role::button, "Hang");
  const std::uint64_t id = t.stage.node(Role::button, "Hang").id;
  CHECK(t.stage.host.focused() == id);
  CHECK_FALSE(t.stage.host.shows_focus(id));
  t.stage.key(KeyPress::tab);
  CHECK(t.stage.host.shows_focus(t.stage.host.focused()));
}

TEST_CASE("a mouse that only passes over asks for no frame") {
  Toggling t;
  t.stage.host.pointer_move(100.0, 100.0, PointerSource::mouse);
  CHECK_FALSE(t.stage.host.wants_frame());
}
