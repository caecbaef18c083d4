#include <doctest/doctest.h>

#include "tests/unit/book/samples.h"

namespace saltrafter::book {
namespace {

using sample::World;

TEST_CASE("A recipe and a batch come back from the book as they were put in") {
  World world;
  Book book(world.ports());
  const recipe::Recipe recipe = sample::recipe(world);
  const Id id = sample::add_recipe(book, recipe);
  REQUIRE(book.recipe(id) != nullptr);
  CHECK(*book.recipe(id) == recipe);
  const plan::Batch batch = sample::batch(world, id, recipe);
  EditBuilder edit(book, "edit.hang");
  const Id batch_id = edit.create(batch);
  REQUIRE(book.apply(edit.done()).ok());
  REQUIRE(book.batch(batch_id) != nullptr);
  CHECK(*book.batch(batch_id) == batch);
  CHECK(book.recipe(batch_id) == nullptr);
  CHECK(book.ids(Kind::batch) == std::vector<Id>{batch_id});
}

TEST_CASE("A record is decoded once and the pointer outlives an edit") {
  World world;
  Book book(world.ports());
  const Id id = sample::add_recipe(book, sample::recipe(world));
  const auto first = book.recipe(id);
  CHECK(first == book.recipe(id));
  REQUIRE(sample::rename(book, id, "Other"));
  CHECK(first->name == "Fennel salami");
  CHECK(book.recipe(id)->name == "Other");
}

TEST_CASE("Undo and redo restore an edit of several records as one") {
  World world;
  Book book(world.ports());
  const Id a = sample::add_recipe(book, sample::recipe(world, "A"));
  const Id b = sample::add_recipe(book, sample::recipe(world, "B"));
  const std::string before = sample::seen(book);
  EditBuilder edit(book, "edit.both");
  recipe::Recipe changed = *book.recipe(a);
  changed.lines.pop_back();
  edit.put(a, changed).remove(b);
  const Id c = edit.create(sample::recipe(world, "C"));
  REQUIRE(book.apply(edit.done()).ok());
  const std::string after = sample::seen(book);
  CHECK(book.find(b) == nullptr);
  CHECK(book.can_undo() == std::optional<std::string>("edit.both"));
  REQUIRE(book.undo().ok());
  CHECK(sample::seen(book) == before);
  CHECK(book.find(c) == nullptr);
  CHECK(book.can_redo() == std::optional<std::string>("edit.both"));
  REQUIRE(book.redo().ok());
  CHECK(sample::seen(book) == after);
  for (int i = 0; i < 3; ++i) REQUIRE(book.undo().ok());
  CHECK(sample::seen(book).empty());
  CHECK_FALSE(book.can_undo().has_value());
  CHECK(book.undo().error().code == ErrorCode::not_found);
  for (int i = 0; i < 3; ++i) REQUIRE(book.redo().ok());
  CHECK(sample::seen(book) == after);
  REQUIRE(book.undo().ok());
  REQUIRE(sample::rename(book, a, "A2"));
  CHECK_FALSE(book.can_redo().has_value());
}

TEST_CASE("A mix is split into its batches by one edit, which undo and redo take as one") {
  World world;
  Book book(world.ports());
  plan::Batch mix = sample::batch(world, {}, sample::recipe(world));
  mix.hung = false;
  mix.pieces.clear();
  mix.weighings.clear();
  EditBuilder begin(book, "edit.begin");
  const Id id = begin.create(mix);
  REQUIRE(book.apply(begin.done()).ok());
  const std::string before = sample::seen(book);
  const std::vector<plan::Batch> parts = plan::split(mix, id, {0.6, 0.4}).value();
  EditBuilder edit(book, "edit.split");
  edit.put(id, parts[0]);
  const Id other = edit.create(parts[1]);
  REQUIRE(book.apply(edit.done()).ok());
  CHECK(*book.batch(id) == parts[0]);
  CHECK(book.batch(other)->from == id);
  CHECK(book.batch(other)->meat == Grams(4200 * 0.4));
  const std::string after = sample::seen(book);
  REQUIRE(book.undo().ok());
  CHECK(sample::seen(book) == before);
  REQUIRE(book.redo().ok());
  CHECK(sample::seen(book) == after);
}

TEST_CASE("A chamber's changes come back from the book, and a cut piece's do with its batch") {
  World world;
  Book book(world.ports());
  const Date day = parse_iso_date("2026-11-20").value();
  CHECK(book.the_chamber().id.empty());
  CHECK(book.the_chamber().chamber->air.empty());
  plan::Chamber chamber{"Cellar", {}, {}};
  EditBuilder edit(book, "edit.chamber");
  const Id id = edit.create(chamber);
  plan::Batch batch = sample::batch(world, {}, sample::recipe(world));
  const Id batch_id = edit.create(batch);
  REQUIRE(book.apply(edit.done()).ok());
  const std::string before = sample::seen(book);
  chamber.changes.push_back({make_id(world.ports()), day, plan::ChamberChangeKind::cooler, "old one broke"});
  chamber.air.push_back({make_id(world.ports()), world.now_ms, Celsius(12.0), RelativeHumidity(0.78)});
  batch.events.push_back({make_id(world.ports()), batch.pieces[0].id, plan::EventKind::cut, day, Grams(1200),
                          Grams(600), ""});
  REQUIRE(book.apply(EditBuilder(book, "edit.change").put(id, chamber).put(batch_id, batch).done()).ok());
  REQUIRE(book.chamber(id) != nullptr);
  CHECK(*book.chamber(id) == chamber);
  CHECK(book.the_chamber().id == id);
  CHECK(book.the_chamber().chamber == book.chamber(id));
  CHECK(*book.batch(batch_id) == batch);
  CHECK(book.chamber(batch_id) == nullptr);
  CHECK(book.ids(Kind::chamber) == std::vector<Id>{id});
  REQUIRE(book.undo().ok());
  CHECK(sample::seen(book) == before);
  CHECK(book.chamber(id)->changes.empty());
  REQUIRE(book.redo().ok());
  CHECK(*book.batch(batch_id) == batch);
}

TEST_CASE("An edit whose record has changed meanwhile is refused and changes nothing") {
  World world;
  Book book(world.ports());
  const Id id = sample::add_recipe(book, sample::recipe(world));
  recipe::Recipe recipe = *book.recipe(id);
  recipe.name = "Late";
  const Edit late = EditBuilder(book, "edit.late").put(id, recipe).done();
  REQUIRE(sample::rename(book, id, "Early"));
  const std::string before = sample::seen(book);
  const auto done = book.apply(late);
  REQUIRE_FALSE(done.ok());
  CHECK(done.error().code == ErrorCode::refused);
  CHECK(sample::seen(book) == before);
}

TEST_CASE("What a reader would refuse is not taken into the book") {
  World world;
  Book book(world.ports());
  recipe::Recipe recipe = sample::recipe(world);
  recipe.lines[2].amount = std::numeric_limits<double>::quiet_NaN();
  EditBuilder edit(book, "edit.bad");
  edit.create(recipe);
  const auto done = book.apply(edit.done());
  REQUIRE_FALSE(done.ok());
  CHECK(done.error().field == "lines/2/amount_g_per_kg");
  CHECK(book.records().empty());
  EditBuilder unknown(book, "edit.unknown");
  unknown.put(make_id(world.ports()), sample::recipe(world));
  CHECK(book.apply(unknown.done()).error().code == ErrorCode::not_found);
}

TEST_CASE("Stamps grow strictly, though the clock stands still or goes back, and name only what changed") {
  World world;
  Book book(world.ports(), "devicedevicedevi");
  const Id id = sample::add_recipe(book, sample::recipe(world));
  CHECK(book.find(id)->stamps.empty());
  std::int64_t last = 0;
  for (int i = 0; i < 20; ++i) {
    if (i == 10) world.now_ms -= 365LL * 86400 * 1000;
    recipe::Recipe recipe = *book.recipe(id);
    const std::string line = recipe.lines[2].id.text;
    recipe.lines[2].amount += 0.5;
    REQUIRE(book.apply(EditBuilder(book, "edit.salt").put(id, recipe).done()).ok());
    const auto& stamps = book.find(id)->stamps;
    REQUIRE(stamps.size() == 1);
    REQUIRE(stamps.count("lines/" + line + "/amount_g_per_kg") == 1);
    const Stamp& stamp = stamps.begin()->second;
    CHECK(stamp.device == "devicedevicedevi");
    CHECK(stamp.ms > last);
    last = stamp.ms;
  }
  REQUIRE(book.undo().ok());
  CHECK(book.find(id)->stamps.begin()->second.ms > last);
  recipe::Recipe recipe = *book.recipe(id);
  const std::string gone = recipe.lines[0].id.text;
  recipe.lines.erase(recipe.lines.begin());
  std::swap(recipe.lines[0], recipe.lines[1]);
  recipe.casing_diameter = Metres(0.06);
  REQUIRE(book.apply(EditBuilder(book, "edit.lines").put(id, recipe).done()).ok());
  const auto& stamps = book.find(id)->stamps;
  CHECK(stamps.count("lines/" + gone) == 1);
  CHECK(stamps.count("lines") == 1);
  CHECK(stamps.count("casing_diameter_m") == 1);
  CHECK(stamps.size() == 4);
}

TEST_CASE("Members that this program does not know survive an edit, in the record, its lines and its mix") {
  World world;
  Book book(world.ports());
  const Id id = sample::add_recipe(book, sample::recipe(world));
  std::string data = book.find(id)->data;
  data.insert(1, "\"smoke\":{\"wood\":[\"beech\",1e-7]},");
  data.insert(data.find("{\"id\"") + 1, "\"grind_mm\":4.50,");
  REQUIRE(book.apply(EditBuilder(book, "edit.raw").put(id, Kind::recipe, data).done()).ok());
  recipe::Recipe recipe = *book.recipe(id);
  std::swap(recipe.lines[0], recipe.lines[3]);
  recipe.name = "Smoked";
  REQUIRE(book.apply(EditBuilder(book, "edit.move").put(id, recipe).done()).ok());
  CHECK(*book.recipe(id) == recipe);
  const std::string& now = book.find(id)->data;
  CHECK(now.find("\"smoke\":{\"wood\":[\"beech\",1e-7]}") != std::string::npos);
  CHECK(now.find("{\"grind_mm\":4.50,\"id\":\"" + recipe.lines[3].id.text) != std::string::npos);
}

TEST_CASE("A record of a newer schema can be looked at, not changed") {
  World world;
  Record record;
  record.id = make_id(world.ports());
  record.kind = Kind::recipe;
  record.schema = 2;
  record.min_reader = 2;
  record.data = R"({"name":"From later","stages":[]})";
  Book book(world.ports(), "", {std::make_shared<const Record>(record)});
  REQUIRE(book.find(record.id) != nullptr);
  CHECK(book.find(record.id)->read_only());
  CHECK(book.recipe(record.id) == nullptr);
  CHECK(book.apply(EditBuilder(book, "edit.remove").remove(record.id).done()).error().code == ErrorCode::read_only);
  CHECK(*book.find(record.id) == record);
}

TEST_CASE("Settings are one record, and a second put changes it") {
  World world;
  Book book(world.ports());
  CHECK(book.settings().values.empty());
  Settings settings;
  settings.values = {{"theme", "cellar"}, {"jurisdiction", "none"}};
  REQUIRE(book.apply(EditBuilder(book, "edit.settings").put(settings).done()).ok());
  CHECK(book.settings() == settings);
  settings.values.erase("theme");
  REQUIRE(book.apply(EditBuilder(book, "edit.settings").put(settings).done()).ok());
  CHECK(book.settings() == settings);
  CHECK(book.ids(Kind::settings).size() == 1);
}

}  // namespace
}  // namespace saltrafter::book
