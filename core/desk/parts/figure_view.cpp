#include "core/desk/parts/figure_view.h"

#include <cmath>
#include <variant>

namespace saltrafter::parts {
namespace {

constexpr double kPxPerMm = 1.0 / figure::kMmPerPx;

Font font_of(figure::Face face, double size_px) {
  return Font{Family::sans, face == figure::Face::label_bold, size_px};
}

class Painter {
 public:
  Painter(Canvas& canvas, double x, double y) : c_(canvas), x_(x), y_(y) {}

  void operator()(const figure::Line& line) {
    const Colour colour = c_.theme().of(line.paint);
    const std::vector<figure::Point> px = moved(line.points);
    const double thickness = line.width_mm * kPxPerMm;
    if (line.dash_mm > 0.0) {
      dashed(px, line, colour, thickness);
    } else if (px.size() == 2) {
      c_.line(px[0].x_mm, px[0].y_mm, px[1].x_mm, px[1].y_mm, colour, thickness);
    } else {
      c_.polyline(px, colour, thickness, line.closed);
    }
  }

  void operator()(const figure::Area& area) { c_.polygon(moved(area.points), c_.theme().of(area.paint)); }

  void operator()(const figure::Mark& mark) {
    const double x = x_ + mark.at.x_mm * kPxPerMm;
    const double y = y_ + mark.at.y_mm * kPxPerMm;
    c_.disc(x, y, mark.radius_mm * kPxPerMm, c_.theme().of(mark.fill));
    c_.ring(x, y, mark.radius_mm * kPxPerMm, mark.width_mm * kPxPerMm, c_.theme().of(mark.line));
  }

  void operator()(const figure::Label& label) {
    const Font font = font_of(label.face, label.size_mm * kPxPerMm);
    const double run = c_.width(label.text, font);
    double x = x_ + label.at.x_mm * kPxPerMm;
    if (label.align == figure::Align::centre) x -= run / 2.0;
    if (label.align == figure::Align::right) x -= run;
    const double y = y_ + label.at.y_mm * kPxPerMm;
    const double halo = label.halo_mm * kPxPerMm;
    if (halo > 0.0) {
      // The letters themselves in the ground's colour, round about: what lies behind is kept off.
      for (int k = 0; k < 8; ++k) {
        const double angle = 3.14159265358979 * k / 4.0;
        c_.letters(x + halo * std::cos(angle), y + halo * std::sin(angle), label.text, font,
                   c_.colour(Ink::ground));
      }
    }
    c_.letters(x, y, label.text, font, c_.theme().of(label.paint));
  }

 private:
  std::vector<figure::Point> moved(const std::vector<figure::Point>& mm) const {
    std::vector<figure::Point> px;
    px.reserve(mm.size());
    for (const figure::Point& p : mm)
      px.push_back(figure::Point{x_ + p.x_mm * kPxPerMm, y_ + p.y_mm * kPxPerMm});
    return px;
  }

  void dashed(const std::vector<figure::Point>& px, const figure::Line& line, Colour colour,
              double thickness) {
    const double dash = line.dash_mm * kPxPerMm;
    const double gap = line.gap_mm * kPxPerMm;
    if (px.size() == 2) {
      c_.dashes(px[0].x_mm, px[0].y_mm, px[1].x_mm, px[1].y_mm, colour, thickness, dash, gap);
      return;
    }
    // Along a curve: dashes run on over the corners.
    double into = 0.0;
    const std::size_t legs = line.closed ? px.size() : px.size() - 1;
    for (std::size_t i = 0; i < legs && px.size() > 1; ++i) {
      const figure::Point& a = px[i];
      const figure::Point& b = px[(i + 1) % px.size()];
      const double length = std::hypot(b.x_mm - a.x_mm, b.y_mm - a.y_mm);
      for (double at = 0.0; at < length;) {
        const bool on = into < dash;
        const double step = std::fmin(length - at, (on ? dash : dash + gap) - into);
        if (on && length > 0.0) {
          const double t0 = at / length;
          const double t1 = (at + step) / length;
          c_.line(a.x_mm + t0 * (b.x_mm - a.x_mm), a.y_mm + t0 * (b.y_mm - a.y_mm),
                  a.x_mm + t1 * (b.x_mm - a.x_mm), a.y_mm + t1 * (b.y_mm - a.y_mm), colour, thickness);
        }
        at += std::fmax(step, 1e-6);
        into += std::fmax(step, 1e-6);
        if (into >= dash + gap - 1e-9) into = 0.0;
      }
    }
  }

  Canvas& c_;
  double x_;
  double y_;
};

void emit_figure(Page& page, const figure::Figure& picture, const words::Text& name, const Rect& rect) {
  Node node;
  node.role = Role::figure;
  node.name = name.plain();
  node.verbatim = name.verbatim();
  node.value = labels_of(picture);
  node.rect = rect;
  page.control(std::move(node));
}

}  // namespace

std::string labels_of(const figure::Figure& picture) {
  std::string all;
  for (const figure::Item& item : picture.items) {
    const figure::Label* label = std::get_if<figure::Label>(&item);
    if (label == nullptr) continue;
    if (!all.empty()) all += ", ";
    all += label->text;
  }
  return all;
}

void paint(Page& page, const figure::Figure& picture, double x, double y) {
  Painter painter(page.canvas(), x, y);
  for (const figure::Item& item : picture.items) std::visit(painter, item);
}

double figure_width_mm(const Page& page) { return page.width() * figure::kMmPerPx; }

void figure_view(Page& page, const figure::Figure& picture, const words::Text& name) {
  page.space(16.0);
  Rect rect = page.take(picture.height_mm * kPxPerMm);
  rect.width = picture.width_mm * kPxPerMm;
  emit_figure(page, picture, name, rect);
  if (page.visible(rect)) paint(page, picture, rect.x, rect.y);
  page.space(16.0);
}

void meat_strip(Page& page, const words::Text& name, figure::MeatStripInput input, const words::Text& left,
                const words::Text& right, const words::Text& now_label) {
  Canvas& c = page.canvas();
  page.space(8.0);
  const double left_width = left.empty() ? 0.0 : width_of(c, left, type::small) + 16.0;
  const double right_width = right.empty() ? 0.0 : width_of(c, right, type::small) + 16.0;
  const double above = now_label.empty() ? 0.0 : 26.0;
  const double height = 40.0;
  const Rect rect = page.take(above + height + 8.0);
  const double room = std::fmin(440.0, rect.width - left_width - right_width);
  input.width_mm = room * figure::kMmPerPx;
  input.height_mm = height * figure::kMmPerPx;
  const figure::Figure picture = figure::meat_strip(input);
  const double x = rect.x + left_width;
  const double y = rect.y + above;
  emit_figure(page, picture, name, Rect{x, y, room, height});
  if (page.visible(rect)) paint(page, picture, x, y);
  const double text_y = y + (height - type::small.line()) / 2.0;
  draw(c, set(c, left, type::small, left_width), rect.x, text_y);
  page.say(left, Role::text, Rect{rect.x, text_y, left_width, type::small.line()});
  draw(c, set(c, right, type::small, right_width), x + room + 16.0, text_y);
  page.say(right, Role::text, Rect{x + room + 16.0, text_y, right_width - 16.0, type::small.line()});
  if (!now_label.empty()) {
    const double now_x = x + room * std::fmin(1.0, std::fmax(0.0, input.now));
    const Setting& label = set(c, now_label, type::strong, rect.width);
    const double label_x =
        std::fmin(rect.right() - label.width, std::fmax(rect.x, now_x - label.width / 2.0));
    draw(c, label, label_x, rect.y);
    page.say(now_label, Role::text, Rect{label_x, rect.y, label.width, label.height()});
    c.fill(Rect{now_x - 2.0, y - 2.0, 3.0, height + 4.0}, c.colour(Ink::ink));
  }
  page.space(16.0);
}

}  // namespace saltrafter::parts
