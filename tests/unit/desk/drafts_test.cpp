// What is typed for a thing is the thing's own: never another's, and there again when one comes back.
#include "tests/unit/desk/machine.h"

using namespace saltrafter;
using desk::sample::Machine;
using parts::Role;

namespace {

// A desk with two recipes in hand.
struct Bench : Machine {
  Bench() {
    open();
    frames(12);
    for (const Id& id : session().book.ids(book::Kind::recipe)) {
      const auto recipe = session().book.recipe(id);
      if (recipe->name == "Caraway salami") {
        first = id;
      } else if (recipe->product_class == recipe::ProductClass::comminuted_dry) {
        second = id;
      }
    }
    REQUIRE_FALSE(first.empty());
    REQUIRE_FALSE(second.empty());
  }

  desk::Session& session() { return program->session(); }
  void go(const std::string& address) {
    program->go_to(address);
    frames(4);
  }
  void go(const Id& recipe, const std::string& leaf) { go("bench/" + recipe.text + leaf); }
  std::string value(Role role, const std::string& name) {
    const parts::Node* found = node(role, name);
    CAPTURE(name);
    REQUIRE(found != nullptr);
    return found->value;
  }
  bool selected(Role role, const std::string& name) {
    const parts::Node* found = node(role, name);
    CAPTURE(name);
    REQUIRE(found != nullptr);
    return found->selected;
  }
  bool there(Role role, const std::string& name) { return node(role, name) != nullptr; }

  // A packet of curing salt on the Shelf, and a recipe bound to it.
  Id packet(double nitrite) {
    session().new_supply(recipe::SupplyKind::curing_mix, {}, {});
    const Id id = session().view.supply;
    recipe::Supply supply = *session().book.supply(id);
    supply.key = id.text;
    supply.name = "Tin";
    supply.mix.nitrite = nitrite;
    REQUIRE(session().change_supply(supply));
    return id;
  }
  void bind(const Id& recipe, const Id& packet) {
    recipe::Supply supply = *session().book.supply(packet);
    supply.key = packet.text;
    recipe::Recipe bound = *session().book.recipe(recipe);
    bound.mix = recipe::mix_of(supply);
    REQUIRE(session().change_recipe(recipe, bound));
  }
  // A batch that is weighed out, not hung.
  Id begun(const Id& recipe) {
    session().go_to(desk::Place::bench);
    session().view.recipe = recipe;
    session().begin_weighing_out(recipe);
    frames(4);
    REQUIRE(session().view.bench == desk::BenchLeaf::weigh);
    return session().view.item;
  }
  void hang_form(const Id& recipe) {
    go(recipe, "");
    press(Role::button, "Hang it");
  }
  Id hung(const Id& recipe) {
    hang_form(recipe);
    press(Role::button, "Hang it in the chamber");
    frames(40);
    return session().view.batch;
  }
  std::size_t batches() { return session().book.ids(book::Kind::batch).size(); }

  Id first;
  Id second;
};

}  // namespace

TEST_SUITE("desk/drafts") {
  TEST_CASE("a hanging form is its recipe's own, and what was typed on it is there again") {
    Bench desk;
    const std::string own_casing = [&] {
      desk.hang_form(desk.second);
      return desk.value(Role::spinbutton, "Casing");
    }();
    const std::string usual = desk.value(Role::spinbutton, "Temperature");
    desk.hang_form(desk.first);
    desk.fill(Role::spinbutton, "Casing", "61");
    desk.fill(Role::spinbutton, "Temperature", "9");
    desk.fill(Role::textbox, "Day of hanging", "-3");
    const std::string day = desk.value(Role::textbox, "Day of hanging");
    desk.go(desk.second, "/hang");
    CHECK(desk.value(Role::spinbutton, "Casing") == own_casing);
    CHECK(desk.value(Role::spinbutton, "Temperature") == usual);
    CHECK(desk.value(Role::textbox, "Day of hanging") != day);
    desk.hang_form(desk.first);
    const auto as_typed = [&] {
      CHECK(desk.value(Role::spinbutton, "Casing") == "61");
      CHECK(desk.value(Role::spinbutton, "Temperature") == "9");
      CHECK(desk.value(Role::textbox, "Day of hanging") == day);
    };
    as_typed();
    desk.program.reset();
    desk.open();
    desk.frames(12);
    as_typed();
    // A batch that is only weighed out hangs in no air yet: not in the one that stands on a form.
    desk.bind(desk.second, desk.packet(0.005));
    CHECK(desk.session().book.batch(desk.begun(desk.second))->air.temperature.value == 13.0);
    desk.go(desk.first, "/hang");
    desk.press(Role::button, "Hang it in the chamber");
    const plan::Batch batch = *desk.session().book.batch(desk.session().view.batch);
    CHECK(batch.made_from.casing_diameter.value == 0.061);
    CHECK(batch.air.temperature.value == 9.0);
    CHECK(days_between(batch.hung_on, desk.session().today()) == 3);
    // What was hung with it is done with; the next one begins in the air of the one hung last.
    desk.go(desk.second, "/hang");
    CHECK(desk.value(Role::spinbutton, "Casing") == own_casing);
    CHECK(desk.value(Role::spinbutton, "Temperature") == "9");
  }

  TEST_CASE("of two batches of one recipe each has its line in hand and what is typed for it") {
    Bench desk;
    desk.bind(desk.first, desk.packet(0.005));
    const Id one = desk.begun(desk.first);
    desk.press(Role::row, "Salt");
    CHECK(desk.there(Role::heading, "Salt"));
    desk.fill(Role::spinbutton, "As the scale shows", "31");
    desk.fill(Role::textbox, "Packet, lot or shop", "sea");
    desk.session().set_meat(desk.first, Grams(2000.0));
    const Id two = desk.begun(desk.first);
    REQUIRE_FALSE(one == two);
    CHECK_FALSE(desk.there(Role::heading, "Salt"));
    desk.press(Role::row, "Salt");
    CHECK(desk.value(Role::spinbutton, "As the scale shows").empty());
    CHECK(desk.value(Role::textbox, "Packet, lot or shop").empty());
    desk.session().go_to_weigh_out(one);
    desk.frames(4);
    CHECK(desk.there(Role::heading, "Salt"));
    CHECK(desk.value(Role::spinbutton, "As the scale shows") == "31");
    CHECK(desk.value(Role::textbox, "Packet, lot or shop") == "sea");
    desk.press(Role::button, "It is in");
    REQUIRE(desk.session().book.batch(one)->weighed.size() == 1);
    CHECK(desk.session().book.batch(one)->weighed[0].lot == "sea");
    CHECK_FALSE(desk.there(Role::heading, "Salt"));
  }

  TEST_CASE("a weighing is its piece's own, and is there again") {
    Bench desk;
    desk.session().set_meat(desk.first, Grams(4200.0));
    const Id id = desk.hung(desk.first);
    const plan::Batch batch = *desk.session().book.batch(id);
    REQUIRE(batch.pieces.size() > 1);
    const auto to_piece = [&](std::size_t i) { desk.go("rails/" + id.text + "/" + batch.pieces[i].id.text); };
    to_piece(0);
    desk.fill(Role::spinbutton, "Weight", "610");
    to_piece(1);
    CHECK(desk.value(Role::spinbutton, "Weight").empty());
    desk.fill(Role::spinbutton, "Weight", "620");
    desk.press(Role::button, "Leave…");
    to_piece(0);
    CHECK(desk.value(Role::spinbutton, "Weight") == "610");
    desk.press(Role::button, "It is so");  // on the day it was hung
    to_piece(0);
    CHECK(desk.value(Role::spinbutton, "Weight").empty());
    to_piece(1);
    CHECK(desk.value(Role::spinbutton, "Weight") == "620");
    desk.program.reset();
    desk.open();
    desk.frames(12);
    CHECK(desk.value(Role::spinbutton, "Weight") == "620");
  }

  TEST_CASE("a reason is what it was typed for: a step's is no act's, a day of reading is no stage's") {
    Bench desk;
    desk.bind(desk.first, desk.packet(0.005));
    const std::string batch = "rails/" + desk.begun(desk.first).text;
    desk.go(batch + "/steps");
    desk.fill(Role::textbox, "Could not be measured, because", "no probe");
    desk.go(batch + "/standing");
    CHECK(desk.value(Role::textbox, "Reason").empty());
    desk.fill(Role::textbox, "Reason", "open door");
    desk.go(batch + "/readings");
    desk.fill(Role::textbox, "Read on", "-2");
    desk.fill(Role::spinbutton, "It read", "5.7");
    const std::string read_on = desk.value(Role::textbox, "Read on");
    desk.go(batch + "/stages");
    CHECK(desk.value(Role::textbox, "Began on") != read_on);
    desk.press(Role::button, "Begin: …");
    desk.go(batch + "/readings");
    CHECK(desk.value(Role::textbox, "Read on") == read_on);
    CHECK(desk.value(Role::spinbutton, "It read") == "5.7");
    desk.go(batch + "/steps");
    CHECK(desk.value(Role::textbox, "Could not be measured, because") == "no probe");
    desk.press(Role::button, "It is done");
    desk.go(batch + "/standing");
    CHECK(desk.value(Role::textbox, "Reason") == "open door");
  }

  TEST_CASE("a time that was refused is not another time") {
    Bench desk;
    desk.bind(desk.first, desk.packet(0.005));
    const Id id = desk.begun(desk.first);
    desk.go("rails/" + id.text + "/readings");
    desk.fill(Role::spinbutton, "It read", "5.7");
    desk.fill(Role::textbox, "At", "25:90");
    desk.press(Role::button, "Keep the reading");
    CHECK(desk.session().book.batch(id)->evidence.readings.empty());
  }

  TEST_CASE("half a packet is its own row's, and a packet that was taken back is none") {
    Bench desk;
    const auto culture = [&] {
      desk.session().new_supply(recipe::SupplyKind::culture, {}, {});
      return desk.session().view.supply;
    };
    const Id one = culture();
    const Id two = culture();
    desk.go("shelf/supply/" + one.text);
    desk.fill(Role::spinbutton, "Grams in the packet", "25");
    desk.go("shelf/supply/" + two.text);
    CHECK(desk.value(Role::spinbutton, "Grams in the packet").empty());
    desk.go("shelf/supply/" + one.text);
    CHECK(desk.value(Role::spinbutton, "Grams in the packet") == "25");
    desk.fill(Role::spinbutton, "For so much meat", "100");
    REQUIRE(desk.session().book.supply(one)->packet);
    CHECK(desk.there(Role::checkbox, "Kept frozen…"));
    desk.session().undo();
    desk.frames(4);
    REQUIRE_FALSE(desk.session().book.supply(one)->packet);
    CHECK_FALSE(desk.there(Role::checkbox, "Kept frozen…"));
  }

  TEST_CASE("the recipe that waits for a packet waits for that one") {
    Bench desk;
    const Id other = desk.packet(0.006);
    desk.go(desk.first, "");
    desk.session().enter_packet();
    desk.frames(4);
    const Id wanted = desk.session().view.supply;
    desk.fill(Role::spinbutton, "Nitrite", "0.5");
    CHECK(desk.there(Role::button, "Use it in Caraway salami"));
    desk.go("shelf/supply/" + other.text);
    CHECK_FALSE(desk.there(Role::button, "Use it in Caraway salami"));
    desk.session().new_supply(recipe::SupplyKind::curing_mix, {}, {});
    desk.go("shelf/supply/" + wanted.text);
    desk.press(Role::button, "Use it in Caraway salami");
    CHECK(desk.session().book.recipe(desk.first)->mix.supply == wanted.text);
    CHECK(desk.program->address() == "bench/" + desk.first.text);
  }

  TEST_CASE("what a recipe is made for, and the loss looked at, are its own, and no friend's") {
    Bench desk;
    desk.go(desk.first, "");
    desk.press(Role::button, "Send to a friend");
    const std::string gift = desk.files.at(desk.last_file);
    const std::string wanted = desk.value(Role::spinbutton, "Loss");
    desk.press(Role::radio, "so many pieces");
    desk.fill(Role::spinbutton, "Pieces wanted", "6");
    desk.fill(Role::spinbutton, "Loss", "20");
    desk.program->file_opened("gift", gift);
    desk.frames(4);
    CHECK(desk.selected(Role::radio, "the meat here"));
    CHECK(desk.value(Role::spinbutton, "Loss") == wanted);
    desk.press(Role::button, "Do not keep it");
    desk.program->file_opened("gift", gift);
    desk.frames(4);
    desk.fill(Role::spinbutton, "Meat on the tray", "2500");
    desk.fill(Role::spinbutton, "Loss", "25");
    desk.press(Role::button, "Keep it");
    CHECK(desk.value(Role::spinbutton, "Loss") == "25");
    CHECK(desk.session().meat(desk.session().view.recipe).value == 2500.0);
    desk.go(desk.second, "");
    CHECK(desk.selected(Role::radio, "the meat here"));
    desk.go(desk.first, "");
    CHECK(desk.selected(Role::radio, "so many pieces"));
    CHECK(desk.value(Role::spinbutton, "Pieces wanted") == "6");
    CHECK(desk.value(Role::spinbutton, "Loss") == "20");
    desk.hung(desk.first);
    CHECK(desk.value(Role::spinbutton, "Loss") == wanted);
  }

  TEST_CASE("bounds of a blend and the two states compared stay with their recipe") {
    Bench desk;
    for (int i = 0; i < 2; ++i) {
      desk.world.now_ms += 24 * 3'600'000;
      for (const Id& id : {desk.first, desk.second}) {
        recipe::Recipe changed = *desk.session().book.recipe(id);
        changed.note += "more";
        REQUIRE(desk.session().change_recipe(id, changed));
      }
    }
    desk.go(desk.first, "/revisions");
    desk.press(Role::radio, "revision 1…");
    CHECK(desk.selected(Role::radio, "revision 1…"));
    desk.go(desk.first, "/blend");
    desk.fill(Role::spinbutton, "Fat to come near to", "21.5");
    desk.go(desk.second, "/revisions");
    CHECK_FALSE(desk.selected(Role::radio, "revision 1…"));
    desk.go(desk.second, "/blend");
    CHECK(desk.value(Role::spinbutton, "Fat to come near to") != "21.5");
    desk.go(desk.first, "/blend");
    CHECK(desk.value(Role::spinbutton, "Fat to come near to") == "21.5");
    desk.go(desk.first, "/revisions");
    CHECK(desk.selected(Role::radio, "revision 1…"));
    desk.go(desk.first, "/blend");
    desk.press(Role::button, "Take this blend…");
    desk.go(desk.first, "/blend");
    CHECK(desk.value(Role::spinbutton, "Fat to come near to") != "");
  }

  TEST_CASE(
      "a copy of a recipe has fields of its own, though its lines, steps and stages have the same ids") {
    Bench desk;
    const recipe::Recipe recipe = *desk.session().book.recipe(desk.first);
    Id salt;
    for (const recipe::Line& line : recipe.lines) {
      if (line.kind == recipe::LineKind::salt) salt = line.id;
    }
    REQUIRE_FALSE(recipe.stages.empty());
    desk.session().copy_recipe(desk.first);
    const Id copy = desk.session().view.recipe;
    desk.go(desk.first, "/line/" + salt.text);
    desk.fill(Role::spinbutton, "Salt in all…", "some");
    desk.go(desk.first, "/stage/" + recipe.stages[0].id.text);
    desk.fill(Role::spinbutton, "Temperature", "hot");
    desk.go(copy, "/line/" + salt.text);
    CHECK(desk.value(Role::spinbutton, "Salt in all…") != "some");
    desk.go(copy, "/stage/" + recipe.stages[0].id.text);
    CHECK(desk.value(Role::spinbutton, "Temperature") != "hot");
    desk.go(desk.first, "/line/" + salt.text);
    CHECK(desk.value(Role::spinbutton, "Salt in all…") == "some");
  }

  TEST_CASE("whoever goes back in the browser while typing finds the figure taken where it was typed") {
    Bench desk;
    desk.go(desk.first, "");
    desk.program->host().focus(desk.node(Role::spinbutton, "Meat on the tray")->id);
    desk.frames(2);
    desk.program->host().text("4200");
    desk.frames(2);
    desk.go(desk.second, "");
    CHECK(desk.value(Role::spinbutton, "Meat on the tray") != "4200");
    CHECK(desk.session().meat(desk.second).value == 1000.0);
    desk.go(desk.first, "");
    CHECK(desk.session().meat(desk.first).value == 4200.0);
    CHECK(desk.session().meat(desk.second).value == 1000.0);
  }

  TEST_CASE("a limit that is half made is there again") {
    Bench desk;
    desk.go("shelf/rules");
    desk.press(Role::button, "Add a limit");
    desk.press(Role::radio, "Salt to a kilogram of meat");
    desk.session().open_shelf(desk::ShelfLeaf::tables);
    desk.frames(4);
    desk.session().open_shelf(desk::ShelfLeaf::rules);
    desk.frames(4);
    CHECK(desk.selected(Role::radio, "Salt to a kilogram of meat"));
  }

  TEST_CASE("what was typed goes with its thing") {
    Bench desk;
    desk.go(desk.first, "");
    desk.press(Role::radio, "so many pieces");
    desk.session().remove_recipe(desk.first);
    desk.frames(4);
    desk.session().undo();
    desk.go(desk.first, "");
    CHECK(desk.selected(Role::radio, "the meat here"));
  }
}

TEST_SUITE("desk/packets") {
  TEST_CASE("a recipe that goes back to a revision meets its dose by the packet as it is now") {
    Bench desk;
    const Id tin = desk.packet(0.005);
    desk.bind(desk.first, tin);
    constexpr std::int64_t kDay_ms = 24 * 3'600'000;
    const recipe::Recipe wanted = *desk.session().book.recipe(desk.first);
    desk.world.now_ms += kDay_ms;
    recipe::Recipe other = wanted;
    for (recipe::Line& line : other.lines) {
      if (line.kind == recipe::LineKind::salt) line.amount += 2.0;
    }
    REQUIRE(desk.session().change_recipe(desk.first, other));
    desk.world.now_ms += kDay_ms;
    recipe::Supply stronger = *desk.session().book.supply(tin);
    stronger.key = tin.text;
    stronger.mix.nitrite = 0.009;
    REQUIRE(desk.session().change_supply(stronger));
    const auto revisions = desk.session().book.revisions(desk.first);
    std::size_t place = 0;
    for (std::size_t i = 0; i < revisions.size(); ++i) {
      if (revisions[i].was == wanted) place = i + 1;
    }
    REQUIRE(place > 0);
    desk.go(desk.first, "/revisions");
    desk.press(Role::radio, "revision " + std::to_string(place) + "…");
    // What would come back is compared, by the packet as it is.
    CHECK_FALSE(desk.there(Role::text, "…curing mix…"));
    desk.press(Role::button, "Make this the recipe again");
    const recipe::Recipe now = *desk.session().book.recipe(desk.first);
    CHECK(now.lines == wanted.lines);
    CHECK(now.mix.nitrite == 0.009);
    CHECK(now.mix.supply == tin.text);
    const auto sheet = recipe::scale(now, Grams(10000.0), nullptr, desk.session().hands());
    REQUIRE(sheet.ok());
    double dose_ppm = 0.0;
    double salt_g_per_kg = 0.0;
    for (const recipe::Line& line : wanted.lines) {
      if (line.kind == recipe::LineKind::cure) dose_ppm = line.amount;
      if (line.kind == recipe::LineKind::salt) salt_g_per_kg = line.amount;
    }
    double salt_g = 0.0;
    for (const recipe::SheetLine& line : sheet.value().lines) {
      if (line.kind == recipe::LineKind::salt) salt_g = line.weighed.value;
    }
    const double mix_g = dose_ppm * 1e-6 * 10000.0 / 0.009;
    CHECK(std::abs(sheet.value().mix.value - mix_g) <= 0.051);  // half a step of the scale
    CHECK(std::abs(salt_g + 0.991 * mix_g - salt_g_per_kg * 10.0) <= 0.6);
    desk.session().undo();
    CHECK(desk.session().book.recipe(desk.first)->lines == other.lines);
  }

  TEST_CASE("a recipe that goes back to a revision whose packet is gone is bound to none, and that is said") {
    Bench desk;
    const Id tin = desk.packet(0.005);
    desk.bind(desk.first, tin);
    desk.world.now_ms += 24 * 3'600'000;
    recipe::Recipe other = *desk.session().book.recipe(desk.first);
    other.note = "another";
    REQUIRE(desk.session().change_recipe(desk.first, other));
    desk.session().remove_supply(tin);
    desk.frames(4);
    const auto revisions = desk.session().book.revisions(desk.first);
    REQUIRE(revisions.back().was.mix.supply == tin.text);
    desk.go(desk.first, "/revisions");
    desk.press(Role::button, "Make this the recipe again");
    CHECK(desk.session().book.recipe(desk.first)->note != "another");
    CHECK(desk.session().book.recipe(desk.first)->mix.supply.empty());
    CHECK(desk.there(Role::status, "…packet…"));
    desk.session().begin_weighing_out(desk.first);
    CHECK(desk.session().view.bench == desk::BenchLeaf::mix);
  }
}

TEST_SUITE("desk/once") {
  TEST_CASE("a recipe is hung once by one form, and the way back leads to what hangs") {
    Bench desk;
    const Id before = desk.hung(desk.second);
    desk.go("rails/" + before.text +
            "/readings");  // a batch opens at its own page, whatever was open of another
    desk.hang_form(desk.first);
    const std::string form = desk.program->address();
    const std::uint64_t act = desk.node(Role::button, "Hang it in the chamber")->id;
    desk.program->host().activate(act);
    desk.program->host().activate(act);
    desk.frames(6);
    REQUIRE(desk.batches() == 2);
    const Id batch = desk.session().view.batch;
    CHECK_FALSE(batch == before);
    CHECK(desk.program->address() == "rails/" + batch.text);
    const auto back = [&] {
      desk.go(form);
      if (desk.there(Role::button, "Hang it in the chamber"))
        desk.press(Role::button, "Hang it in the chamber");
      CHECK(desk.batches() == 2);
      CHECK(desk.program->address() == "rails/" + batch.text);
    };
    back();
    desk.program.reset();
    desk.open();
    desk.frames(12);
    back();
    CHECK(desk.session().hang_recipe(desk.first).ok());
    CHECK(desk.batches() == 2);
    // Taken back, the form hangs it again; and from the recipe's sheet another one is begun.
    desk.program.reset();
    desk.open();
    desk.frames(12);
    desk.go(desk.first, "/hang");
    REQUIRE(desk.batches() == 2);
    desk.hang_form(desk.first);
    desk.press(Role::button, "Hang it in the chamber");
    REQUIRE(desk.batches() == 3);
    desk.session().undo();
    desk.frames(4);
    REQUIRE(desk.batches() == 2);
    desk.go(form);
    CHECK(desk.there(Role::button, "Hang it in the chamber"));
    desk.session().redo();
    desk.frames(4);
    CHECK(desk.batches() == 3);
    CHECK_FALSE(desk.there(Role::button, "Hang it in the chamber"));
  }

  TEST_CASE("a batch that was weighed out is hung once") {
    Bench desk;
    desk.bind(desk.first, desk.packet(0.005));
    const Id id = desk.begun(desk.first);
    desk.go("rails/" + id.text);
    desk.press(Role::button, "Hang it");
    const std::string form = desk.program->address();
    const std::uint64_t act = desk.node(Role::button, "Hang it in the chamber")->id;
    desk.program->host().activate(act);
    desk.program->host().activate(act);
    desk.frames(6);
    const plan::Batch hung = *desk.session().book.batch(id);
    REQUIRE(hung.hung);
    CHECK(desk.program->address() == "rails/" + id.text);
    desk.go(form);
    CHECK_FALSE(desk.there(Role::button, "Hang it in the chamber"));
    CHECK(desk.program->address() == "rails/" + id.text);
    desk.world.now_ms += 24 * 3'600'000;
    CHECK(desk.session().hang_batch(id).ok());
    CHECK(*desk.session().book.batch(id) == hung);
    desk.session().undo();
    desk.frames(4);
    CHECK_FALSE(desk.session().book.batch(id)->hung);
    desk.go(form);
    CHECK(desk.there(Role::button, "Hang it in the chamber"));
    CHECK(desk.batches() == 1);
  }

  TEST_CASE("a stage is begun once, and its act begins no other") {
    Bench desk;
    desk.bind(desk.first, desk.packet(0.005));
    const Id id = desk.begun(desk.first);
    desk.go("rails/" + id.text + "/stages");
    const parts::Node* begin = desk.node(Role::button, "Begin: …");
    REQUIRE(begin != nullptr);
    const std::uint64_t act = begin->id;
    desk.program->host().activate(act);
    desk.program->host().activate(act);
    desk.frames(6);
    plan::Batch batch = *desk.session().book.batch(id);
    REQUIRE(batch.evidence.stages.size() == 1);
    const plan::Batch once = batch;
    plan::begin_stage(batch, batch.evidence.stages[0].stage, batch.evidence.stages[0].began_utc_ms + 1000);
    CHECK(batch == once);
    desk.session().undo();
    CHECK(desk.session().book.batch(id)->evidence.stages.empty());
  }
}
