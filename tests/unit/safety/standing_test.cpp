#include <doctest/doctest.h>

#include "core/safety/safety.h"

using namespace saltrafter;
using namespace saltrafter::safety;

namespace {

const Id kBatch;
const Id kPiece{"piece"};
const Id kOther{"other"};

StandingAct act(Standing to, const Id& piece = kBatch, const char* id = "act") {
  StandingAct a;
  a.id = Id{id};
  a.piece = piece;
  a.to = to;
  a.reason = "seen";
  a.evidence = to == Standing::released ? "aw 0.88" : "";
  return a;
}

Finding stop(const char* row, Stop kind = Stop::with_reason) {
  Finding f;
  f.rule = Rule::meat_ph;
  f.row = row;
  f.level = Level::not_met;
  f.stop = kind;
  return f;
}

Acknowledged said(const Finding& finding, const char* reason = "my reason") {
  Acknowledged a;
  a.finding = name_of(finding);
  a.reason = reason;
  return a;
}

Standing after(std::vector<StandingAct> acts, const Id& piece = kBatch) {
  Evidence evidence;
  evidence.acts = std::move(acts);
  return stands(evidence, {}, piece).standing;
}

}  // namespace

TEST_CASE("a batch is in work until an act says otherwise, and the last act counts") {
  CHECK(after({}) == Standing::in_work);
  const Standing all[] = {Standing::in_work, Standing::held, Standing::released};
  for (const Standing from : all) {
    for (const Standing to : {Standing::in_work, Standing::held, Standing::released, Standing::discarded}) {
      CHECK(after({act(from)}) == from);
      CHECK(after({act(from), act(to)}) == to);
    }
  }
}

TEST_CASE("the order of acts is their place in the list, not their date") {
  StandingAct late = act(Standing::held);
  late.on = std::chrono::year(2026) / 12 / 1;
  StandingAct early = act(Standing::released);
  early.on = std::chrono::year(2026) / 11 / 1;
  CHECK(after({late, early}) == Standing::released);
}

TEST_CASE("what is discarded stays so: only undo, which takes the act away, brings it back") {
  for (const Standing to : {Standing::in_work, Standing::held, Standing::released}) {
    CHECK(after({act(Standing::discarded), act(to)}) == Standing::discarded);
    CHECK(after({act(Standing::discarded), act(to, kPiece)}, kPiece) == Standing::discarded);
    Evidence evidence;
    evidence.acts = {act(Standing::discarded, kBatch, "thrown")};
    const Result<Done> may = check_act(evidence, {}, act(to));
    REQUIRE_FALSE(may.ok());
    CHECK(may.error().code == ErrorCode::refused);
    CHECK(may.error().field == "discarded");
    CHECK(may.error().found == "thrown");
  }
}

TEST_CASE(
    "an act on the batch is one on its pieces, an act on a piece is its own and stands over earlier ones") {
  CHECK(after({act(Standing::held)}, kPiece) == Standing::held);
  CHECK(after({act(Standing::held), act(Standing::released, kPiece)}, kPiece) == Standing::released);
  CHECK(after({act(Standing::held), act(Standing::released, kPiece)}, kOther) == Standing::held);
  CHECK(after({act(Standing::held), act(Standing::released, kPiece)}) == Standing::held);
  CHECK(after({act(Standing::released, kPiece), act(Standing::held)}, kPiece) == Standing::held);
  CHECK(after({act(Standing::discarded, kPiece)}) == Standing::in_work);
  CHECK(after({act(Standing::discarded, kPiece), act(Standing::released)}, kPiece) == Standing::discarded);
  CHECK(after({act(Standing::discarded, kPiece), act(Standing::released)}, kOther) == Standing::released);
}

TEST_CASE("an open stop holds by itself, an acknowledgement with a reason opens it again") {
  Evidence evidence;
  const std::vector<Finding> open = {stop("a")};
  Stands now = stands(evidence, open, kBatch);
  CHECK(now.standing == Standing::held);
  CHECK(now.by_itself);
  CHECK(now.act == nullptr);
  REQUIRE(now.open_stops.size() == 1);
  CHECK(now.open_stops[0] == name_of(open[0]));
  CHECK(stands(evidence, open, kPiece).by_itself);
  evidence.acknowledged = {said(stop("b"))};
  CHECK(stands(evidence, open, kBatch).standing == Standing::held);
  evidence.acknowledged = {said(open[0], "  ")};
  CHECK(stands(evidence, open, kBatch).standing == Standing::held);
  evidence.acknowledged = {said(open[0])};
  now = stands(evidence, open, kBatch);
  CHECK(now.standing == Standing::in_work);
  CHECK_FALSE(now.by_itself);
  CHECK(now.open_stops.empty());
}

TEST_CASE("only a stop that is not met holds") {
  for (const Level level : {Level::met, Level::near, Level::not_known, Level::does_not_apply}) {
    Finding f = stop("a");
    f.level = level;
    CHECK(stands({}, {f}, kBatch).standing == Standing::in_work);
  }
  Finding limit = stop("a", Stop::none);
  CHECK(stands({}, {limit}, kBatch).standing == Standing::in_work);
}

TEST_CASE("what is refused outright is opened by no reason") {
  const Finding f = stop("ceiling", Stop::outright);
  Evidence evidence;
  evidence.acknowledged = {said(f)};
  CHECK(stands(evidence, {f}, kBatch).standing == Standing::held);
  const Result<Done> may = check_acknowledgement({f}, said(f));
  REQUIRE_FALSE(may.ok());
  CHECK(may.error().code == ErrorCode::refused);
  CHECK(may.error().field == "outright");
}

TEST_CASE("a stop that appears after the release holds again; an act of holding stays the maker's") {
  Evidence evidence;
  evidence.acts = {act(Standing::released)};
  CHECK(stands(evidence, {}, kBatch).standing == Standing::released);
  CHECK(stands(evidence, {}, kBatch).act == &evidence.acts[0]);
  const Stands again = stands(evidence, {stop("new")}, kBatch);
  CHECK(again.standing == Standing::held);
  CHECK(again.by_itself);
  evidence.acts.push_back(act(Standing::held));
  const Stands held = stands(evidence, {stop("new")}, kBatch);
  CHECK(held.standing == Standing::held);
  CHECK_FALSE(held.by_itself);
  CHECK(held.act == &evidence.acts[1]);
  CHECK(held.open_stops.size() == 1);
  evidence.acts.push_back(act(Standing::discarded));
  const Stands gone = stands(evidence, {stop("new")}, kBatch);
  CHECK(gone.standing == Standing::discarded);
  CHECK_FALSE(gone.by_itself);
}

TEST_CASE("an act needs a reason; a release needs evidence and no open stop") {
  const std::vector<Finding> open = {stop("a"), stop("b")};
  StandingAct none = act(Standing::held);
  none.reason = " ";
  REQUIRE_FALSE(check_act({}, {}, none).ok());
  CHECK(check_act({}, {}, none).error().field == "reason");
  CHECK(check_act({}, {}, none).error().code == ErrorCode::missing);
  StandingAct bare = act(Standing::released);
  bare.evidence.clear();
  REQUIRE_FALSE(check_act({}, {}, bare).ok());
  CHECK(check_act({}, {}, bare).error().field == "evidence");
  const Result<Done> stopped = check_act({}, open, act(Standing::released));
  REQUIRE_FALSE(stopped.ok());
  CHECK(stopped.error().code == ErrorCode::refused);
  CHECK(stopped.error().field == "open_stop");
  CHECK(stopped.error().found == name_of(open[0]));
  Evidence evidence;
  evidence.acknowledged = {said(open[0])};
  CHECK(check_act(evidence, open, act(Standing::released)).error().found == name_of(open[1]));
  evidence.acknowledged.push_back(said(open[1]));
  CHECK(check_act(evidence, open, act(Standing::released)).ok());
  for (const Standing to : {Standing::in_work, Standing::held, Standing::discarded}) {
    CHECK(check_act({}, open, act(to)).ok());
  }
}

TEST_CASE("an acknowledgement needs a reason and a stop to go past") {
  const std::vector<Finding> open = {stop("a")};
  CHECK(check_acknowledgement(open, said(open[0])).ok());
  CHECK(check_acknowledgement(open, said(open[0], "")).error().field == "reason");
  const Result<Done> other = check_acknowledgement(open, said(stop("b")));
  REQUIRE_FALSE(other.ok());
  CHECK(other.error().code == ErrorCode::not_found);
  CHECK(other.error().field == "finding");
  Finding met = open[0];
  met.level = Level::met;
  CHECK(check_acknowledgement({met}, said(met)).error().code == ErrorCode::not_found);
}
