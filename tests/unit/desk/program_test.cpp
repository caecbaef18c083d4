// The program between its shell and its stores: the mirror, refusals, answers that come late, bad files.
#include <set>

#include "tests/unit/desk/machine.h"

using namespace saltrafter;
using desk::sample::Machine;
using parts::Role;

namespace {

std::vector<std::string> split(const std::string& text, char at) {
  std::vector<std::string> pieces;
  std::string piece;
  for (const char c : text) {
    if (c == at) {
      pieces.push_back(piece);
      piece.clear();
    } else {
      piece += c;
    }
  }
  CHECK(piece.empty());  // each piece is ended, the last one too
  return pieces;
}

std::map<std::string, std::string> records_of(const desk::Session& session) {
  std::map<std::string, std::string> out;
  for (const book::RecordPtr& record : session.book.records()) out[record->id.text] = record->data;
  return out;
}

constexpr std::size_t kMirrorFields = 14;

}  // namespace

TEST_SUITE("desk/program") {
  TEST_CASE("the mirror is a line a node with all its fields, in reading order") {
    Machine machine;
    machine.open();
    machine.frames(12);
    machine.press(Role::row, "Caraway salami…");
    machine.program->host().wheel(160.25);  // what is above the screen's top has a y below 0
    machine.frames(4);
    const auto lines = split(machine.program->mirror(), '\x1e');
    const auto& nodes = machine.program->host().nodes();
    REQUIRE(lines.size() == nodes.size());
    REQUIRE(lines.size() > 20);
    std::set<std::string> ids;
    int above = 0;
    for (std::size_t i = 0; i < lines.size(); ++i) {
      const auto fields = split(lines[i], '\x1f');
      CAPTURE(lines[i]);
      REQUIRE(fields.size() == kMirrorFields);
      if (fields[0] != "0") CHECK(ids.insert(fields[0]).second);
      CHECK(parts::role_of(fields[1]) == nodes[i].role);
      CHECK(fields[2] == nodes[i].name);
      const parts::Rect& rect = nodes[i].rect;
      const double sides[] = {rect.x, rect.y, rect.width, rect.height};
      for (std::size_t k = 0; k < 4; ++k) CHECK(std::abs(std::stod(fields[5 + k]) - sides[k]) < 0.00501);
      above += rect.y < 0.0 ? 1 : 0;
      CHECK((fields[9].find('f') != std::string::npos) == nodes[i].focusable);
      CHECK(fields[11].empty() == !nodes[i].min.has_value());
    }
    CHECK(above > 0);
  }

  TEST_CASE("the mirror's version stands still while nothing changes") {
    Machine machine;
    machine.open();
    machine.frames(20);
    const auto version = machine.program->mirror_version();
    machine.frames(5);
    CHECK(machine.program->mirror_version() == version);
    machine.press(Role::row, "Caraway salami…");
    CHECK(machine.program->mirror_version() != version);
  }

  TEST_CASE("at rest nothing is wanted until midnight, and then the screen is drawn once") {
    Machine machine;
    machine.open();
    machine.frames(20);
    REQUIRE(machine.node(Role::status, "Saved on this device") != nullptr);
    for (int i = 0; i < 20 && machine.program->wants_frame(); ++i) machine.frame();
    CHECK_FALSE(machine.program->wants_frame());
    constexpr double kElevenHours_ms = 11 * 3'600'000.0;
    CHECK(machine.program->work(5.0) == kElevenHours_ms);
    CHECK_FALSE(machine.program->wants_frame());
    machine.world.now_ms += static_cast<std::int64_t>(kElevenHours_ms) - 1;
    CHECK(machine.program->work(5.0) == 1.0);
    CHECK_FALSE(machine.program->wants_frame());
    machine.world.now_ms += 1;
    CHECK(machine.program->work(5.0) == 24 * 3'600'000.0);
    CHECK(machine.program->wants_frame());
    machine.frames(3);
    CHECK_FALSE(machine.program->wants_frame());
  }

  TEST_CASE("a store that stays silent or refuses is asked again without any input") {
    Machine silent;
    silent.answer_frames = 1 << 30;
    silent.open();
    silent.frames(6);
    const double wait_ms = silent.program->work(5.0);
    CHECK(wait_ms > 0.0);
    CHECK(wait_ms <= 3000.0);
    silent.steady_ms += wait_ms;
    silent.program->work(5.0);
    CHECK(silent.program->wants_frame());
    silent.frames(3);
    CHECK(silent.node(Role::alert, "…") != nullptr);

    Machine full;
    full.open();
    full.frames(20);
    full.drawer.answer = book::Stored::full;
    full.press(Role::row, "Caraway salami…");
    full.fill(Role::spinbutton, "Meat on the tray", "2500");
    CHECK(full.node(Role::alert, "…") != nullptr);
    full.drawer.answer = book::Stored::ok;
    const double retry_ms = full.program->work(5.0);
    CHECK(retry_ms <= 1000.0);
    full.steady_ms += retry_ms;
    full.frames(3);
    CHECK(full.node(Role::alert, "…") == nullptr);
  }

  TEST_CASE("a store that refuses is said on the screen, and the work goes on") {
    for (const book::Stored answer : {book::Stored::denied, book::Stored::full}) {
      Machine machine;
      machine.drawer.answer = answer;
      machine.open();
      machine.frames(12);
      const book::SaveState state = machine.program->session().keeper.state();
      CHECK(state.saving == book::Saving::not_saved);
      CHECK(state.trouble == (answer == book::Stored::denied ? book::Trouble::denied : book::Trouble::full));
      CHECK(machine.node(Role::alert, "…") != nullptr);
      CHECK(machine.node(Role::status, "Saved on this device") == nullptr);
      machine.press(Role::row, "Caraway salami…");
      CHECK(machine.node(Role::heading, "Caraway salami") != nullptr);
    }
  }

  TEST_CASE("what is entered before the second store answers is kept on what it holds") {
    Machine machine;
    machine.open();
    machine.frames(20);
    REQUIRE(machine.node(Role::status, "Saved on this device") != nullptr);
    machine.program.reset();
    machine.answer_frames = 40;
    machine.open();
    machine.frames(3);
    machine.press(Role::row, "Caraway salami…");
    machine.fill(Role::spinbutton, "Meat on the tray", "4 200");
    CHECK_FALSE(machine.loaded);
    CHECK(machine.node(Role::status, "Saved on this device") == nullptr);
    machine.frames(60);
    CHECK(machine.loaded);
    CHECK(machine.node(Role::status, "Saved on this device") != nullptr);
    const Id recipe = machine.program->session().view.recipe;
    CHECK(machine.program->session().meat(recipe).value == 4200.0);
    machine.program.reset();
    machine.open();
    machine.frames(60);
    CHECK(machine.program->session().meat(recipe).value == 4200.0);
  }

  TEST_CASE("a first visit waits for the second store before it brings recipes, and brings none twice") {
    Machine machine;
    machine.answer_frames = 30;
    machine.open();
    machine.frames(10);
    CHECK(machine.program->session().book.records().empty());
    machine.frames(40);
    const auto recipes = machine.program->session().book.ids(book::Kind::recipe).size();
    CHECK(recipes > 1);
    machine.program.reset();
    machine.drawer.texts.clear();  // the first store has lost all
    machine.open();
    machine.frames(60);
    CHECK(machine.program->session().book.ids(book::Kind::recipe).size() == recipes);
  }

  TEST_CASE("a bad file is said and leaves the records and the store as they were, byte for byte") {
    Machine machine;
    machine.open();
    machine.frames(20);
    const auto records = records_of(machine.program->session());
    const auto slots = machine.drawer.texts;
    REQUIRE_FALSE(records.empty());
    const std::string head = "{\"format\":\"saltrafter.recipe\",\"schema\":1,\"minReader\":1,\"recipe\":";
    for (const std::string& text :
         {std::string(), std::string("{\"format\":\"saltr"), std::string("no JSON"), std::string("[1,2]"),
          head + "{\"name\":3,\"lines\":[]}}", head + "{\"name\":\"a\",\"name\":\"b\"}}", head + "{}",
          std::string("{\"format\":\"another\"}"), std::string(3U << 20U, '['), std::string("\0\xff\xfe", 3)}) {
      CAPTURE(text.substr(0, 80));
      machine.program->file_opened("gift.json", text);
      machine.frames(4);
      CHECK(machine.program->session().notice_is_wrong);
      CHECK_FALSE(machine.program->session().offer.has_value());
      CHECK(machine.node(Role::alert, "…") != nullptr);
      CHECK(records_of(machine.program->session()) == records);
      CHECK(machine.drawer.texts == slots);
    }
  }

  TEST_CASE("on a phone what was done is told in sight, and somebody sent to a batch sees its top") {
    Machine machine(390.0, 844.0);
    machine.open();
    machine.frames(20);
    machine.press(Role::row, "Caraway salami…");
    machine.press(Role::button, "Send to a friend");
    const parts::Node* told = machine.node(Role::status, "…is written.");
    REQUIRE(told != nullptr);
    CHECK(told->rect.y > machine.node(Role::button, "Send to a friend")->rect.bottom());
    CHECK_FALSE(told->offscreen);
    machine.press(Role::button, "Hang it");
    machine.fill(Role::textbox, "Day of hanging", "-14");
    machine.press(Role::button, "Hang it in the chamber");
    machine.frames(400);
    machine.program->host().wheel(1e6);
    machine.frames(4);
    CHECK(machine.node(Role::heading, "Caraway salami…")->offscreen);
    machine.press(Role::place, "Air");
    machine.press(Role::row, "Caraway salami…");
    CHECK_FALSE(machine.node(Role::heading, "Caraway salami…")->offscreen);
    machine.program->host().wheel(1e6);
    machine.press(Role::place, "Round");
    machine.press(Role::button, "Start weighing");
    REQUIRE(machine.node(Role::heading, "Piece 1") != nullptr);
    CHECK_FALSE(machine.node(Role::heading, "Piece 1")->offscreen);
    machine.press(Role::button, "Leave");
    machine.program->host().wheel(1e6);
    machine.press(Role::row, "Piece 1…");
    machine.fill(Role::spinbutton, "Weight", "900");
    machine.press(Role::button, "Keep this weight");
    told = machine.node(Role::status, "Piece 1 is 900 g.");
    REQUIRE(told != nullptr);
    CHECK_FALSE(told->offscreen);
  }

  TEST_CASE("a figure that cannot be is not taken, stays as typed and says why") {
    Machine machine;
    machine.open();
    machine.frames(20);
    machine.press(Role::row, "Caraway salami…");
    machine.fill(Role::spinbutton, "Meat on the tray", "2500");
    const Id recipe = machine.program->session().view.recipe;
    REQUIRE(machine.program->session().meat(recipe).value == 2500.0);
    for (const char* typed : {"-3", "1e99", "", "abc", "1,250", "999999999", "2 lbs of", "0"}) {
      CAPTURE(typed);
      machine.fill(Role::spinbutton, "Meat on the tray", typed);
      CHECK(machine.program->session().meat(recipe).value == 2500.0);
      const parts::Node* field = machine.node(Role::spinbutton, "Meat on the tray");
      REQUIRE(field != nullptr);
      CHECK(field->invalid);
      CHECK_FALSE(field->description.empty());
      CHECK(field->value == typed);
    }
  }
}
