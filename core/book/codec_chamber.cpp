#include "core/book/codec.h"
#include "core/book/fields.h"

namespace saltrafter::book {
namespace {

using plan::ChamberChangeKind;

constexpr WordTable<ChamberChangeKind, 5> kChangeKinds{{
    {ChamberChangeKind::fan, "fan"},
    {ChamberChangeKind::cooler, "cooler"},
    {ChamberChangeKind::layout, "layout"},
    {ChamberChangeKind::season, "season"},
    {ChamberChangeKind::other, "other"},
}};

void encode_change(const plan::ChamberChange& change, Node& onto) {
  put_text(onto, "id", change.id.text);
  put_text(onto, "on", iso_date(change.on));
  put_text(onto, "kind", word_of(kChangeKinds, change.kind));
  put_text_unless(onto, "note", change.note);
}

plan::ChamberChange decode_change(const Node& node, const std::string& path, std::optional<Error>& fault) {
  Fields fields(node, path, fault);
  plan::ChamberChange change;
  change.id = fields.id("id");
  change.on = fields.date("on");
  change.kind = fields.word("kind", kChangeKinds);
  change.note = fields.optional_text("note", kLongestNote);
  return change;
}

void encode_air(const plan::AirReading& reading, Node& onto) {
  put_text(onto, "id", reading.id.text);
  put_instant(onto, "at_utc_ms", reading.at_utc_ms);
  put_number(onto, "temperature_c", reading.temperature.value);
  put_number(onto, "humidity_share", reading.humidity.value);
}

plan::AirReading decode_air(const Node& node, const std::string& path, std::optional<Error>& fault) {
  Fields fields(node, path, fault);
  plan::AirReading reading;
  reading.id = fields.id("id");
  reading.at_utc_ms = fields.instant("at");
  reading.temperature =
      Celsius(fields.number("temperature", "c", plan::kColdestRead.value, plan::kWarmestRead.value));
  reading.humidity = RelativeHumidity(fields.number("humidity", "share", 0.0, plan::kDampestRead.value));
  return reading;
}

}  // namespace

void encode(const plan::Chamber& chamber, Node& onto) {
  onto.type = Node::Type::object;
  put_text_unless(onto, "name", chamber.name);
  encode_list(chamber.changes, onto, "changes", encode_change);
  encode_list(chamber.air, onto, "air", encode_air);
}

Result<plan::Chamber> decode_chamber(const Node& node, const std::string& path) {
  std::optional<Error> fault;
  Fields fields(node, path, fault);
  plan::Chamber chamber;
  chamber.name = fields.optional_text("name", kLongestName);
  chamber.changes = decode_list<plan::ChamberChange>(fields.optional_list("changes", kMostChamberChanges),
                                                     fields.path("changes"), fault, decode_change);
  chamber.air = decode_list<plan::AirReading>(fields.optional_list("air", kMostAirReadings), fields.path("air"), fault,
                                              decode_air);
  if (fault) return *fault;
  return chamber;
}

}  // namespace saltrafter::book
