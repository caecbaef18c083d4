#include <doctest/doctest.h>

#include "core/desk/forecasts.h"
#include "tests/near.h"
#include "tests/unit/plan/fixture.h"
#include "tests/unit/recipe/fixture.h"

using namespace saltrafter;
using desk::Counsel;
using desk::Forecasts;
using plan::test::day;
using plan::test::kHung;

namespace {

std::shared_ptr<const plan::Batch> hanging(double meat_g, bool hung = true) {
  plan::Batch out = plan::test::batch();
  out.made_from = recipe::test::sample();
  out.meat = Grams(meat_g);
  out.hung = hung;
  return std::make_shared<const plan::Batch>(std::move(out));
}

double still() { return 0.0; }

}  // namespace

TEST_SUITE("forecasts of a book") {
  TEST_CASE("of all that is asked for at once one is begun, and the others one after another in the slices") {
    Forecasts forecasts;
    const Date today = day(20);
    const auto first = hanging(2000.0);
    const auto second = hanging(3000.0);
    const auto third = hanging(2000.0, false);
    CHECK(forecasts.ask(Id{"1"}, first, today, {}).progress.total > 1);
    CHECK(forecasts.ask(Id{"2"}, second, today, {}).progress.total == 1);
    CHECK_FALSE(forecasts.ask(Id{"3"}, third, today, {}).error);  // nobody has looked yet
    CHECK(forecasts.counsel(Id{"1"}, {}, {}) == nullptr);
    int slices = 0;
    while (forecasts.work(still, 0.0)) ++slices;
    CHECK(slices > 10);  // each a step: nothing more fits
    CHECK(forecasts.ask(Id{"1"}, first, today, {}).forecast != nullptr);
    const Forecasts::Answer answer = forecasts.ask(Id{"2"}, second, today, {});
    REQUIRE(answer.forecast != nullptr);
    CHECK(answer.progress.total == 0);
    CHECK(forecasts.ask(Id{"3"}, third, today, {}).error->field == "hung_on");
    // How it is cut changes nothing.
    Forecasts alone;
    alone.ask(Id{"2"}, second, today, {});
    CHECK_FALSE(alone.work(still, 1.0));
    const drying::Forecast& other = *alone.ask(Id{"2"}, second, today, {}).forecast;
    CHECK(answer.forecast->pieces[0].expected.likely == other.pieces[0].expected.likely);
  }

  TEST_CASE("a counsel is begun part by part, and again where it was stopped") {
    Forecasts forecasts;
    const Date today = day(20);
    const auto batch = hanging(2000.0);
    forecasts.ask(Id{"1"}, batch, today, {});
    REQUIRE_FALSE(forecasts.work(still, 1.0));
    const Counsel* counsel = forecasts.counsel(Id{"1"}, {}, {});
    REQUIRE(counsel != nullptr);
    CHECK(forecasts.busy());
    while (!counsel->advice) forecasts.work(still, 0.0);
    CHECK_FALSE(counsel->which);
    forecasts.stop();
    CHECK_FALSE(forecasts.busy());
    counsel = forecasts.counsel(Id{"1"}, {}, {});
    CHECK(forecasts.busy());
    CHECK_FALSE(forecasts.work(still, 1.0));
    CHECK(counsel->advice);
    CHECK(counsel->which);
    CHECK(counsel->levers);
  }

  TEST_CASE("what its maker stopped rests until it is resumed, or another question is asked") {
    Forecasts forecasts;
    const Date today = day(20);
    const auto batch = hanging(2000.0);
    forecasts.ask(Id{"1"}, batch, today, {});
    REQUIRE(forecasts.busy());
    forecasts.stop();
    for (int frame = 0; frame < 3; ++frame) {
      const Forecasts::Answer answer = forecasts.ask(Id{"1"}, batch, today, {});
      CHECK(answer.stopped);
      CHECK(answer.progress.total == 0);
      CHECK_FALSE(forecasts.busy());
    }
    forecasts.resume();
    CHECK_FALSE(forecasts.ask(Id{"1"}, batch, today, {}).stopped);
    CHECK(forecasts.busy());
    forecasts.stop();
    CHECK_FALSE(forecasts.ask(Id{"1"}, batch, day(21), {}).stopped);
    CHECK_FALSE(forecasts.work(still, 1.0));
    CHECK(forecasts.ask(Id{"1"}, batch, day(21), {}).forecast != nullptr);
  }

  TEST_CASE("what is asked for waits for what the batches teach that are down") {
    Forecasts forecasts;
    const Date today = day(40);
    plan::Batch down = *hanging(2000.0);
    for (const plan::Piece& piece : down.pieces) {
      plan::TakenDown one;
      one.id = Id{"d" + piece.id.text};
      one.piece = piece.id;
      one.date = day(15);
      down.taken_down.push_back(one);
    }
    const auto taught = std::make_shared<const plan::Batch>(down);
    plan::Batch later = *hanging(2000.0);
    later.hung_on = day(16);
    later.weighings.clear();
    const auto next = std::make_shared<const plan::Batch>(later);
    forecasts.learn({{Id{"1"}, taught}, {Id{"2"}, next}}, std::make_shared<const plan::Chamber>(), today, {});
    CHECK(forecasts.busy());
    CHECK(forecasts.ask(Id{"2"}, next, today, {}).progress.total == 1);
    CHECK_FALSE(forecasts.work(still, 1.0));
    const Forecasts::Answer answer = forecasts.ask(Id{"2"}, next, today, {});
    CHECK(answer.forecast != nullptr);
    CHECK(answer.progress.total == 0);  // with what was learnt while it waited
  }
}
