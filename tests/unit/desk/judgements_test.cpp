#include <doctest/doctest.h>

#include "tests/unit/desk/machine.h"

using namespace saltrafter;
using desk::sample::Machine;

namespace {

// A batch of the first whole muscle of the book, in its first stage.
Id begun(desk::Session& session) {
  for (const Id& id : session.book.ids(book::Kind::recipe)) {
    const auto recipe = session.book.recipe(id);
    if (recipe->product_class != recipe::ProductClass::whole_muscle_dry) continue;
    plan::Batch batch;
    batch.name = recipe->name;
    batch.recipe = id;
    batch.made_from = *recipe;
    batch.meat = Grams(2000.0);
    batch.begun_on = session.today();
    batch.hung = false;
    book::EditBuilder edit(session.book, "edit_begin");
    const Id made = edit.create(batch);
    REQUIRE(session.book.apply(edit.done()).ok());
    return made;
  }
  return {};
}

}  // namespace

TEST_SUITE("desk/judgements") {
  TEST_CASE("a batch is judged once, and anew when it, the rules, the scales or the hour has changed") {
    Machine machine;
    machine.open();
    machine.frames(12);
    desk::Session& session = machine.program->session();
    const Id id = begun(session);
    const auto first = session.judged(id);
    REQUIRE(first != nullptr);
    CHECK(session.judged(id) == first);
    session.set_meat(session.book.batch(id)->recipe, Grams(3000.0));  // of the recipe's tray: another thing
    CHECK(session.judged(id) == first);

    book::Settings settings = session.book.settings();
    settings.chosen = safety::Chosen::us;
    CHECK(session.change_settings(settings, "edit_settings"));
    const auto by_us = session.judged(id);
    CHECK(by_us != first);
    settings.scales.fine_step = Grams(5.0);
    CHECK(session.change_settings(settings, "edit_settings"));
    const auto coarse = session.judged(id);
    CHECK(coarse != by_us);
    CHECK(coarse->sheet.mix_step == Grams(5.0));

    plan::Batch after = *session.book.batch(id);
    plan::begin_stage(after, after.made_from.stages.front().id, session.book.ports().now_utc_ms());
    CHECK(session.change_batch(id, after, "edit_stage"));
    const auto cured = session.judged(id);
    CHECK(cured != coarse);
    machine.world.now_ms += 61'000;
    CHECK(session.judged(id) != cured);
    session.undo();
    CHECK(session.judged(id)->evidence.stages.empty());
  }

  TEST_CASE("a held batch is held wherever it is judged, and its reason outlasts the record it stood in") {
    Machine machine;
    machine.open();
    machine.frames(12);
    desk::Session& session = machine.program->session();
    const Id id = begun(session);
    plan::Batch after = *session.book.batch(id);
    after.evidence.acts.push_back({make_id(session.book.ports()), {}, safety::Standing::held, session.today(), "warm", {}});
    CHECK(session.change_batch(id, after, "edit_standing"));
    const auto held = session.judged(id);
    session.undo();
    CHECK(session.judged(id)->stands.standing == safety::Standing::in_work);
    CHECK(held->stands.standing == safety::Standing::held);
    REQUIRE(held->stands.act != nullptr);
    CHECK(held->stands.act->reason == "warm");
  }

  TEST_CASE("warm air that was read of the chamber is a finding of the whole muscle that hangs in the cold") {
    Machine machine;
    machine.open();
    machine.frames(12);
    desk::Session& session = machine.program->session();
    const Id id = begun(session);
    plan::Batch after = *session.book.batch(id);
    recipe::Stage cold;
    cold.id = make_id(session.book.ports());
    cold.kind = recipe::StageKind::cold_dry;
    cold.temperature = Celsius(3.0);
    after.made_from.stages = {cold};
    plan::hang(after, session.book.ports(), Grams(2000.0),
               {session.today(), Metres(0.08), {Celsius(3.0), RelativeHumidity(0.8), MetresPerSecond(0.05)}});
    REQUIRE(session.change_batch(id, after, "edit_hang"));
    const auto stops = [&] {
      int count = 0;
      for (const safety::Finding& finding : session.judged(id)->findings) count += safety::stops(finding) ? 1 : 0;
      return count;
    };
    machine.world.now_ms += 3'600'000;
    const int before = stops();
    plan::Chamber chamber = *session.chamber();
    chamber.air.push_back({make_id(session.book.ports()), session.book.ports().now_utc_ms(), Celsius(14.0),
                           RelativeHumidity(0.8)});
    REQUIRE(session.change_chamber(chamber, "edit_air_read"));
    CHECK(stops() > before);
    session.undo();
    CHECK(stops() == before);
  }
}
