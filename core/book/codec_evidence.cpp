#include <utility>

#include "core/book/codec.h"
#include "core/book/codec_parts.h"
#include "core/book/fields.h"

namespace saltrafter::book {
namespace {

using safety::InstrumentState;
using safety::ReadingKind;
using safety::Site;
using safety::Standing;
using tables::Agent;
using tables::LimitSense;

constexpr double kMostDays = 3650.0;
constexpr std::size_t kMostOwnLimits = 100;

constexpr WordTable<ReadingKind, 8> kReadingKinds{{
    {ReadingKind::ph_meter, "ph_meter"},
    {ReadingKind::ph_strip, "ph_strip"},
    {ReadingKind::chamber_air, "chamber_air"},
    {ReadingKind::core, "core"},
    {ReadingKind::water_activity, "water_activity"},
    {ReadingKind::moisture, "moisture"},
    {ReadingKind::firmness, "firmness"},
    {ReadingKind::cut_look, "cut_look"},
}};
constexpr WordTable<Site, 4> kSites{{
    {Site::not_said, "not_said"},
    {Site::core, "core"},
    {Site::surface, "surface"},
    {Site::mixed, "mixed"},
}};
constexpr WordTable<InstrumentState, 4> kInstrumentStates{{
    {InstrumentState::not_said, "not_said"},
    {InstrumentState::checked, "checked"},
    {InstrumentState::overdue, "overdue"},
    {InstrumentState::failed, "failed"},
}};
constexpr WordTable<Standing, 4> kStandings{{
    {Standing::in_work, "in_work"},
    {Standing::held, "held"},
    {Standing::released, "released"},
    {Standing::discarded, "discarded"},
}};
constexpr WordTable<Agent, 11> kAgents{{
    {Agent::nitrite, "nitrite"},
    {Agent::nitrate, "nitrate"},
    {Agent::nitrite_and_nitrate, "nitrite_and_nitrate"},
    {Agent::ascorbate, "ascorbate"},
    {Agent::salt, "salt"},
    {Agent::water_phase_salt, "water_phase_salt"},
    {Agent::water_activity, "water_activity"},
    {Agent::ph, "ph"},
    {Agent::temperature, "temperature"},
    {Agent::days, "days"},
    {Agent::moisture_protein_ratio, "moisture_protein_ratio"},
}};
constexpr WordTable<LimitSense, 2> kSenses{{
    {LimitSense::most, "most"},
    {LimitSense::least, "least"},
}};

// What a value is in follows from what it is of; the unit stands in the member's name.
struct ValueUnit {
  std::string_view unit;
  double low;
  double high;
};

constexpr ValueUnit kPh{"ph", 0.0, 14.0};
constexpr ValueUnit kTemperature{"c", -90.0, 250.0};
constexpr ValueUnit kActivity{"aw", 0.0, 1.0};
constexpr ValueUnit kShare{"share", 0.0, 1.0};

ValueUnit unit_of(ReadingKind kind) {
  switch (kind) {
    case ReadingKind::ph_meter:
    case ReadingKind::ph_strip: return kPh;
    case ReadingKind::chamber_air:
    case ReadingKind::core: return kTemperature;
    case ReadingKind::moisture: return kShare;
    case ReadingKind::firmness:
    case ReadingKind::cut_look:  // a word, kFeels
    case ReadingKind::water_activity: break;
  }
  return kActivity;
}

ValueUnit unit_of(Agent agent) {
  switch (agent) {
    case Agent::nitrite:
    case Agent::nitrate:
    case Agent::nitrite_and_nitrate:
    case Agent::ascorbate: return {"mg_per_kg", 0.0, 1e6};
    case Agent::salt: return {"g_per_kg", 0.0, 1000.0};
    case Agent::water_phase_salt: return kShare;
    case Agent::water_activity: return kActivity;
    case Agent::ph: return kPh;
    case Agent::temperature: return kTemperature;
    case Agent::days: return {"d", 0.0, kMostDays};
    case Agent::moisture_protein_ratio: break;
  }
  return {"ratio", 0.0, 100.0};
}

void leave_only(Node& onto, const std::string& name, std::string_view unit) {
  for (const char* other : {"ph", "c", "aw", "mg_per_kg", "g_per_kg", "share", "d", "ratio"}) {
    if (unit != other) onto.erase(name + "_" + other);
  }
}

// The member `name_unit`, and none of that name in another unit.
void put_in_unit(Node& onto, const std::string& name, std::string_view unit, double value) {
  leave_only(onto, name, unit);
  put_number(onto, name + "_" + std::string(unit), value);
}

// What a hand or a cut says is a word in the file; in the program its place in drying::kFeels.
template <std::size_t... I>
constexpr WordTable<int, sizeof...(I)> feels(std::index_sequence<I...>) {
  return {{{static_cast<int>(I), drying::kFeels[I].id}...}};
}
constexpr auto kFeels = feels(std::make_index_sequence<drying::kFeels.size()>{});

bool is_felt(ReadingKind kind) { return kind == ReadingKind::firmness || kind == ReadingKind::cut_look; }

void encode_lot(const safety::MeatLot& lot, Node& onto) {
  const safety::MeatLot usual;
  put_text(onto, "id", lot.id.text);
  put_text_unless(onto, "line", lot.line.text);
  put_text(onto, "name", lot.name);
  put_text(onto, "species", word_of(kSpecies, lot.species));
  put_truth_unless(onto, "wild", lot.wild, false);
  put_truth_unless(onto, "certified_free", lot.certified_free, false);
  if (lot.frozen) {
    Node& frozen = object_in(onto, "frozen");
    put_number(frozen, "temperature_c", lot.frozen->temperature.value);
    put_number(frozen, "lasted_d", lot.frozen->days.value);
    put_number(frozen, "thickness_m", lot.frozen->thickness.value);
    put_truth_unless(frozen, "core_measured", lot.frozen->core_measured, false);
  } else {
    onto.erase("frozen");
  }
  put_optional_number(onto, "ph", lot.ph);
  put_number_unless(onto, "ph_uncertainty", lot.ph_uncertainty, usual.ph_uncertainty);
  put_truth_unless(onto, "liver", lot.liver, false);
}

safety::MeatLot decode_lot(const Node& node, const std::string& path, std::optional<Error>& fault) {
  Fields fields(node, path, fault);
  safety::MeatLot lot;
  lot.id = fields.id("id");
  lot.line = fields.optional_id_or_none("line");
  lot.name = fields.text("name", kLongestName);
  lot.species = fields.word("species", kSpecies);
  lot.wild = fields.optional_truth("wild", false);
  lot.certified_free = fields.optional_truth("certified_free", false);
  if (const Node* frozen = fields.optional_object("frozen")) {
    Fields cold(*frozen, fields.path("frozen"), fault);
    lot.frozen.emplace();
    lot.frozen->temperature = Celsius(cold.number("temperature", "c", -90.0, 30.0));
    lot.frozen->days = Days(cold.number("lasted", "d", 0.0, kMostDays));
    lot.frozen->thickness = Metres(cold.number("thickness", "m", 0.0, 2.0));
    lot.frozen->core_measured = cold.optional_truth("core_measured", false);
  }
  lot.ph = fields.optional_number("ph", "", kPh.low, kPh.high);
  lot.ph_uncertainty = fields.optional_number("ph_uncertainty", "", 0.0, kPh.high, lot.ph_uncertainty);
  lot.liver = fields.optional_truth("liver", false);
  return lot;
}

void encode_reading(const safety::Reading& reading, Node& onto) {
  const std::string_view unit = unit_of(reading.kind).unit;
  put_text(onto, "id", reading.id.text);
  put_text(onto, "kind", word_of(kReadingKinds, reading.kind));
  put_instant(onto, "at_utc_ms", reading.at_utc_ms);
  if (is_felt(reading.kind)) {
    leave_only(onto, "value", "");
    leave_only(onto, "uncertainty", "");
    put_text(onto, "feel", word_of(kFeels, static_cast<int>(reading.value)));
  } else {
    onto.erase("feel");
    put_in_unit(onto, "value", unit, reading.value);
    put_in_unit(onto, "uncertainty", unit, reading.uncertainty);
  }
  put_text_unless(onto, "piece", reading.piece.text);
  put_text_unless(onto, "site", word_of(kSites, reading.site), word_of(kSites, Site::not_said));
  put_text_unless(onto, "instrument", word_of(kInstrumentStates, reading.instrument),
                  word_of(kInstrumentStates, InstrumentState::not_said));
  put_text_unless(onto, "note", reading.note);
}

safety::Reading decode_reading(const Node& node, const std::string& path, std::optional<Error>& fault) {
  Fields fields(node, path, fault);
  safety::Reading reading;
  reading.id = fields.id("id");
  reading.kind = fields.word("kind", kReadingKinds);
  reading.at_utc_ms = fields.instant("at");
  if (is_felt(reading.kind)) {
    reading.value = fields.word("feel", kFeels);
  } else {
    const ValueUnit unit = unit_of(reading.kind);
    reading.value = fields.number("value", unit.unit, unit.low, unit.high);
    reading.uncertainty = fields.optional_number("uncertainty", unit.unit, 0.0, unit.high, 0.0);
  }
  reading.piece = fields.optional_id_or_none("piece");
  reading.site = fields.optional_word("site", kSites, Site::not_said);
  reading.instrument = fields.optional_word("instrument", kInstrumentStates, InstrumentState::not_said);
  reading.note = fields.optional_text("note", kLongestNote);
  return reading;
}

void encode_stage_done(const safety::StageDone& stage, Node& onto) {
  put_text(onto, "stage", stage.stage.text);
  put_instant(onto, "began_utc_ms", stage.began_utc_ms);
  if (stage.ended_utc_ms) {
    put_instant(onto, "ended_utc_ms", *stage.ended_utc_ms);
  } else {
    onto.erase("ended_utc_ms");
  }
}

safety::StageDone decode_stage_done(const Node& node, const std::string& path, std::optional<Error>& fault) {
  Fields fields(node, path, fault);
  safety::StageDone stage;
  stage.stage = fields.id("stage");
  stage.began_utc_ms = fields.instant("began");
  stage.ended_utc_ms = fields.optional_instant("ended");
  return stage;
}

void encode_said(const safety::Acknowledged& said, Node& onto) {
  put_text(onto, "id", said.id.text);
  put_text(onto, "finding", said.finding);
  put_text(onto, "on", iso_date(said.on));
  put_text(onto, "reason", said.reason);
}

safety::Acknowledged decode_said(const Node& node, const std::string& path, std::optional<Error>& fault) {
  Fields fields(node, path, fault);
  safety::Acknowledged said;
  said.id = fields.id("id");
  said.finding = fields.text_not_empty("finding", kLongestName);
  said.on = fields.date("on");
  said.reason = fields.text_not_empty("reason", kLongestNote);
  return said;
}

void encode_act(const safety::StandingAct& act, Node& onto) {
  put_text(onto, "id", act.id.text);
  put_text_unless(onto, "piece", act.piece.text);
  put_text(onto, "to", word_of(kStandings, act.to));
  put_text(onto, "on", iso_date(act.on));
  put_text(onto, "reason", act.reason);
  put_text_unless(onto, "evidence", act.evidence);
}

safety::StandingAct decode_act(const Node& node, const std::string& path, std::optional<Error>& fault) {
  Fields fields(node, path, fault);
  safety::StandingAct act;
  act.id = fields.id("id");
  act.piece = fields.optional_id_or_none("piece");
  act.to = fields.word("to", kStandings);
  act.on = fields.date("on");
  act.reason = fields.text_not_empty("reason", kLongestNote);
  // A release without what was seen or measured is none.
  act.evidence = act.to == Standing::released ? fields.text_not_empty("evidence", kLongestNote)
                                              : fields.optional_text("evidence", kLongestNote);
  return act;
}

void encode_own_limit(const safety::OwnLimit& limit, Node& onto) {
  put_text(onto, "id", limit.id.text);
  put_text(onto, "agent", word_of(kAgents, limit.agent));
  put_text(onto, "sense", word_of(kSenses, limit.sense));
  put_in_unit(onto, "value", unit_of(limit.agent).unit, limit.value);
}

safety::OwnLimit decode_own_limit(const Node& node, const std::string& path, std::optional<Error>& fault) {
  Fields fields(node, path, fault);
  safety::OwnLimit limit;
  limit.id = fields.id("id");
  limit.agent = fields.word("agent", kAgents);
  limit.sense = fields.word("sense", kSenses);
  const ValueUnit unit = unit_of(limit.agent);
  limit.value = fields.number("value", unit.unit, unit.low, unit.high);
  return limit;
}

}  // namespace

void encode(const safety::Evidence& evidence, Node& onto) {
  onto.type = Node::Type::object;
  encode_list(evidence.lots, onto, "lots", encode_lot);
  encode_list(evidence.readings, onto, "readings", encode_reading);
  const auto key_of = [](const safety::StageDone& stage) { return key_at(stage.stage, stage.began_utc_ms); };
  encode_keyed(evidence.stages, onto, "stages", key_of, encode_stage_done);
  encode_list(evidence.acknowledged, onto, "acknowledged", encode_said);
  encode_list(evidence.acts, onto, "acts", encode_act);
  put_truth_unless(onto, "taken_down", evidence.taken_down, false);
  put_number_unless(onto, "loss_now_share", evidence.loss_now, 0.0);
}

safety::Evidence decode_evidence(const Node& node, const std::string& path, std::optional<Error>& fault) {
  Fields fields(node, path, fault);
  safety::Evidence evidence;
  evidence.lots = decode_list<safety::MeatLot>(fields.optional_list("lots", kMostLots), fields.path("lots"),
                                               fault, decode_lot);
  evidence.readings = decode_list<safety::Reading>(fields.optional_list("readings", kMostReadings),
                                                   fields.path("readings"), fault, decode_reading);
  evidence.stages = decode_list<safety::StageDone>(fields.optional_list("stages", kMostStagesDone),
                                                   fields.path("stages"), fault, decode_stage_done);
  evidence.acknowledged = decode_list<safety::Acknowledged>(fields.optional_list("acknowledged", kMostActs),
                                                            fields.path("acknowledged"), fault, decode_said);
  evidence.acts = decode_list<safety::StandingAct>(fields.optional_list("acts", kMostActs),
                                                   fields.path("acts"), fault, decode_act);
  evidence.taken_down = fields.optional_truth("taken_down", false);
  evidence.loss_now = fields.optional_number("loss_now", "share", -1.0, 1.0, 0.0);
  return evidence;
}

void encode_own_limits(const std::vector<safety::OwnLimit>& limits, Node& onto) {
  encode_list(limits, onto, "own_limits", encode_own_limit);
}

std::vector<safety::OwnLimit> decode_own_limits(Fields& fields, std::optional<Error>& fault) {
  return decode_list<safety::OwnLimit>(fields.optional_list("own_limits", kMostOwnLimits),
                                       fields.path("own_limits"), fault, decode_own_limit);
}

}  // namespace saltrafter::book
