// What outlasts a reload beside the book, addresses, and undo by keyboard.
#include "core/desk/whereabouts.h"

#include "tests/near.h"
#include "tests/unit/desk/machine.h"

using namespace saltrafter;
using desk::address_of;
using desk::Place;
using desk::View;
using desk::view_at;
using desk::sample::Machine;
using parts::Role;

TEST_SUITE("desk/whereabouts") {
  TEST_CASE("an address names what is open, and back again; nonsense names nothing") {
    View view;
    view.place = Place::bench;
    view.recipe.text = "abcdefghijklmnop";
    CHECK(address_of(view) == "bench/abcdefghijklmnop");
    view.bench = desk::BenchLeaf::hang;
    CHECK(address_of(view) == "bench/abcdefghijklmnop/hang");
    view.batch.text = "ponmlkjihgfedcba";
    view.piece.text = "aaaaaaaaaaaaaaaa";
    CHECK(address_of(view) == "bench/abcdefghijklmnop/hang");
    view.place = Place::rails;
    CHECK(address_of(view) == "rails/ponmlkjihgfedcba/aaaaaaaaaaaaaaaa");
    for (const char* address : {"round", "bench", "bench/abcdefghijklmnop", "bench/abcdefghijklmnop/hang",
                                "bench/abcdefghijklmnop/line/ponmlkjihgfedcba", "bench/abcdefghijklmnop/method",
                                "rails/ponmlkjihgfedcba/readings", "rails/ponmlkjihgfedcba/standing",
                                "rails/ponmlkjihgfedcba/weigh", "rails/ponmlkjihgfedcba/weigh/aaaaaaaaaaaaaaaa",
                                "rails/ponmlkjihgfedcba/piece/aaaaaaaaaaaaaaaa",
                                "rails/ponmlkjihgfedcba/take_down/aaaaaaaaaaaaaaaa", "rails/ponmlkjihgfedcba/yield",
                                "rails/ponmlkjihgfedcba/split",
                                "rails/ponmlkjihgfedcba", "rails/ponmlkjihgfedcba/aaaaaaaaaaaaaaaa", "air", "shelf"}) {
      CAPTURE(address);
      const auto there = view_at(address, View{});
      REQUIRE(there);
      CHECK(address_of(*there) == address);
    }
    CHECK(address_of(*view_at("rails/no such id", View{})) == "rails");
    // What is open in another place stays open there.
    CHECK(view_at("air", view)->recipe == view.recipe);
    for (const char* address : {"", "/", "cellar", "bench/a/b/c/d", "Bench"}) CHECK_FALSE(view_at(address, view));
  }

  TEST_CASE("place, scroll and half-typed input are there again after a reload, and nothing half typed was taken") {
    Machine machine(390.0, 700.0);
    machine.open();
    machine.frames(12);
    machine.press(Role::row, "Caraway salami…");
    const parts::Node* meat = machine.node(Role::spinbutton, "Meat on the tray");
    REQUIRE(meat != nullptr);
    const std::uint64_t id = meat->id;
    parts::Host& before = machine.program->host();
    before.wheel(150.0);
    machine.frames(3);
    before.focus(id);
    machine.frames(3);
    before.text("42");
    machine.frames(3);
    const double y = machine.node(Role::heading, "Caraway salami")->rect.y;
    machine.program.reset();  // nobody left the field
    machine.open();
    machine.frames(12);
    const parts::Node* again = machine.node(Role::spinbutton, "Meat on the tray");
    REQUIRE(again != nullptr);
    CHECK(again->value == "42");
    CHECK(again->focused);
    CHECK(machine.node(Role::heading, "Caraway salami")->rect.y == near_abs(y, 0.01));
    const Id recipe = machine.program->session().view.recipe;
    CHECK(machine.program->session().meat(recipe).value == 1000.0);
    machine.program->host().text("00");
    machine.frames(2);
    machine.program->host().leave();
    machine.frames(4);
    CHECK(machine.program->session().meat(recipe).value == 4200.0);
  }

  TEST_CASE("what was refused is refused again after a reload, as it was typed") {
    Machine machine;
    machine.open();
    machine.frames(12);
    machine.press(Role::row, "Caraway salami…");
    machine.fill(Role::spinbutton, "Meat on the tray", "1,250");
    CHECK(machine.node(Role::spinbutton, "Meat on the tray")->invalid);
    machine.program.reset();
    machine.open();
    machine.frames(12);
    const parts::Node* again = machine.node(Role::spinbutton, "Meat on the tray");
    REQUIRE(again != nullptr);
    CHECK(again->value == "1,250");
    CHECK(again->invalid);
  }

  TEST_CASE("a damaged text of the whereabouts changes nothing") {
    for (const char* text : {"", "{", "[]", "{\"place\":7}", "{\"place\":\"cellar\"}",
                             "{\"place\":\"rails\",\"scrolls\":[1],\"typing\":\"zz\",\"drafts\":{\"a\":{\"hang\":3}}}",
                             "{\"place\":\"rails\",\"drafts\":[{\"hang\":{}}]}"}) {
      CAPTURE(text);
      Machine machine;
      machine.whereabouts = text;
      machine.open();
      machine.frames(12);
      CHECK(machine.program->host().nodes().size() > 5);
      CHECK(machine.program->session().drafts.recipes.empty());
      CHECK(machine.program->session().drafts.batches.empty());
    }
  }

  TEST_CASE("undo by keyboard takes back what is half typed first, then the last edit, and says so") {
    Machine machine;
    machine.open();
    machine.frames(12);
    machine.press(Role::row, "Caraway salami…");
    machine.fill(Role::spinbutton, "Meat on the tray", "4 200");
    const Id recipe = machine.program->session().view.recipe;
    parts::Host& host = machine.program->host();
    host.focus(machine.node(Role::spinbutton, "Meat on the tray")->id);
    machine.frames(2);
    host.text("7");
    machine.frames(2);
    host.key_down(parts::KeyPress::undo);
    machine.frames(3);
    const std::string shown = machine.node(Role::spinbutton, "Meat on the tray")->value;
    CHECK(desk::matches("4 200", shown));
    CHECK(machine.program->session().meat(recipe).value == 4200.0);
    host.key_down(parts::KeyPress::undo);
    machine.frames(3);
    CHECK(machine.program->session().meat(recipe).value == 1000.0);
    CHECK(machine.node(Role::status, "Taken back: …") != nullptr);
    host.key_down(parts::KeyPress::redo);
    machine.frames(3);
    CHECK(machine.program->session().meat(recipe).value == 4200.0);
    host.key_down(parts::KeyPress::redo);
    machine.frames(3);
    CHECK(machine.node(Role::status, "There is nothing to do again.") != nullptr);
  }

  TEST_CASE("going to an address opens what it names, and one of a record that is gone opens its place") {
    Machine machine;
    machine.open();
    machine.frames(12);
    machine.press(Role::row, "Caraway salami…");
    const std::string address = machine.program->address();
    machine.program->go_to("air");
    machine.frames(3);
    CHECK(machine.program->address() == "air");
    machine.program->go_to(address);
    machine.frames(3);
    CHECK(machine.node(Role::heading, "Caraway salami") != nullptr);
    machine.program->go_to("rails/aaaaaaaaaaaaaaaa");
    machine.frames(3);
    CHECK(machine.program->address() == "rails");
  }

  TEST_CASE("what is typed for one piece or recipe never stands in the field of another") {
    Machine machine;
    machine.open();
    machine.frames(12);
    machine.press(Role::row, "Caraway salami…");
    machine.fill(Role::spinbutton, "Meat on the tray", "1,250");  // refused, and stays as typed
    machine.press(Role::button, "All recipes");
    const desk::Session& session = machine.program->session();
    const std::vector<Id> recipes = session.book.ids(book::Kind::recipe);
    REQUIRE(recipes.size() > 1);
    for (const Id& id : recipes) {
      const std::string name = session.book.recipe(id)->name;
      if (name == "Caraway salami") continue;
      machine.program->go_to("bench/" + id.text);
      machine.frames(4);
      CHECK(machine.node(Role::spinbutton, "Meat on the tray")->value != "1,250");
    }
    machine.program->go_to("bench");
    machine.frames(4);
    machine.press(Role::row, "Caraway salami…");
    machine.fill(Role::spinbutton, "Meat on the tray", "4 200");
    machine.press(Role::button, "Hang it");
    machine.press(Role::button, "Hang it in the chamber");
    machine.frames(40);
    machine.press(Role::row, "Piece 1…");
    const std::string first = machine.program->address();
    machine.fill(Role::spinbutton, "Weight", "960");
    CHECK(machine.node(Role::spinbutton, "Weight")->value == "960");
    const plan::Batch batch = *session.book.batch(session.view.batch);
    machine.program->go_to("rails/" + session.view.batch.text + "/" + batch.pieces[1].id.text);
    machine.frames(4);
    CHECK(machine.node(Role::heading, "Piece 2") != nullptr);
    CHECK(machine.node(Role::spinbutton, "Weight")->value.empty());
  }

  TEST_CASE("the undo beside a notice takes back what the notice tells of, and nothing that came after") {
    Machine machine;
    machine.open();
    machine.frames(12);
    machine.press(Role::row, "Caraway salami…");
    machine.press(Role::button, "Send to a friend");
    const std::string gift = machine.files.at(machine.last_file);
    machine.program->file_opened("gift", gift);
    machine.frames(4);
    machine.press(Role::button, "Keep it");
    CHECK(machine.node(Role::status, "Caraway salami is kept.") != nullptr);
    CHECK(machine.program->session().notice_undoes);
    machine.fill(Role::spinbutton, "Meat on the tray", "2 000");
    // Told of still, but no longer to be undone by it: the meat would be.
    CHECK_FALSE(machine.program->session().notice_undoes);
  }

  TEST_CASE("a place that waits for its work leads on, and what came by itself is not offered for taking back") {
    Machine machine;
    machine.open();
    machine.frames(12);
    for (const char* place : {"round", "air"}) {
      machine.program->go_to(place);
      machine.frames(3);
      CHECK(machine.node(Role::button, "Undo") == nullptr);
      machine.press(Role::button, "Go to the Bench");
      CHECK(machine.program->address() == "bench");
    }
    machine.press(Role::row, "Caraway salami…");
    machine.press(Role::button, "Hang it");
    machine.press(Role::button, "Hang it in the chamber");
    machine.program->go_to("air");
    machine.frames(3);
    CHECK(machine.node(Role::button, "Undo") != nullptr);
    CHECK(machine.node(Role::button, "Go to the Bench") == nullptr);
    machine.press(Role::row, "Caraway salami…");
    CHECK(machine.program->address().rfind("rails/", 0) == 0);
    machine.program->go_to("round");
    machine.frames(3);
    machine.press(Role::button, "See what hangs");
    CHECK(machine.program->address().rfind("rails", 0) == 0);
  }
}
