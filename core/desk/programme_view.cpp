#include "core/desk/programme_view.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace saltrafter::desk {
namespace {

using Say = words::Id;
using drying::Forecast;
using plan::ProgrammeStage;

// The civil day in which a moment since hanging lies.
words::Text day_month(const Screen& s, const plan::Batch& batch, Days day) {
  return words::day_month(s.l, add_days(batch.hung_on, Days(std::floor(day.value + 1e-6))));
}

// "12 °C, 80 % RH".
words::Text air_words(const Screen& s, const drying::Stage& air) {
  if (air.sealed) return s.say(Say::air_sealed, {words::arg("temperature", celsius(s.l, air.temperature))});
  return s.say(Say::air_open, {words::arg("temperature", celsius(s.l, air.temperature)),
                               words::arg("humidity", per_cent(s.l, air.humidity.value, 0))});
}

const ProgrammeStage& stage_on(const std::vector<ProgrammeStage>& stages, double day) {
  double ends = 0.0;
  for (const ProgrammeStage& stage : stages) {
    ends += stage.air.duration.value;
    if (day < ends) return stage;
  }
  return stages.back();
}

// The humidity in steps, over the days of the drying chart; what is sealed stands at what it cannot leave.
parts::ChartView programme_view(Screen& s, const plan::Batch& batch,
                                const std::vector<ProgrammeStage>& stages, double to_day) {
  parts::ChartView view;
  view.key = key("batch") / "programme" / s.session.view.batch;
  view.name = s.say(Say::programme_chart);
  view.chart.day0 = batch.hung_on;
  view.chart.to_day = to_day;
  view.chart.most = 1.0;
  view.chart.least_span = 0.2;
  view.chart.today = static_cast<double>(days_between(batch.hung_on, s.session.today()));
  view.chart.today_label = s.say(Say::chart_today).plain();
  figure::Series steps;
  double from = 0.0;
  std::vector<parts::TableRow> rows;
  for (const ProgrammeStage& stage : stages) {
    const double to = std::min(to_day, from + stage.air.duration.value);
    if (!(from < to_day)) break;
    const double humidity = stage.air.sealed ? 1.0 : stage.air.humidity.value;
    // A step stands upright: two points on one day, a hair apart so that days rise.
    steps.day.push_back(from + (steps.day.empty() ? 0.0 : 1e-6));
    steps.value.push_back(humidity);
    steps.day.push_back(to);
    steps.value.push_back(humidity);
    if (stage.air.sealed) view.chart.windows.push_back({from, to, s.say(Say::programme_sealed).plain()});
    rows.push_back({std::nullopt, {day_month(s, batch, Days(from)), air_words(s, stage.air)}});
    from = to;
  }
  view.chart.series = {std::move(steps)};
  const words::Language l = s.l;
  view.chart.value_text = [l](double v) { return words::measure(l, 100.0 * v, 0, "%").plain(); };
  view.chart.day_month = [l](Date date) { return words::day_month(l, date).plain(); };
  std::vector<words::Text> airs;
  for (int day = 0; day <= static_cast<int>(to_day); ++day)
    airs.push_back(air_words(s, stage_on(stages, day).air));
  const Date hung = batch.hung_on;
  view.reads = [l, airs, hung](int day) {
    const auto at = static_cast<std::size_t>(std::clamp(day, 0, static_cast<int>(airs.size()) - 1));
    return words::text(
        l, Say::programme_day,
        {words::count("day", day), words::arg("date", words::day_weekday(l, add_days(hung, Days(day)))),
         words::arg("air", airs[at])});
  };
  view.columns = {{s.say(Say::programme_when), false}, {s.say(Say::programme_air), true}};
  view.rows = [rows] { return rows; };
  view.order = s.say(Say::programme_order);
  return view;
}

// The air of stages that were read, from the lowest to the highest of each figure.
words::Text read_words(const Screen& s, const ProgrammeStage* first, const ProgrammeStage* last) {
  Celsius cold = first->air.temperature, warm = cold;
  RelativeHumidity dry = first->air.humidity, damp = dry;
  for (const ProgrammeStage* stage = first; stage != last; ++stage) {
    cold = std::min(cold, stage->air.temperature);
    warm = std::max(warm, stage->air.temperature);
    dry = std::min(dry, stage->air.humidity);
    damp = std::max(damp, stage->air.humidity);
  }
  const auto range = [&s](const words::Text& low, const words::Text& high) {
    return low == high ? low : s.say(Say::from_to, {words::arg("from", low), words::arg("to", high)});
  };
  return s.say(Say::air_open,
               {words::arg("temperature", range(celsius(s.l, cold), celsius(s.l, warm))),
                words::arg("humidity", range(per_cent(s.l, dry.value, 0), per_cent(s.l, damp.value, 0)))});
}

// What a middling piece holds on a day of the forecast, as activity of its water.
struct Holds {
  double rim = 0.0, whole = 0.0;
};
std::optional<Holds> holds_on(const Forecast& forecast, double day) {
  const auto at = static_cast<std::size_t>(std::max(0.0, std::floor(day)));
  if (at >= forecast.curve.size()) return std::nullopt;
  return Holds{forecast.curve[at].state.aw_surface.value, forecast.curve[at].state.aw_mean.value};
}

// One of two sentences, on the rim alone and on the whole piece, where the air is as damp or damper.
words::Text damp_words(const Screen& s, const Holds& holds, RelativeHumidity humidity,
                       std::array<Say, 2> says, const words::Text& date = {}) {
  if (humidity.value < std::min(holds.rim, holds.whole)) return {};
  const bool whole = humidity.value >= holds.whole;
  return s.say(whole ? says[1] : says[0],
               {words::arg("humidity", per_cent(s.l, humidity.value, 0)), words::arg("date", date),
                words::arg("surface", words::number(s.l, holds.rim, 2)),
                words::arg("mean", words::number(s.l, holds.whole, 2))});
}

void say(Screen& s, const words::Text& text) {
  if (text.empty()) return;
  parts::gap(s.page, 8.0);
  parts::paragraph(s.page, text);
}

// Of the air as it was read last, and of the first stage to come that is too damp.
void say_damp(Screen& s, const plan::Batch& batch, const std::vector<ProgrammeStage>& stages,
              const Forecast& forecast) {
  const std::shared_ptr<const plan::Chamber> chamber = s.session.chamber();
  const plan::AirReading* read = plan::newest_reading(chamber->air, s.session.book.ports().now_utc_ms());
  const auto now = static_cast<double>(days_between(batch.hung_on, s.session.today()));
  if (const std::optional<Holds> holds = holds_on(forecast, now);
      read != nullptr && holds && !plan::pieces_in_air(batch).empty())
    say(s, damp_words(s, *holds, read->humidity, {Say::damp_rim_read, Say::damp_all_read}));
  double from = 0.0;
  for (const ProgrammeStage& stage : stages) {
    const double begins = from;
    from += stage.air.duration.value;
    if (!plan::ahead_and_open(stage)) continue;
    const std::optional<Holds> holds = holds_on(forecast, begins);
    if (!holds) return;
    const words::Text damp =
        damp_words(s, *holds, stage.air.humidity, {Say::damp_rim_planned, Say::damp_all_planned},
                   day_month(s, batch, Days(begins)));
    if (damp.empty()) continue;
    return say(s, damp);
  }
}

}  // namespace

void draw_programme(Screen& s, const plan::Batch& batch, const Forecast* forecast, double to_day) {
  const plan::AirLog& log = s.session.chamber()->air;
  const std::vector<ProgrammeStage> stages = plan::programme(batch, s.session.today(), log);
  parts::gap(s.page, 24.0);
  parts::second_heading(s.page, s.say(Say::programme_title));
  const bool changes = std::any_of(stages.begin(), stages.end(), [&stages](const ProgrammeStage& stage) {
    return !(stage.air.humidity == stages.front().air.humidity) || stage.air.sealed;
  });
  if (changes && to_day > 1.0) parts::chart(s.page, programme_view(s, batch, stages, to_day));
  double from = 0.0;
  for (std::size_t i = 0; i < stages.size();) {
    const ProgrammeStage& stage = stages[i];
    std::size_t next = i + 1;
    // What was read is told as one, however often it changed.
    while (stage.measured && next < stages.size() && stages[next].measured &&
           stages[next].stage == stage.stage)
      ++next;
    double to = from;
    for (std::size_t k = i; k < next; ++k) to += stages[k].air.duration.value;
    const words::Arg air = words::arg(
        "air", stage.measured ? read_words(s, &stages[i], &stages[0] + next) : air_words(s, stage.air));
    const words::Arg begins = words::arg("from", day_month(s, batch, Days(from)));
    const words::Arg ends = words::arg("to", day_month(s, batch, Days(to)));
    const bool hole = stage.recorded && !stage.measured && !stage.air.sealed && !log.empty();
    parts::paragraph(s.page, stage.measured          ? s.say(Say::programme_read, {air, begins, ends})
                             : hole                  ? s.say(Say::programme_unread, {air, begins, ends})
                             : stage.recorded        ? s.say(Say::programme_was, {air, begins, ends})
                             : next == stages.size() ? s.say(Say::programme_last, {air, begins})
                                                     : s.say(Say::programme_planned, {air, begins, ends}));
    from = to;
    i = next;
  }
  if (forecast != nullptr) say_damp(s, batch, stages, *forecast);
}

void say_damp_if(Screen& s, const plan::Batch& batch, const Forecast& as_planned, RelativeHumidity humidity) {
  double from = 0.0;
  for (const ProgrammeStage& stage : plan::programme(batch, s.session.today(), s.session.chamber()->air)) {
    if (plan::ahead_and_open(stage)) {
      if (const std::optional<Holds> holds = holds_on(as_planned, from))
        say(s, damp_words(s, *holds, humidity, {Say::damp_rim_if, Say::damp_all_if}));
      return;
    }
    from += stage.air.duration.value;
  }
}

}  // namespace saltrafter::desk
