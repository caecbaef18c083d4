// One recipe as a file that a friend can open.
//
// {"format":"saltrafter.recipe","schema":1,"minReader":1,"recipe":{...}}, UTF-8, two spaces a level, members in a
// fixed order. What a program does not know it keeps and writes back. Method, stages, own parts of lines and
// packets of cultures go along; the maker's own does not: earlier revisions, and whose packet the curing mix
// is, so that a friend binds it to a packet of their own. Neither is taken from a file that has it.
#pragma once

#include <string>
#include <string_view>

#include "core/base/base.h"
#include "core/recipe/recipe.h"

namespace saltrafter::share {

inline constexpr std::string_view kRecipeFormat = "saltrafter.recipe";

struct RecipeFile {
  recipe::Recipe recipe;   // of a newer schema that is not understood: name and note alone
  bool read_only = false;  // written by a newer program: to be looked at and saved as it is, not kept or edited
  int schema = 1;
  std::string data;        // the recipe as stored text with all members; for EditBuilder::create(Kind::recipe, data)
  std::string text;        // the file as it came
};

// The file's text. `kept` is the record's data, whose members unknown here go along; empty where there is none.
// Error: refused, field "nitrite_ceiling", where ingoing nitrite is above 625 mg/kg as NaNO2.
Result<std::string> write_recipe_file(const recipe::Recipe& recipe, std::string_view kept = {});

// Reads such a file; up to 1 MiB. Control characters and marks that turn the direction of text are left out of
// names. Errors: as book::read_tree; wrong_format where it is JSON of another kind; missing, wrong_type,
// out_of_range, unknown_unit, unknown_value, too_large with the field's path and, in `found`, the line
// (book::found_in_text takes it apart).
Result<RecipeFile> read_recipe_file(std::string_view text);

}  // namespace saltrafter::share
