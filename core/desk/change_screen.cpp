// The Bench: what a recipe is, beside its lines: name, class, how the salt gets in, form, sizes, wishes.
#include <algorithm>
#include <array>

#include "core/desk/forms.h"
#include "core/tables/tables.h"

namespace saltrafter::desk {
namespace {

using Say = words::Id;
using recipe::CureMethod;
using recipe::Form;
using recipe::ProductClass;

constexpr std::array<Named<ProductClass>, 3> kClasses = {
    {{ProductClass::comminuted_dry, Say::class_minced_dry, Say::class_minced_dry_what},
     {ProductClass::comminuted_semi_dry, Say::class_semi_dry, Say::class_semi_dry_what},
     {ProductClass::whole_muscle_dry, Say::class_whole, Say::class_whole_what}}};
constexpr std::array<Named<CureMethod>, 3> kMuscleMethods = {
    {{CureMethod::equilibrium, Say::cure_equilibrium, Say::cure_equilibrium_what},
     {CureMethod::salt_box, Say::cure_box, Say::cure_box_what},
     {CureMethod::brine, Say::cure_brine, Say::cure_brine_what}}};
constexpr std::array<Named<Form>, 5> kForms = {
    {{Form::round, Say::form_round, Say::form_round_what},
     {Form::rolled, Say::form_rolled, Say::form_rolled_what},
     {Form::slab, Say::form_slab, Say::form_slab_what},
     {Form::slab_closed, Say::form_slab_closed, Say::form_slab_what},
     {Form::ham, Say::form_ham, Say::form_ham_what}}};

// Only casings whose sizes hold the diameter are offered.
bool draw_casing(Screen& s, parts::Key here, recipe::Recipe& recipe) {
  const bool whole = recipe.product_class == ProductClass::whole_muscle_dry;
  std::vector<parts::Choice> choices = {
      {here / "none", s.say(Say::casing_none), whole ? s.say(Say::casing_none_what) : words::Text()}};
  std::vector<std::string> keys = {""};
  int chosen = recipe.casing.empty() ? 0 : -1;
  for (const tables::Casing& casing : tables::casings()) {
    const bool fits = recipe.casing_diameter >= casing.diameter_low && recipe.casing_diameter <= casing.diameter_high;
    if (!fits && recipe.casing != casing.key) continue;
    if (recipe.casing == casing.key) chosen = static_cast<int>(keys.size());
    choices.push_back({here / casing.key, material_name({}, s.l, casing.key),
                       words::join({words::number(s.l, casing.diameter_low.value * 1000.0, 0),
                                    words::verbatim("\u2013"), millimetres(s.l, casing.diameter_high)})});
    keys.emplace_back(casing.key);
  }
  parts::gap(s.page, 24.0);
  const auto pressed = parts::one_of(s.page, s.say(Say::casing_kind), choices, chosen);
  if (!pressed || *pressed == chosen) return false;
  recipe.casing = keys[static_cast<std::size_t>(*pressed)];
  return true;
}

// How thick, how long and of a flat piece how wide. True: changed.
bool draw_size(Screen& s, parts::Key here, recipe::Recipe& recipe) {
  const bool flat = recipe::is_flat(recipe.form);
  const bool ham = recipe.form == Form::ham;
  bool changed = false;
  if (const auto d = number_entry(s, here / "diameter", flat ? Say::thickness : ham ? Say::ham_depth : Say::diameter,
                                  {"diameter", NumberKind::length, "mm", 0.01, 0.3}, recipe.casing_diameter.value, 1,
                                  {"mm", "in"}, 1.0)) {
    recipe.casing_diameter = Metres(*d);
    changed = true;
  }
  const bool ends_count = recipe.product_class == ProductClass::whole_muscle_dry && !ham;
  const Metres least = ends_count ? plan::least_side(recipe) : Metres(0.0);
  const words::Arg least_words = words::arg("least", millimetres(s.l, least));
  const auto too_short = [&s, least, least_words, &recipe](double side_m) {
    const bool closed = recipe.form == Form::slab_closed;
    return Metres(side_m) < least ? s.say(closed ? Say::side_too_short_closed : Say::side_too_short, {least_words})
                                  : words::Text();
  };
  const auto tell_short = [&](Metres side) {
    if (side < least) parts::reason(s.page, s.say(Say::side_counts_as, {least_words}));
  };
  NumberEntry length{here / "length", s.say(Say::piece_length), {"length", NumberKind::length, "mm", 0.05, 2.0},
                     recipe.piece_length.value, 0, {"mm", "in"}, 10.0};
  length.wrong = too_short;
  if (ham) length.what = s.say(Say::piece_length_ham);
  if (const auto typed = enter(s, length).value_or(std::nullopt)) {
    recipe.piece_length = Metres(*typed);
    changed = true;
  }
  tell_short(recipe.piece_length);
  if (!flat) return changed;
  NumberEntry width{here / "width", s.say(Say::piece_width), {"width", NumberKind::length, "mm", 0.02, 2.0},
                    {}, 0, {"mm", "in"}, 10.0};
  if (recipe.piece_width) width.stored = recipe.piece_width->value;
  width.may_stay_empty = true;
  width.what = s.say(Say::piece_width_what);
  width.wrong = too_short;
  if (const auto typed = enter(s, width)) {
    recipe.piece_width.reset();
    if (*typed) recipe.piece_width = Metres(**typed);
    changed = true;
  }
  if (recipe.piece_width) tell_short(*recipe.piece_width);
  return changed;
}

void tell_sugar(Screen& s, const recipe::Recipe& recipe) {
  if (!recipe.wanted_ph) return;
  constexpr double kUsualPh = 5.75;  // of fresh pork, memory
  const Result<recipe::Sheet> sheet = recipe::scale(recipe, Grams(1000.0), nullptr, s.session.hands());
  if (!sheet.ok()) return;
  const recipe::Composition& mix = sheet.value().composition;
  const Result<safety::SugarNeed> need =
      safety::sugar_for(kUsualPh, *recipe.wanted_ph, mix.protein_g / std::max(1.0, mix.total_g()));
  if (!need.ok()) return;
  parts::reason(s.page, s.say(Say::sugar_need, {words::arg("ph", words::number(s.l, *recipe.wanted_ph, 1)),
                                                words::arg("start", words::number(s.l, kUsualPh, 2)),
                                                words::arg("least", words::number(s.l, need.value().least, 1)),
                                                words::arg("most", words::number(s.l, need.value().most, 1)),
                                                words::arg("advised", words::number(s.l, need.value().advised, 1))}));
}

}  // namespace

void draw_change(Screen& s) {
  Session& session = s.session;
  const auto found = open_recipe(s, Say::change_title);
  if (found == nullptr) return;
  recipe::Recipe recipe = *found;
  const Id id = session.view.recipe;
  const parts::Key here = key("change") / id;
  parts::lead(s.page, s.say(Say::change_lead));
  draw_notice(s);
  bool changed = false;
  const auto take = [&changed](auto& member, auto&& value) {
    if (!value) return;
    member = std::decay_t<decltype(member)>(*value);
    changed = true;
  };

  take(recipe.name, words_entry(s, here / "name", Say::recipe_name, recipe.name));
  take(recipe.note, words_entry(s, here / "note", Say::recipe_note, recipe.note));
  const std::vector<recipe::Revision> revisions = session.book.revisions(id);
  if (!revisions.empty()) {
    const recipe::Revision& newest = revisions.back();
    if (const auto why = words_entry(s, here / "why" / newest.id, Say::recipe_why, newest.why)) {
      session.explain_revision(id, *why);
    }
  }
  take(recipe.product_class, choose(s, here / "class", Say::recipe_class, kClasses, recipe.product_class));
  const bool whole = recipe.product_class == ProductClass::whole_muscle_dry;
  if (whole) {
    if (recipe.method == CureMethod::mixed_in) recipe.method = CureMethod::equilibrium;
    take(recipe.method, choose(s, here / "method", Say::cure_method, kMuscleMethods, recipe.method));
    if (recipe.method == CureMethod::brine && !recipe.brine) recipe.brine = recipe::Brine{};
    if (recipe.method == CureMethod::brine) {
      if (const auto amount = number_entry(s, here / "brine", Say::brine_amount, {"brine", NumberKind::mass, "g", 50.0, 5000.0},
                                           recipe.brine->g_per_kg, 0, {"g", "kg"})) {
        recipe.brine->g_per_kg = *amount;
        changed = true;
      }
      if (const auto days = number_entry(s, here / "brine_days", Say::brine_days, {"days", NumberKind::days, "d", 0.1, 120.0},
                                         recipe.brine->days.value, 1)) {
        recipe.brine->days = Days(*days);
        changed = true;
      }
    }
    take(recipe.form, choose(s, here / "form", Say::body_form, kForms, recipe.form));
    if (const auto bone = number_entry(s, here / "bone", Say::bone_share, {"bone", NumberKind::share, "%", 0.0, 0.5},
                                       recipe.bone_share, 1)) {
      recipe.bone_share = *bone;
      changed = true;
    }
    parts::gap(s.page, 16.0);
    if (parts::tick_box(s.page, here / "skin", s.say(Say::skin_on), recipe.skin_on)) {
      recipe.skin_on = !recipe.skin_on;
      changed = true;
    }
  } else {
    recipe.method = CureMethod::mixed_in;
    recipe.form = Form::round;
  }
  changed = draw_size(s, here, recipe) || changed;
  changed = draw_casing(s, here / "casing", recipe) || changed;
  if (const auto loss = number_entry(s, here / "loss", Say::wanted_loss, {"loss", NumberKind::share, "%", 0.05, 0.6},
                                     recipe.wanted_loss, 1)) {
    recipe.wanted_loss = *loss;
    changed = true;
  }
  if (!whole) {
    take(recipe.wanted_ph, number_or_nothing(s, here / "ph", Say::wanted_ph, Say::wanted_ph_what,
                                             {"ph", NumberKind::plain, "", 4.2, 5.6}, recipe.wanted_ph, 2));
    tell_sugar(s, recipe);
  }
  if (changed || !(recipe == *found)) session.change_recipe(id, recipe);
  parts::gap(s.page, 36.0);
  const std::optional<int> act = parts::acts(
      s.page, {{here / "lines", s.say(Say::back_to, {words::arg("where", recipe.name)}), parts::ActKind::main, true, {}},
               {here / "steps", s.say(Say::method), parts::ActKind::other, true, {}}});
  if (act == 0) session.open_leaf(BenchLeaf::sheet);
  if (act == 1) session.open_leaf(BenchLeaf::method);
  draw_history(s);
}

}  // namespace saltrafter::desk
