#include <doctest/doctest.h>

#include <functional>
#include <limits>

#include "core/book/changes.h"
#include "tests/unit/book/random_values.h"
#include "tests/unit/book/samples.h"

namespace saltrafter::book {
namespace {

using sample::Dice;
using sample::World;

constexpr int kRounds = 300;

template <class Value>
Node tree_of(const Value& value) {
  Node node = Node::object();
  encode(value, node);
  return node;
}

// As a store brings it back.
Node stored(const Node& node) { return read_tree(write_tree(node, TextForm::stored), kRecordLimits).value(); }

Result<recipe::Recipe> decoded(const Node& node, const recipe::Recipe*) { return decode_recipe(node); }
Result<plan::Batch> decoded(const Node& node, const plan::Batch*) { return decode_batch(node); }
Result<recipe::Supply> decoded(const Node& node, const recipe::Supply*) { return decode_supply(node); }
Result<plan::Chamber> decoded(const Node& node, const plan::Chamber*) { return decode_chamber(node); }
Result<Settings> decoded(const Node& node, const Settings*) { return decode_settings(node); }

// Whatever stood there before, the next value is read back as it was; writing it once more changes nothing.
template <class Value, class Draw>
void check_round_trips(std::uint64_t seed, Draw draw) {
  Dice dice(seed);
  Node over = Node::object();
  for (int i = 0; i < kRounds; ++i) {
    CAPTURE(i);
    const Value value = draw(dice);
    for (Node* node : {&over, static_cast<Node*>(nullptr)}) {
      Node fresh = Node::object();
      Node& onto = node != nullptr ? *node : fresh;
      encode(value, onto);
      onto = stored(onto);
      const Result<Value> back = decoded(onto, static_cast<const Value*>(nullptr));
      CAPTURE(write_tree(onto, TextForm::stored));
      REQUIRE_MESSAGE(back.ok(), back.error().field);
      REQUIRE(back.value() == value);
      Node again = onto;
      encode(back.value(), again);
      REQUIRE(again == onto);
    }
  }
}

TEST_CASE("Random recipes, batches, supplies, chambers and settings are read back as they were written") {
  check_round_trips<recipe::Recipe>(11, sample::random_recipe);
  check_round_trips<plan::Batch>(12, sample::random_batch);
  check_round_trips<recipe::Supply>(13, sample::random_supply);
  check_round_trips<Settings>(14, sample::random_settings);
  check_round_trips<plan::Chamber>(16, sample::random_chamber);
}

TEST_CASE("Random revisions are read back as they were written") {
  Dice dice(15);
  for (int i = 0; i < 50; ++i) {
    std::vector<recipe::Revision> revisions;
    for (std::uint64_t k = dice.below(4); k-- > 0;) {
      revisions.push_back({dice.id(), dice.date(), dice.words(), sample::random_recipe(dice)});
    }
    const Node node = stored(tree_of(revisions));
    const auto back = decode_revisions(node);
    REQUIRE(back.ok());
    REQUIRE(back.value() == revisions);
  }
}

// One member changed, and the path under which the file holds it.
template <class Value>
struct Member {
  std::string path;
  std::function<void(Value&)> change;
};

template <class Value>
void check_members(const Value& usual, const std::vector<Member<Value>>& members) {
  const Node before = stored(tree_of(usual));
  for (const Member<Value>& member : members) {
    CAPTURE(member.path);
    Value value = usual;
    member.change(value);
    REQUIRE_FALSE(value == usual);
    Node after = before;
    encode(value, after);
    after = stored(after);
    CHECK(changed_paths(&before, &after) == std::vector<std::string>{member.path});
    const Result<Value> back = decoded(after, static_cast<const Value*>(nullptr));
    REQUIRE_MESSAGE(back.ok(), back.error().field);
    CHECK(back.value() == value);
    encode(usual, after);
    CHECK(decoded(after, static_cast<const Value*>(nullptr)).value() == usual);
  }
}

std::string replaced(std::string text, const std::string& from, const std::string& to) {
  const std::size_t at = text.find(from);
  REQUIRE_MESSAGE(at != std::string::npos, from);
  return text.replace(at, from.size(), to);
}

struct Fault {
  const char* from;
  const char* to;
  ErrorCode code;
  const char* field;
};

template <class Value>
void check_faults(const Value& good, const std::vector<Fault>& faults) {
  const std::string text = write_tree(tree_of(good), TextForm::stored);
  REQUIRE(decoded(read_tree(text).value(), static_cast<const Value*>(nullptr)).ok());
  for (const Fault& fault : faults) {
    CAPTURE(fault.from);
    CAPTURE(fault.to);
    const Result<Value> bad =
        decoded(read_tree(replaced(text, fault.from, fault.to)).value(), static_cast<const Value*>(nullptr));
    REQUIRE_FALSE(bad.ok());
    CHECK(bad.error().code == fault.code);
    CHECK(bad.error().field == fault.field);
  }
}

const Id kOne{"aaaaaaaaaaaaaaaa"};
const Id kTwo{"bbbbbbbbbbbbbbbb"};
const std::string kLine = "lines/aaaaaaaaaaaaaaaa/";
const std::string kStage = "stages/aaaaaaaaaaaaaaaa/";
const std::string kStep = "steps/aaaaaaaaaaaaaaaa/";
const std::string kLot = "evidence/lots/aaaaaaaaaaaaaaaa/";
const std::string kReading = "evidence/readings/aaaaaaaaaaaaaaaa/";
const std::string kAcknowledged = "evidence/acknowledged/aaaaaaaaaaaaaaaa/";
const std::string kAct = "evidence/acts/aaaaaaaaaaaaaaaa/";
const std::string kPiece = "pieces/aaaaaaaaaaaaaaaa/";
const std::string kWeighing = "weighings/aaaaaaaaaaaaaaaa/";
const std::string kEvent = "events/aaaaaaaaaaaaaaaa/";
const std::string kDown = "taken_down/aaaaaaaaaaaaaaaa/";
const std::string kForeseen = kDown + "foreseen/";

recipe::Recipe plain_recipe() {
  recipe::Recipe out;
  out.name = "Plain";
  recipe::Line line;
  line.id = kOne;
  out.lines = {line};
  recipe::Stage stage;
  stage.id = kOne;
  out.stages = {stage};
  recipe::Step step;
  step.id = kOne;
  out.steps = {step};
  return out;
}

TEST_CASE("Each member of a recipe stands in a place of its own, and only what was changed is stamped") {
  using recipe::Recipe;
  check_members<Recipe>(
      plain_recipe(),
      {
          {"method", [](Recipe& r) { r.method = recipe::CureMethod::salt_box; }},
          {"curing_mix/potassium_nitrite", [](Recipe& r) { r.mix.potassium_nitrite = true; }},
          {"curing_mix/potassium_nitrate", [](Recipe& r) { r.mix.potassium_nitrate = true; }},
          {"curing_mix/supply", [](Recipe& r) { r.mix.supply = kTwo.text; }},
          {"casing", [](Recipe& r) { r.casing = "hog"; }},
          {"form", [](Recipe& r) { r.form = recipe::Form::slab; }},
          {"piece_length_m", [](Recipe& r) { r.piece_length = Metres(0.25); }},
          {"piece_width_m", [](Recipe& r) { r.piece_width = Metres(0.18); }},
          {"bone_share", [](Recipe& r) { r.bone_share = 0.12; }},
          {"skin_on", [](Recipe& r) { r.skin_on = true; }},
          {"brine", [](Recipe& r) { r.brine = recipe::Brine{}; }},
          {"wanted_ph", [](Recipe& r) { r.wanted_ph = 5.1; }},
          {kLine + "kind", [](Recipe& r) { r.lines[0].kind = recipe::LineKind::culture; }},
          {kLine + "parts", [](Recipe& r) { r.lines[0].parts = recipe::Composition{0.5, 0.1, 0.1, 0.1, 0.2}; }},
          {kLine + "packet", [](Recipe& r) { r.lines[0].packet = recipe::Packet{Grams(25), Grams(1e5), {}}; }},
          {kStage + "kind", [](Recipe& r) { r.stages[0].kind = recipe::StageKind::ferment; }},
          {kStage + "temperature_c", [](Recipe& r) { r.stages[0].temperature = Celsius(22); }},
          {kStage + "humidity_share", [](Recipe& r) { r.stages[0].humidity = RelativeHumidity(0.9); }},
          {kStage + "lasts_d", [](Recipe& r) { r.stages[0].days = Days(2.5); }},
          {kStage + "until_loss_share", [](Recipe& r) { r.stages[0].until_loss = 0.3; }},
          {kStage + "surface", [](Recipe& r) { r.stages[0].surface = recipe::Surface::larded; }},
          {kStage + "sealed", [](Recipe& r) { r.stages[0].sealed = true; }},
          {"stages/bbbbbbbbbbbbbbbb",
           [](Recipe& r) {
             r.stages.push_back(r.stages[0]);
             r.stages[1].id = kTwo;
           }},
          {kStep + "kind", [](Recipe& r) { r.steps[0].kind = recipe::StepKind::tie; }},
          {kStep + "stage", [](Recipe& r) { r.steps[0].stage = recipe::StageKind::dry; }},
          {kStep + "before_stage", [](Recipe& r) { r.steps[0].before_stage = false; }},
          {kStep + "words", [](Recipe& r) { r.steps[0].words = "cold hands"; }},
          {kStep + "lines", [](Recipe& r) { r.steps[0].lines = {kOne, kTwo}; }},
          {kStep + "in_liquid", [](Recipe& r) { r.steps[0].in_liquid = true; }},
          {kStep + "value", [](Recipe& r) { r.steps[0].value = 4.5; }},
          {kStep + "most_c", [](Recipe& r) { r.steps[0].most = Celsius(2); }},
          {kStep + "asks", [](Recipe& r) { r.steps[0].asks = recipe::Asked::ph; }},
      });
}

TEST_CASE("The value of a step carries the unit of its kind") {
  const std::vector<std::pair<recipe::StepKind, const char*>> rows = {{recipe::StepKind::mince, "value_mm"},
                                                                      {recipe::StepKind::mix, "value_min"},
                                                                      {recipe::StepKind::rest, "value_h"},
                                                                      {recipe::StepKind::turn, "value"}};
  recipe::Recipe recipe = plain_recipe();
  recipe.steps[0].value = 6.0;
  Node node = tree_of(recipe);
  for (const auto& row : rows) {
    recipe.steps[0].kind = row.first;
    encode(recipe, node);
    const Node& step = node.find("steps")->items[0];
    REQUIRE(step.find(row.second) != nullptr);
    CHECK(step.find(row.second)->number == 6.0);
    int values = 0;
    for (const std::string& key : step.keys) values += key.rfind("value", 0) == 0 ? 1 : 0;
    CHECK(values == 1);
  }
}

plan::Batch plain_batch() {
  plan::Batch out;
  out.name = "Plain";
  out.made_from = plain_recipe();
  out.hung_on = parse_iso_date("2026-11-09").value();
  out.begun_on = out.hung_on;
  out.weighed = {{kOne, Grams(100), 5, ""}};
  out.steps_done = {{kOne, 5, {}, ""}};
  safety::MeatLot lot;
  lot.id = kOne;
  safety::Reading reading;
  reading.id = kOne;
  out.evidence.lots = {lot};
  out.evidence.readings = {reading};
  out.evidence.stages = {{kOne, 5, {}}};
  out.evidence.acknowledged = {{kOne, "sealing/stage", out.hung_on, "a tight box"}};
  out.evidence.acts = {{kOne, {}, safety::Standing::held, out.hung_on, "smells", ""}};
  plan::Piece piece;
  piece.id = kOne;
  out.pieces = {piece};
  out.weighings = {{kOne, kOne, out.hung_on, Grams(900)}};
  out.events = {{kOne, kOne, plan::EventKind::cut, out.hung_on, Grams(900), Grams(500), ""}};
  plan::TakenDown down;
  down.id = kOne;
  down.piece = kOne;
  down.date = out.hung_on;
  down.foreseen = plan::Foreseen{};
  out.taken_down = {down};
  return out;
}

TEST_CASE("The value of a reading carries the unit of its kind") {
  const std::vector<std::pair<safety::ReadingKind, const char*>> rows = {
      {safety::ReadingKind::ph_meter, "value_ph"},       {safety::ReadingKind::ph_strip, "value_ph"},
      {safety::ReadingKind::chamber_air, "value_c"},     {safety::ReadingKind::core, "value_c"},
      {safety::ReadingKind::water_activity, "value_aw"}, {safety::ReadingKind::moisture, "value_share"}};
  plan::Batch batch = plain_batch();
  batch.evidence.readings[0].value = 1.0;
  Node node = tree_of(batch);
  for (const auto& [kind, name] : rows) {
    batch.evidence.readings[0].kind = kind;
    encode(batch, node);
    const Node& reading = node.find("evidence")->find("readings")->items[0];
    REQUIRE(reading.find(name) != nullptr);
    CHECK(reading.find(name)->number == 1.0);
    int values = 0;
    for (const std::string& key : reading.keys) values += key.rfind("value", 0) == 0 ? 1 : 0;
    CHECK(values == 1);
    REQUIRE(decode_batch(node).ok());
    CHECK(decode_batch(node).value() == batch);
  }
  // What is felt is a word, and takes the place of the figure that stood there.
  batch.evidence.readings[0].kind = safety::ReadingKind::firmness;
  encode(batch, node);
  const Node& felt = node.find("evidence")->find("readings")->items[0];
  REQUIRE(felt.find("feel") != nullptr);
  CHECK(felt.find("feel")->text == "springy");
  CHECK(felt.find("value_share") == nullptr);
  REQUIRE(decode_batch(node).ok());
  CHECK(decode_batch(node).value() == batch);
  batch.evidence.readings[0].kind = safety::ReadingKind::ph_meter;
  encode(batch, node);
  CHECK(node.find("evidence")->find("readings")->items[0].find("feel") == nullptr);
}

TEST_CASE("Each member of a batch stands in a place of its own, and only what was changed is stamped") {
  using plan::Batch;
  const auto lot = [](Batch& b) -> safety::MeatLot& { return b.evidence.lots[0]; };
  const auto reading = [](Batch& b) -> safety::Reading& { return b.evidence.readings[0]; };
  const auto said = [](Batch& b) -> safety::Acknowledged& { return b.evidence.acknowledged[0]; };
  const auto act = [](Batch& b) -> safety::StandingAct& { return b.evidence.acts[0]; };
  const Date day = parse_iso_date("2026-11-01").value();
  check_members<Batch>(
      plain_batch(),
      {
          {"begun_on", [day](Batch& b) { b.begun_on = day; }},
          {"hung", [](Batch& b) { b.hung = false; }},
          {"made_from/method", [](Batch& b) { b.made_from.method = recipe::CureMethod::brine; }},
          {"weighed/aaaaaaaaaaaaaaaa/mass_g", [](Batch& b) { b.weighed[0].mass = Grams(101.5); }},
          {"weighed/aaaaaaaaaaaaaaaa/at_utc_ms", [](Batch& b) { b.weighed[0].at_utc_ms = 6; }},
          {"weighed/aaaaaaaaaaaaaaaa/lot", [](Batch& b) { b.weighed[0].lot = "shop, Friday"; }},
          {"weighed/bbbbbbbbbbbbbbbb", [](Batch& b) { b.weighed.push_back({kTwo, Grams(1), 7, ""}); }},
          {"steps_done/aaaaaaaaaaaaaaaa@5/value", [](Batch& b) { b.steps_done[0].value = -1.5; }},
          {"steps_done/aaaaaaaaaaaaaaaa@5/words", [](Batch& b) { b.steps_done[0].words = "done"; }},
          {"steps_done/aaaaaaaaaaaaaaaa@9", [](Batch& b) { b.steps_done.push_back({kOne, 9, {}, ""}); }},
          {kLot + "line", [lot](Batch& b) { lot(b).line = kTwo; }},
          {kLot + "name", [lot](Batch& b) { lot(b).name = "neck"; }},
          {kLot + "species", [lot](Batch& b) { lot(b).species = tables::Species::game; }},
          {kLot + "wild", [lot](Batch& b) { lot(b).wild = true; }},
          {kLot + "certified_free", [lot](Batch& b) { lot(b).certified_free = true; }},
          {kLot + "frozen",
           [lot](Batch& b) { lot(b).frozen = safety::Frozen{Celsius(-20), Days(12), Metres(0.1), true}; }},
          {kLot + "ph", [lot](Batch& b) { lot(b).ph = 5.7; }},
          {kLot + "ph_uncertainty", [lot](Batch& b) { lot(b).ph_uncertainty = 0.1; }},
          {kLot + "liver", [lot](Batch& b) { lot(b).liver = true; }},
          {kReading + "kind", [reading](Batch& b) { reading(b).kind = safety::ReadingKind::ph_strip; }},
          {kReading + "at_utc_ms", [reading](Batch& b) { reading(b).at_utc_ms = 1790000000000; }},
          {kReading + "value_ph", [reading](Batch& b) { reading(b).value = 5.21; }},
          {kReading + "uncertainty_ph", [reading](Batch& b) { reading(b).uncertainty = 0.02; }},
          {kReading + "piece", [reading](Batch& b) { reading(b).piece = kTwo; }},
          {kReading + "site", [reading](Batch& b) { reading(b).site = safety::Site::core; }},
          {kReading + "instrument",
           [reading](Batch& b) { reading(b).instrument = safety::InstrumentState::failed; }},
          {kReading + "note", [reading](Batch& b) { reading(b).note = "third piece"; }},
          {"evidence/stages/aaaaaaaaaaaaaaaa@5/ended_utc_ms",
           [](Batch& b) { b.evidence.stages[0].ended_utc_ms = 8; }},
          {kAcknowledged + "finding", [said](Batch& b) { said(b).finding = "species"; }},
          {kAcknowledged + "on", [said, day](Batch& b) { said(b).on = day; }},
          {kAcknowledged + "reason", [said](Batch& b) { said(b).reason = "cold"; }},
          {kAct + "piece", [act](Batch& b) { act(b).piece = kTwo; }},
          {kAct + "to", [act](Batch& b) { act(b).to = safety::Standing::discarded; }},
          {kAct + "on", [act, day](Batch& b) { act(b).on = day; }},
          {kAct + "reason", [act](Batch& b) { act(b).reason = "soft"; }},
          {kAct + "evidence", [act](Batch& b) { act(b).evidence = "pH 5.0"; }},
          {"evidence/taken_down", [](Batch& b) { b.evidence.taken_down = true; }},
          {"evidence/loss_now_share", [](Batch& b) { b.evidence.loss_now = 0.31; }},
      });
}

TEST_CASE("Each member of what happens to the pieces of a batch stands in a place of its own") {
  using plan::Batch;
  const auto event = [](Batch& b) -> plan::PieceEvent& { return b.events[0]; };
  const auto down = [](Batch& b) -> plan::TakenDown& { return b.taken_down[0]; };
  const auto foreseen = [](Batch& b) -> plan::Foreseen& { return *b.taken_down[0].foreseen; };
  const Date day = parse_iso_date("2026-11-12").value();
  check_members<Batch>(
      plain_batch(),
      {
          {kPiece + "number", [](Batch& b) { b.pieces[0].number = 7; }},
          {kPiece + "hung_g", [](Batch& b) { b.pieces[0].hung = Grams(1020); }},
          {kPiece + "diameter_m", [](Batch& b) { b.pieces[0].diameter = Metres(0.08); }},
          {kPiece + "tare_g", [](Batch& b) { b.pieces[0].tare = Grams(0); }},
          {kPiece + "trimmed_g", [](Batch& b) { b.pieces[0].trimmed = Grams(990); }},
          {kPiece + "after_cure_g", [](Batch& b) { b.pieces[0].after_cure = Grams(995); }},
          {kWeighing + "piece", [](Batch& b) { b.weighings[0].piece = kTwo; }},
          {kWeighing + "date", [day](Batch& b) { b.weighings[0].date = day; }},
          {kWeighing + "mass_g", [](Batch& b) { b.weighings[0].mass = Grams(899.5); }},
          {kWeighing + "tare_g", [](Batch& b) { b.weighings[0].tare = Grams(31); }},
          {kWeighing + "minute", [](Batch& b) { b.weighings[0].minute = 0; }},
          {"events/bbbbbbbbbbbbbbbb",
           [](Batch& b) {
             b.events.push_back(b.events[0]);
             b.events[1].id = kTwo;
           }},
          {kEvent + "piece", [event](Batch& b) { event(b).piece = kTwo; }},
          {kEvent + "kind", [event](Batch& b) { event(b).kind = plan::EventKind::wetted; }},
          {kEvent + "date", [event, day](Batch& b) { event(b).date = day; }},
          {kEvent + "before_g", [event](Batch& b) { event(b).before = Grams(901); }},
          {kEvent + "after_g", [event](Batch& b) { event(b).after = Grams(501); }},
          {kEvent + "note", [event](Batch& b) { event(b).note = "for the neighbour"; }},
          {kDown + "piece", [down](Batch& b) { down(b).piece = kTwo; }},
          {kDown + "date", [down, day](Batch& b) { down(b).date = day; }},
          {kDown + "mass_g", [down](Batch& b) { down(b).mass = Grams(640); }},
          {kDown + "usable_g", [down](Batch& b) { down(b).usable = Grams(600); }},
          {kDown + "readings", [down](Batch& b) { down(b).readings = {kTwo, kOne}; }},
          {kDown + "faults", [down](Batch& b) { down(b).faults = {plan::Fault::hollow, plan::Fault::other}; }},
          {kDown + "other", [down](Batch& b) { down(b).other = "grey"; }},
          {kDown + "note", [down](Batch& b) { down(b).note = "good"; }},
          {kDown + "foreseen", [down](Batch& b) { down(b).foreseen.reset(); }},
          {kForeseen + "loss_low_share", [foreseen](Batch& b) { foreseen(b).loss_low = 0.3; }},
          {kForeseen + "loss_likely_share", [foreseen](Batch& b) { foreseen(b).loss_likely = 0.35; }},
          {kForeseen + "loss_high_share", [foreseen](Batch& b) { foreseen(b).loss_high = 0.4; }},
          {kForeseen + "wanted_loss_on_d", [foreseen](Batch& b) { foreseen(b).day = Days(41.5); }},
          {kForeseen + "core_aw", [foreseen](Batch& b) { foreseen(b).core = WaterActivity(0.91); }},
          {kForeseen + "mean_aw", [foreseen](Batch& b) { foreseen(b).mean = WaterActivity(0.89); }},
          {kForeseen + "weighings", [foreseen](Batch& b) { foreseen(b).weighings = 5; }},
          {"loss_base", [](Batch& b) { b.loss_base = plan::LossBase::trimmed; }},
          {"wishes", [](Batch& b) { b.wishes = {{drying::WishKind::activity, 0.9}}; }},
          {"costs", [](Batch& b) { b.costs.energy_kwh = 12.5; }},
          {"from", [](Batch& b) { b.from = kTwo; }},
      });
  Batch wished = plain_batch();
  using drying::WishKind;
  wished.wishes = {{WishKind::loss, 0.3}, {WishKind::moisture_protein_ratio, 1.6}, {WishKind::moisture, 0.35},
                   {WishKind::activity, 0.9}, {WishKind::least_days, 40.0}};
  check_members<Batch>(wished, {
      {"wishes/loss_share", [](Batch& b) { b.wishes[0].value = 0.4; }},
      {"wishes/moisture_protein_ratio", [](Batch& b) { b.wishes[1].value = 1.9; }},
      {"wishes/moisture_share", [](Batch& b) { b.wishes[2].value = 0.3; }},
      {"wishes/activity", [](Batch& b) { b.wishes[3].value = 0.88; }},
      {"wishes/least_d", [](Batch& b) { b.wishes[4].value = 30.0; }},
  });
  Batch priced = plain_batch();
  priced.costs = {Grams(150), 20.0, 0.3, 0.09};
  check_members<Batch>(priced, {
      {"costs/trim_g", [](Batch& b) { b.costs.trim = Grams(0); }},
      {"costs/energy_kwh", [](Batch& b) { b.costs.energy_kwh = 21.0; }},
      {"costs/price_per_kwh", [](Batch& b) { b.costs.price_per_kwh = 0.35; }},
      {"costs/ends_share", [](Batch& b) { b.costs.ends_share.reset(); }},
  });
  Batch bunched = plain_batch();
  bunched.weighings[0].piece = {};
  bunched.weighings[0].bunch = {kOne, kTwo};
  check_members<Batch>(bunched, {
      {kWeighing + "bunch", [](Batch& b) { b.weighings[0].bunch = {kTwo, kOne}; }},
  });
}

TEST_CASE("Each member of a chamber stands in a place of its own") {
  using plan::Chamber;
  Chamber chamber;
  chamber.changes = {{kOne, parse_iso_date("2026-11-01").value(), plan::ChamberChangeKind::fan, ""}};
  chamber.air = {{kOne, 1'795'608'000'000, Celsius(12.5), RelativeHumidity(0.78)}};
  const std::string change = "changes/aaaaaaaaaaaaaaaa/";
  const std::string read = "air/aaaaaaaaaaaaaaaa/";
  check_members<Chamber>(
      chamber,
      {
          {read + "at_utc_ms", [](Chamber& c) { c.air[0].at_utc_ms += 60'000; }},
          {read + "temperature_c", [](Chamber& c) { c.air[0].temperature = Celsius(-5.0); }},
          {read + "humidity_share", [](Chamber& c) { c.air[0].humidity = RelativeHumidity(0.999); }},
          {"air/bbbbbbbbbbbbbbbb",
           [](Chamber& c) {
             c.air.push_back(c.air[0]);
             c.air[1].id = kTwo;
           }},
          {"name", [](Chamber& c) { c.name = "Cellar"; }},
          {change + "on", [](Chamber& c) { c.changes[0].on = parse_iso_date("2026-11-02").value(); }},
          {change + "kind", [](Chamber& c) { c.changes[0].kind = plan::ChamberChangeKind::season; }},
          {change + "note", [](Chamber& c) { c.changes[0].note = "two shelves less"; }},
          {"changes/bbbbbbbbbbbbbbbb",
           [](Chamber& c) {
             c.changes.push_back(c.changes[0]);
             c.changes[1].id = kTwo;
           }},
      });
  check_faults(chamber, {
      {R"("kind":"fan")", R"("kind":"door")", ErrorCode::unknown_value, "changes/0/kind"},
      {R"("on":"2026-11-01")", R"("on":"1.11.")", ErrorCode::wrong_type, "changes/0/on"},
      {R"("humidity_share":0.78)", R"("humidity_share":1)", ErrorCode::out_of_range, "air/0/humidity_share"},
      {R"("temperature_c":12.5)", R"("temperature_c":46)", ErrorCode::out_of_range, "air/0/temperature_c"},
      {R"("temperature_c":12.5)", R"("temperature_f":54)", ErrorCode::unknown_unit, "air/0/temperature_f"},
  });
  // A chamber of before it had a log.
  const std::string before = R"({"name":"Cellar","changes":[]})";
  CHECK(decode_chamber(read_tree(before).value()).value().air.empty());
}

TEST_CASE("Each member of a supply and of the settings stands in a place of its own") {
  using recipe::Supply;
  Supply supply;
  supply.name = "Plain";
  check_members<Supply>(
      supply,
      {
          {"kind", [](Supply& s) { s.kind = recipe::SupplyKind::casing; }},
          {"name", [](Supply& s) { s.name = "Other"; }},
          {"replaces", [](Supply& s) { s.replaces = "black_pepper"; }},
          {"parts", [](Supply& s) { s.parts = recipe::Composition{0.1, 0.2, 0.3, 0.0, 0.4, 0.0}; }},
          {"species", [](Supply& s) { s.species = tables::Species::beef; }},
          {"curing_mix", [](Supply& s) { s.mix.nitrite = 0.006; }},
          {"packet", [](Supply& s) { s.packet = recipe::Packet{Grams(2), Grams(5000), {}, false}; }},
          {"diameter_m", [](Supply& s) { s.diameter = Metres(0.06); }},
          {"allergens", [](Supply& s) { s.allergens = s.allergens.with(tables::Allergen::milk); }},
          {"brings_nitrate", [](Supply& s) { s.brings_nitrate = true; }},
          {"nitrate_share", [](Supply& s) { s.nitrate_share = 0.03; }},
          {"price_per_kg", [](Supply& s) { s.price = 12.5; }},
          {"note", [](Supply& s) { s.note = "lot 7"; }},
      });
  check_members<Settings>(
      Settings{},
      {
          {"theme", [](Settings& s) { s.values["theme"] = "cellar"; }},
          {"rules", [](Settings& s) { s.chosen = safety::Chosen::none_of_these; }},
          {"own_limits",
           [](Settings& s) { s.own_limits = {{kOne, tables::Agent::salt, tables::LimitSense::least, 28.0}}; }},
          {"scales", [](Settings& s) { s.scales.coarse_step = Grams(5.0); }},
          {"money", [](Settings& s) { s.money = "CHF"; }},
      });
}

TEST_CASE("What a record of the first program does not have is at its default, and stays away when written") {
  const char* recipe_text = R"({"name":"Old","note":"","product_class":"comminuted_dry",
    "curing_mix":{"name":"","nitrite_share":0,"nitrate_share":0},"casing_diameter_m":0.055,
    "wanted_loss_share":0.35,"lines":[]})";
  recipe::Recipe old;
  old.name = "Old";
  Node node = read_tree(recipe_text).value();
  REQUIRE(decode_recipe(node).ok());
  CHECK(decode_recipe(node).value() == old);
  Node again = node;
  encode(old, again);
  CHECK(again == node);
  const std::string batch_text = std::string(R"({"name":"Old","recipe":"","made_from":)") + recipe_text +
                                 R"(,"meat_g":1000,"hung_on":"2026-11-01","air":{"temperature_c":13,
    "humidity_share":0.76,"speed_m_per_s":0.05},"pieces":[],"weighings":[]})";
  node = read_tree(batch_text).value();
  const Result<plan::Batch> batch = decode_batch(node);
  REQUIRE(batch.ok());
  CHECK(batch.value().hung);
  CHECK(iso_date(batch.value().begun_on) == "2026-11-01");
  CHECK(batch.value().evidence == safety::Evidence{});
  again = node;
  encode(batch.value(), again);
  CHECK(again == node);
}

TEST_CASE("A batch that does not hang yet needs no day of hanging, but one on which it was begun") {
  plan::Batch batch = plain_batch();
  batch.hung = false;
  batch.hung_on = Date{};
  CHECK(tree_of(batch).find("hung_on") == nullptr);
  const Result<plan::Batch> back = decode_batch(tree_of(batch));
  REQUIRE(back.ok());
  CHECK(back.value() == batch);
  batch.begun_on = Date{};
  CHECK(decode_batch(tree_of(batch)).error().field == "begun_on");
  batch = plain_batch();
  batch.hung_on = Date{};
  CHECK(decode_batch(tree_of(batch)).error().field == "hung_on");
}

TEST_CASE("Members unknown here survive in every part of a batch and of its recipe") {
  plan::Batch batch = plain_batch();
  batch.made_from.lines[0].parts = recipe::Composition{1.0, 0, 0, 0, 0, 0};
  batch.made_from.lines[0].packet = recipe::Packet{Grams(1), Grams(1000), {}};
  batch.made_from.brine = recipe::Brine{};
  batch.evidence.lots[0].frozen = safety::Frozen{Celsius(-20), Days(12), Metres(0.1), false};
  batch.costs.energy_kwh = 12.0;
  Node node = tree_of(batch);
  int marked = 0;
  const std::function<void(Node&)> mark = [&](Node& here) {
    for (Node& item : here.items) mark(item);
    if (here.type != Node::Type::object) return;
    here.set("from_later", Node::of_number(++marked));
  };
  mark(node);
  CHECK(marked == 25);
  plan::Batch changed = batch;
  changed.made_from.lines[0].name = "Other";
  changed.made_from.stages[0].sealed = true;
  changed.made_from.steps[0].words = "Other";
  changed.made_from.brine->pick_up = 0.2;
  changed.weighed[0].lot = "Other";
  changed.steps_done[0].words = "Other";
  changed.evidence.lots[0].frozen->days = Days(20);
  changed.evidence.readings[0].value = 5.0;
  changed.evidence.stages[0].ended_utc_ms = 7;
  changed.evidence.acts[0].reason = "Other";
  changed.evidence.acknowledged[0].reason = "Other";
  changed.pieces[0].tare = Grams(20);
  changed.weighings[0].minute = 462;
  changed.events[0].note = "Other";
  changed.taken_down[0].note = "Other";
  changed.taken_down[0].foreseen->weighings = 3;
  changed.costs.trim = Grams(10);
  encode(changed, node);
  REQUIRE(decode_batch(node).ok());
  CHECK(decode_batch(node).value() == changed);
  int found = 0;
  const std::function<void(const Node&)> count = [&](const Node& here) {
    for (const Node& item : here.items) count(item);
    if (here.find("from_later") != nullptr) ++found;
  };
  count(node);
  CHECK(found == marked);
}

TEST_CASE("A member that is there is held to its type, range, unit and closed list, named by its path") {
  using enum ErrorCode;
  recipe::Recipe recipe = plain_recipe();
  recipe.method = recipe::CureMethod::brine;
  recipe.brine = recipe::Brine{};
  recipe.mix.supply = "x";
  recipe.wanted_ph = 5.0;
  recipe.bone_share = 0.1;
  recipe.lines[0].parts = recipe::Composition{0.5, 0.25, 0.125, 0, 0.125, 0};
  const Date day = parse_iso_date("2026-11-03").value();
  recipe.lines[0].packet = recipe::Packet{Grams(25), Grams(9000), day, false};
  recipe.stages[0].sealed = true;
  recipe.steps[0].kind = recipe::StepKind::mince;
  recipe.steps[0].value = 6.0;
  recipe.steps[0].lines = {kTwo};
  check_faults(recipe, {
      {R"("method":"brine")", R"("method":"smoke")", unknown_value, "method"},
      {R"("method":"brine")", R"("method":1)", wrong_type, "method"},
      {R"("supply":"x")", R"("supply":7)", wrong_type, "curing_mix/supply"},
      {R"("amount_g_per_kg":500)", R"("amount_g_per_kg":49)", out_of_range, "brine/amount_g_per_kg"},
      {R"("pick_up_share")", R"("pick_up_percent")", unknown_unit, "brine/pick_up_percent"},
      {R"("wanted_ph":5)", R"("wanted_ph":9)", out_of_range, "wanted_ph"},
      {R"("bone_share":0.1)", R"("bone_share":0.6)", out_of_range, "bone_share"},
      {R"("water_share":0.5)", R"("water_share":0.7)", out_of_range, "lines/0/parts"},
      {R"("fat_share":0.125,)", "", missing, "lines/0/parts/fat_share"},
      {R"("holds_g":25)", R"("holds_g":0)", out_of_range, "lines/0/packet/holds_g"},
      {R"("opened_on":"2026-11-03")", R"("opened_on":"3.11.")", wrong_type, "lines/0/packet/opened_on"},
      {R"("kept_frozen":false)", R"("kept_frozen":"no")", wrong_type, "lines/0/packet/kept_frozen"},
      {R"("temperature_c":13)", R"("temperature_f":55)", unknown_unit, "stages/0/temperature_f"},
      {R"("sealed":true)", R"("sealed":null)", wrong_type, "stages/0/sealed"},
      {R"("kind":"mince")", R"("kind":"grind")", unknown_value, "steps/0/kind"},
      {R"("value_mm":6)", R"("value_in":0.25)", unknown_unit, "steps/0/value_in"},
      {R"("lines":["bbbbbbbbbbbbbbbb"])", R"("lines":["b"])", wrong_type, "steps/0/lines/0"},
  });
  plan::Batch batch = plain_batch();
  batch.hung = false;
  batch.weighed.push_back({kTwo, Grams(3), 6, ""});
  batch.steps_done.push_back({kTwo, 5, {}, ""});
  batch.evidence.acts[0].to = safety::Standing::released;
  batch.evidence.acts[0].evidence = "weighed";
  check_faults(batch, {
      {R"("hung":false)", R"("hung":"yes")", wrong_type, "hung"},
      {R"("line":"bbbbbbbbbbbbbbbb")", R"("line":"aaaaaaaaaaaaaaaa")", duplicate_key, "weighed/1/line"},
      {R"("step":"bbbbbbbbbbbbbbbb")", R"("step":"aaaaaaaaaaaaaaaa")", duplicate_key, "steps_done/1/step"},
      {R"("at_utc_ms":6)", R"("at_utc_ms":6.5)", wrong_type, "weighed/1/at_utc_ms"},
      {R"("at_utc_ms":6)", R"("at_utc_ms":9007199254740994)", out_of_range, "weighed/1/at_utc_ms"},
      {R"("at_utc_ms":6)", R"("at_utc_s":6)", unknown_unit, "weighed/1/at_utc_s"},
      {R"("species":"pork")", R"("species":"bear")", unknown_value, "evidence/lots/0/species"},
      {R"("value_ph":0)", R"("value_ph":14.5)", out_of_range, "evidence/readings/0/value_ph"},
      {R"("value_ph":0)", R"("value_c":4)", unknown_unit, "evidence/readings/0/value_c"},
      {R"("kind":"ph_meter")", R"("kind":"smell")", unknown_value, "evidence/readings/0/kind"},
      {R"("began_utc_ms":5)", R"("began_utc_ms":-1)", out_of_range, "evidence/stages/0/began_utc_ms"},
      {R"("reason":"a tight box")", R"("reason":"")", missing, "evidence/acknowledged/0/reason"},
      {R"("to":"released")", R"("to":"eaten")", unknown_value, "evidence/acts/0/to"},
      {R"("evidence":"weighed")", R"("evidence":"")", missing, "evidence/acts/0/evidence"},
      {R"(,"evidence":"weighed")", "", missing, "evidence/acts/0/evidence"},
  });
  batch = plain_batch();
  batch.evidence.readings[0].kind = safety::ReadingKind::cut_look;
  check_faults(batch, {
      {R"("feel":"soft")", R"("feel":"tender")", unknown_value, "evidence/readings/0/feel"},
      {R"("feel":"soft")", R"("value_aw":0.9)", missing, "evidence/readings/0/feel"},
  });
  batch.evidence.readings[0].kind = safety::ReadingKind::moisture;
  check_faults(batch, {
      {R"("value_share":0)", R"("value_share":1.1)", out_of_range, "evidence/readings/0/value_share"},
  });
  batch = plain_batch();
  batch.weighings[0].minute = 462;
  batch.weighings.push_back(batch.weighings[0]);
  batch.weighings[1].id = kTwo;
  batch.weighings[1].piece = {};
  batch.weighings[1].bunch = {kOne, kTwo};
  batch.taken_down[0].readings = {kTwo};
  batch.taken_down[0].faults = {plan::Fault::hollow};
  batch.loss_base = plan::LossBase::trimmed;
  batch.costs.energy_kwh = 12.0;
  check_faults(batch, {
      {R"("minute":462)", R"("minute":1440)", out_of_range, "weighings/0/minute"},
      {R"("minute":462)", R"("minute":1.5)", wrong_type, "weighings/0/minute"},
      {R"("bunch":["aaaaaaaaaaaaaaaa","bbbbbbbbbbbbbbbb"])", R"("bunch":[])", missing, "weighings/1/piece"},
      {R"("bunch":["aaaaaaaaaaaaaaaa","bbbbbbbbbbbbbbbb"])", R"("bunch":["a"])", wrong_type, "weighings/1/bunch/0"},
      {R"("kind":"cut")", R"("kind":"eaten")", unknown_value, "events/0/kind"},
      {R"("before_g":900)", R"("before_g":-1)", out_of_range, "events/0/before_g"},
      {R"("after_g":500)", R"("after_oz":500)", unknown_unit, "events/0/after_oz"},
      {R"("faults":["hollow"])", R"("faults":["ugly"])", unknown_value, "taken_down/0/faults/0"},
      {R"("readings":["bbbbbbbbbbbbbbbb"])", R"("readings":[7])", wrong_type, "taken_down/0/readings/0"},
      {R"("loss_high_share":0)", R"("loss_high_share":2)", out_of_range, "taken_down/0/foreseen/loss_high_share"},
      {R"("loss_base":"trimmed")", R"("loss_base":"green")", unknown_value, "loss_base"},
      {R"("energy_kwh":12)", R"("energy_mj":43)", unknown_unit, "costs/energy_mj"},
  });
  recipe::Supply supply;
  supply.allergens = supply.allergens.with(tables::Allergen::milk).with(tables::Allergen::celery);
  supply.price = 4.0;
  check_faults(supply, {
      {R"("kind":"additive")", R"("kind":"herb")", unknown_value, "kind"},
      {R"(["milk","celery"])", R"(["milk","cress"])", unknown_value, "allergens/1"},
      {R"("price_per_kg":4)", R"("price_per_lb":4)", unknown_unit, "price_per_lb"},
  });
  Settings settings;
  settings.chosen = safety::Chosen::eu;
  settings.scales.fine_step = Grams(0.5);
  settings.own_limits = {{kOne, tables::Agent::ph, tables::LimitSense::most, 5.2}};
  check_faults(settings, {
      {R"("rules":"eu")", R"("rules":"uk")", unknown_value, "rules"},
      {R"("fine_step_g":0.5)", R"("fine_step_g":0)", out_of_range, "scales/fine_step_g"},
      {R"("value_ph":5.2)", R"("value_g_per_kg":28)", unknown_unit, "own_limits/0/value_g_per_kg"},
  });
}

TEST_CASE("A change is carried over by step done, line weighed and stage, which have no ids of their own") {
  const Node before = tree_of(plain_batch());
  plan::Batch here = plain_batch();
  here.steps_done.push_back({kOne, 9, {}, "here"});
  here.weighed.push_back({kTwo, Grams(3), 6, ""});
  here.evidence.stages[0].ended_utc_ms = 7;
  plan::Batch there = plain_batch();
  there.steps_done.push_back({kOne, 12, 4.0, "there"});
  there.weighed[0].mass = Grams(99);
  there.evidence.stages.push_back({kOne, 11, {}});
  const Result<plan::Batch> both = decode_batch(carry_over(before, tree_of(here), tree_of(there)));
  REQUIRE(both.ok());
  REQUIRE(both.value().steps_done.size() == 3);
  CHECK(both.value().steps_done[1].words == "here");
  CHECK(both.value().steps_done[2].words == "there");
  REQUIRE(both.value().weighed.size() == 2);
  CHECK(both.value().weighed[0].mass.value == 99.0);
  CHECK(both.value().weighed[1].mass.value == 3.0);
  REQUIRE(both.value().evidence.stages.size() == 2);
  CHECK(both.value().evidence.stages[0].ended_utc_ms == std::optional<std::int64_t>(7));
}

}  // namespace
}  // namespace saltrafter::book
