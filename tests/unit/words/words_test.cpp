#include "core/words/words.h"

#include <doctest/doctest.h>

#include <string>

using namespace saltrafter;
using Word = words::Id;

TEST_CASE("an argument stands where the catalogue names it, and keeps its origin") {
  const words::Language en = words::english();
  const words::Text t = words::text(en, Word::chart_wanted, {words::arg("loss", "30 %")});
  CHECK(t.plain() == "wanted 30 %");
  REQUIRE(t.spans().size() == 2);
  CHECK_FALSE(t.spans()[0].verbatim);
  CHECK(t.spans()[1].verbatim);
  CHECK_FALSE(t.verbatim());
}

TEST_CASE("a count chooses the plural form and stands in it") {
  const words::Language en = words::english();
  CHECK(words::text(en, Word::lines_need_you, {words::count("n", 1)}).plain() == "One line needs you");
  CHECK(words::text(en, Word::lines_need_you, {words::count("n", 2)}).plain() == "2 lines need you");
  CHECK(words::text(en, Word::lines_need_you, {words::count("n", 0)}).plain() == "0 lines need you");
  CHECK(words::text(en, Word::lines_need_you, {words::arg("n", "2")}).plain() == "{n?} you");
}

TEST_CASE("an argument that is not given leaves a visible mark") {
  CHECK(words::text(words::english(), Word::chart_wanted).plain() == "wanted {loss?}");
  CHECK(words::text(words::english(), Word::chart_wanted, {words::arg("lost", "3")}).plain() ==
        "wanted {loss?}");
}

TEST_CASE("the pseudo-language brackets and lengthens a text and leaves its arguments as they are") {
  const words::Language xa = words::pseudo_language();
  const std::string s = words::text(xa, Word::chart_wanted, {words::arg("loss", "30 aeiou")}).plain();
  CHECK(s.front() == '[');
  CHECK(s.back() == ']');
  CHECK(s.find("30 aeiou") != std::string::npos);
  CHECK(s.find("wántéd") != std::string::npos);
  CHECK(s.size() >
        words::text(words::english(), Word::chart_wanted, {words::arg("loss", "30 aeiou")}).plain().size());
  for (int i = 0; i < words::kIdCount; ++i) {
    const std::string one = words::text(xa, static_cast<Word>(i)).plain();
    CAPTURE(one);
    CHECK(one.front() == '[');
    CHECK(one.back() == ']');
  }
}

TEST_CASE("no catalogue text has an open brace, an odd bold mark or blank ends") {
  for (int i = 0; i < words::kIdCount; ++i) {
    const std::string_view p = words::pattern(static_cast<Word>(i));
    CAPTURE(std::string(p));
    int depth = 0;
    int stars = 0;
    for (char c : p) {
      depth += c == '{' ? 1 : (c == '}' ? -1 : 0);
      CHECK(depth >= 0);
      stars += c == '*' ? 1 : 0;
    }
    CHECK(depth == 0);
    CHECK(stars % 2 == 0);
    REQUIRE_FALSE(p.empty());
    CHECK(p.front() != ' ');
    CHECK(p.back() != ' ');
  }
}

TEST_CASE("joining and making bold keep what is catalogued and what is not") {
  const words::Text both = words::join({words::text(words::english(), Word::undo), words::verbatim(" it")});
  CHECK(both.plain() == "Undo it");
  CHECK_FALSE(both.verbatim());
  CHECK(both.strong().spans()[1].verbatim);
  CHECK(both.strong().spans()[1].strong);
  CHECK(words::verbatim("Fennel").verbatim());
}

TEST_CASE("a day is written with its month's name, and in full with its weekday") {
  const Date d = Date(std::chrono::year(2026) / 11 / 25);
  CHECK(words::day_month(words::english(), d).plain() == "25 Nov");
  CHECK(words::day_full(words::english(), d).plain() == "Wed 25 November 2026");
}

TEST_CASE("an error names its bounds with the unit and no false digits") {
  Error e;
  e.code = ErrorCode::out_of_range;
  e.low = 0.5;
  e.high = 25.0;
  e.unit = "%";
  CHECK(words::sentence(words::english(), e).plain() == "Type from 0.5 to 25\u2009%.");
  e.code = ErrorCode::ambiguous_number;
  e.expected = "1250 g|1.25 g";
  CHECK(words::sentence(words::english(), e).plain().find("1250 g or 1.25 g") != std::string::npos);
}

TEST_CASE("every error code has a sentence of its own") {
  for (int i = 0; i <= static_cast<int>(ErrorCode::storage_denied); ++i) {
    Error e;
    e.code = static_cast<ErrorCode>(i);
    CAPTURE(i);
    CHECK_FALSE(words::sentence(words::english(), e).empty());
  }
}

TEST_CASE("letters fold to small ones without accents, in the scripts of the screens") {
  using words::folded;
  CHECK(folded("N\u00fcrnberger \u00c4") == "nurnberger a");
  CHECK(folded("N\u01af\u1edaC M\u1eaeM") == "nuoc mam");
  CHECK(folded("\u0160unka, \u0141osos, Gef\u00fcllte, Stra\u00dfe, \u0152uf") == "sunka, losos, gefullte, strasse, oeuf");
  CHECK(folded("\u0391\u03bb\u03bb\u03b1\u03bd\u03c4\u03b9\u03ba\u03cc") == "\u03b1\u03bb\u03bb\u03b1\u03bd\u03c4\u03b9\u03ba\u03bf");
  CHECK(folded("\u0401\u041b\u041a\u0410") == "\u0435\u043b\u043a\u0430");
  CHECK(folded("e\u0301") == "e");  // composed by the reader
  CHECK(folded("\ud558\ubab8 Jam\u00f3n") == "\ud558\ubab8 jamon");
  CHECK(folded("\xff\xc3") == "\xff\xc3");
  CHECK(folded("") == "");
  // Folding twice changes nothing more.
  CHECK(folded(folded("\u00c5\u1ef9\u0178\u01af")) == folded("\u00c5\u1ef9\u0178\u01af"));
}
