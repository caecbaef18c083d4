#include "core/figure/drying_chart.h"

#include <chrono>
#include <cmath>

#include "core/figure/ticks.h"

namespace saltrafter::figure {
namespace {

constexpr double kPx = kMmPerPx;
constexpr double kText = 17.0 * kPx;
constexpr double kNarrow = 520.0 * kPx;  // below this the wanted line's label moves into the plot

class Chart {
 public:
  Chart(const DryingChartInput& input, const Advance& advance) : in_(input), advance_(advance) {}

  Figure draw() {
    figure_.width_mm = in_.width_mm;
    measure();
    band();
    grid();
    today_line();
    wanted_line();
    expected_bar();
    median_line();
    points();
    for (Label& label : labels_) figure_.items.push_back(std::move(label));
    return std::move(figure_);
  }

 private:
  double run(const std::string& text, Face face = Face::label) const { return advance_(text, face) * kText; }
  double x(double day) const {
    return left_ + (right_ - left_) * std::fmin(1.0, std::fmax(0.0, day / days_));
  }
  double y(double loss) const {
    return top_ + (bottom_ - top_) * std::fmin(1.0, std::fmax(0.0, loss / most_));
  }

  std::string per_cent(double loss) const { return format_number(-100.0 * loss, 0) + "\xE2\x80\x89%"; }

  void measure() {
    days_ = std::fmax(1.0, in_.day.back());
    double most = in_.wanted_loss;
    for (const double v : in_.median) most = std::fmax(most, v);
    for (const double v : in_.high) most = std::fmax(most, v);
    for (const DryingPoint& p : in_.points) {
      most = std::fmax(most, p.loss);
      days_ = std::fmax(days_, p.day);
    }
    most = std::fmin(1.0, std::fmax(0.1, most));
    step_ = nice_step(most, 5);
    most_ = std::ceil(most / step_ - 1e-9) * step_;
    narrow_ = in_.width_mm < kNarrow;
    left_ = run(per_cent(most_)) + 12.0 * kPx;
    // The last date is centred under the plot's right end; on a wide chart the wanted line is named beside
    // it.
    right_ =
        in_.width_mm - (narrow_ ? 22.0 * kPx : std::fmax(30.0 * kPx, run(in_.wanted_label) + 12.0 * kPx));
    top_ = 30.0 * kPx;
    const double height = std::fmin(300.0 * kPx, std::fmax(190.0 * kPx, 0.36 * in_.width_mm));
    bottom_ = top_ + height;
    bar_y_ = bottom_ + 20.0 * kPx;
    figure_.height_mm = bottom_ + 66.0 * kPx;
  }

  void line(std::vector<Point> points, double width_px, Paint paint, double dash_px = 0.0,
            double gap_px = 0.0) {
    Line l;
    l.points = std::move(points);
    l.width_mm = width_px * kPx;
    l.paint = paint;
    l.dash_mm = dash_px * kPx;
    l.gap_mm = gap_px * kPx;
    figure_.items.push_back(std::move(l));
  }

  void label(double x_mm, double baseline_mm, const std::string& text, Align align, Paint paint,
             Face face = Face::label) {
    Label l;
    l.at = Point{x_mm, baseline_mm};
    l.text = text;
    l.size_mm = kText;
    l.face = face;
    l.align = align;
    l.paint = paint;
    l.halo_mm = 3.0 * kPx;
    labels_.push_back(std::move(l));
  }

  void band() {
    if (in_.low.size() != in_.day.size() || in_.high.size() != in_.day.size()) return;
    const double from = in_.today ? std::fmax(0.0, *in_.today) : 0.0;
    if (from >= in_.day.back()) return;
    std::vector<Point> upper = {Point{x(from), y(value_at(in_.day, in_.low, from))}};
    std::vector<Point> lower = {Point{x(from), y(value_at(in_.day, in_.high, from))}};
    // One outline, so that no seam shows; a few corners are enough for a smooth edge and quick to fill.
    constexpr int kCorners = 40;
    for (int i = 1; i <= kCorners; ++i) {
      const double day = from + (in_.day.back() - from) * i / kCorners;
      upper.push_back(Point{x(day), y(value_at(in_.day, in_.low, day))});
      lower.push_back(Point{x(day), y(value_at(in_.day, in_.high, day))});
    }
    upper.insert(upper.end(), lower.rbegin(), lower.rend());
    figure_.items.push_back(Area{std::move(upper), of(Ink::accent, 0.24)});
  }

  void grid() {
    for (const double loss : ticks(0.0, most_, step_)) {
      line({Point{left_, y(loss)}, Point{right_, y(loss)}}, 1.0, of(Ink::rule));
      label(left_ - 10.0 * kPx, y(loss) + 6.0 * kPx, per_cent(loss), Align::right, of(Ink::soft));
    }
    if (!in_.day_month) return;
    const double widest = run(in_.day_month(in_.hung)) + 16.0 * kPx;
    const int step = day_step(days_, static_cast<int>(std::fmax(1.0, std::floor((right_ - left_) / widest))));
    int month = 0;
    double free_from = 0.0;
    for (double d = 0.0; d <= days_ + 1e-9; d += step) {
      const Date date = add_days(in_.hung, Days(d));
      const std::chrono::year_month_day ymd(date);
      const int m = static_cast<int>(static_cast<unsigned>(ymd.month()));
      const std::string text =
          m == month ? std::to_string(static_cast<unsigned>(ymd.day())) : in_.day_month(date);
      const double half = run(text) / 2.0;
      if (x(d) - half < free_from || x(d) + half > in_.width_mm) continue;
      month = m;
      label(x(d), bottom_ + 56.0 * kPx, text, Align::centre, of(Ink::soft));
      free_from = x(d) + half + 8.0 * kPx;
    }
  }

  void today_line() {
    if (!in_.today || *in_.today < 0.0 || *in_.today > days_) return;
    const double at = x(*in_.today);
    line({Point{at, top_}, Point{at, bottom_ + 30.0 * kPx}}, 1.0, of(Ink::soft));
    const double half = run(in_.today_label) / 2.0;
    const double centre = std::fmin(in_.width_mm - half, std::fmax(left_ + half, at));
    label(centre, top_ - 12.0 * kPx, in_.today_label, Align::centre, of(Ink::ink));
  }

  void wanted_line() {
    if (!(in_.wanted_loss > 0.0)) return;
    const double at = y(in_.wanted_loss);
    line({Point{left_, at}, Point{right_, at}}, 1.5, of(Ink::ink), 7.0, 5.0);
    if (narrow_) {
      // The curve starts at the top left, so that there is room above the line's left end.
      label(left_ + 6.0 * kPx, at - 8.0 * kPx, in_.wanted_label, Align::left, of(Ink::ink));
    } else {
      label(right_ + 10.0 * kPx, at + 6.0 * kPx, in_.wanted_label, Align::left, of(Ink::ink));
    }
  }

  void expected_bar() {
    if (!in_.window_from || *in_.window_from > days_) return;
    const double from = x(*in_.window_from);
    const double to = std::fmax(from + 3.0 * kPx, in_.window_to ? x(*in_.window_to) : right_);
    const double half = 5.0 * kPx;
    figure_.items.push_back(Area{{Point{from, bar_y_ - half}, Point{to, bar_y_ - half},
                                  Point{to, bar_y_ + half}, Point{from, bar_y_ + half}},
                                 of(Ink::accent)});
    const double width = run(in_.expected_label, Face::label_bold);
    const double gap = 10.0 * kPx;
    const double base = bar_y_ + 6.0 * kPx;
    if (to + gap + width <= in_.width_mm) {
      label(to + gap, base, in_.expected_label, Align::left, of(Ink::accent), Face::label_bold);
    } else if (from - gap - width >= 0.0) {
      label(from - gap, base, in_.expected_label, Align::right, of(Ink::accent), Face::label_bold);
    }
  }

  void median_line() {
    const double today = in_.today ? std::fmin(days_, std::fmax(0.0, *in_.today)) : 0.0;
    std::vector<Point> was;
    std::vector<Point> will;
    for (std::size_t i = 0; i < in_.day.size(); ++i) {
      const Point p{x(in_.day[i]), y(in_.median[i])};
      (in_.day[i] < today ? was : will).push_back(p);
    }
    const Point here{x(today), y(value_at(in_.day, in_.median, today))};
    if (today > 0.0) was.push_back(here);
    will.insert(will.begin(), here);
    if (was.size() > 1) line(std::move(was), 2.0, of(Ink::ink));
    if (will.size() > 1) line(std::move(will), 2.5, of(Ink::accent));
  }

  void points() {
    for (const DryingPoint& p : in_.points) {
      Mark mark;
      mark.at = Point{x(p.day), y(p.loss)};
      mark.radius_mm = 5.0 * kPx;
      mark.width_mm = 2.0 * kPx;
      mark.line = of(Ink::ink);
      mark.fill = of(Ink::ground);
      figure_.items.push_back(mark);
    }
  }

  const DryingChartInput& in_;
  const Advance& advance_;
  Figure figure_;
  std::vector<Label> labels_;
  double days_ = 1.0;
  double step_ = 0.1;
  double most_ = 0.5;
  double left_ = 0.0;
  double right_ = 0.0;
  double top_ = 0.0;
  double bottom_ = 0.0;
  double bar_y_ = 0.0;
  bool narrow_ = false;
};

}  // namespace

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

Figure drying_chart(const DryingChartInput& input, const Advance& advance) {
  Figure nothing;
  nothing.width_mm = input.width_mm;
  if (input.day.size() < 2 || input.day.size() != input.median.size() || !advance) return nothing;
  if (!(input.width_mm > 60.0 * kPx)) return nothing;
  return Chart(input, advance).draw();
}

}  // namespace saltrafter::figure
