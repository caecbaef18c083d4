#include <doctest/doctest.h>

#include "tests/unit/book/samples.h"

namespace saltrafter::book {
namespace {

using sample::Drawer;
using sample::Vault;
using sample::World;

// One random edit of one to three records; false when the book did not change.
bool edit_something(World& world, Book& book) {
  const std::uint64_t what = world.chance() % 10;
  if (what == 0 && book.can_undo()) return book.undo().ok();
  if (what == 1 && book.can_redo()) return book.redo().ok();
  EditBuilder edit(book, "edit.random");
  const std::vector<Id> ids = book.ids(Kind::recipe);
  const std::uint64_t count = 1 + world.chance() % 3;
  std::vector<Id> touched;
  for (std::uint64_t i = 0; i < count; ++i) {
    if (ids.size() < 2 || world.chance() % 5 == 0) {
      recipe::Recipe recipe;
      recipe.name = "n" + std::to_string(world.chance() % 1000);
      edit.create(recipe);
      continue;
    }
    const Id id = ids[world.chance() % ids.size()];
    if (std::find(touched.begin(), touched.end(), id) != touched.end()) continue;
    touched.push_back(id);
    if (world.chance() % 6 == 0) {
      edit.remove(id);
    } else {
      recipe::Recipe recipe = *book.recipe(id);
      recipe.name = "n" + std::to_string(world.chance() % 1000);
      recipe.wanted_loss = 0.3 + 0.001 * static_cast<double>(world.chance() % 100);
      edit.put(id, recipe);
    }
  }
  return book.apply(edit.done()).ok();
}

// A life of the program: edits, then a kill in the midst of a write, of which the first store keeps a torn slot
// and may lose the writes of its last seconds. What was called saved must be there, and edits whole.
void live_and_die(std::uint64_t seed) {
  CAPTURE(seed);
  World world(seed);
  Drawer drawer;
  Vault vault;
  std::vector<std::string> history{""};  // what a person saw after each edit
  std::size_t acknowledged = 0;          // index of the last state that was called saved
  for (int life = 0; life < 4; ++life) {
    drawer.dead = false;
    drawer.past.clear();
    drawer.remember = true;
    drawer.writes_left = -1;
    vault.open.clear();
    Keeper keeper(world.ports(), drawer.store(), vault.store(), 0);
    keeper.loaded(vault.slots());
    const std::string now = sample::seen(keeper.book());
    std::size_t found = history.size();
    for (std::size_t i = history.size(); i-- > acknowledged;) {
      if (history[i] == now) {
        found = i;
        break;
      }
    }
    REQUIRE(found < history.size());
    history.resize(found + 1);
    std::int64_t clock_ms = 1;
    if (world.chance() % 3 == 0) {  // repairs are not interrupted
      keeper.tick(clock_ms);
      vault.complete_all(keeper);
    }
    drawer.writes_left = static_cast<long>(world.chance() % 25);
    drawer.tear = world.chance() % 600;
    for (int step = 0; step < 12 && !drawer.dead; ++step) {
      if (edit_something(world, keeper.book())) history.push_back(sample::seen(keeper.book()));
      if (world.chance() % 3 != 0) keeper.tick(++clock_ms);
      while (!vault.open.empty() && world.chance() % 2 == 0) vault.complete(keeper);
      if (keeper.state().saving == Saving::saved) acknowledged = history.size() - 1;
    }
    if (!drawer.past.empty() && world.chance() % 2 == 0) {  // the browser is killed: the last seconds go
      const std::size_t lost = 1 + world.chance() % drawer.past.size();
      drawer.texts = drawer.past[drawer.past.size() - lost];
    }
  }
}

TEST_CASE("In 2000 random lives with kills, nothing that was called saved is lost and no edit is halved") {
  for (std::uint64_t seed = 1; seed <= 2000; ++seed) live_and_die(seed);
}

}  // namespace
}  // namespace saltrafter::book
