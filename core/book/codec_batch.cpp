#include <set>

#include "core/book/codec.h"
#include "core/book/fields.h"

namespace saltrafter::book {
namespace {

constexpr int kMostPieceNumber = 100000;

void encode_piece(const plan::Piece& piece, Node& onto) {
  put_text(onto, "id", piece.id.text);
  put_number(onto, "number", piece.number);
  put_number(onto, "hung_g", piece.hung.value);
  put_number(onto, "diameter_m", piece.diameter.value);
}

void encode_weighing(const drying::Weighing& weighing, Node& onto) {
  put_text(onto, "id", weighing.id.text);
  put_text(onto, "piece", weighing.piece.text);
  put_text(onto, "date", iso_date(weighing.date));
  put_number(onto, "mass_g", weighing.mass.value);
}

// A list of things with ids, each laid over the earlier one of that id.
template <class Thing, class Encode>
void encode_list(const std::vector<Thing>& things, Node& onto, std::string_view key, Encode encode_one) {
  Node list = Node::list();
  const Node* earlier = onto.find(key);
  for (const Thing& thing : things) {
    const Node* old = element_of(earlier, thing.id.text);
    Node node = old != nullptr ? *old : Node::object();
    encode_one(thing, node);
    list.items.push_back(std::move(node));
  }
  onto.set(key, std::move(list));
}

plan::Piece decode_piece(const Node& node, const std::string& path, std::optional<Error>& fault) {
  Fields fields(node, path, fault);
  plan::Piece piece;
  piece.id = fields.id("id");
  piece.number = fields.whole("number", 0, kMostPieceNumber);
  piece.hung = Grams(fields.number("hung", "g", 0.0, kMostGrams));
  piece.diameter = Metres(fields.number("diameter", "m", 0.001, 1.0));
  return piece;
}

drying::Weighing decode_weighing(const Node& node, const std::string& path, std::optional<Error>& fault) {
  Fields fields(node, path, fault);
  drying::Weighing weighing;
  weighing.id = fields.id("id");
  weighing.piece = fields.id("piece");
  weighing.date = fields.date("date");
  weighing.mass = Grams(fields.number("mass", "g", 0.0, kMostGrams));
  return weighing;
}

template <class Thing, class Decode>
std::vector<Thing> decode_list(Fields& fields, std::string_view key, std::size_t most, std::optional<Error>& fault,
                               Decode decode_one) {
  std::vector<Thing> things;
  const Node* list = fields.list(key, most);
  if (list == nullptr) return things;
  std::set<std::string> seen;
  for (std::size_t i = 0; i < list->items.size() && !fault; ++i) {
    const std::string path = fields.path(std::string(key) + "/" + std::to_string(i));
    Thing thing = decode_one(list->items[i], path, fault);
    if (!fault && !seen.insert(thing.id.text).second) {
      Fields(list->items[i], path, fault).refuse(ErrorCode::duplicate_key, "id", *list->items[i].find("id"), "");
    }
    things.push_back(std::move(thing));
  }
  return things;
}

}  // namespace

void encode(const plan::Batch& batch, Node& onto) {
  onto.type = Node::Type::object;
  put_text(onto, "name", batch.name);
  put_text(onto, "recipe", batch.recipe.text);
  Node made_from = Node::object();
  if (const Node* old = onto.find("made_from")) made_from = *old;
  encode(batch.made_from, made_from);
  onto.set("made_from", std::move(made_from));
  put_number(onto, "meat_g", batch.meat.value);
  put_text(onto, "hung_on", iso_date(batch.hung_on));
  Node air = Node::object();
  if (const Node* old = onto.find("air")) air = *old;
  put_number(air, "temperature_c", batch.air.temperature.value);
  put_number(air, "humidity_share", batch.air.humidity.value);
  put_number(air, "speed_m_per_s", batch.air.speed.value);
  onto.set("air", std::move(air));
  encode_list(batch.pieces, onto, "pieces", encode_piece);
  encode_list(batch.weighings, onto, "weighings", encode_weighing);
}

Result<plan::Batch> decode_batch(const Node& node, const std::string& path) {
  std::optional<Error> fault;
  Fields fields(node, path, fault);
  plan::Batch batch;
  batch.name = fields.text("name", kLongestName);
  batch.recipe = fields.optional_id("recipe");
  if (const Node* made_from = fields.object("made_from")) {
    Result<recipe::Recipe> recipe = decode_recipe(*made_from, fields.path("made_from"));
    if (!recipe.ok()) return recipe.error();
    batch.made_from = recipe.value();
  }
  batch.meat = Grams(fields.number("meat", "g", 0.0, kMostGrams));
  batch.hung_on = fields.date("hung_on");
  if (const Node* air = fields.object("air")) {
    Fields values(*air, fields.path("air"), fault);
    batch.air.temperature = Celsius(values.number("temperature", "c", -40.0, 80.0));
    batch.air.humidity = RelativeHumidity(values.number("humidity", "share", 0.0, 1.0));
    batch.air.speed = MetresPerSecond(values.number("speed", "m_per_s", 0.0, 20.0));
  }
  batch.pieces = decode_list<plan::Piece>(fields, "pieces", kMostPieces, fault, decode_piece);
  batch.weighings = decode_list<drying::Weighing>(fields, "weighings", kMostWeighings, fault, decode_weighing);
  if (fault) return *fault;
  return batch;
}

void encode(const Settings& settings, Node& onto) {
  onto.type = Node::Type::object;
  for (const auto& entry : settings.values) put_text(onto, entry.first, entry.second);
  for (std::size_t i = onto.keys.size(); i-- > 0;) {
    if (onto.items[i].type == Node::Type::text && settings.values.count(onto.keys[i]) == 0) {
      onto.erase(std::string(onto.keys[i]));
    }
  }
}

Result<Settings> decode_settings(const Node& node) {
  std::optional<Error> fault;
  Fields fields(node, "", fault);
  if (fault) return *fault;
  Settings settings;
  for (std::size_t i = 0; i < node.keys.size(); ++i) {
    if (node.items[i].type == Node::Type::text) settings.values[node.keys[i]] = node.items[i].text;
  }
  return settings;
}

}  // namespace saltrafter::book
