#include "core/desk/parts/chart.h"

#include <algorithm>
#include <cmath>

#include "core/desk/parts/acts.h"
#include "core/desk/parts/figure_view.h"

namespace saltrafter::parts {
namespace {

using figure::kMmPerPx;
using Say = words::Id;

constexpr double kClosest_days = 7.0;

class Charting {
 public:
  Charting(Page& page, ChartView& view)
      : page_(page),
        host_(page.host()),
        view_(view),
        id_(view.key.value()),
        state_(host_.chart(id_)),
        first_(view.chart.from_day),
        last_(std::fmax(view.chart.to_day, view.chart.from_day + 1.0)),
        closest_(std::fmin(kClosest_days, last_ - first_)) {
    show(state_.from_day.value_or(first_), state_.to_day.value_or(last_));
  }

  int run() {
    page_.space(16.0);
    lay_out();
    const double height = picture_.figure.height_mm / kMmPerPx;
    const Rect rect = page_.take(height);
    if (picture_.figure.items.empty()) return day();
    x_ = rect.x;
    if (take_input()) lay_out();
    emit(Rect{rect.x, rect.y, picture_.figure.width_mm / kMmPerPx, rect.height});
    say_reading();
    take_acts();
    if (state_.as_table) table(page_, view_.columns, view_.rows(), view_.order);
    page_.space(16.0);
    return day();
  }

 private:
  void lay_out() {
    static const figure::Advance advance = figure::advance_from_tables();
    view_.chart.from_day = from_;
    view_.chart.to_day = to_;
    if (state_.day) view_.chart.read_day = day();
    picture_ = figure::lay_out(view_.chart, figure_width_mm(page_), advance);
  }

  bool shows_all() const { return to_ - from_ > last_ - first_ - 1e-6; }

  // As much as was asked for, moved into what there is.
  void show(double from, double to) {
    const double span = std::fmin(last_ - first_, std::fmax(closest_, to - from));
    from_ = std::fmin(last_ - span, std::fmax(first_, from));
    to_ = from_ + span;
    state_.from_day.reset();
    state_.to_day.reset();
    if (shows_all()) return;
    state_.from_day = from_;
    state_.to_day = to_;
  }

  int day() const {
    const double day = state_.day ? *state_.day : view_.chart.today.value_or(last_);
    return static_cast<int>(std::lround(std::fmin(std::floor(last_), std::fmax(std::ceil(first_), day))));
  }

  void read(double day) {
    state_.day = static_cast<int>(std::lround(std::fmin(last_, std::fmax(first_, day))));
    state_.day = this->day();
  }

  // The day that is read comes into view.
  void follow() {
    const double span = to_ - from_;
    if (day() < from_) show(day(), day() + span);
    if (day() > to_) show(day() - span, day());
  }

  double day_at(double css_px) const {
    const double at = picture_.scale.day((css_px / host_.layout_scale() - x_) * kMmPerPx);
    return std::fmin(to_, std::fmax(from_, at));
  }

  // True when there was any: the picture has to follow.
  bool take_input() {
    const Steering* s = host_.steered(id_);
    const bool read_by_press = host_.pressed(id_) && host_.press_x();
    if (s != nullptr) steer(*s);
    if (read_by_press) read(day_at(*host_.press_x()));
    return s != nullptr || read_by_press;
  }

  void steer(const Steering& s) {
    const figure::ChartScale& scale = picture_.scale;
    const double days_per_px =
        (to_ - from_) * kMmPerPx / (scale.plot.right_mm - scale.plot.left_mm) / host_.layout_scale();
    if (s.pinch) {
      const double middle = day_at(s.at_px);
      const double share = (middle - from_) / (to_ - from_);
      const double span = std::fmin(last_ - first_, std::fmax(closest_, (to_ - from_) / s.zoom));
      const double from = middle - share * span - s.pan_px * days_per_px;
      show(from, from + span);
    } else if (s.pan_px != 0.0 && !shows_all()) {
      show(from_ - s.pan_px * days_per_px, to_ - s.pan_px * days_per_px);
    } else if (s.pan_px != 0.0) {
      read(day_at(s.at_px));
    }
    if (s.ends != 0) read(s.ends < 0 ? first_ : last_);
    if (s.steps != 0) read(day() + s.steps);
    if (s.ends != 0 || s.steps != 0) follow();
  }

  void emit(const Rect& rect) {
    Node node;
    node.id = id_;
    node.role = Role::figure;
    node.name = view_.name.plain();
    node.verbatim = view_.name.verbatim();
    node.value = view_.reads(day()).plain();
    node.description = labels_of(picture_.figure);
    node.min = std::ceil(first_);
    node.max = std::floor(last_);
    node.now = day();
    node.focusable = true;
    node.rect = rect;
    const Touched touched = page_.control(std::move(node));
    host_.steer(id_);
    if (!page_.visible(rect)) return;
    paint(page_, picture_.figure, rect.x, rect.y);
    if (touched.shows_focus) page_.focus_ring(rect);
  }

  // Two lines are kept free where one may not do, so that what lies beneath stays under the finger.
  void say_reading() {
    Canvas& c = page_.canvas();
    page_.space(8.0);
    const words::Text text = view_.reads(day());
    const Setting& setting = set(c, text, type::text, page_.text_width());
    const double least = page_.width() < 520.0 ? 2.0 * type::text.line() : type::text.line();
    const Rect rect = page_.take(std::fmax(least, setting.height()));
    page_.say(text, Role::status, rect);
    if (page_.visible(rect)) draw(c, setting, rect.x, rect.y);
  }

  void take_acts() {
    const words::Language& l = page_.language();
    std::vector<Act> list = {Act{view_.key / "table",
                                 words::text(l, state_.as_table ? Say::chart_no_table : Say::chart_as_table),
                                 ActKind::bare,
                                 true,
                                 {}}};
    const int table_act = 0;
    int closer = -1;
    int whole = -1;
    if (to_ - from_ > closest_ + 1e-6) {
      closer = static_cast<int>(list.size());
      list.push_back(Act{view_.key / "closer", words::text(l, Say::chart_closer), ActKind::bare, true, {}});
    }
    if (!shows_all()) {
      whole = static_cast<int>(list.size());
      list.push_back(Act{view_.key / "whole", words::text(l, Say::chart_whole), ActKind::bare, true, {}});
    }
    page_.hold(0.0);
    const std::optional<int> pressed = acts(page_, list);
    if (!pressed) return;
    if (*pressed == table_act) state_.as_table = !state_.as_table;
    if (*pressed == closer) {
      const double half = (to_ - from_) / 4.0;
      show(day() - half, day() + half);
    }
    if (*pressed == whole) show(first_, last_);
    host_.wake();  // the picture above stands as it was
  }

  Page& page_;
  Host& host_;
  ChartView& view_;
  std::uint64_t id_;
  ChartState& state_;
  double first_;
  double last_;
  double closest_;
  double from_ = 0.0;  // what is visible
  double to_ = 0.0;
  double x_ = 0.0;
  figure::ChartPicture picture_;
};

}  // namespace

int chart(Page& page, ChartView view) { return Charting(page, view).run(); }

}  // namespace saltrafter::parts
