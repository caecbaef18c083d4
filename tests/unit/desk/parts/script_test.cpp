// Any script: what is one letter, who sets it, how wide it is, where its lines break, what its pictures take.
#include "core/desk/parts/script.h"

#include <cmath>
#include <random>
#include <set>
#include <string>
#include <vector>

#include "tests/near.h"
#include "tests/unit/desk/parts/stage.h"

using namespace stage;

namespace {

std::vector<std::string> clusters(std::string_view text) {
  std::vector<std::string> out;
  for (std::size_t at = 0; at < text.size();) {
    const std::size_t end = cluster_end(text, at);
    out.emplace_back(text.substr(at, end - at));
    at = end;
  }
  return out;
}

using Texts = std::vector<std::string>;

// "kind:text" a run, as a face with Latin, accents and a few signs would have it.
Texts runs(std::string_view text) {
  const FaceHas in_face = {
      [](const void*, char32_t c) { return c < 0x250 || (c >= 0x300 && c <= 0x304) || c == 0x2013; },
      nullptr};
  Texts out;
  for (const Run& run : runs_of(text, in_face)) {
    const char* kind[] = {"face:", "cell:", "shaped:", "rtl:", "nothing:"};
    out.push_back(kind[static_cast<int>(run.hand)] + std::string(run.text));
  }
  return out;
}

// A device whose fonts set every cluster 0.6 em wide and pull those of a run together by a tenth of that.
struct Device {
  int measured = 0;
  int drawn = 0;
  int width_px = 0;  // of every picture; 0: as wide as it is
  bool valid = true;
  std::set<std::string> texts;

  Raster set(const RunText& run, bool with_pixels) {
    const double n = static_cast<double>(clusters(run.utf8).size());
    Raster out;
    out.advance_px = run.size_px * (0.54 * n + 0.06);
    ++(with_pixels ? drawn : measured);
    texts.insert(std::string(run.utf8));
    for (std::size_t at = 0; at < run.utf8.size();) {
      const CodePoint point = code_point_at(run.utf8, at);
      valid = valid && point.valid && point.code != 0;
      at += point.size;
    }
    if (!with_pixels) return out;
    out.top_px = static_cast<int>(run.size_px);
    out.height_px = static_cast<int>(run.size_px * 1.2);
    out.width_px = width_px > 0 ? width_px : static_cast<int>(std::ceil(out.advance_px));
    out.pixels.assign(static_cast<std::size_t>(out.width_px * out.height_px * 4), 200);
    return out;
  }
};

struct Sheet {
  Device device;
  Canvas canvas{false};

  explicit Sheet(double scale = 1.0) {
    canvas.use_device_fonts(
        [this](const RunText& run, bool with_pixels) { return device.set(run, with_pixels); });
    canvas.begin(1000, 800, scale, paper(), 0.016);
  }
  ~Sheet() { canvas.end(); }
  void next_frame() {
    canvas.end();
    canvas.begin(1000, 800, 1.0, paper(), 0.016);
  }
  double width(std::string_view text) const { return canvas.width(text, kFont); }
  void draw(std::string_view text, double y = 100.0) { canvas.letters(10.0, y, text, kFont, Colour{}); }

  static constexpr Font kFont{Family::sans, false, 20.0};
};

Texts lines(const Canvas& canvas, std::string_view text, double width) {
  Texts out;
  for (const Setting::Line& line : set(canvas, words::verbatim(std::string(text)), type::text, width).lines) {
    std::string all;
    for (const Setting::Piece& piece : line.pieces) all += piece.text;
    out.push_back(all);
  }
  return out;
}

}  // namespace

TEST_CASE("what a reader takes for one letter is one cluster") {
  CHECK(clusters("ab") == Texts{"a", "b"});
  CHECK(clusters("e\u0301a") == Texts{"e\u0301", "a"});
  CHECK(clusters("กี่น้ำ") == Texts{"กี่", "น้ำ"});
  CHECK(clusters("क्षि") == Texts{"क्षि"});
  CHECK(clusters("\u1112\u1161\u11ABA") == Texts{"\u1112\u1161\u11AB", "A"});
  CHECK(clusters("한국") == Texts{"한", "국"});
  CHECK(clusters("か\u3099き") == Texts{"か\u3099", "き"});
  CHECK(clusters("👩‍🌾🐖") == Texts{"👩‍🌾", "🐖"});
  CHECK(clusters("👍🏽1\uFE0F\u20E3") == Texts{"👍🏽", "1\uFE0F\u20E3"});
  CHECK(clusters("🇰🇷🇯🇵🇹") == Texts{"🇰🇷", "🇯🇵", "🇹"});
  CHECK(clusters("a\u200Db") == Texts{"a\u200D", "b"});
  // Not text: each byte by itself, and no mark joins it.
  CHECK(clusters("\xED\xA0\x80\xC0\xAF\xFFé\xE4\xB8") ==
        Texts{"\xED", "\xA0", "\x80", "\xC0", "\xAF", "\xFF", "é", "\xE4", "\xB8"});
  CHECK(clusters("\xFF\u0301")[0] == "\xFF");
  std::string pile = "a";
  for (int i = 0; i < 1000; ++i) pile += "\u0301";
  CHECK(clusters(pile).size() == 32);
}

TEST_CASE("the start of a cluster is found from its end") {
  for (const std::string text : {"e\u0301กี่ab", "👩‍🌾🐖x", "\xFF\u0301z"}) {
    for (std::size_t at = 0; at < text.size();) {
      const std::size_t end = cluster_end(text, at);
      CHECK(cluster_start(text, end) == at);
      at = end;
    }
  }
  CHECK(cluster_start("", 0) == 0);
}

TEST_CASE("our faces set what they have, the device whole clusters and runs of the rest") {
  CHECK(runs("Salt, 25 g") == Texts{"face:Salt, 25 g"});
  CHECK(runs("한국 A 中") == Texts{"cell:한", "cell:국", "face: A ", "cell:中"});
  CHECK(runs("カルパッチョ。") ==
        Texts{"cell:カ", "cell:ル", "cell:パ", "cell:ッ", "cell:チ", "cell:ョ", "cell:。"});
  CHECK(runs("ไส้กรอก อีสาน") == Texts{"shaped:ไส้กรอก อีสาน"});
  CHECK(runs("(ไส้ 12%, กรอก) 3") == Texts{"face:(", "shaped:ไส้ 12%, กรอก", "face:) 3"});
  CHECK(runs("بسطرمة لحم 7") == Texts{"rtl:بسطرمة لحم", "face: 7"});
  CHECK(runs("ไส้ بسطرمة x") == Texts{"shaped:ไส้", "face: ", "rtl:بسطرمة", "face: x"});
  // A letter of ours under a mark that is not: both together, and only they.
  CHECK(runs("ax\u0331b") == Texts{"face:a", "shaped:x\u0331", "face:b"});
  CHECK(runs("ham 👩‍🌾🐖!") == Texts{"face:ham ", "cell:👩‍🌾", "cell:🐖", "face:!"});
  CHECK(runs("☕") == Texts{"cell:☕"});
  CHECK(runs("\u0E35") == Texts{"shaped:\u0E35"});
  // Joiners and marks of direction by themselves draw nothing; inside a run they belong to it.
  CHECK(runs("a\u200Db\u202E") == Texts{"face:a", "nothing:\u200D", "face:b", "nothing:\u202E"});
  CHECK(runs("ن\u200Cن") == Texts{"rtl:ن\u200Cن"});
  CHECK(runs("ن\xFF\nن") == Texts{"rtl:ن", "face:\xFF\n", "rtl:ن"});
}

TEST_CASE("without device fonts a character that the faces lack takes the room of their box") {
  Canvas canvas(false);
  canvas.begin(100, 100, 1.0, paper(), 0.016);
  CHECK(canvas.width("中中", Sheet::kFont) == near_abs(2.0 * canvas.width("中", Sheet::kFont), 1e-3));
  CHECK(canvas.width("中", Sheet::kFont) > 2.0);
  canvas.letters(0.0, 20.0, "中 بسطرمة", Sheet::kFont, Colour{});
  CHECK(canvas.device_picture_bytes() == 0);
  canvas.end();
}

TEST_CASE("a text is as wide as its runs, measured once, drawn or not") {
  Sheet sheet;
  CHECK(sheet.width("한국어") == near_abs(3.0 * 12.0, 1e-9));
  CHECK(sheet.width("بسطرمة") == near_abs(20.0 * (0.54 * 6 + 0.06), 1e-9));
  CHECK(sheet.width("Ham 한국") == near_abs(sheet.width("Ham ") + 24.0, 1e-4));
  CHECK(sheet.device.drawn == 0);
  const int measured = sheet.device.measured;
  const double before = sheet.width("Ham 한국");
  sheet.draw("Ham 한국");
  sheet.next_frame();
  sheet.draw("Ham 한국");
  CHECK(sheet.width("Ham 한국") == before);
  CHECK(sheet.device.measured == measured);
  CHECK(sheet.device.drawn == 2);
  // Bold, the other family and another size are other pictures.
  CHECK(sheet.canvas.width("한", Font{Family::sans, true, 20.0}) == near_abs(12.0, 1e-9));
  CHECK(sheet.canvas.width("한", Font{Family::serif, false, 40.0}) == near_abs(24.0, 1e-9));
  CHECK(sheet.device.measured == measured + 2);
}

TEST_CASE("what is out of sight is measured and not rasterised") {
  Sheet sheet;
  sheet.draw("한", 5000.0);
  sheet.draw("국", -5000.0);
  sheet.canvas.push_clip(Rect{0.0, 0.0, 50.0, 50.0});
  sheet.draw("어", 700.0);
  sheet.canvas.pop_clip();
  CHECK(sheet.device.drawn == 0);
  sheet.draw("한", 300.0);
  CHECK(sheet.device.drawn == 1);
}

TEST_CASE("pictures take at most 64 MB, and the least recently used go") {
  Sheet sheet;
  sheet.device.width_px = 4000;  // 4 000 x 24 x 4 bytes a picture
  const std::size_t most = std::size_t{64} << 20;
  const auto name = [](int i) {
    std::string text = "بسطرمة";
    const std::string letters = "\u0627\u0628\u062A\u062B";
    for (int n = i; n > 0; n /= 4) text += letters.substr(static_cast<std::size_t>(n % 4) * 2, 2);
    return text;
  };
  std::size_t highest = 0;
  for (int i = 1; i <= 400; ++i) {
    sheet.draw(name(i));
    sheet.draw(name(1));  // always in use
    highest = std::max(highest, sheet.canvas.device_picture_bytes());
    CHECK(sheet.canvas.device_picture_bytes() <= most);
    sheet.next_frame();
  }
  CHECK(highest > most * 9 / 10);
  const int drawn = sheet.device.drawn;
  CHECK(drawn == 400);
  for (const int kept : {1, 400, 399, 300}) sheet.draw(name(kept));
  CHECK(sheet.device.drawn == drawn);
  sheet.draw(name(2));  // had to go
  CHECK(sheet.device.drawn == drawn + 1);
  // A single frame that needs more keeps to the bound; what has no room is not drawn.
  sheet.next_frame();
  for (int i = 1000; i < 1400; ++i) sheet.draw(name(i));
  CHECK(sheet.canvas.device_picture_bytes() <= most);
  sheet.next_frame();
  sheet.draw(name(1399));
  CHECK(sheet.canvas.device_picture_bytes() <= most);
}

TEST_CASE("small pictures share textures") {
  Sheet sheet;
  for (int i = 0; i < 300; ++i) {
    std::string cell = "\xEA\xB0\x80";
    cell[1] = static_cast<char>(0xB0 + i / 60);
    cell[2] = static_cast<char>(0x80 + i % 60);
    sheet.draw(cell);
  }
  CHECK(sheet.device.drawn == 300);
  CHECK(sheet.canvas.device_picture_bytes() == 512 * 512 * 4);
}

TEST_CASE("lines break between Han, kana and Hangul, and never before what closes or after what opens") {
  const Sheet sheet;
  const double cell = sheet.canvas.width("한", type::text.font(false));
  CHECK(lines(sheet.canvas, "한국어소금", cell * 2.5) == Texts{"한국", "어소", "금"});
  CHECK(lines(sheet.canvas, "한국어소금", cell * 5.0) == Texts{"한국어소금"});
  CHECK(lines(sheet.canvas, "塩を、ふる。", cell * 2.5) == Texts{"塩", "を、", "ふ", "る。"});
  CHECK(lines(sheet.canvas, "塩（鴨）", cell * 3.2) == Texts{"塩", "（鴨）"});
  CHECK(lines(sheet.canvas, "ッ塩ッ", cell * 1.5) == Texts{"ッ", "塩", "ッ"});
  const auto wide = [&sheet](const char* text) { return sheet.canvas.width(text, type::text.font(false)); };
  CHECK(lines(sheet.canvas, "소금 25\u2009을", wide("소금 25") + 1.0) == Texts{"소금", "25\u2009을"});
  CHECK(lines(sheet.canvas, "Ham한국Ham", wide("Ham") + 1.0) == Texts{"Ham", "한국", "Ham"});
}

TEST_CASE(
    "a shaped run is broken at its spaces, and cut between clusters only where it is wider than a line") {
  const Sheet sheet;
  const Font font = type::text.font(false);
  const std::string thai = "ไส้กรอกอีสานน้ำปลาพริก";
  const Texts cut = lines(sheet.canvas, thai, 60.0);
  CHECK(cut.size() > 2);
  std::string again;
  Texts whole;
  for (const std::string& line : cut) {
    CHECK(sheet.canvas.width(line, font) <= 60.02);
    for (const std::string& cluster : clusters(line)) whole.push_back(cluster);
    again += line;
  }
  CHECK(again == thai);
  CHECK(whole == clusters(thai));
  CHECK(lines(sheet.canvas, "لحم بقر", 1000.0) == Texts{"لحم بقر"});
  CHECK(lines(sheet.canvas, "لحم بقر", sheet.canvas.width("لحم بق", font)) == Texts{"لحم", "بقر"});
}

TEST_CASE("a line is as wide as it is drawn, also where a run goes on over a space") {
  const Sheet sheet;
  for (const char* text : {"لحم بقر مجفف", "ไส้กรอก อีสาน", "Ham 한국 소금 Salz", "كبد – كبد, x بقر"}) {
    CAPTURE(text);
    for (double width = 30.0; width < 400.0; width += 13.0) {
      for (const Setting::Line& line : set(sheet.canvas, words::verbatim(text), type::text, width).lines) {
        REQUIRE_FALSE(line.pieces.empty());
        const Setting::Piece& last = line.pieces.back();
        CHECK(line.width ==
              near_abs(last.x + sheet.canvas.width(last.text, type::text.font(last.strong)), 1e-3));
      }
    }
  }
}

TEST_CASE(
    "a caret stands at the right end of a run that is read from the right, and between no cluster's parts") {
  const Sheet sheet;
  const std::string arabic = "بسطرمة";
  const double all = sheet.width(arabic);
  CHECK(sheet.canvas.caret_x(arabic, 0, Sheet::kFont) == near_abs(all, 1e-9));
  CHECK(sheet.canvas.caret_x(arabic, arabic.size(), Sheet::kFont) == near_abs(0.0, 1e-9));
  double last = all;
  for (std::size_t at = 2; at < arabic.size(); at += 2) {
    const double x = sheet.canvas.caret_x(arabic, at, Sheet::kFont);
    CHECK(x < last);
    last = x;
  }
  const std::string thai = "aกี่น";
  CHECK(sheet.canvas.caret_x(thai, 4, Sheet::kFont) == sheet.canvas.caret_x(thai, 1, Sheet::kFont));
  CHECK(sheet.canvas.caret_x(thai, thai.size(), Sheet::kFont) == near_abs(sheet.width(thai), 1e-9));
  CHECK(sheet.canvas.caret_x("Ham", 2, Sheet::kFont) == sheet.width("Ha"));
  TextBuffer buffer;
  buffer.set("กี่น👩‍🌾");
  buffer.move_left(false);
  buffer.move_left(false);
  CHECK(buffer.caret() == std::string("กี่").size());
  buffer.erase_forward();
  CHECK(buffer.text() == "กี่👩‍🌾");
  buffer.move_right(false);
  CHECK(buffer.caret() == buffer.text().size());
}

TEST_CASE("a field takes any script, shows its caret wherever it stands, and keeps what was typed") {
  Device device;
  Stage stage;
  stage.host.use_device_fonts(
      [&device](const RunText& run, bool with_pixels) { return device.set(run, with_pixels); });
  std::string kept;
  stage.draw = [&kept](Host& host, const words::Language& l) {
    PageSetup setup;
    setup.key = Key("form");
    Page page(host, l, setup);
    Field field;
    field.key = Key("name");
    field.label = words::verbatim("Name");
    field.value = kept;
    const Typed typed = text_field(page, field);
    if (typed.committed) kept = *typed.committed;
  };
  stage.size(390.0, 844.0);
  for (const char* text :
       {"بسطرمة لحم البقر", "ไส้กรอกอีสาน Ham", "훈제 오리 👩‍🌾🐖", "a\u0331\u0331 נקניק 12"}) {
    CAPTURE(text);
    stage.fill(Role::textbox, "Name", "");
    stage.press(Role::textbox, "Name");
    stage.type(text);
    const Rect at = stage.node(Role::textbox, "Name").rect;
    for (double x = at.x; x < at.right(); x += 23.0) {
      stage.host.pointer_down(x, at.y + 20.0, PointerSource::mouse);
      stage.host.pointer_up(x, at.y + 20.0, PointerSource::mouse);
      stage.settle();
      stage.key(KeyPress::left, true);
      stage.key(KeyPress::right);
    }
    stage.host.leave();
    stage.settle();
    CHECK(kept == text);
  }
  CHECK(device.valid);
  CHECK(device.drawn > 0);
}

TEST_CASE("whatever is written is measured, broken and drawn, and the device gets valid text alone") {
  Sheet sheet(2.0);
  std::string zalgo = "h";
  for (int i = 0; i < 10000; ++i) zalgo += i % 2 == 0 ? "\u0331" : "\u0E49";
  std::string long_thai;
  std::string long_han;
  std::string long_arabic;
  for (int i = 0; i < 10000; ++i) {
    long_thai += "ก";
    long_han += "中";
    long_arabic += i % 7 == 0 ? " " : "ب";
  }
  Texts texts = {zalgo,    long_thai,      long_han,    long_arabic, std::string("\0a\0ب\0", 6),
                 "\u0301", "\u200D\u200D", "\u202Eabc", "👩‍",   "\xF0\x9F\x90",
                 "\uFEFF", "\uFFFD\uFFFE"};
  std::mt19937 random(7);
  const char* bits[] = {"a",      " ",      "\u0301", "ب",    "ไ",    "้",       "한",
                        "\u1112", "\u1161", "中",     "。",   "👩",    "\u200D", "🌾",
                        "\uFE0F", "🇰",      "\xFF",   "\xE4", "\x80", "\n",     "\u202E",
                        "\u0331", "\u2009", "-",      "1",    "क",    "\u094D", "\U000E0101"};
  for (int i = 0; i < 2000; ++i) {
    std::string text;
    for (int n = static_cast<int>(random() % 14); n >= 0; --n) text += bits[random() % std::size(bits)];
    texts.push_back(text);
  }
  const FaceHas in_face = {[](const void* canvas, char32_t c) {
                             return static_cast<const Canvas*>(canvas)->has_glyph(c, Family::sans, false);
                           },
                           &sheet.canvas};
  for (const std::string& text : texts) {
    CAPTURE(text.substr(0, 60));
    std::string joined;
    for (const Run& run : runs_of(text, in_face)) {
      CHECK_FALSE(run.text.empty());
      joined += run.text;
    }
    CHECK(joined == text);
    const double width = sheet.width(text);
    CHECK(std::isfinite(width));
    CHECK(width >= 0.0);
    for (std::size_t at = 0; at < text.size(); at = cluster_end(text, at + text.size() / 40)) {
      const double x = sheet.canvas.caret_x(text, at, Sheet::kFont);
      CHECK(x >= -1e-6);
      CHECK(x <= width + 1e-3);
    }
    const Setting setting = set(sheet.canvas, words::verbatim(text), type::text, 150.0);
    draw(sheet.canvas, setting, 5.0, 5.0);
    sheet.draw(text);
  }
  CHECK(sheet.device.valid);
  CHECK(sheet.device.drawn > 100);
  for (const std::string& text : sheet.device.texts) CHECK(text.size() <= 1024);
}
