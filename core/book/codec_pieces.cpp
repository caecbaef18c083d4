#include "core/book/codec.h"
#include "core/book/codec_parts.h"
#include "core/book/fields.h"

namespace saltrafter::book {
namespace {

using plan::EventKind;
using plan::Fault;

constexpr int kMostPieceNumber = 100000;
constexpr int kLastMinute = 24 * 60 - 1;
constexpr double kMostDays = 3650.0;
constexpr int kMostLearntFrom = static_cast<int>(kMostWeighings);

constexpr WordTable<EventKind, 6> kEventKinds{{
    {EventKind::cut, "cut"},
    {EventKind::sampled, "sampled"},
    {EventKind::trimmed, "trimmed"},
    {EventKind::retied, "retied"},
    {EventKind::stripped, "stripped"},
    {EventKind::wetted, "wetted"},
}};
constexpr WordTable<Fault, 9> kFaults{{
    {Fault::case_hardened, "case_hardened"},
    {Fault::hollow, "hollow"},
    {Fault::smear, "smear"},
    {Fault::mould_unwanted, "mould_unwanted"},
    {Fault::sour, "sour"},
    {Fault::soft_core, "soft_core"},
    {Fault::uneven, "uneven"},
    {Fault::rancid, "rancid"},
    {Fault::other, "other"},
}};

std::optional<Grams> optional_grams(Fields& fields, std::string_view name) {
  const std::optional<double> mass_g = fields.optional_number(name, "g", 0.0, kMostGrams);
  return mass_g ? std::optional<Grams>(*mass_g) : std::nullopt;
}

std::optional<WaterActivity> optional_activity(Fields& fields, std::string_view name) {
  const std::optional<double> activity = fields.optional_number(name, "aw", 0.0, 1.0);
  return activity ? std::optional<WaterActivity>(*activity) : std::nullopt;
}

void encode_piece(const plan::Piece& piece, Node& onto) {
  put_text(onto, "id", piece.id.text);
  put_number(onto, "number", piece.number);
  put_number(onto, "hung_g", piece.hung.value);
  put_number(onto, "diameter_m", piece.diameter.value);
  put_optional_number(onto, "tare_g", piece.tare);
  put_optional_number(onto, "trimmed_g", piece.trimmed);
  put_optional_number(onto, "after_cure_g", piece.after_cure);
}

plan::Piece decode_piece(const Node& node, const std::string& path, std::optional<Error>& fault) {
  Fields fields(node, path, fault);
  plan::Piece piece;
  piece.id = fields.id("id");
  piece.number = fields.whole("number", 0, kMostPieceNumber);
  piece.hung = Grams(fields.number("hung", "g", 0.0, kMostGrams));
  piece.diameter = Metres(fields.number("diameter", "m", 0.001, 1.0));
  piece.tare = optional_grams(fields, "tare");
  piece.trimmed = optional_grams(fields, "trimmed");
  piece.after_cure = optional_grams(fields, "after_cure");
  return piece;
}

void encode_weighing(const drying::Weighing& weighing, Node& onto) {
  put_text(onto, "id", weighing.id.text);
  if (weighing.bunch.empty()) {
    put_text(onto, "piece", weighing.piece.text);
  } else {
    onto.erase("piece");
  }
  put_ids(onto, "bunch", weighing.bunch);
  put_text(onto, "date", iso_date(weighing.date));
  put_number(onto, "mass_g", weighing.mass.value);
  put_number_unless(onto, "tare_g", weighing.tare.value, 0.0);
  std::optional<double> minute;
  if (weighing.minute) minute = *weighing.minute;
  put_optional_number(onto, "minute", minute);
}

drying::Weighing decode_weighing(const Node& node, const std::string& path, std::optional<Error>& fault) {
  Fields fields(node, path, fault);
  drying::Weighing weighing;
  weighing.id = fields.id("id");
  weighing.bunch = fields.optional_ids("bunch", kMostPieces);
  if (weighing.bunch.empty()) weighing.piece = fields.id("piece");
  weighing.date = fields.date("date");
  weighing.mass = Grams(fields.number("mass", "g", 0.0, kMostGrams));
  weighing.tare = Grams(fields.optional_number("tare", "g", 0.0, kMostGrams, 0.0));
  if (fields.has("minute")) weighing.minute = fields.whole("minute", 0, kLastMinute);
  return weighing;
}

void encode_event(const plan::PieceEvent& event, Node& onto) {
  put_text(onto, "id", event.id.text);
  put_text(onto, "piece", event.piece.text);
  put_text(onto, "kind", word_of(kEventKinds, event.kind));
  put_text(onto, "date", iso_date(event.date));
  put_number(onto, "before_g", event.before.value);
  put_number(onto, "after_g", event.after.value);
  put_text_unless(onto, "note", event.note);
}

plan::PieceEvent decode_event(const Node& node, const std::string& path, std::optional<Error>& fault) {
  Fields fields(node, path, fault);
  plan::PieceEvent event;
  event.id = fields.id("id");
  event.piece = fields.id("piece");
  event.kind = fields.word("kind", kEventKinds);
  event.date = fields.date("date");
  event.before = Grams(fields.number("before", "g", 0.0, kMostGrams));
  event.after = Grams(fields.number("after", "g", 0.0, kMostGrams));
  event.note = fields.optional_text("note", kLongestNote);
  return event;
}

void encode_foreseen(const plan::Foreseen& foreseen, Node& onto) {
  put_number(onto, "loss_low_share", foreseen.loss_low);
  put_number(onto, "loss_likely_share", foreseen.loss_likely);
  put_number(onto, "loss_high_share", foreseen.loss_high);
  put_optional_number(onto, "wanted_loss_on_d", foreseen.day);
  put_optional_number(onto, "core_aw", foreseen.core);
  put_optional_number(onto, "mean_aw", foreseen.mean);
  put_number(onto, "weighings", foreseen.weighings);
}

plan::Foreseen decode_foreseen(const Node& node, const std::string& path, std::optional<Error>& fault) {
  Fields fields(node, path, fault);
  plan::Foreseen foreseen;
  foreseen.loss_low = fields.number("loss_low", "share", -1.0, 1.0);
  foreseen.loss_likely = fields.number("loss_likely", "share", -1.0, 1.0);
  foreseen.loss_high = fields.number("loss_high", "share", -1.0, 1.0);
  const std::optional<double> day = fields.optional_number("wanted_loss_on", "d", 0.0, kMostDays);
  if (day) foreseen.day = Days(*day);
  foreseen.core = optional_activity(fields, "core");
  foreseen.mean = optional_activity(fields, "mean");
  foreseen.weighings = fields.whole("weighings", 0, kMostLearntFrom);
  return foreseen;
}

void encode_taken_down(const plan::TakenDown& down, Node& onto) {
  put_text(onto, "id", down.id.text);
  put_text(onto, "piece", down.piece.text);
  put_text(onto, "date", iso_date(down.date));
  put_number(onto, "mass_g", down.mass.value);
  put_optional_number(onto, "usable_g", down.usable);
  put_ids(onto, "readings", down.readings);
  put_words(onto, "faults", kFaults, down.faults);
  put_text_unless(onto, "other", down.other);
  put_text_unless(onto, "note", down.note);
  if (down.foreseen) {
    encode_foreseen(*down.foreseen, object_in(onto, "foreseen"));
  } else {
    onto.erase("foreseen");
  }
}

plan::TakenDown decode_taken_down(const Node& node, const std::string& path, std::optional<Error>& fault) {
  Fields fields(node, path, fault);
  plan::TakenDown down;
  down.id = fields.id("id");
  down.piece = fields.id("piece");
  down.date = fields.date("date");
  down.mass = Grams(fields.number("mass", "g", 0.0, kMostGrams));
  down.usable = optional_grams(fields, "usable");
  down.readings = fields.optional_ids("readings", kMostReadings);
  down.faults = fields.optional_words("faults", kFaults);
  down.other = fields.optional_text("other", kLongestNote);
  down.note = fields.optional_text("note", kLongestNote);
  if (const Node* foreseen = fields.optional_object("foreseen")) {
    down.foreseen = decode_foreseen(*foreseen, fields.path("foreseen"), fault);
  }
  return down;
}

}  // namespace

void encode_pieces(const plan::Batch& batch, Node& onto) {
  for (const char* list : {"pieces", "weighings"}) {
    if (onto.find(list) == nullptr) onto.set(list, Node::list());
  }
  encode_list(batch.pieces, onto, "pieces", encode_piece);
  encode_list(batch.weighings, onto, "weighings", encode_weighing);
  encode_list(batch.events, onto, "events", encode_event);
  encode_list(batch.taken_down, onto, "taken_down", encode_taken_down);
}

void decode_pieces(Fields& fields, plan::Batch& batch, std::optional<Error>& fault) {
  batch.pieces = decode_list<plan::Piece>(fields.list("pieces", kMostPieces), fields.path("pieces"), fault,
                                          decode_piece);
  batch.weighings = decode_list<drying::Weighing>(fields.list("weighings", kMostWeighings),
                                                  fields.path("weighings"), fault, decode_weighing);
  batch.events = decode_list<plan::PieceEvent>(fields.optional_list("events", kMostEvents),
                                               fields.path("events"), fault, decode_event);
  batch.taken_down = decode_list<plan::TakenDown>(fields.optional_list("taken_down", kMostPieces),
                                                  fields.path("taken_down"), fault, decode_taken_down);
}

}  // namespace saltrafter::book
