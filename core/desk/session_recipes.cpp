// What a session does with recipes, own rows and settings.
#include "core/desk/session.h"

#include <array>
#include <utility>

namespace saltrafter::desk {

void Session::put_recipe(book::EditBuilder& edit, const Id& id, const recipe::Recipe& now,
                         const recipe::Recipe& then) const {
  const std::vector<recipe::Revision> revisions = book.revisions(id);
  bool made = false;
  for (const Id& batch_id : book.ids(book::Kind::batch)) {
    const auto batch = book.batch(batch_id);
    made = made || (batch && batch->recipe == id && batch->made_from == now);
  }
  if (!made && !revisions.empty() && revisions.back().until == today()) {
    edit.put(id, then);
  } else {
    edit.revise(id, then, {});
  }
}

bool Session::change_recipe(const Id& id, const recipe::Recipe& recipe, const std::string& name) {
  const auto now = book.recipe(id);
  const recipe::Recipe then = recipe::by_packets(recipe, book.supplies());
  if (!now || *now == then) return false;
  book::EditBuilder edit(book, name);
  put_recipe(edit, id, *now, then);
  const Result<Done> done = apply(edit);
  if (!done.ok()) tell_wrong(words::sentence(language, done.error()));
  return done.ok();
}

void Session::explain_revision(const Id& id, const std::string& why) {
  book::EditBuilder edit(book, "edit_why");
  edit.explain(id, why);
  (void)apply(edit);
}

void Session::new_recipe() {
  recipe::Recipe recipe = recipe::new_recipe(book.ports());
  recipe.name = words::text(language, words::Id::new_recipe_name).plain();
  book::EditBuilder edit(book, "edit_new_recipe");
  const Id id = edit.create(recipe);
  if (!apply(edit).ok()) return;
  notice.reset();
  view.recipe = id;
  open_leaf(BenchLeaf::change);
}

void Session::copy_recipe(const Id& id) {
  const auto from = book.recipe(id);
  if (!from) return;
  recipe::Recipe copy = *from;
  copy.name = words::text(language, words::Id::copy_of, {words::arg("name", from->name)}).plain();
  book::EditBuilder edit(book, "edit_copy");
  const Id made = edit.create(copy);
  if (!apply(edit).ok()) return;
  view.recipe = made;
  open_leaf(BenchLeaf::sheet);
  tell_edit(words::text(language, words::Id::recipe_copied, {words::arg("name", from->name)}));
}

void Session::remove_recipe(const Id& id) {
  const auto recipe = book.recipe(id);
  if (!recipe) return;
  book::EditBuilder edit(book, "edit_remove_recipe");
  edit.remove(id);
  if (!apply(edit).ok()) return;
  view.recipe = {};
  open_leaf(BenchLeaf::sheet);
  tell_edit(words::text(language, words::Id::recipe_removed, {words::arg("name", recipe->name)}));
}

void Session::open_leaf(BenchLeaf leaf, const Id& item) {
  view.bench = leaf;
  view.item = item;
  sent_here = leaf != BenchLeaf::sheet;
}

void Session::open_shelf(ShelfLeaf leaf) {
  view.shelf = leaf;
  notice.reset();
  sent_here = true;
}

void Session::open_supply(const Id& supply) {
  view.supply = supply;
  open_shelf(ShelfLeaf::supply);
}

// What a new row is called until the maker names it; by recipe::SupplyKind.
constexpr std::array<words::Id, 5> kNewNames = {words::Id::supply_new_cut, words::Id::supply_new_additive,
                                                words::Id::supply_new_mix, words::Id::supply_new_culture,
                                                words::Id::supply_new_casing};

Id Session::new_supply(recipe::SupplyKind kind, const std::string& replaces, const std::string& name) {
  recipe::Supply supply;
  supply.kind = kind;
  supply.name =
      name.empty() ? words::text(language, kNewNames[static_cast<std::size_t>(kind)]).plain() : name;
  supply.replaces = replaces;
  if (const tables::Cut* cut = kind == recipe::SupplyKind::cut ? tables::find_cut(replaces) : nullptr) {
    supply.species = cut->species;
  }
  book::EditBuilder edit(book, "edit_new_supply");
  const Id made = edit.create(supply);
  if (const Result<Done> done = apply(edit); !done.ok()) {
    tell_wrong(words::sentence(language, done.error()));
    return {};
  }
  open_supply(made);
  return made;
}

void Session::rebind(book::EditBuilder& edit, const std::string& supply, const recipe::Supplies& then) const {
  for (const Id& id : book.ids(book::Kind::recipe)) {
    const auto now = book.recipe(id);
    if (!now || now->mix.supply != supply) continue;
    const recipe::Recipe bound = recipe::by_packets(*now, then);
    if (!(bound == *now)) put_recipe(edit, id, *now, bound);
  }
}

bool Session::change_supply(const recipe::Supply& supply) {
  book::EditBuilder edit(book, "edit_supply");
  edit.put(Id{supply.key}, supply);
  rebind(edit, supply.key, {supply});
  const Result<Done> done = apply(edit);
  if (!done.ok()) tell_wrong(words::sentence(language, done.error()));
  return done.ok();
}

void Session::remove_supply(const Id& id) {
  std::string name;
  for (const recipe::Supply& supply : book.supplies()) {
    if (supply.key == id.text) name = supply.name;
  }
  book::EditBuilder edit(book, "edit_remove_supply");
  edit.remove(id);
  rebind(edit, id.text, {});
  if (const Result<Done> done = apply(edit); !done.ok())
    return tell_wrong(words::sentence(language, done.error()));
  open_shelf(ShelfLeaf::supplies);
  tell_edit(words::text(language, words::Id::supply_removed, {words::arg("name", name)}));
}

void Session::enter_packet() {
  const Id recipe = view.recipe;
  go_to(Place::shelf);
  const Id made = new_supply(recipe::SupplyKind::curing_mix, {}, {});
  if (!made.empty()) drafts.supplies[made].wanted_by = recipe;
}

void Session::use_packet() {
  const Id id = std::exchange(drafts.supplies[view.supply].wanted_by, {});
  const auto recipe = book.recipe(id);
  if (!recipe) return;
  recipe::Recipe bound = *recipe;
  bound.mix.supply = view.supply.text;
  change_recipe(id, bound);
  go_to(Place::bench);
  view.recipe = id;
  open_leaf(BenchLeaf::sheet);
}

bool Session::change_settings(const book::Settings& settings, const std::string& name) {
  book::EditBuilder edit(book, name);
  edit.put(settings);
  const Result<Done> done = apply(edit);
  if (!done.ok()) tell_wrong(words::sentence(language, done.error()));
  return done.ok();
}

Grams Session::meat(const Id& recipe) const { return book::meat_on_tray(book.settings(), recipe); }

void Session::set_meat(const Id& recipe, Grams meat) {
  book::Settings settings = book.settings();
  book::set_meat_on_tray(settings, recipe, meat);
  book::EditBuilder edit(book, "edit_meat");
  edit.put(settings);
  (void)apply(edit);
}

}  // namespace saltrafter::desk
