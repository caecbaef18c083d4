// What is typed and not applied outlasts the end of the program.
#include "core/desk/kept_drafts.h"

#include "tests/unit/desk/machine.h"

using namespace saltrafter;
using desk::BatchDraft;
using desk::sample::Machine;
using parts::Role;

namespace {

std::string text_of(const desk::Session& session) {
  return book::write_tree(desk::drafts_node(session.drafts), book::TextForm::stored);
}

Id hang_one(Machine& machine) {
  machine.open();
  machine.frames(12);
  machine.press(Role::row, "Caraway salami…");
  machine.press(Role::button, "Hang it");
  machine.press(Role::button, "Hang it in the chamber");
  machine.frames(40);
  return machine.program->session().view.batch;
}

void take_up(desk::Session& session, const std::string& text) {
  const Result<book::Node> node = book::read_tree(text);
  REQUIRE(node.ok());
  session.drafts = {};
  desk::take_up_drafts(&node.value(), session);
}

}  // namespace

TEST_SUITE("desk/kept drafts") {
  TEST_CASE("whatever is typed for a batch is there again when the program is") {
    Machine machine;
    const Id id = hang_one(machine);
    const Id piece = machine.program->session().book.batch(id)->pieces[0].id;
    const Date day{std::chrono::year(2026) / 11 / 20};
    BatchDraft draft;
    draft.hang.humidity = RelativeHumidity(0.81);
    draft.hang.reason = "as last year";
    draft.reading.reading.kind = safety::ReadingKind::water_activity;
    draft.reading.reading.site = safety::Site::mixed;
    draft.reading.value = "0,9";
    draft.act.act = 2;
    draft.act.evidence = "cut and weighed";
    draft.lines[Id{"aaaaaaaaaaaaaaaa"}] = {"26", "lot 4"};
    draft.pieces[piece] = {day, "1,250"};
    draft.round.tray = Grams(85.0);
    draft.events[piece] = {plan::EventKind::wetted, day, "850", "870", "wiped"};
    draft.feels[piece].feel = 0;
    draft.feels[piece].moisture = "0,4";
    draft.take_downs[piece].cut = 2;
    draft.take_downs[piece].usable = "612";
    draft.take_downs[piece].faults = {plan::Fault::hollow, plan::Fault::other};
    draft.take_downs[piece].site = safety::Site::core;
    draft.parts = {{"plain", 0.75}, {"hot", 0.0}};
    draft.stages[Id{"bbbbbbbbbbbbbbbb"}] = {day, "07:42", "the room was cold"};
    draft.steps[Id{"cccccccccccccccc"}] = {"12", "by hand"};
    machine.program->session().drafts.batches[id] = draft;
    machine.program->session().drafts.air.humidity = "78";
    machine.program->session().drafts.air.kind = plan::ChamberChangeKind::season;
    const std::string before = text_of(machine.program->session());
    machine.frames(12);
    machine.program.reset();
    machine.open();
    machine.frames(12);
    CHECK(text_of(machine.program->session()) == before);
    const BatchDraft& after = machine.program->session().drafts.batches.at(id);
    CHECK(machine.program->session().drafts.air.humidity == "78");
    CHECK(machine.program->session().drafts.air.kind == plan::ChamberChangeKind::season);
    CHECK(after.hang == draft.hang);
    CHECK(after.reading.reading.site == safety::Site::mixed);
    CHECK(after.reading.value == "0,9");
    CHECK(after.act.act == 2);
    CHECK(after.lines.at(Id{"aaaaaaaaaaaaaaaa"}).lot == "lot 4");
    CHECK(after.pieces.at(piece) == draft.pieces.at(piece));
    CHECK(after.round.tray.value == 85.0);
    CHECK(after.events.at(piece).kind == plan::EventKind::wetted);
    CHECK(after.events.at(piece).note == "wiped");
    CHECK(after.feels.at(piece).feel == 0);
    CHECK(after.feels.at(piece).moisture == "0,4");
    CHECK(after.take_downs.at(piece).cut == 2);
    CHECK(after.take_downs.at(piece).faults == draft.take_downs.at(piece).faults);
    REQUIRE(after.parts.size() == 2);
    CHECK(after.parts[0].share == 0.75);
    CHECK(after.parts[1].share == 0.0);
    CHECK(after.stages.at(Id{"bbbbbbbbbbbbbbbb"}).time == "07:42");
    CHECK(after.steps.at(Id{"cccccccccccccccc"}).words == "by hand");
  }

  TEST_CASE("what is no draft is left out, and so is what was typed for a batch that is gone") {
    Machine machine;
    const Id id = hang_one(machine);
    desk::Session& session = machine.program->session();
    take_up(session, "{\"" + id.text +
                         "\":{\"events\":{\"p\":{\"kind\":99,\"before\":7,\"after\":\"12\"}},"
                         "\"parts\":[{\"name\":\"x\",\"share\":7},3],\"take_downs\":{\"p\":{\"faults\":[1,99,-1,"
                         "\"a\"]}},\"hang\":{\"humidity_share\":2}},\"zzzzzzzzzzzzzzzz\":{\"act\":{\"reason\":\"x\"}}}");
    const BatchDraft& draft = session.drafts.batches.at(id);
    CHECK(draft.events.at(Id{"p"}).kind == plan::EventKind::cut);
    CHECK(draft.events.at(Id{"p"}).before.empty());
    CHECK(draft.events.at(Id{"p"}).after == "12");
    REQUIRE(draft.parts.size() == 2);
    CHECK(draft.parts[0].share == 0.0);
    CHECK(draft.take_downs.at(Id{"p"}).faults == std::vector<plan::Fault>{plan::Fault::hollow});
    CHECK_FALSE(draft.hang.humidity);
    CHECK(session.drafts.batches.count(Id{"zzzzzzzzzzzzzzzz"}) == 0);
  }
}
