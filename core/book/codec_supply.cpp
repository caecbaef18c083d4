#include <algorithm>

#include "core/book/codec.h"
#include "core/book/codec_parts.h"
#include "core/book/fields.h"

namespace saltrafter::book {
namespace {

using recipe::SupplyKind;
using tables::Allergen;

constexpr double kMostSugarShare = 1.1;   // 1 g of cane sugar is 1.05 g as dextrose
constexpr double kNoise = 1e-6;           // of shares that were typed in per cent
constexpr double kLeastPacketG = 0.001;
constexpr double kLeastServedG = 1.0;
constexpr double kMostServedG = 1e8;      // a packet for a factory

constexpr WordTable<SupplyKind, 5> kSupplyKinds{{
    {SupplyKind::cut, "cut"},
    {SupplyKind::additive, "additive"},
    {SupplyKind::curing_mix, "curing_mix"},
    {SupplyKind::culture, "culture"},
    {SupplyKind::casing, "casing"},
}};
constexpr WordTable<Allergen, 14> kAllergens{{
    {Allergen::gluten, "gluten"},
    {Allergen::crustaceans, "crustaceans"},
    {Allergen::egg, "egg"},
    {Allergen::fish, "fish"},
    {Allergen::peanut, "peanut"},
    {Allergen::soy, "soy"},
    {Allergen::milk, "milk"},
    {Allergen::nuts, "nuts"},
    {Allergen::celery, "celery"},
    {Allergen::mustard, "mustard"},
    {Allergen::sesame, "sesame"},
    {Allergen::sulphites, "sulphites"},
    {Allergen::lupin, "lupin"},
    {Allergen::molluscs, "molluscs"},
}};

std::string_view price_unit(SupplyKind kind) { return kind == SupplyKind::casing ? "per_m" : "per_kg"; }

void encode_allergens(tables::AllergenSet allergens, Node& onto) {
  std::vector<Allergen> held;
  for (const auto& row : kAllergens) {
    if (allergens.has(row.first)) held.push_back(row.first);
  }
  put_words(onto, "allergens", kAllergens, held);
}

tables::AllergenSet decode_allergens(Fields& fields) {
  tables::AllergenSet out;
  for (const Allergen allergen : fields.optional_words("allergens", kAllergens)) out = out.with(allergen);
  return out;
}

}  // namespace

void encode_mix(const recipe::CuringMix& mix, Node& onto) {
  Node& node = object_in(onto, "curing_mix");
  put_text(node, "name", mix.name);
  put_number(node, "nitrite_share", mix.nitrite);
  put_number(node, "nitrate_share", mix.nitrate);
  put_truth_unless(node, "potassium_nitrite", mix.potassium_nitrite, false);
  put_truth_unless(node, "potassium_nitrate", mix.potassium_nitrate, false);
  put_text_unless(node, "supply", mix.supply);
}

recipe::CuringMix decode_mix(const Node& node, const std::string& path, std::optional<Error>& fault) {
  Fields fields(node, path, fault);
  recipe::CuringMix mix;
  mix.name = fields.text("name", kLongestName);
  mix.nitrite = fields.number("nitrite", "share", 0.0, 1.0);
  mix.nitrate = fields.number("nitrate", "share", 0.0, 1.0);
  mix.potassium_nitrite = fields.optional_truth("potassium_nitrite", false);
  mix.potassium_nitrate = fields.optional_truth("potassium_nitrate", false);
  mix.supply = fields.optional_text("supply", kLongestName);
  return mix;
}

void encode_parts(const std::optional<recipe::Composition>& parts, Node& onto) {
  if (!parts) {
    onto.erase("parts");
    return;
  }
  Node& node = object_in(onto, "parts");
  put_number(node, "water_share", parts->water_g);
  put_number(node, "protein_share", parts->protein_g);
  put_number(node, "fat_share", parts->fat_g);
  put_number(node, "salt_share", parts->salt_g);
  put_number(node, "rest_share", parts->rest_g);
  put_number_unless(node, "sugar_share", parts->sugar_g, 0.0);
}

std::optional<recipe::Composition> decode_parts(Fields& fields, std::optional<Error>& fault) {
  const Node* node = fields.optional_object("parts");
  if (node == nullptr) return std::nullopt;
  Fields shares(*node, fields.path("parts"), fault);
  recipe::Composition parts;
  parts.water_g = shares.number("water", "share", 0.0, 1.0);
  parts.protein_g = shares.number("protein", "share", 0.0, 1.0);
  parts.fat_g = shares.number("fat", "share", 0.0, 1.0);
  parts.salt_g = shares.number("salt", "share", 0.0, 1.0);
  const double open = std::max(0.0, 1.0 - parts.total_g());
  parts.rest_g = shares.optional_number("rest", "share", 0.0, 1.0, open);
  parts.sugar_g = shares.optional_number("sugar", "share", 0.0, kMostSugarShare, 0.0);
  if (parts.total_g() > 1.0 + kNoise && !fault) {
    fields.refuse(ErrorCode::out_of_range, "parts", Node::of_number(parts.total_g()), "");
    fault->unit = "share";
    fault->low = 0.0;
    fault->high = 1.0;
  }
  return parts;
}

void encode_packet(const std::optional<recipe::Packet>& packet, Node& onto) {
  if (!packet) {
    onto.erase("packet");
    return;
  }
  Node& node = object_in(onto, "packet");
  put_number(node, "holds_g", packet->holds.value);
  put_number(node, "for_meat_g", packet->for_meat.value);
  if (packet->opened_on) {
    put_text(node, "opened_on", iso_date(*packet->opened_on));
  } else {
    node.erase("opened_on");
  }
  put_truth_unless(node, "kept_frozen", packet->kept_frozen, true);
}

std::optional<recipe::Packet> decode_packet(Fields& fields, std::optional<Error>& fault) {
  const Node* node = fields.optional_object("packet");
  if (node == nullptr) return std::nullopt;
  Fields said(*node, fields.path("packet"), fault);
  recipe::Packet packet;
  packet.holds = Grams(said.number("holds", "g", kLeastPacketG, kMostGrams));
  packet.for_meat = Grams(said.number("for_meat", "g", kLeastServedG, kMostServedG));
  packet.opened_on = said.optional_date("opened_on");
  packet.kept_frozen = said.optional_truth("kept_frozen", true);
  return packet;
}

void encode(const recipe::Supply& supply, Node& onto) {
  const recipe::Supply usual;
  onto.type = Node::Type::object;
  put_text(onto, "kind", word_of(kSupplyKinds, supply.kind));
  put_text(onto, "name", supply.name);
  put_text_unless(onto, "replaces", supply.replaces);
  encode_parts(supply.parts, onto);
  put_text_unless(onto, "species", word_of(kSpecies, supply.species), word_of(kSpecies, usual.species));
  if (!(supply.mix == usual.mix) || onto.find("curing_mix") != nullptr) encode_mix(supply.mix, onto);
  encode_packet(supply.packet, onto);
  put_number_unless(onto, "diameter_m", supply.diameter.value, 0.0);
  encode_allergens(supply.allergens, onto);
  put_truth_unless(onto, "brings_nitrate", supply.brings_nitrate, false);
  put_optional_number(onto, "nitrate_share", supply.nitrate_share);
  for (const SupplyKind kind : {SupplyKind::additive, SupplyKind::casing}) {
    const std::string_view unit = price_unit(kind);
    const bool its = unit == price_unit(supply.kind);
    put_optional_number(onto, "price_" + std::string(unit), its ? supply.price : std::nullopt);
  }
  put_text_unless(onto, "note", supply.note);
}

Result<recipe::Supply> decode_supply(const Node& node, const std::string& path) {
  std::optional<Error> fault;
  Fields fields(node, path, fault);
  recipe::Supply supply;
  supply.kind = fields.word("kind", kSupplyKinds);
  supply.name = fields.text("name", kLongestName);
  supply.replaces = fields.optional_text("replaces", kLongestName);
  supply.parts = decode_parts(fields, fault);
  supply.species = fields.optional_word("species", kSpecies, supply.species);
  if (const Node* mix = fields.optional_object("curing_mix")) {
    supply.mix = decode_mix(*mix, fields.path("curing_mix"), fault);
  }
  supply.packet = decode_packet(fields, fault);
  supply.diameter = Metres(fields.optional_number("diameter", "m", 0.0, 0.5, 0.0));
  supply.allergens = decode_allergens(fields);
  supply.brings_nitrate = fields.optional_truth("brings_nitrate", false);
  supply.nitrate_share = fields.optional_number("nitrate", "share", 0.0, 1.0);
  supply.price = fields.optional_number("price", price_unit(supply.kind), 0.0, kMostPrice);
  supply.note = fields.optional_text("note", kLongestNote);
  if (fault) return *fault;
  return supply;
}

}  // namespace saltrafter::book
