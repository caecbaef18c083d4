// A batch that hangs: another air beside its own, what is wanted of it, its programme, what finished batches teach.
#include "tests/unit/desk/machine.h"

using namespace saltrafter;
using desk::sample::Machine;
using parts::Role;

namespace {

struct Rails : Machine {
  Rails() {
    display.height_px = 6000.0;  // all of the page is drawn
    open();
    frames(12);
    press(Role::row, "Caraway salami…");
    press(Role::button, "Hang it");
    fill(Role::spinbutton, "Humidity", "70");
    fill(Role::textbox, "Day of hanging", "-14");
    press(Role::button, "Hang it in the chamber");
    settle();
    batch = session().view.batch;
  }
  desk::Session& session() { return program->session(); }
  void settle() {
    for (int i = 0; i < 400 && (i < 10 || session().working()); ++i) frame();
  }
  const plan::Batch& kept() { return *session().book.batch(batch); }
  Id batch;
};

}  // namespace

TEST_SUITE("desk/drying") {
  TEST_CASE("another air shows its own days and is kept nowhere") {
    Rails desk;
    const plan::Batch before = desk.kept();
    CHECK(desk.node(Role::text, "In this air…") == nullptr);
    desk.fill(Role::spinbutton, "Humidity", "66");
    desk.settle();
    REQUIRE(desk.node(Role::text, "In this air…") != nullptr);
    CHECK(desk.node(Role::text, "…sooner.") != nullptr);
    CHECK(desk.node(Role::text, "…is lost a day from now on…") != nullptr);
    desk.fill(Role::spinbutton, "Humidity", "73");
    desk.settle();
    CHECK(desk.node(Role::text, "…later.") != nullptr);
    desk.fill(Role::spinbutton, "Humidity", "92");
    desk.settle();
    CHECK(desk.node(Role::text, "In this air it is not to be expected.") != nullptr);
    desk.press(Role::button, "Leave it as it is");
    CHECK(desk.node(Role::text, "In this air…") == nullptr);
    CHECK(desk.kept() == before);
  }

  TEST_CASE("what follows from the forecast is said: the pace, which pieces to weigh, and what would bring it sooner") {
    Rails desk;
    CHECK(desk.node(Role::heading, "The rim runs ahead") != nullptr);
    CHECK(desk.node(Role::text, "Raise the air to…") != nullptr);
    CHECK(desk.node(Role::heading, "What would bring it sooner, or more gently") != nullptr);
    desk.press(Role::row, "Piece 1…");
    desk.program->go_to("rails/" + desk.batch.text);
    plan::Batch after = desk.kept();
    for (const auto& [day, share] : {std::pair(4, 0.90), std::pair(9, 0.83)}) {
      drying::Weighing weighing;
      weighing.id = make_id(desk.session().book.ports());
      weighing.piece = after.pieces[0].id;
      weighing.date = add_days(after.hung_on, Days(day));
      weighing.mass = after.pieces[0].hung * share;
      after.weighings.push_back(weighing);
    }
    REQUIRE(desk.session().change_batch(desk.batch, after, "edit_weigh"));
    desk.settle();
    CHECK(desk.node(Role::text, "Worth weighing today: …") != nullptr);
    CHECK(desk.node(Role::text, "A middling piece then weighs…") != nullptr);
  }

  TEST_CASE("a bag is offered only where the gate of sealing lets it in: not before a soured batch has its pH") {
    Rails desk;
    REQUIRE(desk.kept().made_from.wanted_ph);
    CHECK_FALSE(desk.session().judged(desk.batch)->sealing.allowed);
    plan::Batch after = desk.kept();
    safety::Reading ph;
    ph.id = make_id(desk.session().book.ports());
    ph.kind = safety::ReadingKind::ph_meter;
    ph.value = 5.0;
    ph.at_utc_ms = desk.world.now_ms - 3 * 86'400'000;
    after.evidence.readings.push_back(ph);
    REQUIRE(desk.session().change_batch(desk.batch, after, "edit_reading"));
    CHECK(desk.session().judged(desk.batch)->sealing.allowed);
    CHECK(desk.session().judged(desk.batch)->sealing.temperature == Celsius(3.0));
  }

  TEST_CASE("what is wanted may be any mix, is taken back like any edit, and the sentence follows it") {
    Rails desk;
    CHECK(desk.node(Role::text, "A middling piece has lost 35 %…") != nullptr);
    desk.press(Role::button, "What is wanted");
    desk.fill(Role::spinbutton, "Days at least", "150");
    desk.fill(Role::spinbutton, "Water activity", "0.93");
    REQUIRE(desk.kept().wishes.size() == 2);
    CHECK(desk.kept().wishes[0] == drying::Wish{drying::WishKind::activity, 0.93});
    CHECK(desk.kept().wishes[1] == drying::Wish{drying::WishKind::least_days, 150.0});
    desk.press(Role::button, "Undo");
    CHECK(desk.kept().wishes.size() == 1);
    desk.press(Role::button, "Redo");
    desk.program->go_to("rails/" + desk.batch.text);
    desk.settle();
    CHECK(desk.node(Role::text, "A middling piece has all that is wanted (…") != nullptr);
    const drying::Forecast* forecast =
        desk.session().forecasts.ask(desk.batch, desk.session().book.batch(desk.batch), desk.session().today(),
                                     desk.session().hands()).forecast;
    REQUIRE(forecast != nullptr);
    CHECK(forecast->pieces[forecast->middle].expected.likely->value >= 150.0);
  }

  TEST_CASE("a batch that is down teaches the next one of its kind, and none that hung before it") {
    Rails desk;
    plan::Batch down = desk.kept();
    for (const plan::Piece& piece : down.pieces) {
      for (const auto& [day, share] : {std::pair(4, 0.84), std::pair(8, 0.74), std::pair(12, 0.67)}) {
        drying::Weighing weighing;
        weighing.id = make_id(desk.session().book.ports());
        weighing.piece = piece.id;
        weighing.date = add_days(down.hung_on, Days(day));
        weighing.mass = piece.hung * share;
        down.weighings.push_back(weighing);
      }
      plan::TakenDown taken;
      taken.id = make_id(desk.session().book.ports());
      taken.piece = piece.id;
      taken.date = add_days(down.hung_on, Days(14.0));
      taken.mass = piece.hung * 0.64;
      down.taken_down.push_back(taken);
    }
    const auto prior = [&desk](int day) {
      return desk.session().forecasts.prior_for(drying::Kind::minced, add_days(desk.kept().hung_on, Days(day)));
    };
    CHECK(prior(20).taught_by == 0);
    REQUIRE(desk.session().change_batch(desk.batch, down, "edit_weigh"));
    desk.settle();
    const drying::TaughtPrior taught = prior(20);
    CHECK(taught.taught_by == 1);
    CHECK(taught.prior.mean[1] > 0.05);  // it dried faster than a new chamber is taken to
    CHECK(taught.prior.batch_sd[1] < drying::FactorPrior{}.batch_sd[1]);
    CHECK(prior(0).taught_by == 0);
    CHECK(desk.session().forecasts.prior_for(drying::Kind::whole_muscle, add_days(down.hung_on, Days(20.0))).taught_by == 0);
  }
}
