#include "tests/unit/desk/parts/stage.h"

using namespace stage;

namespace {

struct Shelf {
  Stage stage;
  std::vector<std::string> names;
  std::optional<int> pressed;

  explicit Shelf(int count) {
    const char* first[] = {"Coppa", "Fenouil", "N\u01b0\u1edbc m\u1eafm", "Lonza", "Sal\u00e1mi", "\u0160unka", "Bresaola"};
    for (int i = 0; i < count; ++i) names.push_back(i < 7 ? first[i] : "Piece " + std::to_string(i));
    stage.draw = [this](Host& host, const words::Language& l) {
      PageSetup setup;
      setup.key = Key("shelf");
      Page page(host, l, setup);
      List list{Key("list"), {}};
      for (const std::string& name : names) {
        list.rows.push_back({Key("row") / name, words::verbatim(name), {}, {}, false});
      }
      if (const auto row = parts::list(page, list)) pressed = row;
    };
    stage.size(390.0, 844.0);
  }
  int rows() {
    int n = 0;
    for (const Node& node : stage.host.nodes()) n += node.role == Role::row ? 1 : 0;
    return n;
  }
  const Node* said(Role role, const std::string& name) { return find(stage.host.nodes(), role, name); }
};

}  // namespace

TEST_CASE("a table says what its names and figures are, on narrow too, where it becomes rows") {
  for (const double width : {390.0, 820.0}) {
    CAPTURE(width);
    Stage stage;
    stage.draw = [](Host& host, const words::Language& l) {
      PageSetup setup;
      setup.key = Key("table");
      Page page(host, l, setup);
      table(page,
            {{words::verbatim("piece"), false},
             {words::verbatim("lost"), true},
             {words::verbatim("by"), true}},
            {{std::nullopt, {words::verbatim("4"), words::verbatim("27 %"), words::verbatim("1 Dec")}}});
    };
    stage.size(width, 844.0);
    const Node* name = find(stage.host.nodes(), Role::cell, "piece");
    const Node* figure = find(stage.host.nodes(), Role::cell, "lost");
    REQUIRE(name != nullptr);
    REQUIRE(figure != nullptr);
    CHECK(name->rect.right() < figure->rect.x);
    CHECK(figure->rect.right() <= width);
  }
}

TEST_CASE("a short list has nothing over it, one of twelve is looked through letter by letter, without accents") {
  Shelf few(11);
  CHECK(few.said(Role::textbox, "Look for") == nullptr);
  Shelf many(20);
  CHECK(many.said(Role::status, "Showing 20 of 20") != nullptr);
  CHECK(many.stage.host.focus(many.stage.node(Role::textbox, "Look for").id));
  many.stage.settle();
  many.stage.type("SAL");
  CHECK(many.rows() == 1);
  CHECK(many.said(Role::row, "Sal\u00e1mi") != nullptr);
  CHECK(many.said(Role::status, "Showing 1 of 20") != nullptr);
  many.stage.press(Role::row, "Sal\u00e1mi");
  CHECK(many.pressed == 4);
  many.stage.fill(Role::textbox, "Look for", "nuoc");
  many.stage.host.leave();
  many.stage.settle();
  CHECK(many.rows() == 1);
  many.stage.fill(Role::textbox, "Look for", "haggis");
  CHECK(many.rows() == 0);
  CHECK(many.said(Role::text, "Nothing called \u201chaggis\u201d.") != nullptr);
  many.stage.press(Role::button, "Show all");
  CHECK(many.rows() == 20);
}

TEST_CASE("from forty rows on letters head the list, and not while a word is looked for") {
  Shelf many(45);
  CHECK(many.said(Role::heading, "p") != nullptr);
  many.stage.fill(Role::textbox, "Look for", "piece");
  CHECK(many.said(Role::heading, "p") == nullptr);
}
