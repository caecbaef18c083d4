#include "core/share/recipe_file.h"

#include "core/share/envelope.h"
#include "core/share/plain_text.h"

namespace saltrafter::share {
namespace {

using book::Node;

Result<Done> may_be_shared(const recipe::Recipe& recipe) {
  for (const recipe::Line& line : recipe.lines) {
    if (line.kind != recipe::LineKind::cure || line.amount <= recipe::kNitriteCeiling.value) continue;
    Error error = out_of_range("nitrite_ceiling", line.amount, 0.0, recipe::kNitriteCeiling.value, "mg/kg");
    error.code = ErrorCode::refused;
    return error;
  }
  // What cannot be scaled yet has no more nitrite than its cure line asks for.
  constexpr Grams kAnyMeat{1000.0};
  const Result<recipe::Sheet> sheet = recipe::scale(recipe, kAnyMeat);
  return sheet.ok() ? recipe::may_be_used(sheet.value()) : Result<Done>(Done{});
}

// A recipe of a newer schema, as far as it can be shown.
recipe::Recipe glimpse(const Node& node) {
  recipe::Recipe recipe;
  const Node* name = node.find("name");
  const Node* note = node.find("note");
  if (name != nullptr && name->type == Node::Type::text) recipe.name = name->text;
  if (note != nullptr && note->type == Node::Type::text) recipe.note = note->text;
  return recipe;
}

// What belongs to the maker and not to the recipe: whose packet the mix is, and what the recipe was before.
void leave_out_own(recipe::Recipe& recipe, Node& data) {
  recipe.mix.supply.clear();
  data.erase("revisions");
}

void make_plain(recipe::Recipe& recipe) {
  recipe.name = plain_line(recipe.name);
  recipe.note = plain_lines(recipe.note);
  recipe.mix.name = plain_line(recipe.mix.name);
  recipe.casing = plain_line(recipe.casing);
  for (recipe::Line& line : recipe.lines) {
    line.name = plain_line(line.name);
    line.material = plain_line(line.material);
  }
  for (recipe::Step& step : recipe.steps) step.words = plain_lines(step.words);
}

}  // namespace

Result<std::string> write_recipe_file(const recipe::Recipe& recipe, std::string_view kept) {
  Node data = Node::object();
  if (!kept.empty()) {
    Result<Node> earlier = book::read_tree(kept, book::kRecordLimits);
    if (earlier.ok()) data = std::move(earlier).value();
  }
  recipe::Recipe shared = recipe;
  leave_out_own(shared, data);
  const Result<Done> allowed = may_be_shared(shared);
  if (!allowed.ok()) return allowed.error();
  book::encode(shared, data);
  Node root = open_envelope(kRecipeFormat);
  root.set("recipe", std::move(data));
  return book::write_tree(root, book::TextForm::file);
}

Result<RecipeFile> read_recipe_file(std::string_view text) {
  const Result<Envelope> envelope = read_envelope(text, kRecipeFormat, {});
  if (!envelope.ok()) return envelope.error();
  RecipeFile file;
  file.schema = envelope.value().schema;
  file.read_only = envelope.value().min_reader > book::kSchema;
  file.text = std::string(text);
  const Node* node = envelope.value().root.find("recipe");
  if (node == nullptr || node->type != Node::Type::object) {
    const Node& at = node != nullptr ? *node : envelope.value().root;
    return Error{node != nullptr ? ErrorCode::wrong_type : ErrorCode::missing, "recipe", book::found_at(at), "object",
                 "", {}, {}};
  }
  Result<recipe::Recipe> recipe = book::decode_recipe(*node, "recipe");
  if (recipe.ok()) {
    file.recipe = std::move(recipe).value();
  } else if (file.read_only) {
    file.recipe = glimpse(*node);
  } else {
    return recipe.error();
  }
  Node data = *node;
  leave_out_own(file.recipe, data);
  make_plain(file.recipe);
  if (recipe.ok()) book::encode(file.recipe, data);
  file.data = book::write_tree(data, book::TextForm::stored);
  return file;
}

}  // namespace saltrafter::share
