#include <string>

#include "tests/near.h"
#include "tests/unit/desk/parts/stage.h"

using namespace stage;

namespace {

// The gallery's drying chart, day 0 to 42 and today 21, in a page that scrolls.
struct Charted {
  Stage stage;
  int pressed = 0;
  Key shown = Key("drying");

  explicit Charted(double width = 390.0, double text_scale = 1.0) {
    stage.draw = [this](Host& host, const words::Language& l) {
      PageSetup setup;
      setup.key = Key("t");
      Page page(host, l, setup);
      heading(page, words::verbatim("Top"));
      ChartView view = gallery_charts(l)[0];
      view.key = shown;
      chart(page, view);
      for (int i = 0; i < 40; ++i) {
        if (row(page, {Key("row") / i, words::verbatim("Row " + std::to_string(i)), {}, {}})) ++pressed;
      }
    };
    stage.size(width, 844.0, text_scale);
  }

  const Node& figure() { return stage.node(Role::figure, "Loss of weight by day"); }
  int day() { return static_cast<int>(*figure().now); }
  ChartState& state() { return stage.host.chart(shown.value()); }
  double from() { return state().from_day.value_or(0.0); }
  double to() { return state().to_day.value_or(42.0); }

  // CSS px of a day, from the same laying out.
  double x_of(double at) {
    const Rect rect = figure().rect;
    const double scale = stage.host.layout_scale();
    figure::Chart chart = gallery_charts(stage.language)[0].chart;
    chart.from_day = from();
    chart.to_day = to();
    const double width_mm = rect.width / scale * figure::kMmPerPx;
    return rect.x + scale * figure::lay_out(chart, width_mm, figure::advance_from_tables()).scale.x_mm(at) /
                        figure::kMmPerPx;
  }
  double middle_y() { return figure().rect.y + figure().rect.height / 2.0; }

  void tap(double at) {
    const double x = x_of(at);
    const double y = middle_y();
    stage.host.pointer_down(x, y, PointerSource::touch);
    stage.host.pointer_up(x, y, PointerSource::touch);
    stage.settle();
  }
  void drag(double from_x, double from_y, double to_x, double to_y,
            PointerSource source = PointerSource::touch) {
    stage.host.pointer_down(from_x, from_y, source);
    for (int i = 1; i <= 10; ++i) {
      stage.host.pointer_move(from_x + (to_x - from_x) * i / 10.0, from_y + (to_y - from_y) * i / 10.0,
                              source);
      stage.frame();
    }
    stage.host.pointer_up(to_x, to_y, source);
    stage.settle();
  }
  // Two fingers, half the distance apart each side of the middle.
  void pinch(double middle, double before, double after) {
    Host& h = stage.host;
    const double y = middle_y();
    h.pointer_down(middle - before / 2.0, y, PointerSource::touch, 1);
    h.pointer_down(middle + before / 2.0, y + 30.0, PointerSource::touch, 2);
    for (int i = 1; i <= 10; ++i) {
      const double half = (before + (after - before) * i / 10.0) / 2.0;
      h.pointer_move(middle - half, y, PointerSource::touch, 1);
      h.pointer_move(middle + half, y + 30.0, PointerSource::touch, 2);
      stage.frame();
    }
    h.pointer_up(middle + after / 2.0, y + 30.0, PointerSource::touch, 2);
    h.pointer_up(middle - after / 2.0, y, PointerSource::touch, 1);
    stage.settle();
  }
  bool has(const std::string& act) { return find(stage.host.nodes(), Role::button, act) != nullptr; }
  std::string said() {
    for (const Node& n : stage.host.nodes()) {
      if (n.role == Role::status) return n.name;
    }
    return {};
  }
};

}  // namespace

TEST_CASE(
    "a chart is read at today until a tap or a key says another day, in words beneath and as its value") {
  Charted c;
  CHECK(c.day() == 21);
  CHECK(c.said() == "Day 21, Wed 25 Nov: 24.6\u2009%");
  CHECK(c.figure().value == c.said());
  CHECK(*c.figure().min == 0.0);
  CHECK(*c.figure().max == 42.0);
  c.tap(30.2);
  CHECK(c.day() == 30);
  CHECK(c.said() == "Day 30, Fri 4 Dec: 29.8\u2009%");
  CHECK(c.figure().value == c.said());
  // The focus is where the finger was: the keys go on from there.
  c.stage.key(KeyPress::right);
  CHECK(c.day() == 31);
  c.stage.key(KeyPress::left, true);
  CHECK(c.day() == 24);
  c.stage.key(KeyPress::home);
  CHECK(c.day() == 0);
  c.stage.key(KeyPress::left);
  CHECK(c.day() == 0);
  c.stage.key(KeyPress::end);
  CHECK(c.day() == 42);
  c.stage.key(KeyPress::right);
  CHECK(c.day() == 42);
  CHECK(c.stage.host.scroll(Key("t").value()) == 0.0);
  c.stage.key(KeyPress::enter);
  CHECK(c.day() == 42);
}

TEST_CASE("at twice the text size and on the side a tap reads the day under the finger") {
  for (const double scale : {1.0, 2.0}) {
    Charted c(1000.0, scale);
    CAPTURE(scale);
    for (const double day : {3.0, 17.0, 40.0}) {
      c.tap(day);
      CHECK(c.day() == static_cast<int>(day));
    }
  }
}

TEST_CASE("an upright drag on a chart scrolls the page and reads nothing") {
  Charted c;
  const double x = c.x_of(35.0);
  const double y = c.middle_y();
  c.drag(x, y, x + 30.0, y - 200.0);
  CHECK(c.stage.host.scroll(Key("t").value()) > 150.0);
  CHECK(c.day() == 21);
}

TEST_CASE("a level drag reads while all is visible, moves when closer, and never scrolls") {
  for (const PointerSource source : {PointerSource::touch, PointerSource::mouse}) {
    Charted c;
    const double y = c.middle_y();
    c.drag(c.x_of(10.0), y, c.x_of(35.0), y + 20.0, source);
    CHECK(c.day() == 35);
    CHECK_FALSE(c.has("Whole time"));
    c.stage.press(Role::button, "Closer");
    CHECK(c.to() - c.from() == near_rel(21.0, 1e-9));
    CHECK(c.from() == near_abs(21.0, 1e-9));  // as near to the middle as the end allows
    const double day_px = c.x_of(31.0) - c.x_of(30.0);
    const int read = c.day();
    c.drag(c.x_of(25.0), y, c.x_of(25.0) + 5.0 * day_px, y - 20.0, source);
    // The first millimetres decide what the finger is up to.
    CHECK(c.from() < 17.5);
    CHECK(c.from() > 15.5);
    CHECK(c.to() - c.from() == near_rel(21.0, 1e-9));
    CHECK(c.day() == read);
    c.drag(c.x_of(20.0), y, c.x_of(20.0) + 300.0, y, source);
    CHECK(c.from() == near_abs(0.0, 1e-9));
    CHECK(c.stage.host.scroll(Key("t").value()) == 0.0);
    CHECK(c.pressed == 0);
  }
}

TEST_CASE("two fingers make a chart closer about what lies between them, and 'Whole time' leads back") {
  Charted c;
  const double y_before = c.figure().rect.y;
  const double middle = c.x_of(20.0);
  c.pinch(middle, 60.0, 120.0);
  CHECK(c.to() - c.from() == near_rel(21.0, 1e-6));
  CHECK(c.x_of(20.0) == near_abs(middle, 0.5));
  CHECK(c.day() == 21);
  CHECK(c.pressed == 0);
  CHECK(c.figure().rect.y == y_before);
  // No closer than a week.
  c.pinch(middle, 30.0, 300.0);
  CHECK(c.to() - c.from() == near_rel(7.0, 1e-9));
  CHECK_FALSE(c.has("Closer"));
  c.stage.press(Role::button, "Whole time");
  CHECK_FALSE(c.state().from_day.has_value());
  CHECK_FALSE(c.has("Whole time"));
  c.pinch(middle, 60.0, 120.0);
  c.pinch(middle, 240.0, 60.0);
  CHECK_FALSE(c.state().from_day.has_value());
}

TEST_CASE("two fingers on a chart and beside it change nothing") {
  Charted c;
  Host& h = c.stage.host;
  const double x = c.x_of(30.0);
  const double y = c.middle_y();
  const Rect row = find_control(h.nodes(), "Row 3")->rect;
  h.pointer_down(x, y, PointerSource::touch, 1);
  h.pointer_down(row.x + 20.0, row.y + 20.0, PointerSource::touch, 2);
  h.pointer_up(row.x + 20.0, row.y + 20.0, PointerSource::touch, 2);
  h.pointer_up(x, y, PointerSource::touch, 1);
  c.stage.settle();
  CHECK(c.day() == 21);
  CHECK(c.pressed == 0);
  CHECK_FALSE(c.state().from_day.has_value());
}

TEST_CASE("keys bring the day that is read into view") {
  Charted c;
  c.tap(20.0);
  c.stage.press(Role::button, "Closer");
  c.stage.host.focus(c.figure().id);
  c.stage.settle();
  c.stage.key(KeyPress::end);
  CHECK(c.day() == 42);
  CHECK(c.to() == near_rel(42.0, 1e-12));
  CHECK(c.to() - c.from() == near_rel(21.0, 1e-9));
  c.stage.key(KeyPress::home);
  CHECK(c.from() == 0.0);
}

TEST_CASE("the same data opens as a table under the chart and closes again") {
  Charted c(900.0);
  CHECK(find(c.stage.host.nodes(), Role::cell, "2 Dec") == nullptr);
  c.stage.press(Role::button, "As a table");
  CHECK(find(c.stage.host.nodes(), Role::cell, "2 Dec") != nullptr);
  CHECK(find(c.stage.host.nodes(), Role::cell, "28.8\u2009%") != nullptr);
  c.stage.press(Role::button, "No table");
  CHECK(find(c.stage.host.nodes(), Role::cell, "2 Dec") == nullptr);
}

TEST_CASE("how a chart is looked at is kept by its key, for the last sixteen") {
  Charted c;
  c.tap(30.0);
  c.shown = Key("another");
  c.stage.host.wake();
  c.stage.settle();
  CHECK(c.day() == 21);
  c.shown = Key("drying");
  c.stage.host.wake();
  c.stage.settle();
  CHECK(c.day() == 30);
  for (int i = 0; i < 16; ++i) c.stage.host.chart((Key("many") / i).value()).day = i;
  CHECK(c.stage.host.chart((Key("many") / 0).value()).day == 0);
  c.stage.host.wake();
  c.stage.settle();
  CHECK(c.day() == 21);
}

TEST_CASE("a chart at rest asks for no frame, and one drawn with the focus neither") {
  Charted c;
  c.stage.host.focus(c.figure().id);
  c.stage.settle();
  CHECK(c.figure().focused);
  CHECK_FALSE(c.stage.host.wants_frame());
}
