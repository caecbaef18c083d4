// A batch's drying as a chart and as a table: what was weighed, what is expected, what is wanted.
#include <algorithm>
#include <cmath>
#include <map>

#include "core/desk/forms.h"
#include "core/desk/screens.h"

namespace saltrafter::desk {
namespace {

using Say = words::Id;

constexpr double kChartBeyond = 1.12;  // the chart shows this much more than the late end of the window
constexpr double kFewestChartDays = 21.0;
constexpr double kAfterToday_d = 14.0;
constexpr int kTableStep_d = 7;

// The loss of one piece, by number, as weighed on a day.
struct Weighed {
  int piece = 0;
  double loss = 0.0;
};

struct Losses {
  Date hung;
  std::vector<double> day, low, likely, high;
  std::map<int, std::vector<Weighed>> weighed;  // by day since hanging; the least loss first

  drying::LossBand on(int at) const {
    return {figure::value_at(day, low, at), figure::value_at(day, likely, at),
            figure::value_at(day, high, at)};
  }
};

words::Text range(const words::Language& l, double low, double high, std::string_view between) {
  return words::join({words::number(l, 100.0 * low, 1), words::verbatim(between), per_cent(l, high, 1)});
}

// Whether the two ends of a range read alike.
bool sure(const drying::LossBand& loss) {
  return std::round(1000.0 * loss.low) == std::round(1000.0 * loss.high);
}

// Which piece had lost what; of many the least and the most.
words::Text weighed_words(const words::Language& l, const std::vector<Weighed>& weighed) {
  constexpr std::size_t kNamed = 4;
  const auto of = [&l](const Weighed& one) {
    return words::text(l, Say::loss_of_piece,
                       {words::count("n", one.piece), words::arg("loss", per_cent(l, one.loss, 1))});
  };
  if (weighed.size() > kNamed) {
    return words::text(l, Say::loss_weighed_range,
                       {words::count("n", static_cast<int>(weighed.size())), words::arg("low", of(weighed.front())),
                        words::arg("high", of(weighed.back()))});
  }
  std::vector<words::Text> all;
  for (const Weighed& one : weighed) all.push_back(of(one));
  return words::text(l, Say::loss_weighed, {words::arg("pieces", with_commas(all))});
}

words::Text read(const words::Language& l, const Losses& losses, int day) {
  const drying::LossBand loss = losses.on(day);
  const words::Arg likely = words::arg("likely", per_cent(l, loss.likely, 1));
  std::vector<words::Text> what = {
      sure(loss) ? words::text(l, Say::loss_read_sure, {likely})
                 : words::text(l, Say::loss_read,
                               {words::arg("low", words::number(l, 100.0 * loss.low, 1)),
                                words::arg("high", per_cent(l, loss.high, 1)), likely})};
  const auto found = losses.weighed.find(day);
  if (found != losses.weighed.end()) {
    what.push_back(words::verbatim(" "));
    what.push_back(weighed_words(l, found->second));
  }
  return words::text(
      l, Say::chart_day,
      {words::count("day", day), words::arg("date", words::day_weekday(l, add_days(losses.hung, Days(day)))),
       words::arg("what", words::join(what))});
}

// A row a week, and one for each day of weighing.
std::vector<parts::TableRow> rows_of(const words::Language& l, const Losses& losses) {
  std::map<int, bool> days;
  for (int day = 0; day <= static_cast<int>(losses.day.back()); day += kTableStep_d) days[day] = true;
  for (const auto& [day, w] : losses.weighed) days[day] = true;
  std::vector<parts::TableRow> rows;
  for (const auto& [day, listed] : days) {
    const drying::LossBand loss = losses.on(day);
    parts::TableRow row;
    row.cells = {words::text(l, Say::loss_table_day,
                             {words::arg("date", words::day_month(l, add_days(losses.hung, Days(day)))),
                              words::count("day", day)}),
                 per_cent(l, loss.likely, 1),
                 sure(loss) ? words::Text() : range(l, loss.low, loss.high, " – ")};
    const auto found = losses.weighed.find(day);
    if (found == losses.weighed.end()) {
      row.cells.push_back(words::Text());
    } else if (found->second.size() == 1) {
      row.cells.push_back(per_cent(l, found->second.front().loss, 1));
    } else {
      row.cells.push_back(range(l, found->second.front().loss, found->second.back().loss, " – "));
    }
    rows.push_back(std::move(row));
  }
  return rows;
}

}  // namespace

parts::ChartView drying_view(Screen& s, const plan::Batch& batch, const drying::Forecast& forecast,
                             const drying::Forecast* other) {
  const double now_d = static_cast<double>(days_between(batch.hung_on, s.session.today()));
  const drying::PieceOutlook& middle = forecast.pieces[forecast.middle];
  const double searched = forecast.searched_days.value;
  const double late = middle.expected.latest   ? middle.expected.latest->value
                      : middle.expected.likely ? middle.expected.likely->value * 1.3
                                               : std::min(searched, 90.0);
  const double last = std::max({kFewestChartDays, late * kChartBeyond, now_d + kAfterToday_d});

  Losses losses;
  losses.hung = batch.hung_on;
  for (std::size_t day = 0; day < forecast.curve.size() && static_cast<double>(day) <= last; ++day) {
    const drying::LossBand& loss = forecast.curve[day].loss;
    losses.day.push_back(static_cast<double>(day));
    losses.low.push_back(loss.low);
    losses.likely.push_back(loss.likely);
    losses.high.push_back(loss.high);
  }
  figure::DryingChartInput input;
  for (const plan::Piece& piece : batch.pieces) {
    for (const plan::PieceMass& mass : plan::masses_of(batch, piece)) {
      const int day = days_between(batch.hung_on, mass.date);
      input.points.push_back({static_cast<double>(day), mass.loss});
      // Of a piece weighed more than once on a day the last counts.
      std::vector<Weighed>& weighed = losses.weighed[day];
      if (!weighed.empty() && weighed.back().piece == piece.number) weighed.pop_back();
      weighed.push_back({piece.number, mass.loss});
    }
  }
  for (auto& [day, weighed] : losses.weighed) {
    std::stable_sort(weighed.begin(), weighed.end(),
                     [](const Weighed& a, const Weighed& b) { return a.loss < b.loss; });
  }
  input.hung = batch.hung_on;
  input.day = losses.day;
  input.median = losses.likely;
  input.low = losses.low;
  input.high = losses.high;
  if (other != nullptr) {
    for (std::size_t i = 0; i < losses.day.size() && i < other->curve.size(); ++i) {
      input.other.push_back(other->curve[i].state.loss);
    }
    input.other_label = s.say(Say::chart_other).plain();
  }
  input.wanted_loss = forecast.needed.loss;
  input.today = now_d;
  if (middle.expected.earliest) input.window_from = middle.expected.earliest->value;
  if (middle.expected.latest) input.window_to = middle.expected.latest->value;
  input.today_label = s.say(Say::chart_today).plain();
  input.expected_label = s.say(Say::chart_expected).plain();
  input.wanted_label =
      s.say(Say::chart_wanted, {words::arg("loss", per_cent(s.l, forecast.needed.loss, 0))}).plain();
  const words::Language l = s.l;
  input.day_month = [l](Date date) { return words::day_month(l, date).plain(); };

  parts::ChartView view;
  view.key = key("batch") / "drying" / s.session.view.batch;
  view.name = s.say(Say::drying_of, {words::arg("name", batch.name)});
  view.chart = figure::drying_chart(input);
  view.reads = [l, losses](int day) { return read(l, losses, day); };
  view.columns = {{s.say(Say::loss_table_when), false},
                  {s.say(Say::loss_table_likely), true},
                  {s.say(Say::loss_table_range), true},
                  {s.say(Say::loss_table_weighed), true}};
  view.rows = [l, losses] { return rows_of(l, losses); };
  view.order = s.say(Say::loss_table_order);
  return view;
}

}  // namespace saltrafter::desk
