// Pieces while they dry: weighed in a row and as one, asked about, worked on, taken down; a mix that is
// split.
#include "tests/near.h"
#include "tests/unit/desk/machine.h"

using namespace saltrafter;
using desk::sample::Machine;
using parts::Role;

namespace {

// A desk with four pieces that hang for two weeks.
struct Rails : Machine {
  explicit Rails(double width_px = 1440.0, double height_px = 900.0) : Machine(width_px, height_px) {
    open();
    frames(12);
    press(Role::row, "Caraway salami…");
    fill(Role::spinbutton, "Meat on the tray", "4 200");
    press(Role::button, "Hang it");
    fill(Role::textbox, "Day of hanging", "-14");
    press(Role::button, "Hang it in the chamber");
    id = session().view.batch;
    REQUIRE(batch().pieces.size() == 4);
    for (int i = 0; i < 4000 && session().working(); ++i) frame();
    REQUIRE_FALSE(session().working());
  }

  desk::Session& session() { return program->session(); }
  plan::Batch batch() { return *session().book.batch(id); }
  const plan::Piece& piece(std::size_t i) { return session().book.batch(id)->pieces[i]; }
  void go(const std::string& leaf, std::size_t i) {
    program->go_to("rails/" + id.text + "/" + leaf + "/" + piece(i).id.text);
    frames(4);
  }
  bool there(Role role, const std::string& name) { return node(role, name) != nullptr; }
  bool ready(Role role, const std::string& name) {
    const parts::Node* found = node(role, name);
    CAPTURE(name);
    REQUIRE(found != nullptr);
    return found->ready;
  }
  std::string value(Role role, const std::string& name) {
    const parts::Node* found = node(role, name);
    CAPTURE(name);
    REQUIRE(found != nullptr);
    return found->value;
  }
  void touch(Role role, const std::string& name) {
    const parts::Node* found = node(role, name);
    CAPTURE(name);
    REQUIRE(found != nullptr);
    REQUIRE(program->host().press(*found));
    frames(6);
  }

  Id id;
};

}  // namespace

TEST_SUITE("desk/drying") {
  TEST_CASE("on the keyboard a weight and Enter go from piece to piece") {
    Rails rails;
    rails.press(Role::button, "Weigh the pieces");
    rails.program->host().focus(rails.node(Role::spinbutton, "Weight")->id);
    rails.frames(3);
    for (const char* weight : {"850", "855", "845", "860"}) {
      rails.program->host().text(weight);
      rails.frames(2);
      rails.program->host().key_down(parts::KeyPress::enter);
      rails.frames(6);
    }
    CHECK(rails.there(Role::heading, "Every piece is weighed"));
    const plan::Batch batch = rails.batch();
    REQUIRE(batch.weighings.size() == 4);
    for (std::size_t i = 0; i < 4; ++i) CHECK(batch.weighings[i].piece == batch.pieces[i].id);
    CHECK(batch.weighings[2].mass.value == 845.0);
    // It was today, at a minute by the clock.
    CHECK(batch.weighings[0].date == rails.session().today());
    CHECK(batch.weighings[0].minute.has_value());
  }

  TEST_CASE("on the pad a weight and its act go to the next piece, and the pad stays") {
    Rails rails(390.0, 844.0);
    rails.press(Role::button, "Weigh the pieces");
    rails.touch(Role::spinbutton, "Weight");
    for (const char* digit : {"8", "5", "0"}) rails.touch(Role::button, digit);
    rails.touch(Role::button, "Keep, and next");
    CHECK(rails.there(Role::heading, "Piece 2"));
    REQUIRE(rails.batch().weighings.size() == 1);
    CHECK(rails.batch().weighings[0].mass.value == 850.0);
    CHECK(rails.program->host().pad_open());
    CHECK(rails.node(Role::spinbutton, "Weight")->focused);
    // What looks wrong is asked about instead: nothing is kept, and the piece stays in hand.
    for (const char* digit : {"8", "5"}) rails.touch(Role::button, digit);
    rails.touch(Role::button, "Keep, and next");
    CHECK(rails.batch().weighings.size() == 1);
    CHECK(rails.there(Role::heading, "Piece 2"));
    CHECK(rails.there(Role::alert, "…Is a digit missing?"));
    rails.touch(Role::button, "It is so");
    REQUIRE(rails.batch().weighings.size() == 2);
    CHECK(rails.batch().weighings[1].mass.value == 85.0);
    CHECK(rails.there(Role::heading, "Piece 3"));
  }

  TEST_CASE(
      "what is half typed for a piece of the round stays with that piece, skipped or opened out of turn") {
    Rails rails;
    rails.press(Role::button, "Weigh the pieces");
    rails.fill(Role::spinbutton, "Weight", "850");
    rails.press(Role::row, "Piece 3");
    CHECK(rails.there(Role::heading, "Piece 3"));
    CHECK(rails.value(Role::spinbutton, "Weight").empty());
    rails.press(Role::button, "Skip it");
    CHECK(rails.there(Role::heading, "Piece 4"));
    rails.press(Role::row, "Piece 1");
    CHECK(rails.value(Role::spinbutton, "Weight") == "850");
    rails.program.reset();
    rails.open();
    rails.frames(12);
    CHECK(rails.there(Role::heading, "Piece 1"));
    CHECK(rails.value(Role::spinbutton, "Weight") == "850");
    CHECK(rails.batch().weighings.empty());
  }

  TEST_CASE("a round has a day and a tray for all its pieces, and both outlast the program") {
    Rails rails;
    rails.press(Role::button, "Weigh the pieces");
    rails.fill(Role::textbox, "Day", "-3");
    rails.fill(Role::spinbutton, "Hook or tray on the scale", "120");
    rails.fill(Role::spinbutton, "Weight", "1020");
    rails.press(Role::button, "Keep, and next");
    rails.program.reset();
    rails.open();
    rails.frames(12);
    rails.fill(Role::spinbutton, "Weight", "1030");
    rails.press(Role::button, "Keep, and next");
    const plan::Batch batch = rails.batch();
    REQUIRE(batch.weighings.size() == 2);
    for (const drying::Weighing& weighing : batch.weighings) {
      CHECK(days_between(weighing.date, rails.session().today()) == 3);
      CHECK(weighing.tare.value == 120.0);
      CHECK_FALSE(weighing.minute.has_value());
    }
    CHECK(batch.weighings[0].mass.value == 900.0);
    CHECK(batch.weighings[1].mass.value == 910.0);
    // No more than the tray is no piece.
    rails.fill(Role::spinbutton, "Weight", "120");
    CHECK(rails.node(Role::spinbutton, "Weight")->invalid);
    CHECK_FALSE(rails.ready(Role::button, "Keep, and next"));
    // Before it was hung nothing was weighed.
    rails.fill(Role::spinbutton, "Weight", "1030");
    rails.fill(Role::textbox, "Day", "-20");
    CHECK(rails.there(Role::alert, "That day is before it was hung…"));
    CHECK_FALSE(rails.ready(Role::button, "Keep, and next"));
  }

  TEST_CASE("a second weight in the same minute takes the place of the first, once that is said") {
    Rails rails;
    const std::string one = rails.piece(0).id.text;
    rails.go("weigh", 0);
    rails.fill(Role::spinbutton, "Weight", "850");
    rails.press(Role::button, "Keep, and next");
    rails.go("weigh", 0);
    rails.fill(Role::spinbutton, "Weight", "845");
    CHECK(rails.there(Role::alert, "It was weighed in this very minute…"));
    CHECK(rails.batch().weighings.size() == 1);
    rails.press(Role::button, "Put it in its place");
    REQUIRE(rails.batch().weighings.size() == 1);
    CHECK(rails.batch().weighings[0].mass.value == 845.0);
    rails.press(Role::button, "Undo");
    REQUIRE(rails.batch().weighings.size() == 1);
    CHECK(rails.batch().weighings[0].mass.value == 850.0);
    // A minute later it comes beside it.
    rails.world.now_ms += 60'000;
    rails.go("weigh", 0);
    rails.fill(Role::spinbutton, "Weight", "848");
    CHECK(rails.there(Role::text, "Weighed that day already: 850 g…"));
    rails.press(Role::button, "Keep, and next");
    CHECK(rails.batch().weighings.size() == 2);
  }

  TEST_CASE("pieces weighed as one make one weighing, which is each one's estimate") {
    Rails rails;
    rails.press(Role::button, "Weigh the pieces");
    rails.press(Role::button, "Weigh several as one");
    CHECK_FALSE(rails.there(Role::spinbutton, "Weight"));
    rails.press(Role::checkbox, "2");
    rails.press(Role::checkbox, "4");
    rails.fill(Role::spinbutton, "Weight", "1700");
    rails.press(Role::checkbox, "3");
    CHECK(rails.value(Role::spinbutton, "Weight").empty());  // it was of others
    rails.press(Role::checkbox, "3");
    rails.fill(Role::spinbutton, "Weight", "1700");
    rails.press(Role::button, "Keep this weight");
    const plan::Batch batch = rails.batch();
    REQUIRE(batch.weighings.size() == 1);
    CHECK(batch.weighings[0].piece.empty());
    CHECK(batch.weighings[0].bunch == std::vector<Id>{batch.pieces[1].id, batch.pieces[3].id});
    CHECK(rails.there(Role::heading, "Piece 1"));
    const auto mass = plan::last_mass(batch, batch.pieces[3], rails.session().today());
    REQUIRE(mass);
    CHECK(mass->estimated);
    CHECK(mass->mass.value == near_abs(850.0, 1.0));
  }

  TEST_CASE("what is typed for one piece's work is no other's") {
    Rails rails;
    rails.go("piece", 0);
    rails.press(Role::radio, "wetted…");
    rails.fill(Role::spinbutton, "Weight before", "850");
    rails.fill(Role::spinbutton, "Weight after", "840");
    rails.fill(Role::textbox, "Note, may stay empty", "mould wiped off");
    CHECK_FALSE(rails.ready(Role::button, "Keep it"));
    rails.go("piece", 1);
    CHECK(rails.value(Role::spinbutton, "Weight before").empty());
    CHECK(rails.value(Role::textbox, "Note, may stay empty").empty());
    rails.go("take_down", 1);
    rails.fill(Role::spinbutton, "Weight", "870");
    rails.press(Role::checkbox, "another");
    CHECK_FALSE(rails.ready(Role::button, "Take it down"));
    rails.go("take_down", 2);
    CHECK(rails.value(Role::spinbutton, "Weight").empty());
    CHECK_FALSE(rails.there(Role::textbox, "Which other fault"));
    rails.go("take_down", 1);
    rails.fill(Role::textbox, "Which other fault", "grey");
    CHECK(rails.value(Role::spinbutton, "Weight") == "870");
    CHECK(rails.ready(Role::button, "Take it down"));
    rails.go("piece", 0);
    CHECK(rails.value(Role::spinbutton, "Weight after") == "840");
    rails.fill(Role::spinbutton, "Weight after", "870");
    rails.press(Role::button, "Keep it");
    REQUIRE(rails.batch().events.size() == 1);
    CHECK(rails.batch().events[0].kind == plan::EventKind::wetted);
    CHECK(rails.batch().events[0].note == "mould wiped off");
    CHECK(rails.value(Role::spinbutton, "Weight after").empty());
    rails.press(Role::row, "wetted");
    rails.press(Role::button, "Remove it");
    CHECK(rails.batch().events.empty());
    rails.press(Role::button, "Undo");
    CHECK(rails.batch().events.size() == 1);
  }

  TEST_CASE("a take-down is kept with its readings and what was foreseen, and goes with them") {
    Rails rails;
    rails.go("take_down", 1);
    rails.fill(Role::spinbutton, "Weight", "85");
    CHECK(rails.there(Role::alert, "…Is a digit missing?"));
    CHECK_FALSE(rails.there(Role::button, "Take it down"));
    CHECK(rails.there(Role::button, "It is so: take it down"));
    rails.fill(Role::spinbutton, "Weight", "850");
    rails.fill(Role::spinbutton, "Of it to slice", "860");
    CHECK_FALSE(rails.there(Role::status, "Piece 2 is down…"));
    rails.fill(Role::spinbutton, "Of it to slice", "800");
    rails.fill(Role::spinbutton, "Water activity", "0.91");
    rails.press(Role::radio, "at the core");
    rails.fill(Role::spinbutton, "pH by meter", "5.1");
    rails.press(Role::checkbox, "hollow");
    const std::size_t before = rails.batch().evidence.readings.size();
    rails.press(Role::button, "Take it down");
    const plan::Batch batch = rails.batch();
    REQUIRE(batch.taken_down.size() == 1);
    const plan::TakenDown& down = batch.taken_down[0];
    CHECK(down.piece == batch.pieces[1].id);
    CHECK(down.mass.value == 850.0);
    REQUIRE(down.usable);
    CHECK(down.usable->value == 800.0);
    CHECK(down.faults == std::vector<plan::Fault>{plan::Fault::hollow});
    CHECK(down.foreseen.has_value());
    REQUIRE(batch.evidence.readings.size() == before + 2);
    REQUIRE(down.readings.size() == 2);
    CHECK(batch.evidence.readings[before].kind == safety::ReadingKind::water_activity);
    CHECK(batch.evidence.readings[before].site == safety::Site::core);
    CHECK(batch.evidence.readings[before].piece == down.piece);
    CHECK(batch.evidence.readings[before + 1].value == 5.1);
    // It is weighed no more, in a row or by itself.
    rails.go("weigh", 1);
    CHECK(rails.there(Role::heading, "Piece 1"));
    CHECK(rails.there(Role::row, "Piece 2"));
    rails.program->go_to("rails/" + rails.id.text + "/" + down.piece.text);
    rails.frames(4);
    CHECK_FALSE(rails.there(Role::spinbutton, "Weight"));
    rails.press(Role::button, "What was found");
    rails.press(Role::button, "Hang it up again");
    CHECK(rails.batch().taken_down.empty());
    CHECK(rails.batch().evidence.readings.size() == before);
    rails.press(Role::button, "Undo");
    CHECK(rails.batch().taken_down.size() == 1);
    CHECK(rails.batch().evidence.readings.size() == before + 2);
  }

  TEST_CASE("how a piece feels and the water in it are kept with it, asked about where they cannot be, and taken back") {
    Rails rails(1440.0, 4000.0);
    plan::Batch weighed = rails.batch();
    for (int days : {5, 0}) {
      drying::Weighing weighing;
      weighing.id = make_id(rails.session().book.ports());
      weighing.piece = weighed.pieces[0].id;
      weighing.date = rails.session().today() - std::chrono::days(days);
      weighing.mass = weighed.pieces[0].hung * (days == 0 ? 0.80 : 0.85);
      weighed.weighings.push_back(weighing);
    }
    REQUIRE(rails.session().change_batch(rails.id, weighed, "edit_weigh"));
    rails.go("piece", 0);
    const std::size_t before = rails.batch().evidence.readings.size();
    CHECK_FALSE(rails.ready(Role::button, "Keep what was found"));
    rails.press(Role::radio, "firm…");
    CHECK(rails.ready(Role::button, "Keep what was found"));
    rails.fill(Role::spinbutton, "Water in it, measured", "95");
    CHECK_FALSE(rails.ready(Role::button, "Keep what was found"));
    rails.fill(Role::spinbutton, "Water in it, measured", "80");
    CHECK(rails.there(Role::alert, "That is more water than the meat hung with…"));
    CHECK(rails.there(Role::button, "It is so: keep it"));
    rails.fill(Role::spinbutton, "Water in it, measured", "38");
    CHECK_FALSE(rails.there(Role::alert, "…water…"));
    rails.press(Role::button, "Keep what was found");
    REQUIRE(rails.batch().evidence.readings.size() == before + 2);
    const safety::Reading felt = rails.batch().evidence.readings[before];
    CHECK(felt.kind == safety::ReadingKind::firmness);
    CHECK(felt.value == 2.0);
    CHECK(felt.piece == rails.piece(0).id);
    const safety::Reading water = rails.batch().evidence.readings[before + 1];
    CHECK(water.kind == safety::ReadingKind::moisture);
    CHECK(water.value == near_abs(0.38, 1e-9));
    CHECK(rails.there(Role::status, "Of piece 1: firm, 38.0…"));
    CHECK(rails.there(Role::row, "How it feels"));
    // It moves the forecast, which says so.
    rails.program->go_to("rails/" + rails.id.text);
    for (int i = 0; i < 4000 && (i < 10 || rails.session().working()); ++i) rails.frame();
    CHECK(rails.there(Role::text, "…What was measured and felt has moved this…"));
    rails.go("piece", 0);
    rails.press(Role::row, "How it feels");
    rails.press(Role::button, "Remove it");
    CHECK(rails.batch().evidence.readings.size() == before + 1);
    rails.press(Role::button, "Undo");
    CHECK(rails.batch().evidence.readings.size() == before + 2);
    // One that came with a take-down goes from that too.
    rails.go("take_down", 0);
    rails.fill(Role::spinbutton, "Weight", "869");
    rails.press(Role::radio, "springy…");
    rails.press(Role::button, "Take it down");
    REQUIRE(rails.batch().taken_down.size() == 1);
    REQUIRE(rails.batch().taken_down[0].readings.size() == 1);
    CHECK(rails.batch().evidence.readings.back().kind == safety::ReadingKind::cut_look);
    CHECK(rails.there(Role::text, "How the cut feels: springy."));
    rails.go("piece", 0);
    rails.press(Role::row, "How the cut feels");
    rails.press(Role::button, "Remove it");
    CHECK(rails.batch().taken_down[0].readings.empty());
  }

  TEST_CASE("reached is what a piece's own weight says, ready what is released, and a release asks for that weight") {
    Rails rails(1440.0, 6000.0);
    plan::Batch after = rails.batch();
    for (plan::Piece& piece : after.pieces) {
      drying::Weighing weighing;
      weighing.id = make_id(rails.session().book.ports());
      weighing.piece = piece.id;
      // The last one ten days ago.
      weighing.date = rails.session().today() - std::chrono::days(&piece == &after.pieces.back() ? 10 : 0);
      weighing.mass = piece.hung * (&piece == &after.pieces.front() ? 0.60 : 0.80);
      after.weighings.push_back(weighing);
    }
    REQUIRE(rails.session().change_batch(rails.id, after, "edit_weigh"));
    rails.program->go_to("rails/" + rails.id.text);
    for (int i = 0; i < 4000 && (i < 10 || rails.session().working()); ++i) rails.frame();
    const auto row_says = [&rails](const std::string& words) {
      for (const parts::Node& node : rails.program->host().nodes()) {
        if (node.role == Role::row && (node.name + node.value + node.description).find(words) != std::string::npos) return true;
      }
      return false;
    };
    CHECK(row_says("reached, weighed"));
    CHECK_FALSE(row_says("ready"));
    CHECK(rails.there(Role::text, "…1 of 4 that hang have reached it…"));
    CHECK(rails.there(Role::text, "…All 4 pieces by…"));
    rails.go("piece", 0);
    CHECK(rails.there(Role::text, "Reached: all that is wanted is measured…"));
    CHECK(rails.there(Role::text, "…reached, 40…"));
    rails.go("piece", 1);
    CHECK_FALSE(rails.there(Role::text, "Reached…"));
    CHECK(rails.there(Role::text, "…not yet, 20…"));
    // Every stop of the batch is gone past; then the weight that is missing is asked for.
    rails.program->go_to("rails/" + rails.id.text + "/standing");
    rails.frames(6);
    if (rails.there(Role::textbox, "Your reason")) {
      rails.fill(Role::textbox, "Your reason", "seen");
      rails.press(Role::button, "Go on with this reason");
    }
    CHECK_FALSE(rails.there(Role::text, "…was not weighed by itself…"));
    rails.press(Role::radio, "Release…");
    CHECK(rails.there(Role::text, "…Piece 4 was not weighed by itself in the last 7…"));
    CHECK_FALSE(rails.there(Role::text, "…Piece 1 was not weighed by itself…"));
    rails.fill(Role::textbox, "Reason", "done");
    rails.fill(Role::textbox, "On what evidence…", "weighed and cut");
    CHECK_FALSE(rails.ready(Role::button, "Release"));
    rails.press(Role::radio, "Hold…");
    CHECK_FALSE(rails.there(Role::text, "…was not weighed by itself…"));
    rails.press(Role::radio, "Release…");
    rails.fill(Role::textbox, "Your reason", "the scale is broken");
    rails.press(Role::button, "Go on with this reason");
    CHECK(rails.ready(Role::button, "Release"));
    rails.press(Role::button, "Release");
    CHECK(rails.session().judged(rails.id)->stands.standing == safety::Standing::released);
    rails.program->go_to("rails/" + rails.id.text);
    rails.frames(6);
    CHECK(row_says("ready, released"));
  }

  TEST_CASE("casing and string are said for one piece, and given to all") {
    Rails rails;
    rails.go("piece", 2);
    rails.fill(Role::spinbutton, "Casing and string of piece 3", "14");
    CHECK(rails.batch().pieces[2].tare == Grams(14.0));
    CHECK_FALSE(rails.batch().pieces[0].tare.has_value());
    rails.press(Role::button, "14.0 g for all pieces");
    for (const plan::Piece& piece : rails.batch().pieces) CHECK(piece.tare == Grams(14.0));
    rails.fill(Role::spinbutton, "Casing and string of piece 3", "90000");
    CHECK(rails.node(Role::spinbutton, "Casing and string of piece 3")->invalid);
  }

  TEST_CASE("costs and the share of ends change what the yield says") {
    Rails rails;
    rails.program->go_to("rails/" + rails.id.text + "/yield");
    rails.frames(6);
    CHECK(rails.there(Role::cell, "Finished"));
    CHECK_FALSE(rails.there(Role::cell, "To slice"));
    rails.fill(Role::spinbutton, "Ends, casing and rind, of the finished weight", "10");
    CHECK(rails.there(Role::cell, "To slice"));
    rails.fill(Role::spinbutton, "Energy for this batch, kWh", "10");
    rails.fill(Role::spinbutton, "Price of a kWh", "0.5");
    CHECK(rails.there(Role::text, "…energy 5.00."));
    CHECK(rails.batch().costs.ends_share == 0.1);
  }

  TEST_CASE("whole muscle has its pieces and their weights before it hangs, and hangs in them") {
    Rails rails;
    plan::Batch cure = rails.batch();
    cure.hung = false;
    cure.pieces.clear();
    cure.made_from.product_class = recipe::ProductClass::whole_muscle_dry;
    book::EditBuilder edit(rails.session().book, "edit_begin");
    const Id id = edit.create(cure);
    REQUIRE(rails.session().book.apply(edit.done()).ok());
    const auto pieces = [&] { return rails.session().book.batch(id)->pieces; };
    rails.program->go_to("rails/" + id.text);
    rails.frames(4);
    CHECK(rails.there(Role::button, "Split the mix"));
    rails.press(Role::button, "Add a piece");
    CHECK(rails.there(Role::heading, "Piece 1…"));
    rails.fill(Role::spinbutton, "Trimmed, ready for the cure", "1000");
    rails.fill(Role::spinbutton, "After the cure, rinsed and dried off", "950");
    CHECK_FALSE(rails.there(Role::spinbutton, "At hanging, with casing and string"));
    rails.fill(Role::spinbutton, "Thickness, or diameter where it is round", "90");
    rails.program->go_to("rails/" + id.text);
    rails.frames(4);
    CHECK(rails.there(Role::row, "Piece 1…"));
    CHECK_FALSE(rails.there(Role::button, "Split the mix"));
    rails.press(Role::button, "Add a piece");
    CHECK(pieces().size() == 2);
    rails.press(Role::button, "Remove this piece");
    CHECK(pieces().size() == 1);
    rails.press(Role::button, "Undo");
    REQUIRE(pieces().size() == 2);
    CHECK(pieces()[1].number == 2);
    const plan::Piece first = pieces()[0];
    CHECK(first.trimmed->value == 1000.0);
    plan::Batch hung = *rails.session().book.batch(id);
    plan::hang(hung, rails.session().book.ports(), Grams(2000.0), {hung.begun_on, Metres(0.07), hung.air});
    REQUIRE(hung.pieces.size() == 2);
    CHECK(hung.pieces[0].hung.value == 950.0);
    CHECK(hung.pieces[0].diameter.value == 0.09);
    CHECK(hung.pieces[1].hung.value == 1000.0);
    CHECK(hung.pieces[1].diameter.value == 0.07);
  }

  TEST_CASE("a mix is split by one edit, into batches that add to it") {
    Rails rails;
    plan::Batch mix = rails.batch();
    mix.hung = false;
    mix.pieces.clear();
    book::EditBuilder edit(rails.session().book, "edit_begin");
    const Id id = edit.create(mix);
    REQUIRE(rails.session().book.apply(edit.done()).ok());
    rails.program->go_to("rails/" + id.text);
    rails.frames(4);
    rails.press(Role::button, "Split the mix");
    rails.press(Role::button, "One more batch");
    CHECK(rails.ready(Role::button, "Split it"));  // all three are equal
    const auto shares = [&rails] {
      std::vector<const parts::Node*> fields;
      for (const parts::Node& node : rails.program->host().nodes()) {
        if (node.role == Role::spinbutton && node.name == "Share of the mix") fields.push_back(&node);
      }
      REQUIRE(fields.size() == 3);
      return fields;
    };
    const auto share = [&](std::size_t i, const char* percent) {
      rails.program->host().fill(shares()[i]->id, percent);
      rails.program->host().leave();
      rails.frames(4);
    };
    share(0, "50");
    share(1, "30");
    share(2, "10");
    CHECK_FALSE(rails.ready(Role::button, "Split it"));
    rails.press(Role::button, "Split it");
    CHECK(rails.there(Role::alert, "The shares come to 90.00 %…"));
    share(2, "20");
    const std::size_t before = rails.session().book.ids(book::Kind::batch).size();
    rails.press(Role::button, "Split it");
    const std::vector<Id> ids = rails.session().book.ids(book::Kind::batch);
    CHECK(ids.size() == before + 2);
    double meat_g = 0.0;
    for (const Id& each : ids) {
      const auto batch = rails.session().book.batch(each);
      if (each == id || batch->from == id) meat_g += batch->meat.value;
    }
    CHECK(meat_g == near_abs(mix.meat.value, 1e-6));
    CHECK(rails.session().book.batch(id)->meat.value == near_abs(0.5 * mix.meat.value, 1e-6));
    CHECK(rails.session().view.batch == id);
    rails.press(Role::button, "Undo");
    CHECK(rails.session().book.ids(book::Kind::batch).size() == before);
    CHECK(rails.session().book.batch(id)->meat.value == mix.meat.value);
  }
}
