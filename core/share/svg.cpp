#include "core/share/svg.h"

#include <algorithm>
#include <cmath>
#include <cstdio>

namespace saltrafter::share {
namespace {

// A micrometre is finer than any printer.
std::string number(double value) {
  if (!std::isfinite(value)) return "0";
  char buffer[48];
  std::snprintf(buffer, sizeof buffer, "%.3f", std::clamp(value, -1e6, 1e6));
  std::string out = buffer;
  while (out.back() == '0') out.pop_back();
  if (out.back() == '.') out.pop_back();
  return out == "-0" ? "0" : out;
}

std::string escape(std::string_view text) {
  std::string out;
  for (const char c : text) {
    switch (c) {
      case '&': out += "&amp;"; break;
      case '<': out += "&lt;"; break;
      case '>': out += "&gt;"; break;
      case '"': out += "&quot;"; break;
      default:
        if (static_cast<unsigned char>(c) >= 0x20) out += c;
    }
  }
  return out;
}

struct Rgb {
  double red = 0.0, green = 0.0, blue = 0.0;
};

Rgb rgb_of(const std::string& hex) {
  const auto digit = [&](std::size_t i) {
    const char c = i < hex.size() ? hex[i] : '0';
    return c >= '0' && c <= '9' ? c - '0' : c >= 'A' && c <= 'F' ? c - 'A' + 10 : c >= 'a' && c <= 'f' ? c - 'a' + 10 : 0;
  };
  const auto pair = [&](std::size_t i) { return static_cast<double>(digit(i) * 16 + digit(i + 1)); };
  return {pair(1), pair(3), pair(5)};
}

std::string mix(const std::string& over, const std::string& under, double share) {
  const Rgb a = rgb_of(over);
  const Rgb b = rgb_of(under);
  const double part = std::isfinite(share) ? std::clamp(share, 0.0, 1.0) : 1.0;
  const auto blend = [&](double x, double y) { return static_cast<int>(std::lround(y + (x - y) * part)); };
  char buffer[16];
  std::snprintf(buffer, sizeof buffer, "#%02X%02X%02X", static_cast<unsigned>(blend(a.red, b.red)),
                static_cast<unsigned>(blend(a.green, b.green)), static_cast<unsigned>(blend(a.blue, b.blue)));
  return buffer;
}

std::string colour(const figure::Paint& paint, const Palette& palette) {
  const std::string& ground = palette.inks[static_cast<std::size_t>(figure::Ink::ground)];
  if (!(paint.ramp >= 0.0)) return mix(palette.inks[static_cast<std::size_t>(paint.ink)], ground, paint.share);
  const double place = std::min(paint.ramp, 1.0) * 4.0;
  const auto step = static_cast<std::size_t>(std::min(3.0, std::floor(place)));
  return mix(palette.ramp[step + 1], palette.ramp[step], place - static_cast<double>(step));
}

std::string points(const std::vector<figure::Point>& list) {
  std::string out;
  for (const figure::Point& point : list) {
    out += (out.empty() ? "" : " ") + number(point.x_mm) + "," + number(point.y_mm);
  }
  return out;
}

struct Writer {
  std::string& out;
  const Palette& palette;
  const figure::Advance& advance;

  void operator()(const figure::Line& line) const {
    out += std::string(line.closed ? "<polygon" : "<polyline") + " points=\"" + points(line.points) +
           "\" fill=\"none\" stroke=\"" + colour(line.paint, palette) + "\" stroke-width=\"" + number(line.width_mm) + "\"";
    if (line.dash_mm > 0.0) out += " stroke-dasharray=\"" + number(line.dash_mm) + " " + number(line.gap_mm) + "\"";
    out += "/>\n";
  }
  void operator()(const figure::Area& area) const {
    out += "<polygon points=\"" + points(area.points) + "\" fill=\"" + colour(area.paint, palette) + "\"/>\n";
  }
  void operator()(const figure::Mark& mark) const {
    out += "<circle cx=\"" + number(mark.at.x_mm) + "\" cy=\"" + number(mark.at.y_mm) + "\" r=\"" +
           number(mark.radius_mm) + "\" fill=\"" + colour(mark.fill, palette) + "\" stroke=\"" +
           colour(mark.line, palette) + "\" stroke-width=\"" + number(mark.width_mm) + "\"/>\n";
  }
  void operator()(const figure::Label& label) const {
    const char* anchor = label.align == figure::Align::left    ? "start"
                         : label.align == figure::Align::right ? "end"
                                                               : "middle";
    out += "<text x=\"" + number(label.at.x_mm) + "\" y=\"" + number(label.at.y_mm) + "\" font-size=\"" +
           number(label.size_mm) + "\" textLength=\"" +
           number(advance(label.text, label.face) * label.size_mm) +
           "\" lengthAdjust=\"spacingAndGlyphs\" text-anchor=\"" + anchor + "\" fill=\"" +
           colour(label.paint, palette) + "\"";
    if (label.face == figure::Face::label_bold) out += " font-weight=\"bold\"";
    if (label.halo_mm > 0.0) {
      out += " paint-order=\"stroke\" stroke-linejoin=\"round\" stroke=\"" +
             palette.inks[static_cast<std::size_t>(figure::Ink::ground)] + "\" stroke-width=\"" +
             number(2.0 * label.halo_mm) + "\"";
    }
    out += ">" + escape(label.text) + "</text>\n";
  }
};

}  // namespace

Palette paper_palette() {
  return {{"#F5EFE3", "#FCF8F0", "#2B221B", "#66574A", "#D8CBB6", "#1C5A57", "#FCF8F0", "#E4E6D8", "#7A5300", "#93300F",
           "#2B221B"},
          {"#E3A09A", "#C9746B", "#A4504A", "#743530", "#4C231F"}};
}

std::string svg(const figure::Figure& figure, const Palette& palette, std::string_view title) {
  const std::string width = number(figure.width_mm);
  const std::string height = number(figure.height_mm);
  std::string out = "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"" + width + "mm\" height=\"" + height +
                    "mm\" viewBox=\"0 0 " + width + " " + height + "\" font-family=\"Carlito, Calibri, sans-serif\"";
  out += title.empty() ? ">\n" : " role=\"img\">\n<title>" + escape(title) + "</title>\n";
  out += "<rect width=\"" + width + "\" height=\"" + height + "\" fill=\"" +
         palette.inks[static_cast<std::size_t>(figure::Ink::ground)] + "\"/>\n";
  const figure::Advance advance = figure::advance_from_tables();
  const Writer writer{out, palette, advance};
  for (const figure::Item& item : figure.items) std::visit(writer, item);
  return out + "</svg>\n";
}

}  // namespace saltrafter::share
