// What a mix is made of, now and at a loss: two bars, and every figure with its working.
#include <algorithm>

#include "core/desk/forms.h"

namespace saltrafter::desk {
namespace {

using Say = words::Id;

void draw_bar(Screen& s, const recipe::Composition& c, const words::Text& head) {
  const double total = c.total_g();
  if (!(total > 0.0)) return;
  const auto part = [&s, total](Say name, double mass_g) {
    const double share = mass_g / total;
    return parts::Share{words::join({s.say(name), words::verbatim(" "),
                                     words::number(s.l, share * 100.0, share < 0.1 ? 1 : 0)}),
                        share};
  };
  parts::composition_bar(s.page, head,
                         {part(Say::water, c.water_g), part(Say::protein, c.protein_g),
                          part(Say::fat, c.fat_g), part(Say::salt, c.salt_g), part(Say::rest, c.rest_g)});
}

void draw_figures(Screen& s, const recipe::Recipe& recipe, const recipe::Sheet& sheet,
                  const recipe::Composition& c) {
  const double total = c.total_g();
  const auto figure = [&s](std::string_view name, Say say, words::Text value,
                           std::vector<words::Text> lines) {
    parts::working(s.page, {key("figure") / name, s.say(say), std::move(value), std::move(lines)});
  };
  const words::Text mass = grams(s.l, Grams(total));
  const double loss = sheet.composition.total_g() > 0.0 ? 1.0 - total / sheet.composition.total_g() : 0.0;
  figure("weight", Say::figure_weight, mass,
         {s.say(Say::working_loss, {words::arg("mass", mass), words::arg("loss", per_cent(s.l, loss, 0)),
                                    words::arg("water", grams(s.l, Grams(c.water_g)))})});
  figure(
      "fat", Say::figure_fat, per_cent(s.l, c.fat_g / total, 1),
      {s.say(Say::working_fat, {words::arg("fat", grams(s.l, Grams(c.fat_g))), words::arg("mass", mass)})});
  figure("salt", Say::figure_salt, per_cent(s.l, c.salt_g / total, 2),
         {s.say(Say::working_fat_salt,
                {words::arg("salt", grams(s.l, Grams(c.salt_g))), words::arg("mass", mass)})});
  figure("mpr", Say::figure_mpr, words::number(s.l, recipe::moisture_protein_ratio(c), 2),
         {s.say(Say::working_mpr, {words::arg("water", grams(s.l, Grams(c.water_g))),
                                   words::arg("protein", grams(s.l, Grams(c.protein_g)))})});
  const words::Text brine = per_cent(s.l, recipe::water_phase_salt(c), 2);
  figure("brine", Say::figure_brine, brine,
         {s.say(Say::working_brine, {words::arg("salt", grams(s.l, Grams(c.salt_g))),
                                     words::arg("water", grams(s.l, Grams(c.water_g)))})});
  const auto estimate =
      recipe::estimate_activity(c, recipe::solutes_of(recipe, sheet), s.session.learnt(recipe.product_class));
  if (!estimate.ok()) return;
  const recipe::ActivityEstimate& activity = estimate.value();
  std::vector<words::Text> lines = {
      s.say(Say::working_activity, {words::arg("error", words::number(s.l, activity.error, 2))})};
  if (activity.learnt_from > 0)
    lines.push_back(s.say(Say::working_learnt, {words::count("n", activity.learnt_from)}));
  figure("activity", Say::figure_activity,
         words::join({words::number(s.l, activity.likely.value, 2), words::verbatim(" \u00b1 "),
                      words::number(s.l, activity.error, 2)}),
         std::move(lines));
  figure("bound", Say::figure_bound, words::number(s.l, activity.at_most.value, 2),
         {s.say(Say::working_bound, {words::arg("brine", brine)})});
}

void draw_cost(Screen& s, const recipe::Recipe& recipe, const recipe::Sheet& sheet) {
  const recipe::Supplies supplies = s.session.book.supplies();
  const recipe::Cost cost = recipe::cost_of(recipe, sheet, supplies);
  parts::gap(s.page, 16.0);
  std::vector<words::Text> unpriced;
  for (const std::string& name : cost.unpriced) {
    unpriced.push_back(name == "casing" ? s.say(Say::casing) : words::verbatim(name));
  }
  const words::Arg green = words::arg("green", money(s, cost.per_kg_green));
  const words::Arg finished = words::arg("finished", money(s, cost.per_kg_finished));
  if (cost.lines.empty()) {
    parts::reason(s.page, s.say(Say::costs_unknown));
  } else if (unpriced.empty()) {
    parts::paragraph(s.page, s.say(Say::costs, {green, finished}));
  } else {
    parts::paragraph(s.page,
                     s.say(Say::costs_least, {green, finished, words::arg("names", with_commas(unpriced))}));
  }
}

words::Text allergen_names(const Screen& s, tables::AllergenSet set) {
  std::vector<words::Text> names;
  for (int i = 0; i <= static_cast<int>(tables::Allergen::molluscs); ++i) {
    const auto allergen = static_cast<tables::Allergen>(i);
    if (set.has(allergen)) names.push_back(allergen_name(s.l, allergen));
  }
  return with_commas(names);
}

void draw_label(Screen& s, const recipe::Recipe& recipe, const recipe::Sheet& sheet) {
  const recipe::AllergensFound found = recipe::allergens_of(recipe, s.session.book.supplies());
  parts::gap(s.page, 16.0);
  parts::paragraph(s.page, found.holds.empty()
                               ? s.say(Say::contains_none)
                               : s.say(Say::contains, {words::arg("names", allergen_names(s, found.holds))}));
  if (!found.possible.empty()) {
    parts::paragraph(s.page,
                     s.say(Say::may_contain, {words::arg("names", allergen_names(s, found.possible))}));
  }
  if (!found.unknown.empty()) {
    std::vector<words::Text> names;
    for (const std::string& name : found.unknown) names.push_back(words::verbatim(name));
    parts::paragraph(s.page, s.say(Say::allergens_unknown, {words::arg("names", with_commas(names))}));
  }
  std::vector<words::Text> names;
  for (const recipe::Ingredient& one : recipe::ingredients_by_weight(sheet))
    names.push_back(words::verbatim(one.name));
  parts::reason(s.page, s.say(Say::ingredient_list, {words::arg("names", with_commas(names))}));
}

}  // namespace

void draw_composition(Screen& s, parts::Key here, std::optional<double>& other_loss,
                      double wanted_loss, const recipe::Recipe& recipe, const recipe::Sheet& sheet) {
  const recipe::Composition& now = sheet.composition;
  const recipe::Composition finished = recipe::finished(sheet, wanted_loss);
  parts::second_heading(
      s.page,
      s.say(Say::fat_finished, {words::arg("fat", per_cent(s.l, finished.fat_g / finished.total_g(), 0))}));
  draw_bar(s, now, s.say(Say::composition_now, {words::arg("mass", grams(s.l, Grams(now.total_g())))}));
  if (const auto loss =
          number_entry(s, here / "loss", Say::loss_asked, {"loss", NumberKind::share, "%", 0.0, 0.7},
                       other_loss.value_or(wanted_loss), 1, {}, 1.0)) {
    other_loss = *loss;
  }
  const double loss_asked = other_loss.value_or(wanted_loss);
  const recipe::Composition then = recipe::finished(sheet, loss_asked);
  parts::gap(s.page, 16.0);
  draw_bar(s, then,
           s.say(Say::composition_finished, {words::arg("loss", per_cent(s.l, loss_asked, 0)),
                                             words::arg("mass", grams(s.l, Grams(then.total_g())))}));
  parts::gap(s.page, 8.0);
  draw_figures(s, recipe, sheet, then);
  draw_cost(s, recipe, sheet);
  draw_label(s, recipe, sheet);
}

}  // namespace saltrafter::desk
