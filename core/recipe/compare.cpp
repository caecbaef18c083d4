#include <algorithm>

#include "core/recipe/cost.h"

namespace saltrafter::recipe {
namespace {

const Line* line_of(const Recipe& recipe, const Id& id) {
  const auto found = std::find_if(recipe.lines.begin(), recipe.lines.end(),
                                  [&id](const Line& line) { return line.id == id; });
  return found == recipe.lines.end() ? nullptr : &*found;
}

// What a line asks for of 1 kg of meat, in the unit of its kind.
double amount_of(const Line& line, const Recipe& recipe) {
  if (line.kind == LineKind::culture && line.packet && line.packet->for_meat.value > 0.0)
    return 1000.0 * (line.packet->holds / line.packet->for_meat);
  if (line.kind != LineKind::additive && line.kind != LineKind::culture) return line.amount;
  switch (line.basis) {
    case Basis::percent_of_meat:
      return 1000.0 * line.amount;
    case Basis::g_per_piece: {
      const double piece_g = piece_mass(recipe).value;
      return piece_g > 0.0 ? line.amount * 1000.0 / piece_g : line.amount;
    }
    case Basis::g_per_kg:
    case Basis::fixed_g:
      break;
  }
  return line.amount;
}

}  // namespace

Comparison compare(const Recipe& before, const Recipe& after) {
  Comparison out;
  for (const Line& was : before.lines) {
    const Line* is = line_of(after, was.id);
    LineChange change{Changed::removed, was.id, was.name, was.kind, amount_of(was, before), {}};
    if (is != nullptr) {
      change.what = *is == was ? Changed::same : Changed::changed;
      change.name = is->name;
      change.kind = is->kind;
      change.after = amount_of(*is, after);
    }
    out.lines.push_back(change);
  }
  for (const Line& is : after.lines) {
    if (line_of(before, is.id) == nullptr)
      out.lines.push_back({Changed::added, is.id, is.name, is.kind, {}, amount_of(is, after)});
  }
  const auto field = [&out](const char* name, bool same) {
    if (!same) out.fields.emplace_back(name);
  };
  field("name", before.name == after.name);
  field("note", before.note == after.note);
  field("product_class", before.product_class == after.product_class);
  field("method", before.method == after.method);
  field("mix", before.mix == after.mix);
  field("casing", before.casing == after.casing);
  field("form", before.form == after.form);
  field("casing_diameter", before.casing_diameter == after.casing_diameter);
  field("piece_length", before.piece_length == after.piece_length);
  field("piece_width", before.piece_width == after.piece_width);
  field("bone_share", !(before.bone_share < after.bone_share) && !(before.bone_share > after.bone_share));
  field("skin_on", before.skin_on == after.skin_on);
  field("brine", before.brine == after.brine);
  field("wanted_ph", before.wanted_ph == after.wanted_ph);
  field("wanted_loss",
        !(before.wanted_loss < after.wanted_loss) && !(before.wanted_loss > after.wanted_loss));
  field("stages", before.stages == after.stages);
  field("steps", before.steps == after.steps);
  return out;
}

}  // namespace saltrafter::recipe
