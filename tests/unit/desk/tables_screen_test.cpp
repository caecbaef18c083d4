// The Shelf: words for every row of the tables, own rows through the door, rules that the findings go by.
#include <set>

#include "core/desk/table_rows.h"
#include "core/desk/whereabouts.h"
#include "tests/near.h"
#include "tests/unit/desk/machine.h"

using namespace saltrafter;
using desk::Place;
using desk::ShelfLeaf;
using desk::sample::Machine;
using parts::Role;
using recipe::SupplyKind;

namespace {

// A machine on the Shelf, with the first recipes brought.
struct OnShelf : Machine {
  explicit OnShelf(double width_px = 1440.0, double height_px = 6000.0) : Machine(width_px, height_px) {
    open();
    frames(12);
    program->session().go_to(Place::shelf);
    program->host().wake();
    frames(4);
  }
  desk::Session& session() { return program->session(); }
  const recipe::Supply supply() {
    const recipe::Supplies all = session().book.supplies();
    REQUIRE(all.size() == 1);
    return all[0];
  }
};

// Word ids that a table names itself.
template <class Rows>
void check_named(const Rows& rows) {
  for (const auto& row : rows) {
    CAPTURE(std::string(row.name));
    CHECK(words::find(row.name));
  }
}

}  // namespace

TEST_SUITE("desk/tables") {
  TEST_CASE("a text is found by the name of its id, and a name that no text has is not") {
    CHECK(words::find("undo") == words::Id::undo);
    CHECK(words::find("cut_pork_shoulder") == words::Id::cut_pork_shoulder);
    CHECK_FALSE(words::find("cut_"));
    CHECK_FALSE(words::find(""));
    CHECK_FALSE(words::find("cut_pork_shoulder_x"));
  }

  TEST_CASE("each row of the tables has its word, and no two rows of one table share it") {
    check_named(tables::cuts());
    check_named(tables::additives());
    check_named(tables::casings());
    check_named(tables::cultures());
    check_named(tables::curing_mixes());
    check_named(tables::organisms());
    int rows = 0;
    for (const desk::ReferenceTable& table : desk::reference_tables()) {
      std::set<std::string> names;
      for (const desk::ReferenceRow& row : table.rows(words::english())) {
        CAPTURE(row.key);
        CHECK_FALSE(row.name.verbatim());  // from the catalogue, not the bare key
        // Rows that are told apart by what they hold for alone say so beside their name.
        CHECK(names.insert(row.name.plain() + "; " + row.fact.plain() + row.figure.plain()).second);
        ++rows;
      }
    }
    CHECK(rows > 200);
  }

  TEST_CASE("each table of the files is among those that are shown, with all its rows") {
    const std::map<std::string, std::size_t> sizes = {{"cuts", tables::cuts().size()},
                                                      {"additives", tables::additives().size()},
                                                      {"casings", tables::casings().size()},
                                                      {"cultures", tables::cultures().size()},
                                                      {"curing_mixes", tables::curing_mixes().size()},
                                                      {"limits", tables::limits().size()},
                                                      {"degree_hours", tables::degree_hours().size()},
                                                      {"freezing", tables::freezing().size()},
                                                      {"curing_methods", tables::curing_methods().size()},
                                                      {"souring_methods", tables::souring_methods().size()},
                                                      {"heating", tables::heating().size()},
                                                      {"daily_loss", tables::daily_loss().size()},
                                                      {"organisms", tables::organisms().size()},
                                                      {"constants", tables::constants().size()},
                                                      {"salts", tables::salts().size()}};
    CHECK(desk::reference_tables().size() == sizes.size());
    for (const auto& [key, size] : sizes) {
      CAPTURE(key);
      const desk::ReferenceTable* table = desk::find_reference_table(key);
      REQUIRE(table != nullptr);
      CHECK(table->rows(words::english()).size() == size);
    }
    CHECK(desk::find_reference_table("cellars") == nullptr);
  }

  TEST_CASE("each figure of each row is written, with its source and how it is known") {
    for (const desk::ReferenceTable& table : desk::reference_tables()) {
      for (const desk::ReferenceRow& row : table.rows(words::english())) {
        CAPTURE(row.key);
        CHECK(row.figures.size() >= 1);
        for (const desk::RowFigure& figure : row.figures) {
          CHECK_FALSE(figure.name.empty());
          CHECK_FALSE(figure.value.empty());
          CHECK(figure.value.plain().find('?') == std::string::npos);
          CHECK_FALSE(figure.origin.source.empty());
        }
      }
    }
  }

  TEST_CASE("figures are written as the table has them") {
    const auto row = [](std::string_view table, std::string_view key) {
      for (const desk::ReferenceRow& one : desk::find_reference_table(table)->rows(words::english())) {
        if (one.key == key) return one;
      }
      FAIL("no row ", std::string(key));
      return desk::ReferenceRow{};
    };
    CHECK(row("casings", "hog_32_34").figure.plain() == "32 – 34\u2009mm");
    CHECK(row("constants", "drying.d0_minced").figure.plain() == "1\u2009·\u200910⁻¹⁰\u2009m²/s");
    CHECK(row("constants", "meat.density").figure.plain() == "1\u2009050\u2009kg/m³");
    CHECK(row("salts", "NaNO2").figures[2].value.plain() == "66.68\u2009%");
    const desk::ReferenceRow limit = row("limits", "eu.nitrite.comminuted_dry.ingoing");
    CHECK(limit.name.plain() == "Ingoing nitrite, EU");
    CHECK(limit.figure.plain() == "at most 80\u2009mg/kg");
  }

  TEST_CASE(
      "an own row is made from a row of the table, stands first there, and goes and comes back by undo") {
    OnShelf m;
    m.press(Role::row, "Tables…");
    m.press(Role::row, "Cuts of meat");
    m.press(Role::row, "Pork shoulder");
    m.press(Role::button, "Make your own of it");
    CHECK(m.supply().replaces == "pork_shoulder");
    CHECK(m.supply().kind == SupplyKind::cut);
    CHECK_FALSE(m.supply().parts);
    m.fill(Role::textbox, "What you call it", "From the farm");
    m.fill(Role::spinbutton, "Price of a kilogram", "7,5");
    CHECK(m.supply().name == "From the farm");
    CHECK(m.supply().price == 7.5);
    m.press(Role::button, "Type its figures");
    REQUIRE(m.supply().parts);
    CHECK(m.supply().parts->total_g() == near_abs(1.0, 1e-9));

    // Too much is said at its field, what was typed stays there, and what was stored stays as well.
    const recipe::Composition before = *m.supply().parts;
    m.fill(Role::spinbutton, "Water", "90");
    CHECK(*m.supply().parts == before);
    const parts::Node* water = m.node(Role::spinbutton, "Water");
    REQUIRE(water != nullptr);
    CHECK(water->invalid);
    CHECK(water->value == "90");
    m.fill(Role::spinbutton, "Water", "50");
    CHECK(m.supply().parts->water_g == near_abs(0.5, 1e-12));
    CHECK(m.supply().parts->total_g() == near_abs(1.0, 1e-9));

    m.session().view.table = "cuts";
    m.session().open_shelf(ShelfLeaf::table);
    m.program->host().wake();
    m.frames(4);
    const parts::Node* own = m.node(Role::row, "From the farm");
    const parts::Node* first = m.node(Role::row, "Beef brisket flat…");
    REQUIRE(own != nullptr);
    REQUIRE(first != nullptr);
    CHECK(own->rect.y < first->rect.y);
    CHECK(own->description.find("yours") != std::string::npos);
    CHECK(m.node(Role::row, "Pork shoulder")->description.find("From the farm") != std::string::npos);

    m.press(Role::row, "From the farm");
    m.press(Role::button, "Remove it");
    CHECK(m.session().book.supplies().empty());
    m.press(Role::button, "Undo");
    CHECK(m.supply().name == "From the farm");
  }

  TEST_CASE("a packet's strength binds to a recipe, and a change of it goes to the recipe in the same edit") {
    OnShelf m;
    desk::Session& session = m.session();
    const Id recipe = session.book.ids(book::Kind::recipe).front();
    session.view.recipe = recipe;
    session.enter_packet();
    m.program->host().wake();
    m.frames(4);
    CHECK(session.view.place == Place::shelf);
    CHECK(m.supply().kind == SupplyKind::curing_mix);
    m.fill(Role::textbox, "What you call it", "Tin");
    m.fill(Role::spinbutton, "Nitrite", "0.5");
    m.press(Role::button, "Use it in…");
    CHECK(session.view.place == Place::bench);
    CHECK(session.book.recipe(recipe)->mix.supply == m.supply().key);
    CHECK(session.book.recipe(recipe)->mix.nitrite == near_abs(0.005, 1e-12));

    recipe::Supply stronger = m.supply();
    stronger.mix.nitrite = 0.006;
    CHECK(session.change_supply(stronger));
    CHECK(session.book.recipe(recipe)->mix.nitrite == near_abs(0.006, 1e-12));
    session.undo();
    CHECK(session.book.recipe(recipe)->mix.nitrite == near_abs(0.005, 1e-12));
    CHECK(m.supply().mix.nitrite == near_abs(0.005, 1e-12));
  }

  TEST_CASE("a packet that is gone, or no curing mix any more, binds nothing: what was bound is to be read anew") {
    OnShelf m;
    desk::Session& session = m.session();
    const Id recipe = session.book.ids(book::Kind::recipe).front();
    const auto bind = [&] {
      session.view.recipe = recipe;
      session.enter_packet();
      recipe::Supply tin = m.supply();
      tin.mix.nitrite = 0.005;
      CHECK(session.change_supply(tin));
      session.use_packet();
      REQUIRE(session.book.recipe(recipe)->mix.supply == tin.key);
    };
    const auto as_packet = [&] {
      const recipe::Recipe now = *session.book.recipe(recipe);
      const recipe::Sheet sheet = recipe::scale(now, Grams(1000.0), nullptr, session.hands()).value();
      for (const safety::Finding& finding : session.findings(now, sheet)) {
        if (finding.rule == safety::Rule::mix_as_packet) return finding.level;
      }
      return safety::Level::does_not_apply;
    };
    bind();
    CHECK(as_packet() == safety::Level::met);
    session.remove_supply(Id{m.supply().key});
    CHECK(session.book.recipe(recipe)->mix.supply.empty());
    CHECK(as_packet() == safety::Level::not_known);
    // Not weighed out either: first the packet is asked for.
    session.begin_weighing_out(recipe);
    CHECK(session.view.bench == desk::BenchLeaf::mix);
    CHECK(session.book.ids(book::Kind::batch).empty());
    session.undo();
    CHECK(as_packet() == safety::Level::met);

    recipe::Supply spice = m.supply();
    spice.kind = SupplyKind::additive;
    CHECK(session.change_supply(spice));
    CHECK(as_packet() == safety::Level::not_known);
    session.undo();
    CHECK(as_packet() == safety::Level::met);
  }

  TEST_CASE("a row of another kind keeps its name and note, and nothing that was true of the kind before") {
    OnShelf m;
    desk::Session& session = m.session();
    session.new_supply(SupplyKind::additive, "sucrose", "Sugar");
    recipe::Supply supply = m.supply();
    supply.price = 2.5;
    supply.allergens = supply.allergens.with(tables::Allergen::milk);
    supply.note = "from the mill";
    CHECK(session.change_supply(supply));
    m.program->host().wake();
    m.frames(4);
    m.press(Role::radio, "Casing");
    CHECK(m.supply().kind == SupplyKind::casing);
    CHECK(m.supply().name == "Sugar");
    CHECK(m.supply().note == "from the mill");
    CHECK_FALSE(m.supply().price.has_value());
    CHECK(m.supply().allergens.empty());
    CHECK(m.supply().replaces.empty());
  }

  TEST_CASE("rules, own limits, scales and money are kept and are what recipes are held against") {
    OnShelf m;
    m.press(Role::row, "Rules and scales");
    m.press(Role::radio, "Canada");
    CHECK(m.session().chosen() == safety::Chosen::ca);
    m.press(Role::button, "Add a limit");
    m.press(Role::radio, "Salt to a kilogram of meat");
    m.fill(Role::spinbutton, "Value", "26");
    const book::Settings settings = m.session().book.settings();
    REQUIRE(settings.own_limits.size() == 1);
    CHECK(settings.own_limits[0].agent == tables::Agent::salt);
    CHECK(settings.own_limits[0].sense == tables::LimitSense::least);
    CHECK(settings.own_limits[0].value == near_abs(26.0, 1e-9));
    m.press(Role::row, "Salt to a kilogram of meat");
    m.fill(Role::spinbutton, "Value", "27");
    CHECK(m.session().book.settings().own_limits[0].value == near_abs(27.0, 1e-9));
    m.press(Role::button, "Remove the limit");
    CHECK(m.session().book.settings().own_limits.empty());

    m.press(Role::radio, "5 g");
    m.fill(Role::spinbutton, "It carries up to", "2 kg");
    CHECK(m.session().hands().scales.fine_step == Grams(5.0));
    CHECK(m.session().hands().scales.fine_most == Grams(2000.0));
    m.fill(Role::textbox, "Your money", "nine signs");
    CHECK(m.session().book.settings().money.empty());
    CHECK(m.node(Role::textbox, "Your money")->invalid);
    m.fill(Role::textbox, "Your money", "€");
    CHECK(m.session().book.settings().money == "€");
  }

  TEST_CASE("a page of the Shelf is found again after a reload") {
    for (const char* address : {"shelf", "shelf/tables", "shelf/table/cuts", "shelf/row/cuts/pork_shoulder",
                                "shelf/supplies", "shelf/rules"}) {
      CAPTURE(address);
      const auto there = desk::view_at(address, desk::View{});
      REQUIRE(there);
      CHECK(desk::address_of(*there) == address);
    }
    Machine m;
    m.open();
    m.frames(12);
    m.program->session().view = *desk::view_at("shelf/row/cuts/pork_shoulder", desk::View{});
    m.program->host().wake();
    m.frames(4);
    m.program.reset();
    m.open();
    m.frames(12);
    CHECK(m.node(Role::heading, "Pork shoulder") != nullptr);
  }
}
