#include <doctest/doctest.h>

#include <fstream>
#include <sstream>

#include "core/share/share.h"
#include "tests/unit/book/random_values.h"
#include "tests/unit/book/samples.h"

namespace saltrafter::share {
namespace {

using book::sample::World;

std::string fixture(const char* name) {
  std::ifstream in(std::string(SALTRAFTER_SOURCE_DIR "/tests/fixtures/") + name, std::ios::binary);
  std::stringstream out;
  out << in.rdbuf();
  return out.str();
}

std::string replaced(std::string text, const std::string& from, const std::string& to) {
  const std::size_t at = text.find(from);
  REQUIRE(at != std::string::npos);
  return text.replace(at, from.size(), to);
}

TEST_CASE("A recipe file is read back equal and written again byte for byte the same") {
  World world;
  const recipe::Recipe recipe = book::sample::recipe(world);
  const auto text = write_recipe_file(recipe);
  REQUIRE(text.ok());
  CHECK(text.value().rfind("{\n  \"format\": \"saltrafter.recipe\",\n  \"schema\": 1,\n  \"minReader\": 1,\n", 0) == 0);
  CHECK(text.value().back() == '\n');
  const auto file = read_recipe_file(text.value());
  REQUIRE(file.ok());
  CHECK(file.value().recipe == recipe);
  CHECK_FALSE(file.value().read_only);
  CHECK(write_recipe_file(file.value().recipe, file.value().data).value() == text.value());
}

TEST_CASE("Members that this program does not know go through a file, a book and a file again") {
  World world;
  std::string text = write_recipe_file(book::sample::recipe(world)).value();
  text = replaced(text, "\"note\":", "\"smoke_h\": 12.50,\n    \"note\":");
  const auto file = read_recipe_file(text);
  REQUIRE(file.ok());
  book::Book book(world.ports());
  book::EditBuilder edit(book, "edit.keep");
  const Id id = edit.create(book::Kind::recipe, file.value().data);
  REQUIRE(book.apply(edit.done()).ok());
  CHECK(write_recipe_file(*book.recipe(id), book.find(id)->data).value() == text);
}

TEST_CASE("A recipe with more ingoing nitrite than any method allows is not written") {
  World world;
  recipe::Recipe recipe = book::sample::recipe(world);
  recipe.lines[3].amount = 625.0;
  CHECK(write_recipe_file(recipe).ok());
  recipe.lines[3].amount = 625.1;
  const auto text = write_recipe_file(recipe);
  REQUIRE_FALSE(text.ok());
  CHECK(text.error().code == ErrorCode::refused);
  CHECK(text.error().field == "nitrite_ceiling");
}

TEST_CASE("A bad recipe file gives one error that says what, where and what would be right") {
  World world;
  const std::string good = write_recipe_file(book::sample::recipe(world)).value();
  struct Row {
    std::string text;
    ErrorCode code;
    std::string field;
    int line;
    std::string expected;
  };
  const std::vector<Row> rows = {
      {"", ErrorCode::cut_off, "", 1, "{"},
      {"[1]", ErrorCode::wrong_format, "format", 1, "saltrafter.recipe"},
      {"{\"format\":\"saltrafter.book\",\"schema\":1}", ErrorCode::wrong_format, "format", 1, "saltrafter.recipe"},
      {replaced(good, "\"schema\": 1", "\"schema\": \"1\""), ErrorCode::wrong_type, "schema", 3, "whole number"},
      {replaced(good, "\"minReader\": 1,", ""), ErrorCode::missing, "minReader", 1, "whole number"},
      {replaced(good, "amount_g_per_kg\": 27.5", "amount_oz\": 27.5"), ErrorCode::unknown_unit, "recipe/lines/2/amount_oz",
       39, "amount_g_per_kg"},
      {replaced(good, "27.5", "\"much\""), ErrorCode::wrong_type, "recipe/lines/2/amount_g_per_kg", 39, "number"},
      {replaced(good, "27.5", "-1"), ErrorCode::out_of_range, "recipe/lines/2/amount_g_per_kg", 39, ""},
      {replaced(good, "27.5", "1e300"), ErrorCode::out_of_range, "recipe/lines/2/amount_g_per_kg", 39, ""},
      {replaced(good, "27.5", "1e999"), ErrorCode::out_of_range, "recipe/lines/2/amount_g_per_kg", 39, "1e308"},
      {replaced(good, "27.5", "27,5"), ErrorCode::not_json, "recipe/lines/2", 39, "JSON"},
      {replaced(good, "\"salt\"", "\"pepper\""), ErrorCode::unknown_value, "recipe/lines/2/kind", 35,
       "meat, salt, cure, additive, culture"},
      {replaced(good, "\"name\": \"Fennel", "\"name\": \"x\",\n    \"name\": \"Fennel"), ErrorCode::duplicate_key,
       "recipe/name", 7, ""},
      {replaced(good, "\"casing_diameter_m\": 0.055", "\"casing_diameter_m\": 55"), ErrorCode::out_of_range,
       "recipe/casing_diameter_m", 14, ""},
      {replaced(good, "\"lines\": [", "\"lines\": [ 7,"), ErrorCode::wrong_type, "recipe/lines/0", 16, "object"},
  };
  for (const Row& row : rows) {
    CAPTURE(row.field);
    CAPTURE(row.text.substr(0, 60));
    const auto file = read_recipe_file(row.text);
    REQUIRE_FALSE(file.ok());
    CHECK(file.error().code == row.code);
    CHECK(file.error().field == row.field);
    CHECK(book::found_in_text(file.error()).line == row.line);
    CHECK(file.error().expected == row.expected);
  }
  CHECK(read_recipe_file(std::string((1 << 20) + 1, ' ')).error().code == ErrorCode::too_large);
}

TEST_CASE("A recipe file cut off anywhere is one error, and whichever byte is broken nothing worse happens") {
  World world;
  const std::string good = write_recipe_file(book::sample::recipe(world)).value();
  for (std::size_t length = 0; length + 2 < good.size(); ++length) {
    CAPTURE(length);
    const auto file = read_recipe_file(std::string_view(good).substr(0, length));
    REQUIRE_FALSE(file.ok());
    REQUIRE(file.error().code == ErrorCode::cut_off);
  }
  for (std::size_t place = 0; place < good.size(); ++place) {
    for (const char broken : {'\0', '"', '{', ']', '9', '\xFF', '\n'}) {
      std::string bad = good;
      bad[place] = broken;
      const auto file = read_recipe_file(bad);
      if (!file.ok()) continue;
      const auto again = write_recipe_file(file.value().recipe, file.value().data);
      if (again.ok()) {
        REQUIRE(read_recipe_file(again.value()).ok());
      } else {
        REQUIRE(again.error().code == ErrorCode::refused);
      }
    }
  }
}

TEST_CASE("A recipe file of a newer schema opens for looking, understood or not") {
  World world;
  std::string text = replaced(write_recipe_file(book::sample::recipe(world)).value(), "\"schema\": 1", "\"schema\": 2");
  CHECK_FALSE(read_recipe_file(text).value().read_only);
  text = replaced(text, "\"minReader\": 1", "\"minReader\": 2");
  const auto understood = read_recipe_file(text);
  REQUIRE(understood.ok());
  CHECK(understood.value().read_only);
  CHECK(understood.value().recipe.lines.size() == 6);
  CHECK(understood.value().text == text);
  const auto glimpsed = read_recipe_file(replaced(text, "\"amount_g_per_kg\": 27.5", "\"dose\": [1, 2]"));
  REQUIRE(glimpsed.ok());
  CHECK(glimpsed.value().read_only);
  CHECK(glimpsed.value().recipe.name == "Fennel salami");
}

TEST_CASE("A random recipe goes to a friend whole, save whose packet the mix is, and comes back the same") {
  book::sample::Dice dice(21);
  int written = 0;
  for (int i = 0; i < 300; ++i) {
    CAPTURE(i);
    const recipe::Recipe recipe = book::sample::random_recipe(dice);
    const auto text = write_recipe_file(recipe);
    if (!text.ok()) {
      REQUIRE(text.error().code == ErrorCode::refused);
      continue;
    }
    ++written;
    const auto file = read_recipe_file(text.value());
    REQUIRE_MESSAGE(file.ok(), file.error().field);
    recipe::Recipe friends = recipe;
    friends.mix.supply.clear();
    // Line feeds are left out of names.
    for (std::string* name : {&friends.name, &friends.mix.name, &friends.casing}) std::erase(*name, '\n');
    for (recipe::Line& line : friends.lines) {
      std::erase(line.name, '\n');
      std::erase(line.material, '\n');
    }
    REQUIRE(file.value().recipe == friends);
    const auto again = write_recipe_file(file.value().recipe, file.value().data);
    REQUIRE(again.ok());
    REQUIRE(read_recipe_file(again.value()).value().data == file.value().data);
  }
  CHECK(written > 250);
}

TEST_CASE("Neither revisions nor the maker's own packet go out with a recipe, nor come in with one") {
  World world;
  book::Book book(world.ports());
  recipe::Recipe recipe = book::sample::recipe(world);
  recipe.mix.supply = "bbbbbbbbbbbbbbbb";
  const Id id = book::sample::add_recipe(book, recipe);
  recipe.lines[2].amount = 29.0;
  REQUIRE(book.apply(book::EditBuilder(book, "edit.salt").revise(id, recipe, "milder").done()).ok());
  REQUIRE(book.find(id)->data.find("\"revisions\"") != std::string::npos);
  const std::string text = write_recipe_file(*book.recipe(id), book.find(id)->data).value();
  for (const char* own : {"revisions", "milder", "supply", "bbbbbbbbbbbbbbbb"}) {
    CAPTURE(own);
    CHECK(text.find(own) == std::string::npos);
  }
  // A file that somebody wrote with both.
  std::string with = replaced(text, "\"note\":", "\"revisions\": [],\n    \"note\":");
  with = replaced(with, "\"nitrite_share\"", "\"supply\": \"bbbbbbbbbbbbbbbb\",\n      \"nitrite_share\"");
  const auto file = read_recipe_file(with);
  REQUIRE(file.ok());
  CHECK(file.value().recipe.mix.supply.empty());
  CHECK(file.value().data.find("supply") == std::string::npos);
  CHECK(file.value().data.find("revisions") == std::string::npos);
}

TEST_CASE("A recipe is written where its sheet may be used, whatever salt its nitrite is of") {
  World world;
  int refused = 0;
  for (const double dose : {100.0, 400.0, 624.0, 625.0, 625.5, 900.0}) {
    for (const bool potassium : {false, true}) {
      recipe::Recipe recipe = book::sample::recipe(world);
      recipe.mix.nitrite = 0.5;
      recipe.mix.potassium_nitrite = potassium;
      recipe.lines[3].amount = dose;
      const auto sheet = recipe::scale(recipe, Grams(1000.0));
      REQUIRE(sheet.ok());
      const bool allowed = recipe::may_be_used(sheet.value()).ok();
      CHECK(write_recipe_file(recipe).ok() == allowed);
      if (!allowed) ++refused;
    }
  }
  CHECK(refused >= 4);
}

TEST_CASE("Control characters and marks that turn text around do not come in with a friend's recipe") {
  World world;
  recipe::Recipe recipe = book::sample::recipe(world, "Sa\xE2\x80\xAElami\x01\n!");
  recipe.note = "one\ntwo\xE2\x81\xA6";
  recipe.casing = "ho\x02g";
  recipe.lines[0].material = "pork\x7F_shoulder";
  recipe.steps.resize(1);
  recipe.steps[0].id = make_id(world.ports());
  recipe.steps[0].words = "co\x03ld\nhands\xE2\x80\xAE";
  const auto file = read_recipe_file(write_recipe_file(recipe).value());
  REQUIRE(file.ok());
  CHECK(file.value().recipe.name == "Salami!");
  CHECK(file.value().recipe.note == "one\ntwo");
  CHECK(file.value().recipe.casing == "hog");
  CHECK(file.value().recipe.lines[0].material == "pork_shoulder");
  CHECK(file.value().recipe.steps[0].words == "cold\nhands");
  CHECK(file.value().data.find("Salami!") != std::string::npos);
}

TEST_CASE("A book file holds the whole book: restored elsewhere it is the same, written again it is equal") {
  World world;
  book::Book book(world.ports());
  const recipe::Recipe recipe = book::sample::recipe(world);
  const Id id = book::sample::add_recipe(book, recipe);
  book::EditBuilder edit(book, "edit.hang");
  edit.create(book::sample::batch(world, id, recipe));
  REQUIRE(book.apply(edit.done()).ok());
  const Id gone = book::sample::add_recipe(book, recipe);
  REQUIRE(book.apply(book::EditBuilder(book, "edit.remove").remove(gone).done()).ok());
  REQUIRE(book::sample::rename(book, id, "Renamed"));
  const std::string text = write_book_file(book);
  const auto file = read_book_file(text);
  REQUIRE(file.ok());
  CHECK(file.value().records.size() == 3);
  CHECK(write_book_file(book::Book(world.ports(), "", file.value().records)) == text);
  book::Book other(world.ports());
  for (const book::Edit& part : restore(other, file.value())) REQUIRE(other.apply(part).ok());
  CHECK(book::sample::seen(other) == book::sample::seen(book));
  CHECK(restore(other, file.value()).empty());
  REQUIRE(other.undo().ok());
  CHECK(book::sample::seen(other).empty());
  const auto bad = read_book_file(replaced(text, "\"hung_g\"", "\"hung_lb\""));
  REQUIRE_FALSE(bad.ok());
  CHECK(bad.error().code == ErrorCode::unknown_unit);
}

TEST_CASE("The kept sample files of schema 1 open for ever") {
  const auto recipe = read_recipe_file(fixture("schema1.recipe.saltrafter.json"));
  REQUIRE(recipe.ok());
  CHECK(recipe.value().recipe.name == "Fennel salami");
  CHECK(recipe.value().recipe.lines.size() == 6);
  CHECK(write_recipe_file(recipe.value().recipe, recipe.value().data).value() ==
        fixture("schema1.recipe.saltrafter.json"));
  const auto file = read_book_file(fixture("schema1.book.saltrafter.json"));
  REQUIRE(file.ok());
  World world;
  const book::Book book(world.ports(), "", file.value().records);
  REQUIRE(book.ids(book::Kind::batch).size() == 1);
  CHECK(book.batch(book.ids(book::Kind::batch)[0])->weighings.size() == 1);
  const std::string slot = fixture("schema1.slot");
  const auto read = book::read_slot(slot);
  REQUIRE(read.ok());
  CHECK(book::record_of(read.value()).ok());
}

TEST_CASE("The kept sample files with method, stages and evidence open for ever and are written as they are") {
  const std::string recipe_text = fixture("schema1.method.recipe.saltrafter.json");
  const auto recipe = read_recipe_file(recipe_text);
  REQUIRE(recipe.ok());
  CHECK(recipe.value().recipe.steps.size() == 8);
  CHECK(recipe.value().recipe.stages.size() == 3);
  CHECK(recipe.value().recipe.wanted_ph == std::optional<double>(5.1));
  CHECK(recipe.value().recipe.lines[6].packet->holds.value == 25.0);
  CHECK(recipe.value().recipe.lines[4].parts->water_g == 0.86);
  CHECK(recipe.value().recipe.mix.potassium_nitrite);
  CHECK(write_recipe_file(recipe.value().recipe, recipe.value().data).value() == recipe_text);
  const std::string book_text = fixture("schema1.method.book.saltrafter.json");
  const auto file = read_book_file(book_text);
  REQUIRE(file.ok());
  World world;
  world.now_ms = 1793700000000 + 86400000;  // the day on which it was saved
  book::Book book(world.ports(), "", file.value().records);
  CHECK(write_book_file(book) == book_text);
  CHECK(book.supplies().size() == 3);
  CHECK(book.settings().chosen == safety::Chosen::eu);
  CHECK(book.settings().own_limits.size() == 2);
  int revisions = 0;
  for (const Id& id : book.ids(book::Kind::recipe)) revisions += static_cast<int>(book.revisions(id).size());
  CHECK(revisions == 1);
  int hung = 0;
  for (const Id& id : book.ids(book::Kind::batch)) {
    const plan::Batch batch = *book.batch(id);
    hung += batch.hung ? 1 : 0;
    CHECK(batch.evidence.readings.size() == (batch.hung ? 5 : 0));
    CHECK(batch.weighed.size() == (batch.hung ? 4 : 2));
    // Put back as it was read, nothing changes.
    CHECK(book.apply(book::EditBuilder(book, "edit.same").put(id, batch).done()).ok());
    CHECK(book.find(id)->stamps.empty());
  }
  CHECK(hung == 1);
  CHECK(write_book_file(book) == book_text);
  const auto slot = book::read_slot(fixture("schema1.method.slot"));
  REQUIRE(slot.ok());
  CHECK(book::record_of(slot.value()).ok());
}

TEST_CASE("A fault in any typed record of a book file is named by its path and line") {
  const std::string good = fixture("schema1.method.book.saltrafter.json");
  struct Row {
    const char* from;
    const char* to;
    const char* field_end;
  };
  for (const Row& row : {Row{"\"kind\": \"casing\"", "\"kind\": \"sack\"", "/data/kind"},
                         Row{"\"rules\": \"eu\"", "\"rules\": \"uk\"", "/data/rules"},
                         Row{"\"until\": \"2026-", "\"until\": \"x", "/data/revisions/0/until"},
                         Row{"\"value_aw\"", "\"value_ph\"", "/data/evidence/readings/4/value_ph"}}) {
    CAPTURE(row.from);
    const auto bad = read_book_file(replaced(good, row.from, row.to));
    REQUIRE_FALSE(bad.ok());
    const std::string& field = bad.error().field;
    const std::string end = row.field_end;
    CHECK(field.rfind("records/", 0) == 0);
    CHECK((field.size() > end.size() && field.compare(field.size() - end.size(), end.size(), end) == 0));
    CHECK(book::found_in_text(bad.error()).line > 1);
  }
}

TEST_CASE("File names keep to letters, digits, space, line and hyphen") {
  CHECK(file_name("Fennel salami", "recipe") == "Fennel salami.saltrafter.json");
  CHECK(file_name("../../etc/passwd", "recipe") == "etc-passwd.saltrafter.json");
  CHECK(file_name("Gr\xC3\xB6\xC3\x9F""e: 5/6", "recipe") == "Gr-e-5-6.saltrafter.json");
  CHECK(file_name("\xE8\x85\xB8", "recipe") == "recipe.saltrafter.json");
  CHECK(file_name("CON", "recipe") == "CON_.saltrafter.json");
  CHECK(file_name(std::string(200, 'a'), "recipe", ".svg").size() == 64);
}

TEST_CASE("The report holds the sheet, the findings and the forecast, twice the same, and errors where there are any") {
  World world;
  book::Book book(world.ports());
  const auto starters = recipe::starter_recipes(world.ports());
  book::EditBuilder edit(book, "edit.first");
  const Id recipe = edit.create(starters[0]);
  book::Settings settings = book.settings();
  book::set_meat_on_tray(settings, recipe, Grams(4200.125));
  edit.put(settings);
  plan::Batch batch = book::sample::batch(world, {}, starters[0]);
  const Date today = parse_iso_date("2026-11-25").value();
  batch.evidence.acts.push_back({make_id(world.ports()), {}, safety::Standing::held, today, "warm overnight", {}});
  edit.create(batch);
  REQUIRE(book.apply(edit.done()).ok());
  const std::string text = report(book, today);
  ReportTask task(book, today);
  int steps = 0;
  for (int last = 0; !task.finished(); ++steps) {
    task.step();
    CHECK(task.progress().done >= last);
    last = task.progress().done;
    CHECK(last <= task.progress().total);
  }
  CHECK(steps > 10);
  CHECK(task.text() == text);
  const auto tree = book::read_tree(text, book::kBookLimits);
  REQUIRE(tree.ok());
  const book::Node* batches = tree.value().find("batches");
  REQUIRE(batches != nullptr);
  REQUIRE(batches->items.size() == 1);
  CHECK(batches->items[0].find("standing")->text == "held");
  CHECK_FALSE(batches->items[0].find("held_by_itself")->boolean);
  const book::Node* recipes = tree.value().find("recipes");
  REQUIRE(recipes != nullptr);
  REQUIRE(recipes->items.size() == 1);
  const book::Node& one = recipes->items[0];
  REQUIRE(one.find("sheet") != nullptr);
  CHECK(one.find("sheet")->find("meat_g")->number == 4200.125);
  CHECK(one.find("workings")->find("nitrite.ingoing_mg_per_kg") != nullptr);
  CHECK(one.find("findings")->items.size() > 3);
  int packets = 0;
  for (const book::Node& finding : one.find("findings")->items) {
    if (finding.find("rule")->text != "mix_as_packet") continue;
    ++packets;
    REQUIRE(finding.find("advice") != nullptr);
    CHECK(finding.find("advice")->text == "bind_mix");
    REQUIRE(finding.find("about") != nullptr);
    CHECK(finding.find("stop_kind") == nullptr);
  }
  CHECK(packets == 1);
  REQUIRE(one.find("findings")->items[0].find("stop_kind") != nullptr);
  CHECK(one.find("findings")->items[0].find("stop_kind")->text == "outright");
  const book::Node& hung = tree.value().find("batches")->items[0];
  REQUIRE(hung.find("forecast") != nullptr);
  REQUIRE(hung.find("forecast")->find("pieces") != nullptr);
  CHECK(hung.find("forecast")->find("pieces")->items.size() == 3);
  CHECK(hung.find("forecast")->find("curve")->items.size() > 100);
  const FileReport same = report_of_file(write_book_file(book), today);
  CHECK(same.ok);
  CHECK(same.text == text);
  const FileReport of_recipe = report_of_file(write_recipe_file(starters[0]).value(), today);
  CHECK(of_recipe.ok);
  const FileReport bad = report_of_file("{\"format\":\"saltrafter.recipe\",\n\"schema\":1", today);
  CHECK_FALSE(bad.ok);
  CHECK(bad.text.find("\"code\": \"cut_off\"") != std::string::npos);
  CHECK(bad.text.find("\"line\": 2") != std::string::npos);
  CHECK_FALSE(report_of_file("{\"format\":\"other\"}", today).ok);
}

TEST_CASE("The report of a batch goes by what was put in, and a batch that does not hang has no drying in it") {
  World world;
  book::Book book(world.ports());
  const auto starters = recipe::starter_recipes(world.ports());
  plan::Batch batch = book::sample::batch(world, {}, starters[0]);
  batch.hung = false;
  for (const recipe::Line& line : starters[0].lines) {
    if (line.kind == recipe::LineKind::salt) batch.weighed.push_back({line.id, Grams(123.0), 0, ""});
  }
  REQUIRE(batch.weighed.size() == 1);
  book::EditBuilder edit(book, "edit.begin");
  edit.create(batch);
  book::Settings settings;
  settings.chosen = safety::Chosen::eu;
  settings.scales.coarse_step = Grams(5.0);
  edit.put(settings);
  REQUIRE(book.apply(edit.done()).ok());
  const Date today = parse_iso_date("2026-11-25").value();
  const auto tree = book::read_tree(report(book, today), book::kBookLimits);
  REQUIRE(tree.ok());
  const book::Node& one = tree.value().find("batches")->items[0];
  CHECK_FALSE(one.find("hung")->boolean);
  for (const char* absent : {"forecast", "hung_on", "pieces"}) CHECK(one.find(absent) == nullptr);
  REQUIRE(one.find("sheet") != nullptr);
  const auto expected = plan::sheet_of(batch, {{}, settings.scales, {}});
  REQUIRE(expected.ok());
  CHECK(one.find("sheet")->find("total_g")->number == expected.value().total.value);
  // Of what is ingoing the rules decide that the settings name.
  int decided = 0;
  for (const book::Node& finding : one.find("findings")->items) {
    if (finding.find("rule")->text != "nitrite_ingoing" || !finding.find("decides")->boolean) continue;
    CHECK(finding.find("row")->text.rfind("eu.", 0) == 0);
    ++decided;
  }
  CHECK(decided > 0);
}

TEST_CASE("A picture as SVG has its size in millimetres, its texts escaped and colours mixed into the ground") {
  figure::Figure figure;
  figure.width_mm = 100;
  figure.height_mm = 62.5;
  figure.items.push_back(figure::Line{{{0, 0}, {10, 5.12345}}, 0.25, figure::of(figure::Ink::ink), 1.0, 0.5, false});
  figure.items.push_back(figure::Area{{{0, 0}, {1, 0}, {1, 1}}, figure::of(figure::Ink::accent, 0.5)});
  figure::Mark mark;
  mark.at = {3, 4};
  mark.radius_mm = 1;
  mark.line = figure::of(figure::Ink::ink);
  mark.fill = figure::meat(0.5);
  figure.items.push_back(mark);
  figure::Label label;
  label.at = {5, 6};
  label.text = "a < b & \"c\"";
  label.size_mm = 3;
  figure.items.push_back(label);
  const std::string text = svg(figure, paper_palette(), "Loss");
  CHECK(text.find("width=\"100mm\" height=\"62.5mm\" viewBox=\"0 0 100 62.5\"") != std::string::npos);
  CHECK(text.find("points=\"0,0 10,5.123\"") != std::string::npos);
  CHECK(text.find("fill=\"#89A59D\"") != std::string::npos);
  CHECK(text.find("fill=\"#A4504A\"") != std::string::npos);
  CHECK(text.find(">a &lt; b &amp; &quot;c&quot;</text>") != std::string::npos);
  CHECK(text.find("<title>Loss</title>") != std::string::npos);
}

}  // namespace
}  // namespace saltrafter::share
