#include <doctest/doctest.h>

#include <cmath>

#include "core/plan/plan.h"
#include "tests/near.h"
#include "tests/unit/plan/fixture.h"
#include "tests/unit/recipe/fixture.h"

using namespace saltrafter;
using namespace saltrafter::plan;
using plan::test::batch;
using plan::test::day;
using plan::test::event;
using plan::test::weighing;

namespace {

constexpr double kExact = 1e-12;

Batch unweighed() {
  Batch b = batch();
  b.weighings.clear();
  return b;
}

// The loss of the first piece.
double loss_on(const Batch& b, int on) { return loss_so_far(b, b.pieces[0], day(on)); }

struct Act {
  EventKind kind;
  double before_g, after_g;
};

}  // namespace

TEST_CASE("the loss goes on unbroken whatever is cut off a piece or hangs with it") {
  // Dried to 800 g of 1000 g on day 10; then 5 % of what is left dries off until day 15.
  for (const Act& done : {Act{EventKind::cut, 800.0, 300.0}, Act{EventKind::sampled, 800.0, 770.0},
                            Act{EventKind::trimmed, 800.0, 640.0}}) {
    CAPTURE(static_cast<int>(done.kind));
    Batch b = unweighed();
    b.events = {event(done.kind, 10, done.before_g, done.after_g)};
    CHECK(loss_on(b, 9) == 0.0);
    CHECK(loss_on(b, 10) == near_rel(0.2, kExact));
    b.weighings = {weighing("w", "one", 15, 0.95 * done.after_g)};
    CHECK(loss_on(b, 15) == near_rel(1.0 - 0.8 * 0.95, kExact));
    CHECK(base_on(b, b.pieces[0], day(15)).equivalent_hung.value == near_rel(1000.0 * done.after_g / 800.0, kExact));
    CHECK(base_on(b, b.pieces[0], day(9)).equivalent_hung.value == 1000.0);
  }
  for (const Act& done : {Act{EventKind::stripped, 800.0, 780.0}, Act{EventKind::retied, 800.0, 803.0},
                            Act{EventKind::retied, 800.0, 790.0}}) {
    CAPTURE(done.after_g);
    Batch b = unweighed();
    b.events = {event(done.kind, 10, done.before_g, done.after_g)};
    CHECK(loss_on(b, 10) == near_rel(0.2, kExact));
    b.weighings = {weighing("w", "one", 15, done.after_g - 40.0)};
    CHECK(loss_on(b, 15) == near_rel(0.24, kExact));
    CHECK(base_on(b, b.pieces[0], day(15)).equivalent_hung.value == 1000.0);
  }
}

TEST_CASE("casing and string are no meat: they are subtracted before and after all that is done") {
  Batch b = unweighed();
  b.pieces[0].hung = Grams(1030.0);
  b.pieces[0].tare = Grams(30.0);
  b.weighings = {weighing("w", "one", 7, 930.0)};
  CHECK(loss_on(b, 7) == near_rel(0.1, kExact));
  // Half of 800 g of meat goes, its casing of 30 g stays whole.
  b.events = {event(EventKind::cut, 10, 830.0, 430.0, "cut")};
  CHECK(loss_on(b, 10) == near_rel(0.2, kExact));
  b.events.push_back(event(EventKind::stripped, 12, 420.0, 395.0, "strip"));
  CHECK(loss_on(b, 12) == near_rel(1.0 - 390.0 / 500.0, kExact));
  b.weighings.push_back(weighing("v", "one", 20, 355.0));
  CHECK(loss_on(b, 20) == near_rel(0.3, kExact));
  CHECK(base_on(b, b.pieces[0], day(20)).tare.value == near_rel(5.0, kExact));
}

TEST_CASE("water put on a piece is loss undone, and no weight that shows it goes to the forecast") {
  Batch b = unweighed();
  b.made_from = recipe::test::sample();
  b.meat = Grams(2000.0);
  b.weighings = {weighing("w", "one", 7, 900.0), weighing("x", "one", 10, 812.0), weighing("y", "one", 12, 796.0)};
  b.events = {event(EventKind::wetted, 10, 805.0, 815.0)};
  CHECK(loss_on(b, 10) == near_rel(0.188, kExact));  // weighed once more that day, nearer to the weight after
  CHECK(loss_on(b, 12) == near_rel(0.204, kExact));
  const drying::ForecastPiece piece = forecast_input(b, day(12)).value().pieces[0];
  REQUIRE(piece.weighings.size() == 3);
  CHECK(piece.hung.value == 1000.0);
  CHECK(piece.weighings[1].day == 10.0);
  CHECK(piece.weighings[1].mass.value == 805.0);
  CHECK(piece.weighings[1].id == Id{"e"});
  CHECK(piece.weighings[2].mass.value == 796.0);
}

TEST_CASE("a weighing on the day of an event is of the piece before or after it by what it weighs") {
  Batch b = unweighed();
  b.events = {event(EventKind::stripped, 10, 800.0, 780.0, "strip"), event(EventKind::cut, 10, 780.0, 390.0, "cut")};
  for (const auto& row : {std::pair(801.0, 0.199), std::pair(781.0, 0.199), std::pair(390.0, 0.2)}) {
    const double mass_g = row.first;
    CAPTURE(mass_g);
    b.weighings = {weighing("w", "one", 10, mass_g)};
    const std::vector<PieceMass> masses = masses_of(b, b.pieces[0]);
    REQUIRE(masses.size() == 5);
    bool found = false;
    for (const PieceMass& mass : masses) {
      if (mass.source == Id{"w"}) {
        found = true;
        CHECK(mass.loss == near_rel(row.second, 1e-9));
      }
    }
    CHECK(found);
    CHECK(masses[0].mass.value == (mass_g > 800.0 ? 801.0 : 800.0));
  }
  // What was entered in another order stands in the order of days.
  b.events = {event(EventKind::cut, 12, 700.0, 350.0, "late"), event(EventKind::cut, 10, 800.0, 400.0, "early")};
  b.weighings.clear();
  CHECK(masses_of(b, b.pieces[0])[0].source == Id{"early"});
  CHECK(base_on(b, b.pieces[0], day(11)).equivalent_hung.value == near_rel(500.0, kExact));
}

TEST_CASE("all weights go to the forecast on the base of what is left, whenever they were weighed") {
  Batch b = batch();
  b.made_from = recipe::test::sample();
  b.meat = Grams(2000.0);
  b.pieces[0].hung = Grams(1020.0);
  b.pieces[0].tare = Grams(20.0);
  b.weighings = {weighing("w", "one", 7, 920.0), weighing("x", "one", 14, 395.0)};
  b.events = {event(EventKind::cut, 10, 820.0, 420.0)};
  const drying::ForecastPiece piece = forecast_input(b, day(14)).value().pieces[0];
  CHECK(piece.hung.value == near_rel(500.0, kExact));
  REQUIRE(piece.weighings.size() == 3);
  CHECK(piece.weighings[0].mass.value == near_rel(450.0, kExact));
  CHECK(piece.weighings[1].mass.value == near_rel(400.0, kExact));
  CHECK(piece.weighings[2].mass.value == near_rel(375.0, kExact));
  // The day before the cut the same losses stand on the whole piece.
  CHECK(forecast_input(b, day(9)).value().pieces[0].weighings[2].mass.value == near_rel(750.0, kExact));
}

TEST_CASE("a bunch is shared by the weights at hanging of what is left, and each share is an estimate") {
  Batch b = unweighed();
  b.pieces[0].hung = Grams(1030.0);
  b.pieces[0].tare = Grams(30.0);
  b.pieces[1].hung = Grams(500.0);
  drying::Weighing both = weighing("w", "", 10, 1230.0);
  both.bunch = {Id{"one"}, Id{"two"}};
  b.weighings = {both};
  for (const Piece& piece : b.pieces) {
    const std::optional<PieceMass> mass = last_mass(b, piece, day(10));
    REQUIRE(mass);
    CHECK(mass->estimated);
    CHECK(mass->loss == near_rel(0.2, kExact));
    CHECK(mass->source == Id{"w"});
  }
  CHECK(last_mass(b, b.pieces[0], day(10))->mass.value == near_rel(830.0, kExact));
  CHECK(last_mass(b, b.pieces[1], day(10))->mass.value == near_rel(400.0, kExact));
  CHECK(last_mass(b, b.pieces[1], day(10))->of == 2);
  CHECK(last_weighing(b, Id{"one"}, day(10)) == nullptr);
  // A piece's own weight says more than its share of that day.
  b.weighings.insert(b.weighings.begin(), weighing("own", "one", 10, 840.0));
  CHECK(last_mass(b, b.pieces[0], day(10))->source == Id{"own"});
  CHECK_FALSE(last_mass(b, b.pieces[0], day(10))->estimated);
  // Half of the second piece is gone by the next weighing.
  b.events = {event(EventKind::cut, 12, 390.0, 195.0)};
  b.events[0].piece = Id{"two"};
  both.id = Id{"v"};
  both.date = day(15);
  both.mass = Grams(30.0 + 1250.0 * 0.7);
  b.weighings = {both};
  CHECK(loss_so_far(b, b.pieces[0], day(15)) == near_rel(0.3, kExact));
  CHECK(loss_so_far(b, b.pieces[1], day(15)) == near_rel(0.3, kExact));
}

TEST_CASE("only a weight of its own lets a piece be released, not its share of a bunch") {
  Batch b = unweighed();
  drying::Weighing both = weighing("w", "", 10, 1600.0);
  both.bunch = {Id{"one"}, Id{"two"}};
  b.weighings = {both};
  CHECK_FALSE(own_weighing_since(b, b.pieces[0], day(0), day(20)));
  b.weighings.push_back(weighing("x", "one", 12, 790.0));
  CHECK(own_weighing_since(b, b.pieces[0], day(12), day(20)));
  CHECK_FALSE(own_weighing_since(b, b.pieces[0], day(13), day(20)));
  CHECK_FALSE(own_weighing_since(b, b.pieces[0], day(0), day(11)));
  CHECK_FALSE(own_weighing_since(b, b.pieces[1], day(0), day(20)));
  b.events = {event(EventKind::sampled, 15, 780.0, 770.0)};
  CHECK(own_weighing_since(b, b.pieces[0], day(13), day(20)));
}

TEST_CASE("what a piece gained between cure and hanging is casing and string, unless they were weighed") {
  Piece piece;
  piece.hung = Grams(1040.0);
  CHECK(tare_of(piece).value == 0.0);
  piece.after_cure = Grams(1000.0);
  CHECK(tare_of(piece).value == 40.0);
  piece.tare = Grams(25.0);
  CHECK(tare_of(piece).value == 25.0);
  piece.tare.reset();
  piece.after_cure = Grams(1060.0);  // it dried off before it was hung
  CHECK(tare_of(piece).value == 0.0);
}

TEST_CASE("the wanted loss is of the weight it names") {
  Batch b = unweighed();
  b.made_from.wanted_loss = 0.35;
  for (Piece& piece : b.pieces) {
    piece.trimmed = Grams(1000.0);
    piece.hung = Grams(990.0);
    piece.tare = Grams(40.0);
  }
  CHECK(wanted_loss(b, b.pieces[0]).value() == 0.35);
  CHECK(wanted_loss(b).value() == 0.35);
  b.loss_base = LossBase::trimmed;
  // 650 g are wanted of what hung as 950 g.
  CHECK(wanted_loss(b, b.pieces[0]).value() == near_rel(1.0 - 650.0 / 950.0, kExact));
  CHECK(wanted_loss(b).value() == near_rel(1.0 - 650.0 / 950.0, kExact));
  b.made_from = recipe::test::sample();
  b.meat = Grams(2000.0);
  CHECK(forecast_input(b, day(3)).value().wanted_loss == near_rel(1.0 - 650.0 / 950.0, kExact));
  b.pieces[1].trimmed = Grams(2000.0);  // of 950 g
  CHECK(wanted_loss(b, b.pieces[1]).value() < 0.0);
  CHECK(forecast_input(b, day(3)).value().wanted_loss == 0.01);
  b.pieces[1].trimmed.reset();
  CHECK(wanted_loss(b, b.pieces[1]).error().field == "trimmed");
  CHECK(forecast_input(b, day(3)).error().field == "pieces/1/trimmed");
}

TEST_CASE("what cure and rinse took counts as water in the composition at hanging, casing and string do not") {
  Batch b = unweighed();
  b.made_from = recipe::test::sample();
  b.meat = Grams(2000.0);
  const recipe::Composition mixed = sheet_of(b).value().composition;
  const double per_meat = mixed.total_g() / 2000.0;
  for (Piece& piece : b.pieces) {
    piece.trimmed = Grams(1000.0);
    piece.tare = Grams(60.0);
    piece.hung = Grams(960.0 + 60.0);
  }
  const recipe::Composition hung = sheet_of(b).value().composition;
  const double share = 0.96 / per_meat;  // of what it would weigh, had it only taken up its salts
  CHECK(hung.total_g() == near_rel(share * mixed.total_g(), 1e-9));
  CHECK(hung.protein_g == mixed.protein_g);
  CHECK(hung.salt_g == mixed.salt_g);
  CHECK(hung.water_g == near_rel(mixed.water_g - (1.0 - share) * mixed.total_g(), 1e-9));
  CHECK(forecast_input(b, day(1)).value().composition == hung);
  // Before it hangs the weight after the cure says it.
  b.hung = false;
  CHECK(sheet_of(b).value().composition == mixed);
  for (Piece& piece : b.pieces) piece.after_cure = Grams(960.0);
  CHECK(sheet_of(b).value().composition.water_g == near_rel(hung.water_g, 1e-9));
  // Where one was not weighed nothing is known of the rest.
  b.pieces[1].trimmed.reset();
  CHECK(sheet_of(b).value().composition == mixed);
}

TEST_CASE("muscles that were trimmed and cured piece by piece are hung as these pieces") {
  Batch b = unweighed();
  b.hung = false;
  b.made_from = recipe::test::sample();
  b.pieces[0].hung = Grams(0.0);
  b.pieces[0].after_cure = Grams(950.4);
  b.pieces[1].hung = Grams(970.0);
  Hanging hanging;
  hanging.day = day(0);
  hanging.casing = Metres(0.09);
  hang(b, recipe::test::counting_ports(), Grams(2000.0), hanging);
  REQUIRE(b.pieces.size() == 2);
  CHECK(b.pieces[0].id == Id{"one"});
  CHECK(b.pieces[0].hung.value == 950.0);
  CHECK(b.pieces[1].hung.value == 970.0);
}

TEST_CASE("a weighing of what cannot be is refused, with the one it doubles") {
  Batch b = batch();
  const Date today = day(20);
  drying::Weighing again = weighing("x", "one", 14, 790.0);
  again.minute = 462;
  CHECK(check_weighing(b, again, today).ok());
  b.weighings[0].minute = 462;
  Result<Done> checked = check_weighing(b, again, today);
  REQUIRE_FALSE(checked.ok());
  CHECK(checked.error().code == ErrorCode::duplicate_key);
  CHECK(checked.error().field == "piece");
  CHECK(checked.error().found == "a");
  CHECK(check_weighing(b, b.weighings[0], today).ok());  // looked at again, it doubles nothing
  again.minute = 463;
  CHECK(check_weighing(b, again, today).ok());
  again.minute = 1440;
  CHECK(check_weighing(b, again, today).error().field == "minute");
  again.minute.reset();
  again.tare = Grams(-1.0);
  CHECK(check_weighing(b, again, today).error().field == "tare");

  // A bunch may weigh what its pieces may, each stands in it once and is not in another that minute.
  drying::Weighing both = weighing("y", "", 14, 2900.0);
  both.bunch = {Id{"one"}, Id{"two"}};
  CHECK(check_weighing(b, both, today).ok());
  both.minute = 462;
  CHECK(check_weighing(b, both, today).error().found == "a");
  both.minute.reset();
  both.mass = Grams(3000.1);
  CHECK(check_weighing(b, both, today).error().high.value_or(0.0) == 3000.0);
  both.mass = Grams(1500.0);
  both.bunch = {Id{"one"}, Id{"one"}};
  CHECK(check_weighing(b, both, today).error().field == "bunch/1");
  CHECK(check_weighing(b, both, today).error().code == ErrorCode::duplicate_key);
  both.bunch = {Id{"one"}, Id{"three"}};
  CHECK(check_weighing(b, both, today).error().code == ErrorCode::not_found);
  both.bunch = {Id{"one"}};
  CHECK(check_weighing(b, both, today).error().field == "bunch");
  both.bunch = {Id{"one"}, Id{"two"}};
  both.piece = Id{"one"};
  CHECK(check_weighing(b, both, today).error().code == ErrorCode::refused);

  // What is left of a piece bounds its weight; on the day of the cut it may still have been whole.
  b.events = {event(EventKind::cut, 14, 800.0, 400.0)};
  CHECK(check_weighing(b, weighing("z", "one", 14, 801.0), today).ok());
  CHECK(check_weighing(b, weighing("z", "one", 15, 751.0), today).error().high.value_or(0.0) == 750.0);
  // Nothing is weighed of it after it was taken down.
  TakenDown down;
  down.piece = Id{"one"};
  down.date = day(16);
  down.mass = Grams(390.0);
  b.taken_down = {down};
  CHECK(check_weighing(b, weighing("z", "one", 16, 391.0), today).ok());
  checked = check_weighing(b, weighing("z", "one", 17, 391.0), today);
  REQUIRE_FALSE(checked.ok());
  CHECK(checked.error().field == "date");
  CHECK(checked.error().high.value_or(0.0) == 16.0);
}

TEST_CASE("what is done to a piece must fit its weights, its days and its kind") {
  Batch b = batch();
  b.pieces[0].tare = Grams(50.0);
  const Date today = day(20);
  struct Row {
    EventKind kind;
    double before_g, after_g;
    const char* field;  // at fault, or nothing
  };
  for (const Row& row : {Row{EventKind::cut, 800, 400, ""}, Row{EventKind::cut, 800, 800, "after"},
                         Row{EventKind::cut, 800, 801, "after"}, Row{EventKind::cut, 800, 50, "after"},
                         Row{EventKind::sampled, 800, 0, "after"}, Row{EventKind::trimmed, 50, 40, "before"},
                         Row{EventKind::trimmed, 0, -1, "before"}, Row{EventKind::cut, 1476, 800, "before"},
                         Row{EventKind::stripped, 800, 740, ""}, Row{EventKind::stripped, 800, 800, "after"},
                         Row{EventKind::retied, 800, 810, ""}, Row{EventKind::retied, 800, 790, ""},
                         Row{EventKind::retied, 800, 0, "after"}, Row{EventKind::wetted, 800, 812, ""},
                         Row{EventKind::wetted, 800, 800, "after"}, Row{EventKind::wetted, 800, 790, "after"},
                         Row{EventKind::wetted, 800, std::nan(""), "after"}}) {
    CAPTURE(static_cast<int>(row.kind));
    CAPTURE(row.before_g);
    CAPTURE(row.after_g);
    const Result<Done> checked = check_event(b, event(row.kind, 15, row.before_g, row.after_g), today);
    CHECK(checked.ok() == (row.field[0] == '\0'));
    if (checked.ok()) continue;
    CHECK(checked.error().field == row.field);
    CHECK(checked.error().code == ErrorCode::out_of_range);
    CHECK(checked.error().unit == "g");
  }
  CHECK(check_event(b, event(EventKind::cut, -1, 800, 400), today).error().field == "date");
  CHECK(check_event(b, event(EventKind::cut, 21, 800, 400), today).error().field == "date");
  PieceEvent nobody = event(EventKind::cut, 15, 800, 400);
  nobody.piece = Id{"three"};
  CHECK(check_event(b, nobody, today).error().code == ErrorCode::not_found);
  b.hung = false;
  CHECK(check_event(b, event(EventKind::cut, 15, 800, 400), today).error().field == "hung_on");
}

TEST_CASE("between two weighings the loss lies on a line, after the last it stays, and before the first there is one") {
  Batch b = unweighed();
  b.weighings = {weighing("w", "one", 4, 960.0), weighing("x", "one", 10, 900.0)};
  const auto at = [&b](int on, int today = 20) { return loss_between(b, b.pieces[0], day(on), day(today)); };
  CHECK(*at(0) == 0.0);
  CHECK(*at(2) == near_rel(0.02, kExact));
  CHECK(*at(4) == near_rel(0.04, kExact));
  CHECK(*at(7) == near_rel(0.07, kExact));
  CHECK(*at(15) == near_rel(0.10, kExact));
  CHECK(*at(7, 9) == near_rel(0.04, kExact));  // the later weight is not known yet
  CHECK_FALSE(at(-1));
  CHECK_FALSE(loss_between(b, b.pieces[1], day(7), day(20)));
}
