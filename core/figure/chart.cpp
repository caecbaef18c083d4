#include "core/figure/chart.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "core/figure/date_axis.h"
#include "core/figure/hatch.h"
#include "core/figure/placing.h"
#include "core/figure/ticks.h"

namespace saltrafter::figure {
namespace {

constexpr double kPx = kMmPerPx;
constexpr double kText = 17.0 * kPx;
constexpr double kNarrow = 520.0 * kPx;  // below this names of lines stand in the plot, not beside it
constexpr double kWas = 2.0;  // px; what will be is half as wide again, so that grey tells them apart
constexpr double kWill = 3.0;

// Dash and gap, px, by the order of the lines.
constexpr std::array<std::array<double, 2>, 3> kPens = {{{0.0, 0.0}, {10.0, 4.0}, {2.5, 3.5}}};

using Places = std::vector<std::pair<Point, Align>>;

bool drawable(const Series& s) {
  return !s.day.empty() && s.day.size() == s.value.size() &&
         (s.kind != Series::Kind::band || s.day.size() == s.other.size());
}

class Drawing {
 public:
  Drawing(const Chart& chart, double width_mm, const Advance& advance)
      : chart_(chart), advance_(advance), width_(width_mm) {}

  ChartPicture draw() {
    measure();
    Placing placing(width_, picture_.figure.height_mm, advance_);
    placing_ = &placing;
    value_windows();
    for_each(Series::Kind::band, [this](const Series& s, int) { band(s); });
    value_axis();
    date_axis();
    window_edges();
    today_line();
    targets();
    windows();
    for_each(Series::Kind::bars, [this](const Series& s, int) { bars(s); });
    for_each(Series::Kind::line, [this](const Series& s, int nth) { line(s, nth); });
    for_each(Series::Kind::points, [this](const Series& s, int nth) { points(s, nth); });
    reading();
    today_name();
    target_names();
    line_names();
    window_names();
    for (Label& label : labels_) items().push_back(std::move(label));
    return std::move(picture_);
  }

 private:
  std::vector<Item>& items() { return picture_.figure.items; }
  const ChartScale& scale() const { return picture_.scale; }
  double x(double day) const { return scale().x_mm(day); }
  double y(double value) const { return scale().y_mm(value); }
  bool visible(double day) const { return day >= scale().from_day - 1e-6 && day <= scale().to_day + 1e-6; }
  double held(double day) const { return std::fmin(scale().to_day, std::fmax(scale().from_day, day)); }
  double run(const std::string& text, Face face = Face::label) const { return advance_(text, face) * kText; }
  // Without a today everything was.
  double today() const { return chart_.today ? *chart_.today : scale().to_day; }

  template <class Act>
  void for_each(Series::Kind kind, const Act& act) {
    int nth = 0;
    for (const Series& s : chart_.series) {
      if (s.kind == kind && drawable(s)) act(s, nth++);
    }
  }

  void measure() {
    ChartScale& s = picture_.scale;
    s.from_day = chart_.from_day;
    s.to_day = std::fmax(chart_.to_day, chart_.from_day + 1.0);
    s.down = chart_.down;
    double low = 1e300;
    double high = -1e300;
    const auto hold = [&low, &high](double v) {
      if (!std::isfinite(v)) return;
      low = std::fmin(low, v);
      high = std::fmax(high, v);
    };
    for (const Series& series : chart_.series) {
      if (!drawable(series)) continue;
      for (const double v : series.value) hold(v);
      for (const double v : series.other) hold(v);
      if (series.kind == Series::Kind::bars) hold(0.0);
    }
    for (const Target& t : chart_.targets) hold(t.value);
    for (const ValueWindow& w : chart_.value_windows) {
      hold(w.low);
      hold(w.high);
    }
    if (chart_.from_zero) hold(0.0);
    if (high < low) low = high = 0.0;
    high = std::fmax(high, low + std::fmax(chart_.least_span, 1e-6));
    if (chart_.most) high = std::fmin(high, std::fmax(*chart_.most, low + 1e-6));
    step_ = nice_step(high - low, 5);
    s.low = std::floor(low / step_ + 1e-9) * step_;
    s.high = std::ceil(high / step_ - 1e-9) * step_;

    double widest = 0.0;
    for (const double v : ticks(s.low, s.high, step_)) widest = std::fmax(widest, run(value_text(v)));
    narrow_ = width_ < kNarrow;
    double beside = 30.0 * kPx;  // the last date is centred under the plot's right end
    if (!narrow_) {
      for (const Target& t : chart_.targets) beside = std::fmax(beside, run(t.label) + 12.0 * kPx);
      for (const ValueWindow& w : chart_.value_windows) beside = std::fmax(beside, run(w.label) + 12.0 * kPx);
      for (const Series& each : chart_.series) beside = std::fmax(beside, run(each.label) + 12.0 * kPx);
    }
    s.plot.left_mm = widest + 12.0 * kPx;
    s.plot.right_mm = std::fmax(s.plot.left_mm + kText, width_ - (narrow_ ? 22.0 * kPx : beside));
    s.plot.top_mm = (chart_.today_label.empty() ? 12.0 : 30.0) * kPx;
    s.plot.bottom_mm = s.plot.top_mm + std::fmin(300.0 * kPx, std::fmax(190.0 * kPx, 0.36 * width_));
    const bool bar_row = !chart_.windows.empty();
    bar_y_ = s.plot.bottom_mm + 20.0 * kPx;
    dates_y_ = s.plot.bottom_mm + (bar_row ? 56.0 : 28.0) * kPx;
    picture_.figure.width_mm = width_;
    picture_.figure.height_mm = dates_y_ + 10.0 * kPx;
  }

  std::string value_text(double value) const {
    return chart_.value_text ? chart_.value_text(std::abs(value) < 1e-9 * step_ ? 0.0 : value)
                             : std::string();
  }

  void stroke(std::vector<Point> points, double width_px, Paint paint, double dash_px = 0.0,
              double gap_px = 0.0) {
    Line l;
    l.points = std::move(points);
    l.width_mm = width_px * kPx;
    l.paint = paint;
    l.dash_mm = dash_px * kPx;
    l.gap_mm = gap_px * kPx;
    items().push_back(std::move(l));
  }

  void level(double at_mm, double width_px, Paint paint, double dash_px = 0.0, double gap_px = 0.0) {
    stroke({Point{scale().plot.left_mm, at_mm}, Point{scale().plot.right_mm, at_mm}}, width_px, paint,
           dash_px, gap_px);
  }

  static Label label_of(const std::string& text, Paint paint, Face face = Face::label) {
    Label l;
    l.text = text;
    l.size_mm = kText;
    l.face = face;
    l.paint = paint;
    return l;
  }

  // A name among lines: a halo parts it from the hairlines behind, and from more where nothing else is free.
  void name(const std::string& text, Paint paint, const Places& places, Face face = Face::label) {
    if (text.empty() || places.empty()) return;
    Label l = label_of(text, paint, face);
    l.halo_mm = 3.0 * kPx;
    labels_.push_back(placing_->place(l, places));
  }

  // The stretch of a course from one day to another, its ends on the course.
  std::vector<Point> course(const std::vector<double>& day, const std::vector<double>& value, double from,
                            double to) const {
    std::vector<Point> points;
    from = std::fmax(from, day.front());
    to = std::fmin(to, day.back());
    if (!(from < to)) return points;
    points.push_back(Point{x(from), y(value_at(day, value, from))});
    for (std::size_t i = 0; i < day.size(); ++i) {
      if (day[i] > from && day[i] < to) points.push_back(Point{x(day[i]), y(value[i])});
    }
    points.push_back(Point{x(to), y(value_at(day, value, to))});
    return points;
  }

  void value_windows() {
    const Box& plot = scale().plot;
    for (const ValueWindow& w : chart_.value_windows) {
      items().push_back(Area{{Point{plot.left_mm, y(w.low)}, Point{plot.right_mm, y(w.low)},
                              Point{plot.right_mm, y(w.high)}, Point{plot.left_mm, y(w.high)}},
                             of(Ink::soft, 0.14)});
    }
  }

  // Over the hairlines, which may run along them.
  void window_edges() {
    for (const ValueWindow& w : chart_.value_windows) {
      for (const double at : {y(w.low), y(w.high)}) {
        level(at, 1.5, of(Ink::soft), 7.0, 5.0);
        placing_->keep_clear_of_line({Point{scale().plot.left_mm, at}, Point{scale().plot.right_mm, at}},
                                     1.5 * kPx, 10.0);
      }
    }
  }

  // A few corners are enough for a smooth edge and quick to fill.
  static std::vector<Point> thinned(std::vector<Point> points) {
    constexpr std::size_t kCorners = 60;
    if (points.size() <= kCorners) return points;
    std::vector<Point> fewer;
    for (std::size_t i = 0; i < kCorners; ++i)
      fewer.push_back(points[i * (points.size() - 1) / (kCorners - 1)]);
    return fewer;
  }

  // One outline, so that no seam shows.
  void band(const Series& s) {
    for (const bool will : {false, true}) {
      const double from = will ? held(today()) : scale().from_day;
      const double to = will ? scale().to_day : held(today());
      std::vector<Point> edge = thinned(course(s.day, s.value, from, to));
      const std::vector<Point> back = thinned(course(s.day, s.other, from, to));
      if (edge.empty()) continue;
      placing_->keep_clear_of_line(edge, 0.0, 8.0);
      placing_->keep_clear_of_line(back, 0.0, 8.0);
      edge.insert(edge.end(), back.rbegin(), back.rend());
      items().push_back(Area{std::move(edge), will ? of(Ink::accent, 0.24) : of(Ink::soft, 0.2)});
    }
  }

  void value_axis() {
    for (const double value : ticks(scale().low, scale().high, step_)) {
      level(y(value), 1.0, of(Ink::rule));
      Label l = label_of(value_text(value), of(Ink::soft));
      l.at = Point{scale().plot.left_mm - 10.0 * kPx, y(value) + 6.0 * kPx};
      l.align = Align::right;
      placing_->keep_clear_of(l);
      labels_.push_back(std::move(l));
    }
  }

  void date_axis() {
    const auto runs = [this](const std::string& text) { return run(text); };
    for (const DateTick& tick : date_ticks(chart_, scale(), width_, 10.0 * kPx, runs)) {
      Label l = label_of(tick.text, of(Ink::soft));
      l.at = Point{x(tick.day), dates_y_};
      l.align = Align::centre;
      placing_->keep_clear_of(l);
      labels_.push_back(std::move(l));
    }
  }

  bool shows_today() const { return chart_.today && visible(*chart_.today); }

  void today_line() {
    if (!shows_today()) return;
    today_x_ = x(*chart_.today);
    today_at_ = items().size();
    const double end = scale().plot.bottom_mm + (chart_.windows.empty() ? 0.0 : 30.0 * kPx);
    stroke({Point{today_x_, scale().plot.top_mm}, Point{today_x_, end}}, 1.0, of(Ink::soft));
    placing_->keep_clear_of_upright(today_x_, scale().plot.top_mm, end);
  }

  void today_name() {
    if (!shows_today()) return;
    const double half = run(chart_.today_label) / 2.0;
    const double centre = std::fmin(width_ - half, std::fmax(scale().plot.left_mm + half, today_x_));
    name(chart_.today_label, of(Ink::ink),
         {{Point{centre, scale().plot.top_mm - 12.0 * kPx}, Align::centre}});
  }

  void targets() {
    for (const Target& t : chart_.targets) {
      level(y(t.value), 1.5, of(Ink::ink), 7.0, 5.0);
      placing_->keep_clear_of_line(
          {Point{scale().plot.left_mm, y(t.value)}, Point{scale().plot.right_mm, y(t.value)}}, 1.5 * kPx);
    }
  }

  // A name in the plot stays in it, so that it takes no room of the axes.
  void add_inside(Places& places, const Point& at, Align align) const {
    const double top = at.y_mm - 0.75 * kText;
    const double bottom = at.y_mm + 0.25 * kText;
    if (top >= scale().plot.top_mm - 4.0 * kPx && bottom <= scale().plot.bottom_mm)
      places.push_back({at, align});
  }

  // Beside the plot where there is room for names; else above the level or levels and below, from the left
  // end, where curves begin elsewhere, then from the right, then between.
  Places at_levels(double upper_mm, double lower_mm, const std::string& text) const {
    const Box& plot = scale().plot;
    Places places;
    if (!narrow_) {
      places.push_back(
          {Point{plot.right_mm + 10.0 * kPx, (upper_mm + lower_mm) / 2.0 + 6.0 * kPx}, Align::left});
    }
    const double above = upper_mm - 10.0 * kPx;
    const double below = lower_mm + 19.0 * kPx;
    const double first = plot.left_mm + 6.0 * kPx;
    const double last = plot.right_mm - 6.0 * kPx - run(text);
    constexpr int kBetween = 60;
    const auto both = [&](double at) {
      add_inside(places, Point{at, above}, Align::left);
      add_inside(places, Point{at, below}, Align::left);
    };
    both(first);
    both(last);
    for (int k = 1; k < kBetween; ++k) both(first + (last - first) * k / kBetween);
    // A little farther off, where a band's edge runs close along the level.
    for (const double off : {6.0 * kPx, 12.0 * kPx, 18.0 * kPx}) {
      for (const double at : {last, first}) {
        add_inside(places, Point{at, above - off}, Align::left);
        add_inside(places, Point{at, below + off}, Align::left);
      }
    }
    return places;
  }

  void target_names() {
    for (const Target& t : chart_.targets) {
      name(t.label, of(Ink::ink), at_levels(y(t.value), y(t.value), t.label));
    }
    for (const ValueWindow& w : chart_.value_windows) {
      const double a = y(w.low);
      const double b = y(w.high);
      name(w.label, of(Ink::ink), at_levels(std::fmin(a, b), std::fmax(a, b), w.label));
    }
  }

  Area bar(double from_mm, double to_mm) const {
    const double half = 5.0 * kPx;
    return Area{{Point{from_mm, bar_y_ - half}, Point{to_mm, bar_y_ - half}, Point{to_mm, bar_y_ + half},
                 Point{from_mm, bar_y_ + half}},
                of(Ink::accent)};
  }

  void windows() {
    bars_at_ = items().size();
    for (const DayWindow& w : chart_.windows) {
      if (w.to < scale().from_day || w.from > scale().to_day) continue;
      const double from = x(held(w.from));
      items().push_back(bar(from, std::fmax(from + 3.0 * kPx, x(held(w.to)))));
    }
  }

  void window_names() {
    std::size_t next_bar = bars_at_;
    for (const DayWindow& w : chart_.windows) {
      if (w.to < scale().from_day || w.from > scale().to_day) continue;
      const std::size_t bar_at = next_bar++;
      if (w.label.empty()) continue;
      const double from = x(held(w.from));
      const double to = std::fmax(from + 3.0 * kPx, x(held(w.to)));
      const double width = run(w.label, Face::label_bold);
      const double base = bar_y_ + 6.0 * kPx;
      Places places = {{Point{to + 10.0 * kPx, base}, Align::left},
                       {Point{from - 10.0 * kPx, base}, Align::right}};
      // Where neither side has room the bar is long enough to be interrupted by its name.
      if (to - from > width + 40.0 * kPx) {
        for (const double share : {0.5, 0.25, 0.75}) {
          const double at = from + 20.0 * kPx + (to - from - width - 40.0 * kPx) * share;
          places.push_back({Point{at, base}, Align::left});
        }
      } else if (to + 10.0 * kPx + width > width_ && from - 10.0 * kPx - width < 0.0) {
        // A picture no wider than that: over the bar.
        places = {{Point{width_, base - 16.0 * kPx}, Align::right}};
      }
      name(w.label, of(Ink::accent), places, Face::label_bold);
      const Box box = box_of(labels_.back(), advance_);
      if (box.left_mm > from && box.right_mm < to) {
        items()[bar_at] = bar(from, box.left_mm - 8.0 * kPx);
        items().push_back(bar(box.right_mm + 8.0 * kPx, to));
      }
      if (!shows_today()) continue;
      // The line of today gives way rather than run through a name.
      const double clear = 4.0 * kPx;
      if (today_x_ > box.left_mm - clear && today_x_ < box.right_mm + clear) {
        std::get<Line>(items()[today_at_]).points[1].y_mm = scale().plot.bottom_mm;
      }
    }
  }

  void bars(const Series& s) {
    double apart = scale().to_day - scale().from_day;
    for (std::size_t i = 1; i < s.day.size(); ++i) apart = std::fmin(apart, s.day[i] - s.day[i - 1]);
    const double half = std::fmax(2.0 * kPx, 0.3 * (x(scale().from_day + apart) - x(scale().from_day)));
    const double zero = y(std::fmin(scale().high, std::fmax(scale().low, 0.0)));
    for (std::size_t i = 0; i < s.day.size(); ++i) {
      if (!visible(s.day[i])) continue;
      const double left = std::fmax(scale().plot.left_mm, x(s.day[i]) - half);
      const double right = std::fmin(scale().plot.right_mm, x(s.day[i]) + half);
      const double top = y(s.value[i]);
      const std::vector<Point> box = {Point{left, zero}, Point{right, zero}, Point{right, top},
                                      Point{left, top}};
      const bool will = chart_.today && s.day[i] > *chart_.today;
      // What was is filled, what will be hatched.
      if (will) {
        for (Line& l : hatch(box, 5.0 * kPx, 1.0 * kPx, of(Ink::accent))) items().push_back(std::move(l));
      } else {
        items().push_back(Area{box, of(Ink::ink, 0.3)});
      }
      Line outline;
      outline.points = box;
      outline.width_mm = 1.5 * kPx;
      outline.paint = of(will ? Ink::accent : Ink::ink);
      outline.closed = true;
      placing_->keep_clear_of_line(outline.points, outline.width_mm);
      items().push_back(std::move(outline));
    }
  }

  void line(const Series& s, int nth) {
    const std::array<double, 2>& pen = kPens[static_cast<std::size_t>(nth) % kPens.size()];
    const double now = held(today());
    std::vector<Point> was = course(s.day, s.value, scale().from_day, now);
    std::vector<Point> will = course(s.day, s.value, now, scale().to_day);
    if (!was.empty()) {
      placing_->keep_clear_of_line(was, kWas * kPx);
      stroke(std::move(was), kWas, of(Ink::ink), pen[0], pen[1]);
    }
    if (!will.empty()) {
      placing_->keep_clear_of_line(will, kWill * kPx);
      stroke(std::move(will), kWill, of(Ink::accent), pen[0], pen[1]);
    }
  }

  void line_names() {
    for (const Series& s : chart_.series) {
      if (s.label.empty() || !drawable(s)) continue;
      const double first = std::fmax(scale().from_day, s.day.front());
      const double last = std::fmin(scale().to_day, s.day.back());
      if (!(first <= last)) continue;
      Places places;
      if (!narrow_) {
        for (const double shift : {0.0, -14.0, 14.0, -22.0, 22.0}) {
          places.push_back({Point{scale().plot.right_mm + 10.0 * kPx,
                                  y(value_at(s.day, s.value, last)) + (6.0 + shift) * kPx},
                            Align::left});
        }
      }
      constexpr int kAlong = 24;
      for (int k = kAlong; k >= 0; --k) {
        const double day = first + (last - first) * k / kAlong;
        const double at = y(value_at(s.day, s.value, day));
        for (const Align align : {Align::right, Align::left}) {
          add_inside(places, Point{x(day), at - 11.0 * kPx}, align);
          add_inside(places, Point{x(day), at + 21.0 * kPx}, align);
        }
      }
      name(s.label, of(chart_.today && last > *chart_.today ? Ink::accent : Ink::ink), places);
    }
  }

  // Names give no way to it: they would jump under the finger that moves it.
  void reading() {
    if (!chart_.read_day || !visible(*chart_.read_day) || chart_.read_day == chart_.today) return;
    const double day = *chart_.read_day;
    const double at = x(day);
    stroke({Point{at, scale().plot.top_mm}, Point{at, scale().plot.bottom_mm}}, 2.0, of(Ink::ink));
    for (const Series& s : chart_.series) {
      if (!drawable(s) || day < s.day.front() || day > s.day.back()) continue;
      const double value = value_at(s.day, s.value, day);
      if (s.kind == Series::Kind::band) {
        for (const double edge : {value, value_at(s.day, s.other, day)}) {
          stroke({Point{at - 6.0 * kPx, y(edge)}, Point{at + 6.0 * kPx, y(edge)}}, 2.0, of(Ink::ink));
        }
      } else if (s.kind == Series::Kind::line) {
        Mark mark;
        mark.at = Point{at, y(value)};
        mark.radius_mm = 5.5 * kPx;
        mark.width_mm = 1.5 * kPx;
        mark.line = of(Ink::ground);
        mark.fill = of(Ink::ink);
        items().push_back(mark);
      }
    }
  }

  void points(const Series& s, int nth) {
    for (std::size_t i = 0; i < s.day.size(); ++i) {
      if (!visible(s.day[i])) continue;
      Mark mark;
      mark.at = Point{x(s.day[i]), y(s.value[i])};
      mark.radius_mm = 5.0 * kPx;
      mark.width_mm = 2.0 * kPx;
      mark.line = of(Ink::ink);
      mark.fill = of(nth == 0 ? Ink::ground : Ink::ink);
      placing_->keep_clear_of(mark);
      items().push_back(mark);
    }
  }

  const Chart& chart_;
  const Advance& advance_;
  double width_ = 0.0;
  ChartPicture picture_;
  Placing* placing_ = nullptr;
  std::vector<Label> labels_;
  double step_ = 1.0;
  double bar_y_ = 0.0;
  double dates_y_ = 0.0;
  double today_x_ = 0.0;
  std::size_t today_at_ = 0;
  std::size_t bars_at_ = 0;  // of the first window's bar among the items
  bool narrow_ = false;
};

}  // namespace

double ChartScale::x_mm(double day) const {
  return plot.left_mm + (plot.right_mm - plot.left_mm) * (day - from_day) / (to_day - from_day);
}

double ChartScale::y_mm(double at) const {
  const double share = std::fmin(1.0, std::fmax(0.0, (at - low) / (high - low)));
  return down ? plot.top_mm + (plot.bottom_mm - plot.top_mm) * share
              : plot.bottom_mm - (plot.bottom_mm - plot.top_mm) * share;
}

double ChartScale::day(double x_mm) const {
  return from_day + (to_day - from_day) * (x_mm - plot.left_mm) / (plot.right_mm - plot.left_mm);
}

double ChartScale::value(double y_mm) const {
  const double from_top = (y_mm - plot.top_mm) / (plot.bottom_mm - plot.top_mm);
  return low + (high - low) * (down ? from_top : 1.0 - from_top);
}

ChartPicture lay_out(const Chart& chart, double width_mm, const Advance& advance) {
  const bool something = std::any_of(chart.series.begin(), chart.series.end(), drawable);
  if (something && advance && width_mm > 60.0 * kPx) return Drawing(chart, width_mm, advance).draw();
  ChartPicture nothing;
  nothing.figure.width_mm = width_mm;
  return nothing;
}

double value_at(const std::vector<double>& day, const std::vector<double>& value, double at_day) {
  if (day.empty() || day.size() != value.size()) return 0.0;
  if (at_day <= day.front()) return value.front();
  for (std::size_t i = 1; i < day.size(); ++i) {
    if (at_day > day[i]) continue;
    const double span = day[i] - day[i - 1];
    const double t = span > 0.0 ? (at_day - day[i - 1]) / span : 1.0;
    return value[i - 1] + t * (value[i] - value[i - 1]);
  }
  return value.back();
}

}  // namespace saltrafter::figure
