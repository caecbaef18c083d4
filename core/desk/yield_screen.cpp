// The Rails: what comes of a batch and what it costs, what the finished meat is made of, and what was
// foreseen of it.
#include <algorithm>
#include <array>

#include "core/desk/piece_forms.h"

namespace saltrafter::desk {
namespace {

using Say = words::Id;

void draw_weights(Screen& s, const OpenBatch& open, const plan::Yield& yield, double needed) {
  const double green_g = yield.green.value;
  const auto share = [&s, green_g](Grams mass) {
    return green_g > 0.0 ? per_cent(s.l, mass.value / green_g, 1) : words::verbatim("\u2013");
  };
  const int count = static_cast<int>(open.batch->pieces.size());
  const words::Arg finished = words::arg("finished", grams(s.l, yield.finished));
  const words::Arg green = words::arg("green", grams(s.l, yield.green));
  const words::Arg part = words::arg("share", share(yield.finished));
  parts::lead(s.page,
              s.say(yield.taken_down == count && count > 0 ? Say::yield_lead : Say::yield_lead_expected,
                    {green, finished, part}));
  if (yield.taken_down < count) {
    parts::paragraph(
        s.page, s.say(Say::yield_open,
                      {words::arg("down", words::number(s.l, yield.taken_down, 0)), words::count("n", count),
                       words::arg("loss", per_cent(s.l, needed, 0))}));
  }
  std::vector<parts::TableRow> rows;
  const auto row = [&](Say name, Grams mass) {
    rows.push_back({std::nullopt, {s.say(name), words::number(s.l, mass.value, 0), share(mass)}});
  };
  row(Say::yield_green, yield.green);
  row(Say::yield_hung, yield.hung);
  if (yield.taken_off.value > 0.0) row(Say::yield_taken_off, yield.taken_off);
  row(Say::yield_water, yield.water);
  row(Say::yield_finished, yield.finished);
  if (yield.usable) row(Say::yield_usable, *yield.usable);
  parts::gap(s.page, 16.0);
  parts::table(
      s.page,
      {{s.say(Say::yield_what), false}, {s.say(Say::yield_mass), true}, {s.say(Say::yield_share), true}},
      rows, s.say(Say::yield_order));
  if (!yield.usable) parts::reason(s.page, s.say(Say::yield_usable_unknown));
}

void draw_price(Screen& s, const OpenBatch& open, const plan::Yield& yield) {
  const plan::Batch& batch = *open.batch;
  const recipe::Cost cost = recipe::cost_of(batch.made_from, open.judged->sheet, s.session.book.supplies());
  const plan::Price price = plan::price_of(batch, open.judged->sheet, cost, yield);
  parts::gap(s.page, 36.0);
  parts::second_heading(s.page, s.say(Say::price_title));
  std::vector<words::Text> unpriced;
  for (const std::string& name : price.unpriced)
    unpriced.push_back(name == "casing" ? s.say(Say::casing) : words::verbatim(name));
  if (!(price.total() > 0.0)) {
    parts::paragraph(s.page, s.say(Say::costs_unknown));
  } else {
    if (price.per_kg_finished)
      parts::paragraph(s.page,
                       s.say(Say::price_finished, {words::arg("price", money(s, *price.per_kg_finished))}));
    if (price.per_kg_usable)
      parts::paragraph(s.page,
                       s.say(Say::price_usable, {words::arg("price", money(s, *price.per_kg_usable))}));
    parts::paragraph(s.page, s.say(Say::price_of, {words::arg("total", money(s, price.total())),
                                                   words::arg("ingredients", money(s, price.ingredients)),
                                                   words::arg("trim", money(s, price.trim)),
                                                   words::arg("energy", money(s, price.energy))}));
    if (!unpriced.empty())
      parts::paragraph(s.page, s.say(Say::price_least, {words::arg("names", with_commas(unpriced))}));
  }
  const parts::Key here = key("costs") / open.id;
  plan::Batch after = batch;
  plan::Costs& costs = after.costs;
  bool changed = false;
  if (const auto trim = number_entry(s, here / "trim", Say::cost_trim,
                                     {"trim", NumberKind::mass, "g", 0.0, recipe::kMostMeat.value},
                                     costs.trim.value, 0, {"g", "kg", "oz", "lb"})) {
    costs.trim = Grams(*trim);
    changed = true;
  }
  if (const auto energy = number_entry(s, here / "energy", Say::cost_energy,
                                       {"energy", NumberKind::plain, "", 0.0, 1e5}, costs.energy_kwh, 2)) {
    costs.energy_kwh = *energy;
    changed = true;
  }
  if (const auto each = number_entry(s, here / "kwh", Say::cost_kwh,
                                     {"price", NumberKind::plain, "", 0.0, 1e6}, costs.price_per_kwh, 4)) {
    costs.price_per_kwh = *each;
    changed = true;
  }
  if (const auto ends = number_or_nothing(s, here / "ends", Say::cost_ends, Say::cost_ends_what,
                                          {"ends", NumberKind::share, "%", 0.0, 0.9}, costs.ends_share, 1)) {
    costs.ends_share = *ends;
    changed = true;
  }
  if (changed) s.session.change_batch(open.id, after, "edit_costs");
}

void draw_made_of(Screen& s, const OpenBatch& open, const plan::Yield& yield) {
  const recipe::Sheet& sheet = open.judged->sheet;
  const recipe::Recipe& recipe = open.batch->made_from;
  const recipe::Composition finished = recipe::after_loss(sheet.composition, yield.loss);
  const auto estimate = recipe::estimate_activity(finished, recipe::solutes_of(recipe, sheet),
                                                  s.session.learnt(recipe.product_class));
  std::optional<WaterActivity> activity;
  if (estimate.ok()) activity = estimate.value().likely;
  const plan::Finished made = plan::finished_of(sheet.composition, yield.loss, activity);
  parts::second_heading(s.page, s.say(Say::made_of_title),
                        s.say(Say::made_of_at, {words::arg("loss", per_cent(s.l, yield.loss, 1))}));
  std::vector<parts::TableRow> rows;
  const auto row = [&](Say name, words::Text value) {
    rows.push_back({std::nullopt, {s.say(name), std::move(value)}});
  };
  const auto in_100_g = [&s](double mass_g) { return words::measure(s.l, mass_g, 1, "%"); };
  row(Say::made_of_water, in_100_g(made.water_g));
  row(Say::made_of_protein, in_100_g(made.protein_g));
  row(Say::made_of_fat, in_100_g(made.fat_g));
  row(Say::made_of_salt, in_100_g(made.salt_g));
  row(Say::figure_mpr, words::number(s.l, made.moisture_protein_ratio, 2));
  row(Say::figure_brine, per_cent(s.l, made.water_phase_salt, 1));
  if (made.activity) {
    row(Say::made_of_activity,
        words::join({words::number(s.l, made.activity->value, 2), words::verbatim(" \u00b1 "),
                     words::number(s.l, estimate.value().error, 2)}));
  }
  parts::table(s.page, {{s.say(Say::made_of_what), false}, {s.say(Say::made_of_amount), true}}, rows);
  parts::reason(s.page, s.say(Say::made_of_estimate));

  const plan::Nutrition label = plan::nutrition_of(finished);
  const auto g = [&s](double mass_g) { return words::measure(s.l, mass_g, 1, "g"); };
  parts::gap(s.page, 36.0);
  parts::second_heading(s.page, s.say(Say::nutrition_title));
  parts::paragraph(
      s.page, s.say(Say::nutrition_line,
                    {words::arg("kj", words::measure(s.l, label.energy_kj, 0, "kJ")),
                     words::arg("kcal", words::measure(s.l, label.energy_kcal, 0, "kcal")),
                     words::arg("fat", g(label.fat_g)), words::arg("carbohydrate", g(label.carbohydrate_g)),
                     words::arg("protein", g(label.protein_g)), words::arg("salt", g(label.salt_g))}));
  parts::reason(s.page, s.say(Say::nutrition_what));
}

void draw_lessons(Screen& s, const OpenBatch& open) {
  const std::vector<plan::Taught> lessons = plan::taught(*open.batch);
  parts::gap(s.page, 36.0);
  parts::second_heading(s.page, s.say(Say::taught_title));
  if (lessons.empty()) {
    parts::reason(s.page, s.say(Say::taught_none));
    return;
  }
  std::vector<parts::TableRow> rows;
  for (const plan::Taught& lesson : lessons) {
    const plan::Piece* piece = plan::find_piece(*open.batch, lesson.piece);
    const double off = 100.0 * lesson.loss.off();
    const words::Text sign = words::verbatim(off > 0.0 ? "+" : "");
    rows.push_back(
        {key("taught") / lesson.piece,
         {words::number(s.l, piece->number, 0), per_cent(s.l, lesson.loss.foreseen, 1),
          per_cent(s.l, lesson.loss.measured, 1), words::join({sign, words::number(s.l, off, 1)})}});
  }
  const auto pressed = parts::table(s.page,
                                    {{s.say(Say::taught_piece), false},
                                     {s.say(Say::taught_foreseen), true},
                                     {s.say(Say::taught_measured), true},
                                     {s.say(Say::taught_off), true}},
                                    rows, s.say(Say::taught_order));
  if (pressed) s.session.open_rails(RailsLeaf::take_down, lessons[static_cast<std::size_t>(*pressed)].piece);
}

}  // namespace

void draw_yield(Screen& s) {
  const auto open = open_batch(s, Say::yield_title);
  if (!open) return;
  const double needed = finished_loss(s, open->id, open->batch);
  const Result<plan::Yield> yield = plan::yield_of(*open->batch, open->judged->sheet, needed);
  if (!yield.ok()) {
    parts::trouble(s.page, s.say(Say::yield_problem), s.say(Say::base_needs_trimmed_plain), std::nullopt);
    return;
  }
  draw_weights(s, *open, yield.value(), needed);
  draw_price(s, *open, yield.value());
  draw_history(s);
  s.page.second_column();
  draw_made_of(s, *open, yield.value());
  draw_lessons(s, *open);
}

}  // namespace saltrafter::desk
