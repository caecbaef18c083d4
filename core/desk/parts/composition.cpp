#include "core/desk/parts/composition.h"

#include <array>
#include <cmath>

namespace saltrafter::parts {
namespace {

// Neighbours must differ, also in grey.
constexpr std::array<double, 6> kTints = {0.14, 0.40, 0.22, 0.72, 0.30, 0.55};
constexpr double kPiece = 14.0;  // of the bar, before a name
constexpr double kJoin = 12.0;   // height of the lines from parts to names

// The left ends of the names: at their parts where they fit, moved apart where not. Empty when one line
// cannot hold them.
std::vector<double> placed(const std::vector<double>& wanted, const std::vector<double>& widths,
                           double room) {
  constexpr double kApart = 14.0;
  std::vector<double> at(wanted.size());
  double least = 0.0;
  for (std::size_t i = 0; i < wanted.size(); ++i) {
    at[i] = std::fmax(least, wanted[i]);
    least = at[i] + widths[i] + kApart;
  }
  double most = room;
  for (std::size_t i = wanted.size(); i > 0; --i) {
    at[i - 1] = std::fmin(at[i - 1], most - widths[i - 1]);
    most = at[i - 1] - kApart;
  }
  if (!at.empty() && at[0] < -0.5) at.clear();
  return at;
}

}  // namespace

void composition_bar(Page& page, const words::Text& head, const std::vector<Share>& shares) {
  Canvas& c = page.canvas();
  page.space(8.0);
  // One picture to a listener: the head, then the parts with their figures.
  Node node;
  node.role = Role::figure;
  node.name = head.plain();
  node.verbatim = head.verbatim();
  for (const Share& s : shares) node.value += (node.value.empty() ? "" : ", ") + s.name.plain();
  const Setting& title = set(c, head, type::small, page.text_width());
  const Rect title_rect = page.take(title.height());
  draw(c, title, title_rect.x, title_rect.y);
  double sum = 0.0;
  for (const Share& s : shares) sum += std::isfinite(s.share) ? std::fmax(0.0, s.share) : 0.0;
  if (sum <= 0.0) return;
  const Rect bar = page.take(25.0);
  std::vector<double> wanted;
  std::vector<double> widths;
  std::vector<double> middles;
  double x = bar.x;
  for (std::size_t i = 0; i < shares.size(); ++i) {
    const double part = std::isfinite(shares[i].share) ? std::fmax(0.0, shares[i].share) : 0.0;
    const double width = bar.width * part / sum;
    if (width > 0.0) {
      const double gap = i + 1 < shares.size() ? 2.0 : 0.0;
      c.fill(Rect{x, bar.y, std::fmax(1.0, width - gap), bar.height},
             mix(c.colour(Ink::ink), c.colour(Ink::ground), kTints[i % kTints.size()]));
    }
    wanted.push_back(x - bar.x);
    middles.push_back(x + width / 2.0);
    widths.push_back(width_of(c, shares[i].name, type::text));
    x += width;
  }
  page.space(2.0);
  std::vector<double> at = placed(wanted, widths, bar.width);
  // Names that do not fit under the left ends of their parts stand under the middles, joined to them.
  bool moved = false;
  for (std::size_t i = 0; i < at.size(); ++i) moved = moved || std::fabs(at[i] - wanted[i]) > 4.0;
  if (moved) {
    for (std::size_t i = 0; i < at.size(); ++i) wanted[i] = middles[i] - bar.x - widths[i] / 2.0;
    at = placed(wanted, widths, bar.width);
  }
  if (at.empty()) {
    for (const Share& s : shares) {
      // A piece of the bar stands before the name of its part.
      const Setting& name = set(c, s.name, type::text, page.text_width() - kPiece - 10.0);
      const Rect line = page.take(name.height());
      const auto i = static_cast<std::size_t>(&s - shares.data());
      const Rect piece{line.x, line.y + (type::text.line() - kPiece) / 2.0, kPiece, kPiece};
      c.fill(piece, mix(c.colour(Ink::ink), c.colour(Ink::ground), kTints[i % kTints.size()]));
      c.outline(piece, c.colour(Ink::soft), 1.0);
      draw(c, name, line.x + kPiece + 10.0, line.y);
    }
  } else {
    const Rect joins = page.take(moved ? kJoin : 0.0);
    for (std::size_t i = 0; moved && i < at.size(); ++i) {
      const double left = bar.x + at[i] + 6.0;
      const double right = std::fmax(left, bar.x + at[i] + widths[i] - 6.0);
      const double end = std::fmin(right, std::fmax(left, middles[i]));
      c.polyline({{middles[i], joins.y - 2.0}, {end, joins.bottom()}}, c.colour(Ink::soft), 1.0, false);
    }
    const Rect line = page.take(type::text.line());
    for (std::size_t i = 0; i < shares.size(); ++i) {
      const Rect rect{line.x + at[i], line.y, widths[i], line.height};
      draw(c, set(c, shares[i].name, type::text, widths[i] + 1.0), rect.x, rect.y);
    }
  }
  node.rect = Rect{title_rect.x, title_rect.y, title_rect.width, page.y() - title_rect.y};
  page.control(std::move(node));
  page.space(12.0);
}

}  // namespace saltrafter::parts
