// The main job, played from the file that the desktop program and the page play too.
#include <cctype>
#include <functional>
#include <set>

#include "tests/unit/desk/machine.h"

using namespace saltrafter;
using desk::Player;
using desk::sample::Machine;
using desk::sample::text_of;

namespace {

// Plays a journey; `look` is called after each step while a program is open.
void play(Machine& machine, const std::function<void(Machine&, const desk::Step&)>& look,
          const std::string& journey = "first_batch") {
  auto steps = desk::read_journey(text_of("tests/journeys/" + journey + ".txt"));
  REQUIRE(steps.ok());
  const std::vector<desk::Step> all = steps.value();
  REQUIRE(all.size() > 40);
  std::map<std::string, std::string> taken;
  std::function<void()> after;  // what ends the program waits for the step to be over
  const auto verb = [&](const desk::Step& step) -> Result<Done> {
    if (step.verb == "offline" || step.verb == "online") return Done{};
    if (step.verb == "close") {
      after = [&] { machine.program.reset(); };
    } else if (step.verb == "reopen") {
      after = [&] { machine.open(); };
    } else if (step.verb == "new_visitor") {
      after = [&] {
        machine.program.reset();
        machine.drawer = {};
        machine.vault = {};
        machine.open();
      };
    } else if (step.verb == "take_file" && !machine.last_file.empty()) {
      taken[step.name] = machine.files[machine.last_file];
    } else if (step.verb == "open_file" && taken.count(step.name) == 1) {
      machine.program->file_opened(step.name, taken[step.name]);
    } else {
      return Error{ErrorCode::not_found, step.verb, step.name, {}, {}, {}, {}};
    }
    return Done{};
  };
  Player player(all, verb);
  parts::Host nothing(parts::Host::Renderer::none);
  machine.open();
  Player::State state = Player::State::going;
  while (state == Player::State::going) {
    if (machine.program) machine.frame();
    const int before = player.done();
    state = player.advance(machine.program ? machine.program->host() : nothing);
    if (after) after();
    after = nullptr;
    if (player.done() == before || !machine.program) continue;
    // A person looks at what a step has done before the next one.
    for (int i = 0; i < 6 && machine.program->wants_frame(); ++i) machine.frame();
    look(machine, all[static_cast<std::size_t>(before)]);
  }
  std::string screen;
  if (state == Player::State::failed && machine.program) {
    for (const parts::Node& node : machine.program->host().nodes()) {
      screen.append(parts::role_name(node.role)).append(" \"").append(node.name).append("\" \"");
      screen.append(node.value).append("\" ").append(node.description).append("\n");
    }
  }
  INFO(player.error().field, " ", player.error().found, "\n", screen);
  REQUIRE(state == Player::State::passed);
}

// Four letters in a row: longer than a unit's sign.
bool has_a_word(const std::string& text) {
  int run = 0;
  for (const char c : text) {
    run = std::isalpha(static_cast<unsigned char>(c)) != 0 ? run + 1 : 0;
    if (run >= 4) return true;
  }
  return false;
}

bool catalogued(const std::string& text) { return !has_a_word(text) || text.find('[') != std::string::npos; }

void check_words(Machine& machine, const desk::Step& step, int& seen) {
  desk::Session& session = machine.program->session();
  // What was said before stays in the language it was said in.
  const auto notice = session.notice;
  session.notice.reset();
  session.language = words::pseudo_language();
  machine.program->host().wake();
  machine.program->draw(machine.steady_ms / 1000.0);
  std::set<std::string> said_before;  // under a field that keeps what was refused
  for (const parts::Node& node : machine.program->host().nodes()) {
    if (node.invalid) said_before.insert(node.description);
  }
  for (const parts::Node& node : machine.program->host().nodes()) {
    CAPTURE(step.line);
    CAPTURE(node.name);
    CAPTURE(node.value);
    CAPTURE(node.description);
    CHECK(node.name.find("?}") == std::string::npos);  // every argument is given
    if (!node.verbatim && said_before.count(node.name) == 0) {
      CHECK(catalogued(node.name));
      ++seen;
    }
    if (node.role != parts::Role::textbox) CHECK(catalogued(node.value));
    if (!node.invalid) CHECK(catalogued(node.description));
  }
  session.language = words::english();
  session.notice = notice;
  machine.program->host().wake();
  machine.program->draw(machine.steady_ms / 1000.0);
}

void check_width(Machine& machine, const desk::Step& step) {
  for (const parts::Node& node : machine.program->host().nodes()) {
    CAPTURE(step.line);
    CAPTURE(node.name);
    CHECK(node.rect.x >= -0.5);
    CHECK(node.rect.right() <= machine.display.width_px + 0.5);
  }
}

// The forecast of the only batch, to its last bit.
std::vector<double> forecast_numbers(desk::Session& session) {
  const std::vector<Id> ids = session.book.ids(book::Kind::batch);
  REQUIRE(ids.size() == 1);
  const auto answer = session.forecasts.ask(ids[0], session.book.batch(ids[0]), session.today(), session.hands());
  REQUIRE(answer.forecast != nullptr);
  REQUIRE(answer.progress.total == 0);
  std::vector<double> numbers;
  for (const drying::CurveDay& day : answer.forecast->curve) {
    for (const double x : {day.loss.low, day.loss.likely, day.loss.high}) numbers.push_back(x);
  }
  for (const drying::PieceOutlook& piece : answer.forecast->pieces) {
    for (const double x : {piece.ln_factor[0], piece.ln_factor[1], piece.sd[0], piece.sd[1], piece.loss_now.likely}) {
      numbers.push_back(x);
    }
    for (const auto& day : {piece.expected.earliest, piece.expected.likely, piece.expected.latest}) {
      numbers.push_back(day ? day->value : -1.0);
    }
  }
  return numbers;
}

}  // namespace

TEST_SUITE("desk/story") {
  TEST_CASE("the main job plays on a wide screen, and each text of it comes from the catalogue") {
    Machine machine(1440.0, 900.0);
    int seen = 0;
    play(machine, [&seen](Machine& m, const desk::Step& step) {
      const desk::Place place = m.program->session().view.place;
      if (place == desk::Place::bench || place == desk::Place::rails) check_words(m, step, seen);
    });
    CHECK(seen > 1000);
  }

  TEST_CASE("the main job plays on a narrow screen, and nothing is cut at its sides") {
    Machine machine(390.0, 844.0);
    play(machine, check_width);
  }

  TEST_CASE("the Shelf plays on a wide screen, and each text of it comes from the catalogue") {
    Machine machine(1440.0, 900.0);
    int seen = 0;
    play(
        machine,
        [&seen](Machine& m, const desk::Step& step) {
          const desk::View& view = m.program->session().view;
          // The Shelf's own page holds the licences, which are in English in every language.
          if (view.place == desk::Place::shelf && view.shelf != desk::ShelfLeaf::shelf) check_words(m, step, seen);
        },
        "tables");
    CHECK(seen > 1000);
  }

  TEST_CASE("the Shelf plays on a narrow screen, and nothing is cut at its sides") {
    Machine machine(390.0, 844.0);
    play(machine, check_width, "tables");
  }

  TEST_CASE("a recipe goes from its packet to a batch on a narrow screen, and nothing is cut at its sides") {
    Machine machine(390.0, 844.0);
    play(machine, check_width, "formulation");
  }

  TEST_CASE("on a wide screen each text of that way comes from the catalogue") {
    Machine machine(1440.0, 900.0);
    int seen = 0;
    play(
        machine,
        [&seen](Machine& m, const desk::Step& step) {
          const desk::View& view = m.program->session().view;
          // What comes in with a step is named in the maker's own words, beneath the step.
          const bool steps = (view.place == desk::Place::rails && view.rails == desk::RailsLeaf::steps) ||
                             (view.place == desk::Place::bench && view.bench == desk::BenchLeaf::method);
          if (!steps) check_words(m, step, seen);
        },
        "formulation");
    CHECK(seen > 1000);
  }

  TEST_CASE("pieces are weighed, cut and taken down on a narrow screen, and nothing is cut at its sides") {
    Machine machine(390.0, 844.0);
    play(machine, check_width, "drying");
  }

  TEST_CASE("on a wide screen each text of that comes from the catalogue") {
    Machine machine(1440.0, 900.0);
    int seen = 0;
    play(
        machine,
        [&seen](Machine& m, const desk::Step& step) {
          if (m.program->session().view.place == desk::Place::rails) check_words(m, step, seen);
        },
        "drying");
    CHECK(seen > 1000);
  }

  TEST_CASE("a forecast cut into the shortest slices has the same bytes") {
    std::vector<std::vector<double>> results;
    for (const double budget_ms : {1e6, 0.0}) {
      Machine machine;
      machine.budget_ms = 1e6;
      machine.open();
      machine.frames(12);
      machine.press(parts::Role::row, "Caraway salami…");
      machine.press(parts::Role::button, "Hang it");
      machine.budget_ms = budget_ms;
      machine.press(parts::Role::button, "Hang it in the chamber");
      int slices = 0;
      while (machine.program->work(machine.budget_ms) == 0.0 && slices < 200'000) ++slices;
      CHECK((budget_ms > 0.0 ? slices < 20 : slices > 20));
      results.push_back(forecast_numbers(machine.program->session()));
    }
    REQUIRE(results[0].size() > 100);
    CHECK(results[0] == results[1]);
  }
}
