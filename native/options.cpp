#include "native/options.h"

#include <cstdlib>

namespace saltrafter::native {
namespace {

// A whole number in a range, and nothing else in the text.
std::optional<int> whole(const std::string& text, int low, int high) {
  if (text.empty() || text.size() > 6) return std::nullopt;
  int value = 0;
  for (const char c : text) {
    if (c < '0' || c > '9') return std::nullopt;
    value = value * 10 + (c - '0');
  }
  if (value < low || value > high) return std::nullopt;
  return value;
}

bool read_size(const std::string& text, Options& out) {
  const auto cross = text.find('x');
  if (cross == std::string::npos) return false;
  const auto width = whole(text.substr(0, cross), 200, 8000);
  const auto height = whole(text.substr(cross + 1), 200, 8000);
  if (!width || !height) return false;
  out.width_px = *width;
  out.height_px = *height;
  return true;
}

bool read_scale(const std::string& text, Options& out) {
  if (text == "1.5") {
    out.scale = 1.5;
    return true;
  }
  const auto scale = whole(text, 1, 4);
  if (!scale) return false;
  out.scale = *scale;
  return true;
}

bool read_theme(const std::string& text, Options& out) {
  if (text != "paper" && text != "cellar") return false;
  out.theme = text == "paper" ? parts::ThemeName::paper : parts::ThemeName::cellar;
  return true;
}

bool read_day(const std::string& text, Options& out) {
  const Result<Date> day = parse_iso_date(text);
  if (!day.ok()) return false;
  out.today = day.value();
  return true;
}

struct Flag {
  const char* name;
  const char* wants;
  bool (*take)(const std::string& text, Options& out);
};

template <std::string Options::*member>
bool keep(const std::string& text, Options& out) {
  if (text.empty()) return false;
  out.*member = text;
  return true;
}

constexpr Flag kFlags[] = {
    {"--report", "a recipe or book file", keep<&Options::report>},
    {"--play", "a journey file", keep<&Options::play>},
    {"--shots", "a folder", keep<&Options::shots>},
    {"--gallery", "a folder", keep<&Options::gallery>},
    {"--data", "a folder", keep<&Options::data>},
    {"--today", "a day, such as 2026-11-25", read_day},
    {"--theme", "paper or cellar", read_theme},
    {"--size", "width x height from 200 to 8000, such as 1240x800", read_size},
    {"--scale", "1, 1.5, 2, 3 or 4", read_scale},
};

}  // namespace

ReadOptions read_options(const std::vector<std::string>& words) {
  ReadOptions out;
  const auto fault = [&out](std::string text) {
    out.fault = std::move(text);
    return out;
  };
  for (std::size_t i = 0; i < words.size(); ++i) {
    const std::string& word = words[i];
    if (word == "--help" || word == "-h") {
      out.options.help = true;
      continue;
    }
    const Flag* flag = nullptr;
    for (const Flag& known : kFlags) {
      if (word == known.name) flag = &known;
    }
    if (flag == nullptr && !word.empty() && word.front() == '-') {
      return fault("Unknown: " + word + ". --help lists what there is.");
    }
    if (flag == nullptr) {
      if (!out.options.file.empty()) return fault("One file can be opened, not also " + word + ".");
      out.options.file = word;
      continue;
    }
    if (i + 1 >= words.size() || !flag->take(words[i + 1], out.options)) {
      return fault(word + " wants " + flag->wants + (i + 1 < words.size() ? ", not " + words[i + 1] : "") + ".");
    }
    ++i;
  }
  if (!out.options.shots.empty() && out.options.play.empty()) return fault("--shots goes with --play.");
  return out;
}

const char* help() {
  return
      R"(saltrafter [FILE]             opens the window, and FILE in it
saltrafter --report FILE      prints every figure of a recipe or book file as JSON
saltrafter --play FILE        plays a journey in the window: exit 0 when it passes
saltrafter --gallery FOLDER   pictures (PNG) of every part, scrolled through: exit 0 when none is cut

  --today DATE       as if it were that day (2026-11-25)
  --data FOLDER      keeps the book there; a journey without it starts from nothing
  --size WxH         of the window (1240x800)
  --scale N          enlarges everything: 1, 1.5, 2, 3 or 4
  --theme NAME       paper or cellar
  --shots FOLDER     a picture (PNG) after each step of the journey
  --help             this

Exit codes: 0 all well; 1 the journey failed, a part was cut or there is no display; 2 wrong words or a file
that cannot be read.
)";
}

}  // namespace saltrafter::native
