#include <doctest/doctest.h>

#include "tests/unit/book/random_values.h"
#include "tests/unit/book/samples.h"

namespace saltrafter::book {
namespace {

using sample::World;

constexpr std::int64_t kDayMs = 86400000;

TEST_CASE("A supply comes back with its record's id as key, and is changed and removed like any record") {
  World world;
  Book book(world.ports());
  sample::Dice dice(3);
  std::map<Id, recipe::Supply> supplies;
  for (int i = 0; i < 5; ++i) {
    recipe::Supply supply = sample::random_supply(dice);
    EditBuilder edit(book, "edit.supply");
    const Id id = edit.create(supply);
    REQUIRE(book.apply(edit.done()).ok());
    supply.key = id.text;
    supplies[id] = supply;
  }
  recipe::Supplies expected;
  for (const auto& entry : supplies) expected.push_back(entry.second);
  CHECK(book.supplies() == expected);
  const Id first = supplies.begin()->first;
  REQUIRE(book.supply(first) != nullptr);
  CHECK(*book.supply(first) == expected[0]);
  CHECK(book.supply(first) == book.supply(first));
  expected[0].note = "another packet";
  REQUIRE(book.apply(EditBuilder(book, "edit.supply").put(first, expected[0]).done()).ok());
  CHECK(*book.supply(first) == expected[0]);
  REQUIRE(book.apply(EditBuilder(book, "edit.remove").remove(first).done()).ok());
  CHECK(book.supply(first) == nullptr);
  CHECK(book.supplies().size() == 4);
  REQUIRE(book.undo().ok());
  CHECK(book.supplies() == expected);
  const Id recipe = sample::add_recipe(book, sample::recipe(world));
  CHECK(book.supply(recipe) == nullptr);
  CHECK(book.apply(EditBuilder(book, "edit.supply").put(recipe, expected[0]).done()).error().code ==
        ErrorCode::not_found);
}

TEST_CASE("A revision keeps what the recipe was, the maker's day and the reason; the same recipe makes none") {
  World world;
  Book book(world.ports());
  const recipe::Recipe first = sample::recipe(world);
  const Id id = sample::add_recipe(book, first);
  CHECK(book.revisions(id).empty());
  CHECK(EditBuilder(book, "edit.same").revise(id, first, "nothing").done().changes.empty());
  recipe::Recipe second = first;
  second.lines[2].amount = 30.0;
  REQUIRE(book.apply(EditBuilder(book, "edit.salt").revise(id, second, "too mild").done()).ok());
  world.now_ms += 3 * kDayMs;
  recipe::Recipe third = second;
  third.stages.push_back({make_id(world.ports()), recipe::StageKind::dry, Celsius(13), {}, Days(30), {}, false});
  REQUIRE(book.apply(EditBuilder(book, "edit.stage").revise(id, third, "").done()).ok());
  CHECK(*book.recipe(id) == third);
  const std::vector<recipe::Revision> revisions = book.revisions(id);
  REQUIRE(revisions.size() == 2);
  CHECK(revisions[0].was == first);
  CHECK(revisions[0].why == "too mild");
  CHECK(revisions[1].was == second);
  CHECK(revisions[1].why.empty());
  CHECK(days_between(revisions[0].until, revisions[1].until) == 3);
  CHECK(revisions[1].until == today(world.ports()));
  CHECK_FALSE(revisions[0].id == revisions[1].id);
  // A plain change makes none and loses none.
  REQUIRE(sample::rename(book, id, "Other"));
  CHECK(book.revisions(id) == revisions);
  REQUIRE(book.undo().ok());
  REQUIRE(book.undo().ok());
  CHECK(book.revisions(id).size() == 1);
  CHECK(*book.recipe(id) == second);
}

TEST_CASE("The reason of the newest revision can be given later; where there is none it is an error") {
  World world;
  Book book(world.ports());
  const Id id = sample::add_recipe(book, sample::recipe(world));
  const auto none = book.apply(EditBuilder(book, "edit.why").explain(id, "why").done());
  REQUIRE_FALSE(none.ok());
  CHECK(none.error().code == ErrorCode::not_found);
  CHECK(none.error().field == "revisions");
  for (const double amount : {28.0, 29.0}) {
    recipe::Recipe recipe = *book.recipe(id);
    recipe.lines[2].amount = amount;
    REQUIRE(book.apply(EditBuilder(book, "edit.salt").revise(id, recipe, "first").done()).ok());
  }
  REQUIRE(book.apply(EditBuilder(book, "edit.why").explain(id, "drier").done()).ok());
  CHECK(book.revisions(id)[0].why == "first");
  CHECK(book.revisions(id)[1].why == "drier");
}

TEST_CASE("A revision is stamped alone, and keeps the members that this program does not know") {
  World world;
  Book book(world.ports());
  const Id id = sample::add_recipe(book, sample::recipe(world));
  std::string data = book.find(id)->data;
  data.insert(1, "\"smoke_h\":2.50,");
  REQUIRE(book.apply(EditBuilder(book, "edit.raw").put(id, Kind::recipe, data).done()).ok());
  for (const char* name : {"Two", "Three"}) {
    recipe::Recipe recipe = *book.recipe(id);
    recipe.name = name;
    REQUIRE(book.apply(EditBuilder(book, "edit.name").revise(id, recipe, "").done()).ok());
  }
  const Node tree = read_tree(book.find(id)->data, kRecordLimits).value();
  CHECK(tree.find("smoke_h")->text == "2.50");
  const Node* kept = tree.find("revisions");
  REQUIRE(kept != nullptr);
  REQUIRE(kept->items.size() == 2);
  for (const Node& revision : kept->items) {
    CHECK(revision.find("was")->find("smoke_h")->text == "2.50");
    CHECK(revision.find("was")->find("revisions") == nullptr);
  }
  const auto& stamps = book.find(id)->stamps;
  CHECK(stamps.count("revisions/" + kept->items[1].find("id")->text) == 1);
  CHECK(stamps.count("name") == 1);
  CHECK(stamps.count("method") == 0);
}

TEST_CASE("More revisions than a file may hold are refused, and nothing of the old ones is lost") {
  World world;
  Book book(world.ports());
  recipe::Recipe recipe;
  const Id id = sample::add_recipe(book, recipe);
  for (std::size_t i = 0; i <= kMostRevisions; ++i) {
    recipe.name = std::to_string(i);
    const auto done = book.apply(EditBuilder(book, "edit.name").revise(id, recipe, "").done());
    REQUIRE(done.ok() == (i < kMostRevisions));
    if (!done.ok()) {
      CHECK(done.error().code == ErrorCode::too_large);
      CHECK(done.error().field == "revisions");
    }
  }
  CHECK(book.revisions(id).size() == kMostRevisions);
}

TEST_CASE("A record is checked in all that is typed here: revisions, supplies and settings too") {
  World world;
  Book book(world.ports());
  const Id id = sample::add_recipe(book, sample::recipe(world));
  Record record = *book.find(id);
  REQUIRE(check_record(record).ok());
  record.data.insert(1, "\"revisions\":[{\"id\":\"aaaaaaaaaaaaaaaa\",\"until\":\"2026-11-01\",\"was\":{}}],");
  CHECK(check_record(record).error().field == "revisions/0/was/name");
  record.kind = Kind::ingredient;
  record.data = R"({"kind":"cut","name":"Neck","species":"whale"})";
  CHECK(check_record(record).error().field == "species");
  record.data = R"({"kind":"cut","name":"Neck"})";
  CHECK(check_record(record).ok());
  record.kind = Kind::settings;
  record.data = R"({"theme":"cellar","rules":"moon"})";
  CHECK(check_record(record).error().field == "rules");
  record.kind = Kind::chamber;
  CHECK(check_record(record).ok());
  record.data = "[]";
  CHECK_FALSE(check_record(record).ok());
}

TEST_CASE("Typed settings do not show among the maker's free ones, nor are they lost by them") {
  World world;
  Book book(world.ports());
  Settings settings;
  settings.values = {{"theme", "cellar"}};
  settings.chosen = safety::Chosen::us;
  settings.money = "\xE2\x82\xAC";
  REQUIRE(book.apply(EditBuilder(book, "edit.settings").put(settings).done()).ok());
  CHECK(book.settings() == settings);
  settings.values.clear();
  settings.values["look"] = "large";
  REQUIRE(book.apply(EditBuilder(book, "edit.settings").put(settings).done()).ok());
  CHECK(book.settings() == settings);
  settings.money = "more than eight characters, by a good deal";
  CHECK(book.apply(EditBuilder(book, "edit.settings").put(settings).done()).error().code == ErrorCode::too_large);
}

}  // namespace
}  // namespace saltrafter::book
