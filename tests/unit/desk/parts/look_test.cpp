#include <string>

#include "tests/near.h"
#include "tests/unit/desk/parts/stage.h"

using namespace stage;

TEST_CASE("contrast is computed as WCAG does: black on white 21, a known grey 4.54") {
  CHECK(contrast(Colour{0, 0, 0}, Colour{255, 255, 255}) == near_rel(21.0, 1e-6));
  CHECK(contrast(Colour{0x76, 0x76, 0x76}, Colour{255, 255, 255}) == near_rel(4.54, 2e-3));
}

TEST_CASE("text has at least 4.5 to 1 on every ground it stands on, outlines and marks at least 3 to 1") {
  for (const Theme* theme : {&paper(), &cellar()}) {
    for (const Ink ground : {Ink::ground, Ink::sheet, Ink::wash}) {
      for (const Ink text : {Ink::ink, Ink::soft, Ink::accent, Ink::near, Ink::not_met}) {
        CAPTURE(static_cast<int>(ground));
        CAPTURE(static_cast<int>(text));
        CHECK(contrast(theme->of(text), theme->of(ground)) >= 4.5);
      }
    }
    CHECK(contrast(theme->of(Ink::on_accent), theme->of(Ink::accent)) >= 4.5);
    // Pressed: the filled act goes a fifth towards ink.
    CHECK(contrast(theme->of(Ink::on_accent), mix(theme->of(Ink::ink), theme->of(Ink::accent), 0.2)) >= 4.5);
    CHECK(contrast(theme->of(Ink::edge), theme->of(Ink::ground)) >= 3.0);
    // Selected text, and the band of a chart under its lines.
    const Colour tint = mix(theme->of(Ink::accent), theme->of(Ink::ground), 0.24);
    CHECK(contrast(theme->of(Ink::ink), tint) >= 4.5);
    CHECK(contrast(theme->of(Ink::accent), tint) >= 3.0);
  }
}

TEST_CASE("the contrasts that the look states are those of the theme's values") {
  CHECK(contrast(paper().of(Ink::ink), paper().of(Ink::ground)) == near_abs(13.6, 0.1));
  CHECK(contrast(cellar().of(Ink::ink), cellar().of(Ink::ground)) == near_abs(14.9, 0.1));
  CHECK(contrast(paper().of(Ink::soft), paper().of(Ink::ground)) == near_abs(6.1, 0.1));
  CHECK(contrast(cellar().of(Ink::soft), cellar().of(Ink::ground)) == near_abs(8.0, 0.1));
  CHECK(contrast(paper().of(Ink::accent), paper().of(Ink::ground)) == near_abs(6.9, 0.1));
  CHECK(contrast(cellar().of(Ink::accent), cellar().of(Ink::ground)) == near_abs(9.9, 0.1));
}

TEST_CASE("the meat's ramp only darkens") {
  for (const Theme* theme : {&paper(), &cellar()}) {
    double last = 22.0;
    for (int i = 0; i <= 20; ++i) {
      const double c = contrast(theme->of(figure::meat(i / 20.0)), Colour{0, 0, 0});
      CHECK(c <= last);
      last = c;
    }
  }
}

TEST_CASE("all digits of a face are equally wide") {
  Canvas canvas(false);
  canvas.begin(100, 100, 1.0, paper(), 0.016);
  for (const Family family : {Family::serif, Family::sans}) {
    for (const bool bold : {false, true}) {
      const Font font{family, bold, 18.0};
      const double zero = canvas.width("0", font);
      CHECK(zero > 5.0);
      for (const char* digit : {"1", "2", "3", "4", "5", "6", "7", "8", "9"}) {
        CHECK(canvas.width(digit, font) == near_abs(zero, 1e-4));
      }
    }
  }
  canvas.end();
}

TEST_CASE("the compiled table of widths and the faces on the screen agree within half a per cent") {
  Canvas canvas(false);
  canvas.begin(100, 100, 1.0, paper(), 0.016);
  const figure::Advance advance = figure::advance_from_tables();
  for (const char* text : {"wanted 30\u2009%", "25 Nov", "\u221240\u2009%", "expected", "Wiegen, Größe", "Вес"}) {
    CAPTURE(text);
    CHECK(advance(text, figure::Face::label) ==
          near_rel(canvas.width(text, Font{Family::sans, false, 100.0}) / 100.0, 5e-3));
    CHECK(advance(text, figure::Face::label_bold) ==
          near_rel(canvas.width(text, Font{Family::sans, true, 100.0}) / 100.0, 5e-3));
  }
  canvas.end();
}

namespace {

std::u32string code_points(std::string_view utf8) {
  std::u32string out;
  for (std::size_t i = 0; i < utf8.size();) {
    const unsigned char c = static_cast<unsigned char>(utf8[i]);
    const std::size_t n = c < 0x80 ? 1 : c < 0xE0 ? 2 : c < 0xF0 ? 3 : 4;
    char32_t point = n == 1 ? c : c & (0xFFU >> (n + 1));
    for (std::size_t k = 1; k < n && i + k < utf8.size(); ++k) {
      point = point << 6U | (static_cast<unsigned char>(utf8[i + k]) & 0x3FU);
    }
    out += point;
    i += n;
  }
  return out;
}

}  // namespace

TEST_CASE(
    "every character of the catalogue, of the pseudo-language and of figures has a glyph in all four faces") {
  Canvas canvas(false);
  std::string all = "0123456789.,+\u2212\u2009±≤≥→–—…°×÷µ€£ãạệ ơα Ω Жя";
  for (int i = 0; i < words::kIdCount; ++i) {
    all += words::text(words::english(), static_cast<words::Id>(i)).plain();
    all += words::text(words::pseudo_language(), static_cast<words::Id>(i)).plain();
  }
  for (const char32_t point : code_points(all)) {
    for (const Family family : {Family::serif, Family::sans}) {
      for (const bool bold : {false, true}) {
        CAPTURE(static_cast<unsigned>(point));
        CHECK(canvas.has_glyph(point, family, bold));
      }
    }
  }
  // The question itself can be answered with no.
  CHECK_FALSE(canvas.has_glyph(U'\u4E2D', Family::sans, false));
}

TEST_CASE("a text is broken at spaces within its width, and a thin space holds a figure to its unit") {
  Canvas canvas(false);
  canvas.begin(100, 100, 1.0, paper(), 0.016);
  const words::Text text =
      words::verbatim("At most 9.4\u2009g of it, or 140\u2009mg/kg are over the limit that holds");
  for (double width = 60.0; width < 500.0; width += 7.0) {
    const Setting setting = set(canvas, text, type::text, width);
    std::string again;
    for (const Setting::Line& line : setting.lines) {
      CHECK(line.width <= width + 0.02);
      std::string words;
      for (const Setting::Piece& piece : line.pieces) words += piece.text;
      again += (again.empty() ? "" : " ") + words;
    }
    if (width > 100.0) CHECK(again == text.plain());
  }
  CHECK(set(canvas, words::verbatim("Donaudampfschifffahrtsgesellschaft"), type::text, 80.0).lines.size() >
        2);
  canvas.end();
}

TEST_CASE("a text is broken into lines once while it is shown, and anew where the page has another scale") {
  const words::Text text = words::verbatim("Two pieces have reached what was wanted of them");
  Canvas canvas(false);
  canvas.begin(100, 100, 1.0, paper(), 0.016);
  const Setting* first = &set(canvas, text, type::text, 200.0);
  const double width_at_1 = first->width;
  CHECK(&set(canvas, text, type::text, 200.0) == first);
  CHECK(set(canvas, text, type::text, 100.0).lines.size() > first->lines.size());
  CHECK(set(canvas, text, type::soft, 200.0).style.ink == Ink::soft);
  CHECK(set(canvas, text.strong(), type::text, 200.0).lines[0].pieces[0].strong);
  canvas.end();
  canvas.begin(100, 100, 1.0, paper(), 0.016);
  CHECK(&set(canvas, text, type::text, 200.0) == first);
  canvas.end();
  canvas.begin(100, 100, 1.37, paper(), 0.016);
  const double width_at_137 = set(canvas, text, type::text, 200.0).width;
  canvas.end();
  Canvas fresh(false);
  fresh.begin(100, 100, 1.37, paper(), 0.016);
  CHECK(width_at_137 == set(fresh, text, type::text, 200.0).width);
  CHECK(width_at_137 != width_at_1);
  fresh.end();
}

TEST_CASE("what a frame did not ask for is not kept: a page that changes for ever takes no more room") {
  Canvas canvas(false);
  for (int frame = 0; frame < 50; ++frame) {
    canvas.begin(100, 100, 1.0, paper(), 0.016);
    for (int i = 0; i < 4; ++i) {
      set(canvas, words::verbatim(std::to_string(4 * frame + i)), type::text, 200.0);
    }
    canvas.end();
    CHECK(canvas.settings().size() <= 8);
  }
}

TEST_CASE("the regular faces carry their licence, in paragraphs, for the page that tells about the program") {
  for (const FontData& face : {gentium_regular(), carlito_regular()}) {
    const std::vector<std::string> licence = font_licence(face);
    REQUIRE(!licence.empty());
    CHECK(licence[0].find("Copyright (c)") != std::string::npos);
    std::string all;
    for (const std::string& paragraph : licence) all += paragraph;
    CHECK(all.find("SIL Open Font License, Version 1.1") != std::string::npos);
  }
  // The whole text once; cut off, the font has none rather than half of one.
  CHECK(font_licence(gentium_regular()).size() > 20);
  CHECK(font_licence(FontData{gentium_regular().bytes, 40}).empty());
  CHECK(font_licence(FontData{gentium_regular().bytes, 0}).empty());
}
