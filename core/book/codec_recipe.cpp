#include <set>

#include "core/book/codec.h"
#include "core/book/fields.h"

namespace saltrafter::book {
namespace {

using recipe::Basis;
using recipe::LineKind;
using recipe::ProductClass;

constexpr WordTable<LineKind, 4> kLineKinds{{
    {LineKind::meat, "meat"},
    {LineKind::salt, "salt"},
    {LineKind::cure, "cure"},
    {LineKind::additive, "additive"},
}};
constexpr WordTable<Basis, 3> kBases{{
    {Basis::percent_of_meat, "percent_of_meat"},
    {Basis::g_per_kg, "g_per_kg"},
    {Basis::fixed_g, "fixed_g"},
}};
constexpr WordTable<ProductClass, 2> kProductClasses{{
    {ProductClass::comminuted_dry, "comminuted_dry"},
    {ProductClass::whole_muscle_dry, "whole_muscle_dry"},
}};

// The unit of a line's amount follows from what the line is; it stands in the member's name.
struct AmountUnit {
  std::string_view unit;
  double high;
};
AmountUnit amount_unit(LineKind kind, Basis basis) {
  switch (kind) {
    case LineKind::meat: return {"per_meat", 1.0};
    case LineKind::salt: return {"g_per_kg", 1000.0};
    case LineKind::cure: return {"mg_per_kg", 1e6};
    case LineKind::additive: break;
  }
  switch (basis) {
    case Basis::percent_of_meat: return {"per_meat", 10.0};
    case Basis::g_per_kg: return {"g_per_kg", 10000.0};
    case Basis::fixed_g: break;
  }
  return {"g", kMostGrams};
}

void encode_line(const recipe::Line& line, Node& onto) {
  put_text(onto, "id", line.id.text);
  put_text(onto, "kind", word_of(kLineKinds, line.kind));
  put_text(onto, "name", line.name);
  put_text(onto, "material", line.material);
  put_text(onto, "basis", word_of(kBases, line.basis));
  const std::string key = "amount_" + std::string(amount_unit(line.kind, line.basis).unit);
  for (const char* other : {"amount_per_meat", "amount_g_per_kg", "amount_mg_per_kg", "amount_g"}) {
    if (key != other) onto.erase(other);
  }
  put_number(onto, key, line.amount);
}

recipe::Line decode_line(const Node& node, const std::string& path, std::optional<Error>& fault) {
  Fields fields(node, path, fault);
  recipe::Line line;
  line.id = fields.id("id");
  line.kind = fields.word("kind", kLineKinds);
  line.name = fields.text("name", kLongestName);
  line.material = fields.text("material", kLongestName);
  line.basis = fields.word("basis", kBases);
  const AmountUnit unit = amount_unit(line.kind, line.basis);
  line.amount = fields.number("amount", unit.unit, 0.0, unit.high);
  return line;
}

}  // namespace

void encode(const recipe::Recipe& recipe, Node& onto) {
  onto.type = Node::Type::object;
  put_text(onto, "name", recipe.name);
  put_text(onto, "note", recipe.note);
  put_text(onto, "product_class", word_of(kProductClasses, recipe.product_class));
  Node mix = Node::object();
  if (const Node* old = onto.find("curing_mix")) mix = *old;
  put_text(mix, "name", recipe.mix.name);
  put_number(mix, "nitrite_share", recipe.mix.nitrite);
  put_number(mix, "nitrate_share", recipe.mix.nitrate);
  onto.set("curing_mix", std::move(mix));
  put_number(onto, "casing_diameter_m", recipe.casing_diameter.value);
  put_number(onto, "wanted_loss_share", recipe.wanted_loss);
  Node lines = Node::list();
  const Node* earlier = onto.find("lines");
  for (const recipe::Line& line : recipe.lines) {
    const Node* old = element_of(earlier, line.id.text);
    Node node = old != nullptr ? *old : Node::object();
    encode_line(line, node);
    lines.items.push_back(std::move(node));
  }
  onto.set("lines", std::move(lines));
}

Result<recipe::Recipe> decode_recipe(const Node& node, const std::string& path) {
  std::optional<Error> fault;
  Fields fields(node, path, fault);
  recipe::Recipe recipe;
  recipe.name = fields.text("name", kLongestName);
  recipe.note = fields.text("note", kLongestNote);
  recipe.product_class = fields.word("product_class", kProductClasses);
  if (const Node* mix = fields.object("curing_mix")) {
    Fields shares(*mix, fields.path("curing_mix"), fault);
    recipe.mix.name = shares.text("name", kLongestName);
    recipe.mix.nitrite = shares.number("nitrite", "share", 0.0, 1.0);
    recipe.mix.nitrate = shares.number("nitrate", "share", 0.0, 1.0);
  }
  recipe.casing_diameter = Metres(fields.number("casing_diameter", "m", 0.005, 0.5));
  recipe.wanted_loss = fields.number("wanted_loss", "share", 0.0, 0.9);
  if (const Node* lines = fields.list("lines", kMostLines)) {
    std::set<std::string> seen;
    for (std::size_t i = 0; i < lines->items.size() && !fault; ++i) {
      const std::string line_path = fields.path("lines/" + std::to_string(i));
      recipe::Line line = decode_line(lines->items[i], line_path, fault);
      if (!fault && !seen.insert(line.id.text).second) {
        Fields(lines->items[i], line_path, fault)
            .refuse(ErrorCode::duplicate_key, "id", *lines->items[i].find("id"), "");
      }
      recipe.lines.push_back(std::move(line));
    }
  }
  if (fault) return *fault;
  return recipe;
}

}  // namespace saltrafter::book
