// The chamber: its air as read, what was changed in it, one humidity for all that hangs, and new pieces
// beside it.
#include "core/air/air.h"
#include "tests/unit/desk/machine.h"

using namespace saltrafter;
using desk::sample::Machine;
using parts::Role;

namespace {

struct Chamber : Machine {
  Chamber() {
    display.height_px = 6000.0;  // all of the page is drawn
    budget_ms = 400.0;
    open();
    frames(12);
  }
  desk::Session& session() { return program->session(); }
  void settle() {
    for (int i = 0; i < 600 && (i < 10 || session().working()); ++i) frame();
  }
  void go(const char* place) {
    program->go_to(place);
    settle();
  }
  // A batch of the first recipe, hung so many days ago; where it is today nothing is worked out before it
  // hangs.
  Id hang(const char* day, const char* humidity = "76") {
    program->go_to("bench");
    frames(3);
    if (node(Role::row, "Caraway salami…") == nullptr) {
      program->go_to("bench");
      frames(3);
    }
    press(Role::row, "Caraway salami…");
    fill(Role::spinbutton, "Meat on the tray", "3 000");  // more than one piece
    press(Role::button, "Hang it");
    fill(Role::textbox, "Day of hanging", day);
    fill(Role::spinbutton, "Humidity", humidity);
    press(Role::button, "Hang it in the chamber");
    return session().view.batch;
  }
  void read(const char* temperature, const char* humidity, const char* day, const char* time) {
    fill(Role::spinbutton, "Temperature", temperature);
    fill(Role::spinbutton, "Humidity", humidity);
    fill(Role::textbox, "Read on", day);
    fill(Role::textbox, "At", time);
    press(Role::button, "Keep the reading");
  }
  // Readings of one air on the days before today, put in by one edit.
  void log(int days, double humidity) {
    plan::Chamber after = *session().chamber();
    for (int day = 0; day <= days; ++day) {
      after.air.push_back({make_id(session().book.ports()), world.now_ms - day * 86'400'000LL, Celsius(13.0),
                           RelativeHumidity(humidity)});
    }
    REQUIRE(session().change_chamber(after, "edit_air_read"));
  }
  const drying::Forecast& forecast(const Id& batch) {
    const auto answer =
        session().forecasts.ask(batch, session().book.batch(batch), session().today(), session().hands());
    REQUIRE(answer.forecast != nullptr);
    return *answer.forecast;
  }
};

}  // namespace

TEST_SUITE("desk/air") {
  TEST_CASE("a reading is typed, stands in the list, is removed and comes back by undo") {
    Chamber desk;
    desk.go("air");
    CHECK(desk.node(Role::text, "Nobody has read the air of this chamber yet.") != nullptr);
    desk.read("12.5", "78", "today", "07:30");
    const auto kept = [&desk]() -> const plan::AirLog& { return desk.session().chamber()->air; };
    REQUIRE(kept().size() == 1);
    CHECK(kept()[0].temperature == Celsius(12.5));
    CHECK(kept()[0].humidity.value == doctest::Approx(0.78));
    CHECK(kept()[0].at_utc_ms == instant_of(desk.session().book.ports(), desk.session().today(), 450));
    CHECK(desk.node(Role::status, "12.5 °C, 78 % RH is kept.") != nullptr);
    CHECK(desk.node(Role::text, "12.5 °C, 78 % RH, read …") != nullptr);
    CHECK(desk.node(Role::spinbutton, "Humidity")->value.empty());
    desk.press(Role::row, "Wed 25 Nov, 07:30");
    desk.press(Role::button, "Remove it");
    CHECK(kept().empty());
    desk.press(Role::button, "Undo");
    CHECK(kept().size() == 1);
    // The chamber is one record, made once.
    desk.read("12", "77", "yesterday", "07:30");
    CHECK(kept().size() == 2);
    CHECK(desk.session().book.ids(book::Kind::chamber).size() == 1);
  }

  TEST_CASE("what cannot have been read is refused with what would be right, and nothing is kept") {
    Chamber desk;
    desk.go("air");
    desk.read("12.5", "78", "today", "07:30");
    const plan::Chamber before = *desk.session().chamber();
    desk.fill(Role::spinbutton, "Temperature", "12");
    desk.fill(Role::spinbutton, "Humidity", "100");
    CHECK(desk.node(Role::alert, "Up to 99.9 % can be true here.…") != nullptr);
    desk.fill(Role::spinbutton, "Humidity", "80");
    CHECK(desk.node(Role::alert, "Up to 99.9 % can be true here.…") == nullptr);
    desk.fill(Role::textbox, "At", "07:30");
    CHECK(desk.node(Role::text, "At 07:30 on Wed 25 Nov the air is down already: 12.5 °C, 78 % RH.…") !=
          nullptr);
    desk.press(Role::button, "Keep the reading");
    desk.fill(Role::textbox, "At", "23:59");
    CHECK(desk.node(Role::text, "That moment has not come yet.…") != nullptr);
    desk.press(Role::button, "Keep the reading");
    CHECK(*desk.session().chamber() == before);
    desk.fill(Role::textbox, "At", "07:31");
    desk.press(Role::button, "Keep the reading");
    CHECK(desk.session().chamber()->air.size() == 2);
  }

  TEST_CASE("a change of the chamber is kept with its day, taken back, and removed") {
    Chamber desk;
    desk.go("air");
    CHECK(desk.node(Role::text, "Since a change it dries otherwise…") != nullptr);
    desk.press(Role::radio, "cooler…");
    desk.fill(Role::textbox, "Changed on", "-3");
    desk.fill(Role::textbox, "Note, may stay empty", "the old one broke");
    desk.press(Role::button, "Keep the change");
    const auto changes = [&desk]() -> const std::vector<plan::ChamberChange>& {
      return desk.session().chamber()->changes;
    };
    REQUIRE(changes().size() == 1);
    CHECK(changes()[0].kind == plan::ChamberChangeKind::cooler);
    CHECK(changes()[0].on == add_days(desk.session().today(), Days(-3.0)));
    CHECK(changes()[0].note == "the old one broke");
    desk.press(Role::button, "Undo");
    CHECK(changes().empty());
    desk.press(Role::button, "Redo");
    desk.press(Role::row, "cooler");
    desk.press(Role::button, "Remove it");
    CHECK(changes().empty());
  }

  TEST_CASE("a forecast follows the log, and the page says what was read and where nobody did") {
    Chamber desk;
    const Id batch = desk.hang("-12", "70");
    desk.settle();
    const double planned = desk.forecast(batch).curve[12].state.loss;
    const std::string reported = share::report(desk.session().book, desk.session().today());
    desk.log(12, 0.85);
    desk.settle();
    CHECK(share::report(desk.session().book, desk.session().today()) != reported);
    const double damp = desk.forecast(batch).curve[12].state.loss;
    CHECK(damp < planned - 0.01);
    CHECK(desk.node(Role::text, "13 Nov to 25 Nov, as read: 13 °C, 85 % RH.") != nullptr);
    desk.press(Role::button, "Undo");
    desk.settle();
    CHECK(desk.forecast(batch).curve[12].state.loss == planned);
    // Of the last days alone: the ones before are a hole.
    desk.log(4, 0.85);
    desk.settle();
    CHECK(desk.node(Role::text, "13 Nov to 21 Nov, not read, so as planned: …") != nullptr);
    CHECK(desk.forecast(batch).curve[12].state.loss < planned);
    CHECK(desk.forecast(batch).curve[12].state.loss > damp);
    desk.go("air");
    CHECK(desk.node(Role::text, "From 13 Nov to 21 Nov nobody read it…") != nullptr);
  }

  TEST_CASE("one humidity is found for all that hangs, anew when what hangs or its air changes") {
    Chamber desk;
    desk.go("air");
    CHECK(desk.node(Role::text, "Nothing hangs, so no air is asked for.") != nullptr);
    const Id old = desk.hang("-20", "80");
    desk.hang("-1", "80");
    desk.go("air");
    const desk::HangsTogether all = desk.session().hangs_together();
    REQUIRE(all.batches.size() == 2);
    const auto found = desk.session().forecasts.together(all, desk.session().hands());
    REQUIRE(found.result != nullptr);
    // The same as the task by itself makes of both.
    const double best = found.result->set_points[found.result->best].humidity.value;
    const std::string said = std::to_string(std::lround(100.0 * best)) + " % RH";
    CHECK((desk.node(Role::text, "…" + said + ": that suits all that hangs, and it is planned at 80 %.") !=
               nullptr ||
           desk.node(Role::text, "Leave it: " + said + " suits all that hangs, and it is planned at 80 %.") !=
               nullptr));
    CHECK(found.result->pieces.size() ==
          all.batches[0].second->pieces.size() + all.batches[1].second->pieces.size());
    // What hangs there now was read otherwise.
    desk.log(0, 0.64);
    desk.settle();
    CHECK(desk.node(Role::text, "…and it was read at 64 %.") != nullptr);
    // A piece that comes down is not waited for.
    plan::Batch after = *desk.session().book.batch(old);
    plan::TakenDown down;
    down.id = make_id(desk.session().book.ports());
    down.piece = after.pieces[0].id;
    down.date = desk.session().today();
    down.mass = after.pieces[0].hung * 0.7;
    after.taken_down.push_back(down);
    REQUIRE(desk.session().change_batch(old, after, "edit_take_down"));
    desk.settle();
    const auto then =
        desk.session().forecasts.together(desk.session().hangs_together(), desk.session().hands());
    REQUIRE(then.result != nullptr);
    const auto& pieces = then.result->pieces;
    CHECK(std::none_of(pieces.begin(), pieces.end(),
                       [&](const drying::Sufferer& one) { return one.piece == down.piece; }));
  }

  TEST_CASE("the search for it shows how far it is, and rests once it is stopped") {
    Chamber desk;
    desk.hang("-20");
    desk.settle();
    desk.budget_ms = 5.0;
    desk.program->go_to("air");
    desk.frames(4);
    REQUIRE(desk.node(Role::progressbar, "Trying every humidity…") != nullptr);
    desk.press(Role::button, "Stop");
    CHECK_FALSE(desk.session().forecasts.busy());
    CHECK(desk.node(Role::text, "This is not worked out: it was stopped.") != nullptr);
    desk.budget_ms = 400.0;
    desk.press(Role::button, "Work it out");
    desk.settle();
    CHECK(desk.node(Role::text, "…suits all that hangs…") != nullptr);
  }

  TEST_CASE("before new pieces are hung it is said what they do to those that hang") {
    Chamber desk;
    desk.program->go_to("bench");
    desk.frames(3);
    desk.press(Role::row, "Caraway salami…");
    desk.press(Role::button, "Hang it");
    desk.settle();
    CHECK(desk.node(Role::text, "Nothing else hangs. On its first day it gives off …") != nullptr);
    desk.fill(Role::textbox, "Day of hanging", "-30");
    CHECK(desk.node(Role::heading, "Beside what hangs") == nullptr);  // it hung long ago
    desk.fill(Role::spinbutton, "Humidity", "76");
    desk.press(Role::button, "Hang it in the chamber");
    desk.settle();
    desk.program->go_to("bench");
    desk.frames(3);
    if (desk.node(Role::button, "Hang it") == nullptr) desk.press(Role::row, "Caraway salami…");
    desk.press(Role::button, "Hang it");
    desk.settle();
    CHECK(desk.node(Role::heading, "Beside what hangs") != nullptr);
    CHECK(desk.node(Role::text, "…of water an hour; with the new pieces it is …") != nullptr);
    CHECK(desk.node(Role::text, "Reckoned with the air 3 points damper by it.…") != nullptr);
    CHECK(desk.node(Role::text, "…up water instead of drying…") == nullptr);
    // In air as damp as the half-dry ones they take water up.
    desk.fill(Role::spinbutton, "Humidity", "92");
    desk.settle();
    CHECK(desk.node(Role::text, "…up water instead of drying…") != nullptr);
  }

  TEST_CASE("air as damp as a piece or damper is said beside the programme, as read, and in another air") {
    Chamber desk;
    const Id batch = desk.hang("-14", "76");
    desk.settle();
    CHECK(desk.node(Role::text, "…at least as damp as…") == nullptr);
    desk.fill(Role::spinbutton, "Humidity", "90");
    desk.settle();
    CHECK(desk.node(Role::text, "Such air is at least as damp as the rim of a middling piece…") != nullptr);
    desk.press(Role::button, "Leave it as it is");
    CHECK(desk.node(Role::text, "…at least as damp as…") == nullptr);
    desk.log(0, 0.98);
    desk.settle();
    CHECK(desk.node(
              Role::text,
              "The chamber was last read at 98 % RH, at least as damp as a middling piece on the whole…") !=
          nullptr);
    desk.press(Role::button, "Undo");
    plan::Batch after = *desk.session().book.batch(batch);
    REQUIRE_FALSE(after.made_from.stages.empty());
    recipe::Stage damp = after.made_from.stages.back();
    damp.id = make_id(desk.session().book.ports());
    damp.kind = recipe::StageKind::dry;
    damp.humidity = RelativeHumidity(0.93);
    damp.sealed = false;
    damp.days = Days(10.0);
    after.made_from.stages.push_back(damp);
    REQUIRE(desk.session().change_batch(batch, after, "edit_weigh"));
    desk.settle();
    CHECK(desk.node(Role::text, "…93 % RH is planned, at least as damp as…") != nullptr);
  }
}
