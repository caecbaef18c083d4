#include <doctest/doctest.h>

#include "tests/unit/book/samples.h"

namespace saltrafter::book {
namespace {

using sample::Drawer;
using sample::Vault;
using sample::World;

constexpr SaveState kNothingYet{Saving::nothing_yet, Trouble::none};
constexpr SaveState kSaving{Saving::saving, Trouble::none};
constexpr SaveState kSaved{Saving::saved, Trouble::none};

std::size_t our_slots(const Drawer& drawer) {
  std::size_t count = 0;
  for (const auto& entry : drawer.texts) count += entry.first.rfind("saltrafter:d:", 0) == 0 ? 1U : 0U;
  return count;
}

TEST_CASE("Saved is shown only when both stores hold the edit") {
  World world;
  Drawer drawer;
  Vault vault;
  Keeper keeper(world.ports(), drawer.store(), vault.store(), 0);
  CHECK(keeper.state() == kNothingYet);
  keeper.loaded({});
  CHECK(keeper.state() == kNothingYet);
  const Id id = sample::add_recipe(keeper.book(), sample::recipe(world));
  CHECK(keeper.state() == kSaving);
  keeper.tick(10);
  CHECK(our_slots(drawer) == 1);
  CHECK(vault.texts.empty());
  CHECK(keeper.state() == kSaving);
  REQUIRE(vault.open.size() == 1);
  sample::rename(keeper.book(), id, "Other");
  keeper.tick(20);
  vault.complete(keeper);
  CHECK(keeper.state() == kSaving);
  vault.complete(keeper);
  CHECK(keeper.state() == kSaved);
  for (const auto& entry : vault.texts) CHECK(drawer.texts.at(entry.first) == entry.second);
  CHECK(our_slots(drawer) == vault.texts.size());
}

TEST_CASE("A store alone is enough where the host has only one") {
  World world;
  Drawer drawer;
  Keeper keeper(world.ports(), drawer.store(), {}, 0);
  sample::add_recipe(keeper.book(), sample::recipe(world));
  keeper.tick(1);
  CHECK(keeper.state() == kSaved);
}

TEST_CASE("Edits made before the second store answers are held and made on the newest generation") {
  World world;
  Drawer drawer;
  Vault vault;
  Id id;
  {
    Keeper keeper(world.ports(), drawer.store(), vault.store(), 0);
    keeper.loaded({});
    id = sample::add_recipe(keeper.book(), sample::recipe(world));
    keeper.tick(1);
    const Drawer early = drawer;
    recipe::Recipe recipe = *keeper.book().recipe(id);
    recipe.casing_diameter = Metres(0.08);
    recipe.lines[4].amount = 3.5;
    REQUIRE(keeper.book().apply(EditBuilder(keeper.book(), "edit.casing").put(id, recipe).done()).ok());
    keeper.tick(2);
    vault.complete_all(keeper);
    CHECK(keeper.state() == kSaved);
    drawer = early;  // killed: the first store loses its last seconds
  }
  Keeper keeper(world.ports(), drawer.store(), vault.store(), 0);
  CHECK(keeper.book().recipe(id)->casing_diameter.value == 0.055);
  recipe::Recipe recipe = *keeper.book().recipe(id);
  recipe.name = "Held";
  recipe.lines[2].amount = 30;
  REQUIRE(keeper.book().apply(EditBuilder(keeper.book(), "edit.name").put(id, recipe).done()).ok());
  const std::string first_before = drawer.texts[slot_key(id, 0)] + drawer.texts[slot_key(id, 1)];
  keeper.tick(100);
  CHECK(keeper.state() == kSaving);
  CHECK(drawer.texts[slot_key(id, 0)] + drawer.texts[slot_key(id, 1)] == first_before);
  keeper.loaded(vault.slots());
  const auto now = keeper.book().recipe(id);
  CHECK(now->name == "Held");
  CHECK(now->lines[2].amount == 30);
  CHECK(now->casing_diameter.value == 0.08);
  CHECK(now->lines[4].amount == 3.5);
  CHECK(keeper.book().can_undo() == std::optional<std::string>("edit.name"));
  keeper.tick(200);
  vault.complete_all(keeper);
  CHECK(keeper.state() == kSaved);
  Keeper again(world.ports(), drawer.store(), {}, 0);
  CHECK(*again.book().recipe(id) == *now);
}

TEST_CASE("Without an answer in three seconds the state is not saved, work goes on, and a late answer heals it") {
  World world;
  Drawer drawer;
  Vault vault;
  Keeper keeper(world.ports(), drawer.store(), vault.store(), 1000);
  const Id a = sample::add_recipe(keeper.book(), sample::recipe(world, "A"));
  keeper.tick(3999);
  CHECK(keeper.state() == kSaving);
  CHECK(our_slots(drawer) == 0);
  keeper.tick(4000);
  CHECK(keeper.state() == SaveState{Saving::not_saved, Trouble::no_answer});
  CHECK(our_slots(drawer) == 1);
  sample::rename(keeper.book(), a, "A2");
  keeper.tick(5000);
  CHECK(our_slots(drawer) == 2);
  CHECK(vault.open.empty());
  const std::string seen = sample::seen(keeper.book());
  keeper.loaded({});
  vault.complete_all(keeper);
  CHECK(keeper.state() == kSaved);
  CHECK(sample::seen(keeper.book()) == seen);
  Drawer empty;
  Keeper again(world.ports(), empty.store(), vault.store(), 0);
  again.loaded(vault.slots());
  CHECK(sample::seen(again.book()) == seen);
}

TEST_CASE("A full or forbidden store is said, the older slots stay whole, and the edit is saved when there is room") {
  for (const Stored answer : {Stored::full, Stored::denied}) {
    World world;
    Drawer drawer;
    Vault vault;
    Keeper keeper(world.ports(), drawer.store(), vault.store(), 0);
    keeper.loaded({});
    const Id id = sample::add_recipe(keeper.book(), sample::recipe(world, "A"));
    keeper.tick(1);
    vault.complete_all(keeper);
    const auto before = drawer.texts;
    drawer.answer = answer;
    sample::rename(keeper.book(), id, "B");
    keeper.tick(2);
    const Trouble trouble = answer == Stored::full ? Trouble::full : Trouble::denied;
    CHECK(keeper.state() == SaveState{Saving::not_saved, trouble});
    CHECK(drawer.texts == before);
    drawer.answer = Stored::ok;
    keeper.tick(2 + kRetryMs);
    vault.complete_all(keeper);
    CHECK(keeper.state() == kSaved);
    Keeper again(world.ports(), drawer.store(), {}, 0);
    CHECK(again.book().recipe(id)->name == "B");
  }
}

TEST_CASE("The next deadline is that of the silent store or of the next try, and none when all is kept") {
  World world;
  Drawer drawer;
  Vault vault;
  Keeper keeper(world.ports(), drawer.store(), vault.store(), 1000);
  CHECK(keeper.next_deadline() == 1000 + kAnswerMs);
  keeper.loaded({});
  CHECK(keeper.next_deadline() == std::nullopt);
  const Id id = sample::add_recipe(keeper.book(), sample::recipe(world, "A"));
  CHECK(keeper.next_deadline() == 1000);
  drawer.answer = Stored::full;
  keeper.tick(2000);
  CHECK(keeper.next_deadline() == 2000 + kRetryMs);
  drawer.answer = Stored::ok;
  keeper.tick(*keeper.next_deadline());
  REQUIRE(vault.open.size() == 1);
  CHECK(keeper.next_deadline() == std::nullopt);  // the transaction answers by itself
  keeper.put_done(vault.open[0].first, false);
  vault.open.clear();
  CHECK(keeper.next_deadline() == 3000 + kRetryMs);
  keeper.tick(*keeper.next_deadline());
  vault.complete_all(keeper);
  CHECK(keeper.state() == kSaved);
  CHECK(keeper.next_deadline() == std::nullopt);
  // Another window has written a newer generation: nothing more is written from here, nothing is waited for.
  Keeper other(world.ports(), drawer.store(), {}, 0);
  sample::rename(other.book(), id, "B");
  other.tick(1);
  sample::rename(keeper.book(), id, "C");
  keeper.tick(4001);
  CHECK(keeper.state() == SaveState{Saving::not_saved, Trouble::changed_elsewhere});
  CHECK(keeper.next_deadline() == std::nullopt);
}

TEST_CASE("A store that takes nothing is known before anything is typed") {
  World world;
  Drawer drawer;
  drawer.answer = Stored::denied;
  Vault vault;
  Keeper keeper(world.ports(), drawer.store(), vault.store(), 0);
  CHECK(keeper.state() == SaveState{Saving::not_saved, Trouble::denied});
}

TEST_CASE("A transaction that fails is tried again") {
  World world;
  Drawer drawer;
  Vault vault;
  Keeper keeper(world.ports(), drawer.store(), vault.store(), 0);
  keeper.loaded({});
  sample::add_recipe(keeper.book(), sample::recipe(world));
  keeper.tick(1);
  keeper.put_done(vault.open[0].first, false);
  vault.open.clear();
  CHECK(keeper.state() == SaveState{Saving::not_saved, Trouble::second_failed});
  keeper.tick(2);
  CHECK(vault.open.empty());
  keeper.tick(2 + kRetryMs);
  REQUIRE(vault.open.size() == 1);
  vault.complete_all(keeper);
  CHECK(keeper.state() == kSaved);
}

TEST_CASE("Newer generations written by another window are not written over") {
  World world;
  Drawer drawer;
  Keeper one(world.ports(), drawer.store(), {}, 0);
  const Id id = sample::add_recipe(one.book(), sample::recipe(world));
  one.tick(1);
  Keeper two(world.ports(), drawer.store(), {}, 0);
  sample::rename(two.book(), id, "Two");
  two.tick(1);
  sample::rename(one.book(), id, "One");
  one.tick(2);
  CHECK(one.state() == SaveState{Saving::not_saved, Trouble::changed_elsewhere});
  Keeper again(world.ports(), drawer.store(), {}, 0);
  CHECK(again.book().recipe(id)->name == "Two");
}

TEST_CASE("Of an edit of three records, killed at any write, all or none is found") {
  for (long writes = 0; writes <= 3; ++writes) {
    for (const std::size_t tear : {std::size_t{0}, std::size_t{30}, std::size_t{400}, std::size_t{100000}}) {
      CAPTURE(writes);
      CAPTURE(tear);
      World world;
      Drawer drawer;
      std::string before;
      std::string after;
      {
        Keeper keeper(world.ports(), drawer.store(), {}, 0);
        const Id a = sample::add_recipe(keeper.book(), sample::recipe(world, "A"));
        const Id b = sample::add_recipe(keeper.book(), sample::recipe(world, "B"));
        keeper.tick(1);
        before = sample::seen(keeper.book());
        EditBuilder edit(keeper.book(), "edit.three");
        recipe::Recipe recipe = *keeper.book().recipe(a);
        recipe.name = "A2";
        edit.put(a, recipe).remove(b);
        edit.create(sample::recipe(world, "C"));
        REQUIRE(keeper.book().apply(edit.done()).ok());
        after = sample::seen(keeper.book());
        drawer.writes_left = writes;
        drawer.tear = tear;
        keeper.tick(2);
      }
      const bool all = writes >= 3 || (writes == 2 && tear == 100000);
      for (int reload = 0; reload < 3; ++reload) {
        drawer.dead = false;
        drawer.writes_left = -1;
        Keeper keeper(world.ports(), drawer.store(), {}, 0);
        REQUIRE(sample::seen(keeper.book()) == (all ? after : before));
        keeper.tick(1);
        // Later edits must not bring the half of it back.
        for (const Id& id : keeper.book().ids(Kind::recipe)) {
          const std::string name = keeper.book().recipe(id)->name + "+";
          REQUIRE(sample::rename(keeper.book(), id, name));
          keeper.tick(2);
        }
        before = sample::seen(keeper.book());
        after = before;
      }
    }
  }
}

TEST_CASE("A newer schema opens for looking and its slots stay as they are, byte for byte") {
  World world;
  Drawer drawer;
  Vault vault;
  Slot slot;
  slot.kind = "recipe";
  slot.id = make_id(world.ports());
  slot.generation = 7;
  slot.schema = 3;
  slot.min_reader = 2;
  slot.edit = make_id(world.ports());
  slot.saved_at = "2031-01-01T00:00:00Z";
  slot.payload = R"({"data":{"name":"Later","amounts":"elsewhere"},"signed":true})";
  drawer.texts[slot_key(slot.id, 1)] = write_slot(slot);
  Slot other = slot;
  other.kind = "cellar_book";
  other.id = make_id(world.ports());
  drawer.texts[slot_key(other.id, 0)] = write_slot(other);
  auto before = drawer.texts;
  Keeper keeper(world.ports(), drawer.store(), vault.store(), 0);
  keeper.loaded({});
  REQUIRE(keeper.book().find(slot.id) != nullptr);
  CHECK(keeper.book().find(slot.id)->read_only());
  CHECK_FALSE(keeper.book().apply(EditBuilder(keeper.book(), "edit.remove").remove(slot.id).done()).ok());
  sample::add_recipe(keeper.book(), sample::recipe(world));
  keeper.tick(1);
  vault.complete_all(keeper);
  CHECK(keeper.state() == kSaved);
  CHECK(keeper.damaged().empty());
  for (const auto& entry : before) CHECK(drawer.texts.at(entry.first) == entry.second);
}

TEST_CASE("A newer schema that this program may edit keeps its number and its unknown members") {
  World world;
  Drawer drawer;
  Id id;
  {
    Keeper keeper(world.ports(), drawer.store(), {}, 0);
    id = sample::add_recipe(keeper.book(), sample::recipe(world));
    keeper.tick(1);
  }
  for (auto& entry : drawer.texts) {
    const auto read = read_slot(entry.second);
    if (!read.ok()) continue;
    Slot slot = read.value();
    slot.schema = 2;
    slot.payload.insert(slot.payload.size() - 1, ",\"seen_by\":[\"b\"]");
    entry.second = write_slot(slot);
  }
  Keeper keeper(world.ports(), drawer.store(), {}, 0);
  REQUIRE(sample::rename(keeper.book(), id, "Edited"));
  keeper.tick(1);
  Keeper again(world.ports(), drawer.store(), {}, 0);
  CHECK(again.book().recipe(id)->name == "Edited");
  CHECK(again.book().find(id)->schema == 2);
  CHECK(again.book().find(id)->extra == R"({"seen_by":["b"]})");
}

TEST_CASE("Nothing that is not ours is touched, and nothing is removed") {
  World world;
  Drawer drawer;
  drawer.texts = {{"other", "1"}, {"saltrafterx:d:a:0", "2"}, {"saltrafter:d:broken:0", "torn"}};
  const auto before = drawer.texts;
  Keeper keeper(world.ports(), drawer.store(), {}, 0);
  sample::add_recipe(keeper.book(), sample::recipe(world));
  keeper.tick(1);
  CHECK(keeper.state() == kSaved);
  for (const auto& entry : before) CHECK(drawer.texts.at(entry.first) == entry.second);
}

}  // namespace
}  // namespace saltrafter::book
