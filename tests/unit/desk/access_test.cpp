// Each screen as a reader sees it and as a listener is told it.
#include "tests/unit/desk/machine.h"
#include "tests/unit/desk/parts/seen.h"

using namespace saltrafter;
using desk::Place;
using desk::sample::Machine;
using parts::Role;

namespace {

struct Looker : Machine {
  using Machine::Machine;

  // One frame, looked at from both sides.
  void look(const std::string& what, bool wet = false) {
    CAPTURE(what);
    std::vector<parts::Written> written;
    program->host().canvas().listen(&written);
    program->host().wake();
    program->draw(steady_ms / 1000.0);
    program->host().canvas().listen(nullptr);
    seen::check_screen(program->host().nodes(), written, display.text_scale, wet);
  }

  void go_to(Place place) {
    program->session().go_to(place);
    program->host().wake();
    frames(3);
  }

  // A batch with a weighing, and its forecast made.
  void hang_and_weigh() {
    press(Role::row, "Caraway salami…");
    press(Role::button, "Hang it");
    fill(Role::textbox, "Day of hanging", "-14");
    press(Role::button, "Hang it in the chamber");
    forecast();
  }
  void forecast() {
    int slices = 0;
    while (program->work(1e6) == 0.0 && slices < 1000) ++slices;
    REQUIRE(slices < 1000);
    frames(4);
  }
  void touch(Role role, const std::string& name) {
    const parts::Node* found = node(role, name);
    REQUIRE(found != nullptr);
    CHECK(program->host().press(*found));
    frames(6);
  }
};

// Widths of a phone, a tablet and a desk; as high as a screen, and high enough for all of it.
const std::pair<double, double> kSizes[] = {{390.0, 844.0},   {390.0, 6000.0},  {820.0, 1180.0},
                                            {1440.0, 900.0}, {1440.0, 6000.0}};

}  // namespace

TEST_SUITE("desk/access") {
  TEST_CASE("on every screen each text and control is a node, and each node in sight is drawn") {
    for (const auto& [width, height] : kSizes) {
      CAPTURE(width);
      CAPTURE(height);
      Looker m(width, height);
      m.open();
      m.frames(12);
      for (const Place place : {Place::round, Place::bench, Place::rails, Place::air, Place::shelf}) {
        m.go_to(place);
        m.look("a place of a new book", place == Place::round);
      }
      m.go_to(Place::bench);
      m.press(Role::row, "Caraway salami…");
      m.look("a recipe");
      m.fill(Role::spinbutton, "Meat on the tray", "1,250");
      m.look("a figure that was refused");
      m.press(Role::row, "Ingoing nitrite");
      m.look("an opened finding");
      m.touch(Role::spinbutton, "Meat on the tray");
      m.look("the pad");
      m.program->host().leave();
      m.frames(3);
      m.press(Role::button, "Send to a friend");
      m.look("a notice");
      m.press(Role::button, "Hang it");
      m.look("hanging");
      m.go_to(Place::bench);
      m.go_to(Place::bench);
      m.hang_and_weigh();
      m.look("a batch");
      m.press(Role::row, "Acid in time");
      m.look("an opened finding of a batch");
      m.go_to(Place::round);
      CHECK(m.node(Role::button, "…") != nullptr);
      m.look("a task", true);
      m.go_to(Place::rails);
      m.press(Role::row, "Piece 1…");
      m.look("weighing", true);
      m.touch(Role::spinbutton, "Weight");
      m.look("weighing with the pad", true);
      m.fill(Role::spinbutton, "Weight", "960");
      m.fill(Role::textbox, "Day", "tomorrow");
      m.look("a day that was refused", true);
      m.fill(Role::textbox, "Day", "today");
      m.look("a weight that is asked about", true);
      m.press(Role::button, "It is so");
      m.forecast();
      m.look("a batch that was weighed");
      for (const Place place : {Place::round, Place::rails, Place::air, Place::shelf}) {
        m.go_to(place);
        m.look("a place of a book with a batch", place == Place::round);
      }
    }
  }

  TEST_CASE("the pages of the Shelf are told as they are drawn") {
    for (const auto& [width, height] : kSizes) {
      CAPTURE(width);
      CAPTURE(height);
      Looker m(width, height);
      m.open();
      m.frames(12);
      desk::Session& session = m.program->session();
      m.go_to(Place::shelf);
      const auto open = [&m, &session](desk::ShelfLeaf leaf, const std::string& what) {
        session.open_shelf(leaf);
        m.program->host().wake();
        m.frames(4);
        m.look(what);
      };
      open(desk::ShelfLeaf::tables, "the tables");
      for (const auto& [table, row] : {std::pair<std::string, std::string>{"limits", "eu.nitrite.comminuted_dry.ingoing"},
                                       {"additives", "black_pepper"},
                                       {"organisms", "listeria"},
                                       {"constants", "drying.d0_minced"},
                                       {"curing_methods", "1.to_89"}}) {
        session.view.table = table;
        session.view.table_row = row;
        open(desk::ShelfLeaf::table, table);
        open(desk::ShelfLeaf::row, row);
      }
      open(desk::ShelfLeaf::supplies, "no supplies");
      for (const recipe::SupplyKind kind : {recipe::SupplyKind::cut, recipe::SupplyKind::additive,
                                            recipe::SupplyKind::curing_mix, recipe::SupplyKind::culture,
                                            recipe::SupplyKind::casing}) {
        session.new_supply(kind, {}, {});
        m.program->host().wake();
        m.frames(4);
        m.look("an own row");
        open(desk::ShelfLeaf::replaces, "what it stands in place of");
      }
      open(desk::ShelfLeaf::supplies, "supplies");
      open(desk::ShelfLeaf::rules, "rules");
      m.press(Role::button, "Add a limit");
      m.look("a limit being added");
    }
  }

  TEST_CASE("a friend's file, a bad file, the path screen and a refused store are told too") {
    for (const auto& [width, height] : kSizes) {
      CAPTURE(width);
      CAPTURE(height);
      Looker m(width, height);
      m.open();
      m.frames(12);
      m.program->file_opened("gift.json", "no JSON");
      m.frames(3);
      m.look("a bad file");
      m.program->file_opened("gift.json",
                             desk::sample::text_of("tests/fixtures/schema1.recipe.saltrafter.json"));
      m.frames(3);
      m.look("an offer");
      m.press(Role::button, "Keep it");
      m.look("kept, with its undo");
      desk::Session& session = m.program->session();
      session.shell.list_folder = [](const std::string&) {
        return Result<std::vector<desk::FolderEntry>>({{"letters", true}, {"caraway.json", false}});
      };
      for (const bool saving : {false, true}) {
        session.files = desk::FilesView{"/home/maker", saving ? "book.json" : "", std::nullopt};
        if (saving) session.files->writes = "{}";
        m.program->host().wake();
        m.frames(3);
        m.look("the path screen");
      }
      m.program.reset();
      m.drawer.answer = book::Stored::denied;
      m.open();
      m.frames(12);
      m.look("a store that takes nothing");
    }
  }
}
