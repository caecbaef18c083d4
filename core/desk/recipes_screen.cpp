// The Bench: the list of recipes.
#include <algorithm>

#include "core/desk/screens.h"

namespace saltrafter::desk {
namespace {

using Say = words::Id;

}  // namespace

void draw_recipes(Screen& s) {
  Session& session = s.session;
  std::vector<Id> ids = session.book.ids(book::Kind::recipe);
  std::stable_sort(ids.begin(), ids.end(), [&session](const Id& a, const Id& b) {
    const auto first = session.book.recipe(a);
    const auto second = session.book.recipe(b);
    return words::folded(first ? first->name : std::string()) < words::folded(second ? second->name : std::string());
  });
  parts::heading(s.page, s.say(Say::recipes));
  draw_notice(s);
  if (ids.empty()) {
    if (parts::empty_state(s.page, s.say(Say::no_recipe), s.say(Say::no_recipe_what),
                           parts::Act{key("recipes") / "first", s.say(Say::bring_first_recipes),
                                      parts::ActKind::other, true, {}})) {
      session.bring_first_recipes();
    }
  } else {
    parts::lead(s.page, s.say(Say::recipes_lead, {words::count("n", static_cast<int>(ids.size()))}));
    parts::List list{key("recipes"), {}};
    std::vector<Id> listed;
    for (const Id& id : ids) {
      const auto recipe = session.book.recipe(id);
      if (!recipe) continue;
      Ppm dose;
      for (const recipe::Line& line : recipe->lines) {
        if (line.kind == recipe::LineKind::cure) dose = Ppm(line.amount);
      }
      parts::Row row;
      row.key = key("recipes") / id;
      row.name = words::verbatim(recipe->name);
      const bool whole = recipe->product_class == recipe::ProductClass::whole_muscle_dry;
      row.fact = s.say(whole ? Say::recipe_fact_whole : Say::recipe_fact, {words::arg("diameter", millimetres(s.l, recipe->casing_diameter)),
                                          words::arg("loss", per_cent(s.l, recipe->wanted_loss, 0)),
                                          words::arg("dose", mg_per_kg(s.l, dose))});
      list.rows.push_back(std::move(row));
      listed.push_back(id);
    }
    if (const auto pressed = parts::list(s.page, list)) session.view.recipe = listed[static_cast<std::size_t>(*pressed)];
  }
  parts::gap(s.page, 24.0);
  const std::optional<int> pressed =
      parts::acts(s.page, {{key("recipes") / "new", s.say(Say::new_recipe), parts::ActKind::other, true, {}},
                           {key("recipes") / "open", s.say(Say::open_recipe_file), parts::ActKind::other, true, {}}});
  if (pressed == 0) session.new_recipe();
  if (pressed == 1) session.ask_for_file();
  draw_history(s);
}

}  // namespace saltrafter::desk
