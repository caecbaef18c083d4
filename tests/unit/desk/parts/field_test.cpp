#include <algorithm>

#include "tests/unit/desk/parts/stage.h"

using namespace stage;

namespace {

struct Form {
  Stage stage;
  std::string mass = "4200";
  std::string name = "Caraway";
  int committed = 0;
  int acted = 0;
  int by_pad = 0;
  std::string seen_by_act;
  std::optional<Date> day;
  words::Text pad_act;
  std::vector<std::string> units;
  double step = 0.0;
  std::string last;

  Form() {
    stage.draw = [this](Host& host, const words::Language& l) {
      PageSetup setup;
      setup.key = Key("form");
      Page page(host, l, setup);
      // The act stands above the field: a press right after typing must still see what was typed.
      if (act(page, {Key("go"), words::verbatim("Go"), ActKind::main, true, {}})) seen_by_act = mass;
      Field f;
      f.key = Key("mass");
      f.label = words::verbatim("Meat");
      f.value = mass;
      f.unit = words::verbatim("g");
      f.pad_act = pad_act;
      f.units = units;
      f.step = step;
      f.last = last;
      f.may_stay_empty = false;
      f.judge = [&l](const std::string& typed) {
        NumberRule rule;
        rule.field = "mass";
        rule.kind = NumberKind::mass;
        rule.unit = "g";
        rule.high = 100000.0;
        Judged judged;
        const Result<TypedNumber> read = parse_number(typed, rule);
        if (read.ok()) {
          judged.answer = words::measure(l, read.value().value, 1, "g");
        } else {
          judged.error = words::sentence(l, read.error());
        }
        return judged;
      };
      const Typed typed = number_field(page, f);
      if (typed.committed) {
        mass = *typed.committed;
        ++committed;
      }
      acted += typed.acted ? 1 : 0;
      by_pad += typed.by_pad ? 1 : 0;
      Field n;
      n.key = Key("name");
      n.label = words::verbatim("Name");
      n.value = name;
      const Typed words_typed = text_field(page, n);
      if (words_typed.committed) name = *words_typed.committed;
      DateField d;
      d.key = Key("day");
      d.label = words::verbatim("Hung");
      d.today = Date(std::chrono::year(2026) / 11 / 25);
      d.value = day;
      d.future_error = words::verbatim("Still to come.");
      if (const std::optional<Date> chosen = date_field(page, d)) day = chosen;
    };
    stage.size(390.0, 844.0);
  }

  const Node& meat() { return stage.node(Role::spinbutton, "Meat"); }
};

}  // namespace

TEST_CASE("a number field keeps 0,9 as typed and answers with what it means") {
  Form f;
  f.stage.fill(Role::spinbutton, "Meat", "0,9");
  CHECK(f.meat().value == "0,9");
  CHECK(find(f.stage.host.nodes(), Role::status, "0.9\u2009g") != nullptr);
  CHECK(f.committed == 0);
  f.stage.key(KeyPress::tab);
  CHECK(f.mass == "0,9");
  CHECK(f.committed == 1);
}

TEST_CASE("a text that is wrong stays, is told on leaving and not while typing, and commits nothing") {
  Form f;
  f.stage.fill(Role::spinbutton, "Meat", "0,9,5");
  CHECK_FALSE(f.meat().invalid);
  f.stage.key(KeyPress::tab);
  CHECK(f.meat().invalid);
  CHECK(f.meat().value == "0,9,5");
  CHECK_FALSE(f.meat().description.empty());
  CHECK(find(f.stage.host.nodes(), Role::alert, f.meat().description) != nullptr);
  CHECK(f.mass == "4200");
  f.stage.host.focus(f.meat().id);
  f.stage.settle();
  f.stage.key(KeyPress::end);
  f.stage.key(KeyPress::backspace);
  f.stage.key(KeyPress::backspace);
  CHECK(f.meat().value == "0,9");
  CHECK_FALSE(f.meat().invalid);
  f.stage.key(KeyPress::enter);
  CHECK(f.mass == "0,9");
}

TEST_CASE("a field tells that it was left by Enter or by the pad's act, when what was typed is taken") {
  Form f;
  f.stage.fill(Role::spinbutton, "Meat", "900");
  f.stage.key(KeyPress::tab);
  CHECK(f.committed == 1);
  CHECK(f.acted == 0);
  f.stage.fill(Role::spinbutton, "Meat", "0,9,5");
  f.stage.key(KeyPress::enter);
  CHECK(f.acted == 0);
  f.stage.fill(Role::spinbutton, "Meat", "950");
  f.stage.key(KeyPress::enter);
  CHECK(f.acted == 1);
  CHECK(f.by_pad == 0);
  f.stage.key(KeyPress::tab);
  CHECK(f.acted == 1);
  f.stage.press(Role::spinbutton, "Meat");
  f.stage.press(Role::button, "7");
  f.stage.press(Role::button, "Done");
  CHECK(f.mass == "7");
  CHECK(f.acted == 2);
  CHECK(f.by_pad == 1);
  // A field is opened for a finger by the screen: with the pad.
  f.stage.host.focus(f.meat().id, true);
  f.stage.settle();
  CHECK(f.stage.host.pad_open());
  CHECK(f.meat().focused);
}

TEST_CASE("an act pressed right after typing finds the typed value already taken") {
  Form f;
  CHECK(f.stage.host.fill(f.meat(), "1250-38"));
  CHECK(f.stage.host.press(f.stage.node(Role::button, "Go")));
  f.stage.settle();
  CHECK(f.seen_by_act == "1250-38");
  CHECK(f.committed == 1);
}

TEST_CASE("the pad opens by touch only, types, erases one sign, and its act takes the value and closes it") {
  Form f;
  CHECK(f.stage.host.focus(f.meat().id));
  f.stage.settle();
  CHECK(find(f.stage.host.nodes(), Role::button, "Erase") == nullptr);
  f.stage.press(Role::spinbutton, "Meat");
  REQUIRE(find(f.stage.host.nodes(), Role::button, "Erase") != nullptr);
  for (const char* sign : {"4", "3", "1"}) f.stage.press(Role::button, sign);
  CHECK(f.meat().value == "431");
  f.stage.press(Role::button, "Erase");
  CHECK(f.meat().value == "43");
  f.stage.press(Role::button, "Decimal mark");
  f.stage.press(Role::button, "5");
  CHECK(f.meat().value == "43.5");
  f.stage.press(Role::button, "Minus");
  f.stage.press(Role::button, "2");
  CHECK(f.meat().value == "43.5\u22122");
  CHECK(find(f.stage.host.nodes(), Role::status, "41.5\u2009g") != nullptr);
  f.stage.press(Role::button, "Done");
  CHECK(f.mass == "43.5\u22122");
  CHECK(find(f.stage.host.nodes(), Role::button, "Erase") == nullptr);
}

TEST_CASE("the pad takes the maker's decimal mark, and a hardware keyboard sends the pad away") {
  Form f;
  f.stage.language = words::english(',');
  f.stage.press(Role::spinbutton, "Meat");
  f.stage.press(Role::button, "0");
  f.stage.press(Role::button, "Decimal mark");
  CHECK(f.meat().value == "0,");
  f.stage.type("9");
  CHECK(f.meat().value == "0,9");
  CHECK(find(f.stage.host.nodes(), Role::button, "Erase") == nullptr);
}

TEST_CASE("the field and its answer stay above the pad, on a phone and on a low screen") {
  for (const double height : {844.0, 640.0}) {
    Form f;
    f.stage.size(360.0, height);
    f.stage.press(Role::spinbutton, "Meat");
    f.stage.press(Role::button, "7");
    const Rect key = f.stage.node(Role::button, "7").rect;
    const Node* answer = find(f.stage.host.nodes(), Role::status, "7.0\u2009g");
    REQUIRE(answer != nullptr);
    CAPTURE(height);
    CHECK(f.meat().rect.y >= 0.0);
    CHECK(f.meat().rect.bottom() < key.y);
    CHECK(answer->rect.bottom() < key.y);
    CHECK(key.height >= 48.0);
    CHECK(f.stage.node(Role::button, "Done").rect.bottom() <= height);
  }
}

TEST_CASE("on a phone that lies, and with text twice as large, field and answer show and keys are whole") {
  struct Screen {
    double width, height, text_scale;
  };
  for (const Screen& screen : {Screen{640.0, 360.0, 1.0}, Screen{844.0, 390.0, 1.0},
                               Screen{390.0, 844.0, 2.0}, Screen{360.0, 640.0, 2.0}}) {
    CAPTURE(screen.width);
    Form f;
    f.units = {"g", "kg", "oz", "lb"};
    f.stage.size(screen.width, screen.height, screen.text_scale);
    f.stage.press(Role::spinbutton, "Meat");
    f.stage.press(Role::button, "7");
    CHECK(f.mass == "4200");
    const Rect field = f.meat().rect;
    CHECK(field.y >= 0.0);
    const Node* answer = find(f.stage.host.nodes(), Role::status, "7.0\u2009g");
    REQUIRE(answer != nullptr);
    for (const char* name : {"7", "0", "3", "Erase", "Done", "g", "kg", "oz", "lb"}) {
      CAPTURE(name);
      const Rect key = f.stage.node(Role::button, name).rect;
      CHECK(key.x >= 0.0);
      CHECK(key.y >= 0.0);
      CHECK(key.right() <= screen.width);
      CHECK(key.bottom() <= screen.height);
      CHECK(key.height >= 44.0);
      CHECK((field.right() < key.x || field.bottom() < key.y));
      CHECK((answer->rect.right() < key.x || answer->rect.bottom() < key.y));
    }
    std::vector<Written> written;
    f.stage.host.canvas().listen(&written);
    f.stage.frame();
    f.stage.host.canvas().listen(nullptr);
    for (const char* word : {"Erase", "Done"}) {
      CAPTURE(word);
      CHECK(std::any_of(written.begin(), written.end(),
                        [word](const Written& run) { return run.text == word; }));
    }
  }
}

TEST_CASE("a touch on bare ground leaves the field, and Escape leaves it as it was") {
  Form f;
  f.stage.press(Role::spinbutton, "Meat");
  f.stage.press(Role::button, "7");
  f.stage.host.pointer_down(380.0, 10.0, PointerSource::touch);
  f.stage.host.pointer_up(380.0, 10.0, PointerSource::touch);
  f.stage.settle();
  CHECK(f.mass == "7");
  CHECK(f.stage.host.focused() == 0);
  f.stage.press(Role::spinbutton, "Meat");
  f.stage.press(Role::button, "9");
  f.stage.key(KeyPress::escape);
  CHECK(f.mass == "7");
  CHECK(f.meat().value == "7");
}

TEST_CASE("half-typed text survives a turn of the screen and another theme") {
  Form f;
  f.stage.fill(Role::textbox, "Name", "Half a na");
  f.stage.size(844.0, 390.0);
  f.stage.host.set_theme(ThemeName::cellar);
  f.stage.settle();
  CHECK(f.stage.node(Role::textbox, "Name").value == "Half a na");
  f.stage.type("me");
  CHECK(f.stage.node(Role::textbox, "Name").value == "Half a name");
}

TEST_CASE("a day is taken as typed in a kitchen, echoed in full, and the future is refused") {
  Form f;
  f.stage.fill(Role::textbox, "Hung", "4 Nov");
  CHECK(find(f.stage.host.nodes(), Role::status, "Wed 4 November 2026") != nullptr);
  f.stage.key(KeyPress::enter);
  REQUIRE(f.day.has_value());
  CHECK(iso_date(*f.day) == "2026-11-04");
  f.stage.fill(Role::textbox, "Hung", "2026-12-24");
  f.stage.key(KeyPress::tab);
  CHECK(f.stage.node(Role::textbox, "Hung").description == "Still to come.");
  CHECK(iso_date(*f.day) == "2026-11-04");
  f.stage.press(Role::button, "Yesterday");
  CHECK(iso_date(*f.day) == "2026-11-24");
}

TEST_CASE("copy, cut, paste and selection work on the text of a field") {
  Form f;
  CHECK(f.stage.host.focus(f.stage.node(Role::textbox, "Name").id));
  f.stage.settle();
  f.stage.key(KeyPress::select_all);
  f.stage.key(KeyPress::cut);
  CHECK(f.stage.host.take_copied() == std::optional<std::string>("Caraway"));
  CHECK(f.stage.node(Role::textbox, "Name").value.empty());
  f.stage.type("Féñ\nnel");
  CHECK(f.stage.node(Role::textbox, "Name").value == "Féñ nel");
  f.stage.key(KeyPress::home);
  f.stage.key(KeyPress::right);
  f.stage.key(KeyPress::right);
  f.stage.key(KeyPress::backspace);
  CHECK(f.stage.node(Role::textbox, "Name").value == "Fñ nel");
}

TEST_CASE("a buffer moves by letters, not bytes") {
  TextBuffer b;
  b.set("aé\u2009b");
  b.backspace();
  CHECK(b.text() == "aé\u2009");
  b.backspace();
  b.backspace();
  CHECK(b.text() == "a");
  b.home(false);
  b.erase_forward();
  CHECK(b.text().empty());
  b.backspace();
  CHECK(b.text().empty());
}

TEST_CASE("over the pad's digits stand units, steps and the last value, and what is typed is read in its unit") {
  Form f;
  f.units = {"g", "kg", "oz"};
  f.last = "960";
  f.stage.size(390.0, 844.0);
  f.stage.press(Role::spinbutton, "Meat");
  f.stage.press(Role::button, "2");
  f.stage.press(Role::button, "kg");
  CHECK(f.stage.node(Role::button, "kg").selected);
  CHECK(find(f.stage.host.nodes(), Role::status, "2\u2009000.0\u2009g") != nullptr);
  // Kept as it is meant, should the program end here.
  CHECK(f.stage.host.kept().typing->second == "2 kg");
  f.stage.press(Role::button, "Done");
  CHECK(f.mass == "2 kg");
  f.stage.press(Role::spinbutton, "Meat");
  CHECK(f.stage.node(Role::button, "g").selected);
  f.stage.press(Role::button, "Last 960");
  CHECK(f.stage.node(Role::spinbutton, "Meat").value == "960");
  f.last.clear();
  f.step = 10.0;
  f.stage.host.wake();
  f.stage.settle();
  f.stage.press(Role::button, "+ 10");
  CHECK(f.stage.node(Role::spinbutton, "Meat").value == "970");
  f.stage.press(Role::button, "\u2212 10");
  f.stage.press(Role::button, "\u2212 10");
  f.stage.press(Role::button, "Done");
  CHECK(f.mass == "950");
  // A key is as large as a finger, and none lies over another.
  f.stage.press(Role::spinbutton, "Meat");
  std::vector<Rect> keys;
  for (const Node& node : f.stage.host.nodes()) {
    if (node.role != Role::button || node.focusable) continue;
    CHECK(node.rect.width >= 48.0);
    CHECK(node.rect.height >= 48.0);
    CHECK(node.rect.right() <= 390.0);
    for (const Rect& other : keys) CHECK(common(node.rect, other).empty());
    keys.push_back(node.rect);
  }
  CHECK(keys.size() == 20);
}

TEST_CASE("a unit is chosen for what is typed: not for what stood there, nor for the value of last time") {
  Form f;
  f.units = {"g", "kg", "oz"};
  f.last = "960";
  f.stage.size(390.0, 844.0);
  f.stage.press(Role::spinbutton, "Meat");
  f.stage.press(Role::button, "oz");
  CHECK(find(f.stage.host.nodes(), Role::text, "oz") == nullptr);  // 4200 are still grams
  f.stage.press(Role::button, "Done");
  CHECK(f.committed == 0);
  CHECK(f.mass == "4200");
  f.stage.press(Role::spinbutton, "Meat");
  f.stage.press(Role::button, "oz");
  f.stage.press(Role::button, "3");
  CHECK(find(f.stage.host.nodes(), Role::text, "oz") != nullptr);
  f.stage.press(Role::button, "Last 960");
  f.stage.press(Role::button, "Done");
  CHECK(f.mass == "960");
  f.stage.press(Role::spinbutton, "Meat");
  f.stage.press(Role::button, "kg");
  f.stage.press(Role::button, "3");
  f.stage.key(KeyPress::undo);
  f.stage.press(Role::button, "5");
  f.stage.press(Role::button, "Done");
  CHECK(f.mass == "5");  // undone with its unit
}

TEST_CASE("a day is chosen from a month, which turns, and a day to come says why not") {
  Form f;
  f.stage.size(390.0, 844.0);
  f.stage.press(Role::button, "Month");
  CHECK(f.stage.node(Role::button, "Wed 25 November 2026").current);
  CHECK(f.stage.node(Role::button, "Sun 1 November 2026").rect.x > 250.0);  // weeks begin on Monday
  CHECK(f.stage.node(Role::button, "Thu 26 November 2026").ready == false);
  f.stage.press(Role::button, "Thu 26 November 2026");
  CHECK_FALSE(f.day);
  CHECK(find(f.stage.host.nodes(), Role::alert, "The days after are still to come.") != nullptr);
  f.stage.press(Role::button, "Earlier");
  f.stage.press(Role::button, "Fri 30 October 2026");
  REQUIRE(f.day);
  CHECK(*f.day == Date(std::chrono::year(2026) / 10 / 30));
  CHECK(find(f.stage.host.nodes(), Role::button, "Fri 30 October 2026") == nullptr);  // the sheet is closed
  f.stage.press(Role::button, "Month");
  CHECK(f.stage.node(Role::button, "Fri 30 October 2026").selected);
  // A day that is typed brings its own month, however far the sheet was turned.
  f.stage.press(Role::button, "Earlier");
  f.stage.fill(Role::textbox, "Hung", "2 Nov");
  f.stage.host.leave();
  f.stage.settle();
  CHECK(f.stage.node(Role::button, "Mon 2 November 2026").selected);
}

TEST_CASE("a wet finger on the pad counts once: bounced, beside its key, or slipping a little") {
  Form f;
  f.stage.size(390.0, 844.0);
  f.stage.press(Role::spinbutton, "Meat");
  Host& host = f.stage.host;
  const auto middle = [&f](const char* key) {
    const Rect r = f.stage.node(Role::button, key).rect;
    return std::pair{r.x + r.width / 2.0, r.y + r.height / 2.0};
  };
  const auto [x5, y5] = middle("5");
  const auto [x6, y6] = middle("6");
  const auto [x0, y0] = middle("0");
  const auto shown = [&f] { return f.stage.node(Role::spinbutton, "Meat").value; };
  const auto wait = [&f] { f.stage.now_s += 0.2; };
  const auto tap = [&](double x, double y) {
    host.pointer_down(x, y, PointerSource::touch);
    f.stage.frame();
    host.pointer_up(x, y, PointerSource::touch);
    f.stage.settle();
  };
  wait();
  tap(x5, y5);
  CHECK(shown() == "5");
  tap(x5, y5);  // a bounce
  CHECK(shown() == "5");
  wait();
  tap(x6, y6);
  CHECK(shown() == "56");
  wait();
  // The finger lies on two keys: the first counts.
  host.pointer_down(x5, y5, PointerSource::touch, 1);
  f.stage.frame();
  f.stage.now_s += 0.2;
  host.pointer_down(x6, y6, PointerSource::touch, 2);
  f.stage.frame();
  host.pointer_up(x6, y6, PointerSource::touch, 2);
  host.pointer_up(x5, y5, PointerSource::touch, 1);
  f.stage.settle();
  CHECK(shown() == "565");
  wait();
  // Two fingers, well apart, change nothing.
  host.pointer_down(x5, y5, PointerSource::touch, 1);
  f.stage.frame();
  f.stage.now_s += 0.2;
  host.pointer_down(x0, y0, PointerSource::touch, 2);
  f.stage.frame();
  host.pointer_up(x0, y0, PointerSource::touch, 2);
  host.pointer_up(x5, y5, PointerSource::touch, 1);
  f.stage.settle();
  CHECK(shown() == "565");
  wait();
  // A slip of 11 px is a tap, one of 14 is not.
  for (const double slip : {11.0, 14.0}) {
    host.pointer_down(x5, y5, PointerSource::touch);
    f.stage.frame();
    host.pointer_move(x5 + slip, y5, PointerSource::touch);
    f.stage.frame();
    host.pointer_up(x5 + slip, y5, PointerSource::touch);
    f.stage.settle();
    wait();
    CHECK(shown() == "5655");
  }
}
