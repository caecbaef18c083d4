#include "core/desk/parts/gallery.h"

#include <cmath>
#include <string>

#include "core/desk/parts/parts.h"

namespace saltrafter::parts {
namespace {

using words::arg;
using words::text;
using words::verbatim;
using Say = words::Id;

const Date kHung = Date(std::chrono::year(2026) / 11 / 4);

// Invented names and figures stand for what a maker would type; everything else is from the catalogue.
words::Text made(const char* of_the_maker) { return verbatim(of_the_maker); }

std::vector<Place> places(const words::Language& l) {
  return {{Key("place") / "round", text(l, Say::place_round)},
          {Key("place") / "bench", text(l, Say::place_bench)},
          {Key("place") / "rails", text(l, Say::place_rails)},
          {Key("place") / "air", text(l, Say::place_air)},
          {Key("place") / "shelf", text(l, Say::place_shelf)}};
}

void some_acts(Page& page) {
  const words::Language& l = page.language();
  const Key key("gallery");
  reason(page, text(l, Say::gallery_acts));
  acts(page, {{key / "hang", text(l, Say::gallery_hang), ActKind::main, true, {}},
              {key / "compare", text(l, Say::gallery_compare), ActKind::other, true, {}},
              {key / "undo", text(l, Say::undo), ActKind::bare, true, {}},
              {key / "in", text(l, Say::gallery_it_is_in), ActKind::other, false,
               text(l, Say::gallery_not_ready)}});
}

void some_fields(Page& page) {
  const words::Language& l = page.language();
  const Key key("gallery");
  Field mass;
  mass.key = key / "mass";
  mass.label = text(l, Say::gallery_meat);
  mass.value = words::number(l, 4200.0, 0).plain();
  mass.unit = made("g");
  const auto judge = [&l](const char* field, NumberKind kind, const char* unit, double high) {
    return [&l, field, kind, unit, high](const std::string& typed) {
      NumberRule rule;
      rule.field = field;
      rule.kind = kind;
      rule.unit = unit;
      rule.high = high;
      Judged judged;
      const Result<TypedNumber> read = parse_number(typed, rule);
      if (!read.ok()) {
        judged.error = words::sentence(l, read.error());
      } else if (read.value().computed) {
        judged.answer = words::measure(l, read.value().value, 0, unit);
      }
      return judged;
    };
  };
  mass.judge = judge("mass", NumberKind::mass, "g", 1e6);
  number_field(page, mass);
  Field salt;
  salt.key = key / "salt";
  salt.label = text(l, Say::gallery_salt);
  salt.value = "0,9,5";
  salt.unit = made("%");
  salt.error = text(l, Say::error_not_a_number, {arg("found", "0,9,5")});
  salt.judge = judge("salt", NumberKind::share, "%", 1.0);
  number_field(page, salt);
  Field name;
  name.key = key / "name";
  name.label = text(l, Say::gallery_name);
  name.value = "Caraway salami";
  text_field(page, name);
  DateField day;
  day.key = key / "day";
  day.label = text(l, Say::gallery_day);
  day.today = Date(std::chrono::year(2026) / 11 / 25);
  day.value = day.today;
  day.future_error = text(l, Say::gallery_not_yet);
  date_field(page, day);
  one_of(page, text(l, Say::gallery_one_of_few),
         {{key / "metric", text(l, Say::gallery_metric), {}}, {key / "us", text(l, Say::gallery_us), {}}}, 0);
  tick_box(page, key / "tick", text(l, Say::gallery_tick), true);
  chips(page, text(l, Say::gallery_several),
        {{key / "chip" / 1, text(l, Say::gallery_chip_one), true},
         {key / "chip" / 2, text(l, Say::gallery_chip_two), false},
         {key / "chip" / 3, text(l, Say::gallery_chip_three), true}});
}

void some_rows(Page& page) {
  const words::Language& l = page.language();
  const Key key("gallery");
  second_heading(page, text(l, Say::gallery_rows));
  list_rule(page);
  row(page,
      {key / "row", made("Beef eye"), made("2 pieces, lost 31.8\u2009% of 35"), made("28 Nov to 2 Dec")});
  recipe_line(page, {key / "line" / 1,
                     made("Pork shoulder, trimmed"),
                     words::measure(l, 70.0, 0, "%"),
                     words::measure(l, 2940.0, 0, "g"),
                     {},
                     {},
                     Level::met});
  recipe_line(page, {key / "line" / 2,
                     made("Salt"),
                     words::measure(l, 2.4, 1, "%"),
                     words::measure(l, 92.6, 1, "g"),
                     text(l, Say::gallery_note, {arg("mass", words::measure(l, 8.2, 1, "g"))}),
                     {},
                     Level::met});
  recipe_line(page, {key / "line" / 3,
                     made("Curing mix, my tin, 6.25\u2009% nitrite"),
                     words::measure(l, 0.21, 2, "%"),
                     words::measure(l, 8.7, 1, "g"),
                     {},
                     text(l, Say::gallery_near, {arg("dose", words::measure(l, 150.0, 0, "mg/kg"))}),
                     Level::near,
                     true});
  task(page, {text(l, Say::gallery_task, {arg("name", "Fennel")}), text(l, Say::gallery_task_reason), true,
              Act{key / "ph", text(l, Say::gallery_enter), ActKind::main, true, {}}});
}

void some_findings(Page& page) {
  const words::Language& l = page.language();
  second_heading(page, text(l, Say::gallery_findings));
  list_rule(page);
  const words::Text nitrite = text(l, Say::gallery_nitrite);
  const auto found = [&l](const char* value, const char* limit) {
    return text(l, Say::gallery_at_most, {arg("value", value), arg("limit", limit)});
  };
  const Key key("gallery");
  finding(
      page,
      {key / "f1", nitrite, found("120\u2009mg/kg", "156"), {}, Level::met, bar_from_zero(120, 156, true)});
  finding(
      page,
      {key / "f2", nitrite, found("150\u2009mg/kg", "156"), {}, Level::near, bar_from_zero(150, 156, true)});
  finding(page, {key / "f3", nitrite, found("171\u2009mg/kg", "156"), {text(l, Say::gallery_remedy)},
                 Level::not_met, bar_from_zero(171, 156, true)});
  finding(page, {std::nullopt,
                 text(l, Say::gallery_sugar),
                 made("0.20\u2009%"),
                 {},
                 Level::not_met,
                 bar_from_zero(0.20, 0.25, false)});
  finding(page, {std::nullopt,
                 text(l, Say::gallery_aw),
                 found("0.905 ± 0.012", "0.91"),
                 {},
                 Level::near,
                 bar_of_water_activity(0.905, 0.91, 0.012)});
  finding(page, {std::nullopt,
                 text(l, Say::gallery_trichinella),
                 text(l, Say::gallery_not_recorded),
                 {},
                 Level::not_known,
                 std::nullopt});
  finding(page, {std::nullopt,
                 text(l, Say::gallery_cooking),
                 text(l, Say::gallery_raw),
                 {},
                 Level::does_not_apply,
                 std::nullopt});
}

figure::MeatStripInput strip() {
  figure::MeatStripInput in;
  for (int i = 0; i <= 20; ++i) {
    const double t = i / 20.0;
    const double lost = 0.36 * (1.0 - std::exp(-2.2 * t)) / (1.0 - std::exp(-2.2));
    in.moments.push_back({t, 1.0 - lost, lost / 0.35});
  }
  in.now = 0.5;
  in.window_from = 0.84;
  in.window_to = 1.0;
  return in;
}

// What a chart reads out in the gallery: a figure that is made up.
std::function<words::Text(int)> reads(const words::Language& l, const figure::Series& series) {
  return [&l, series](int day) {
    const double value = 100.0 * figure::value_at(series.day, series.value, day);
    return text(l, Say::chart_day,
                {words::count("day", day), arg("date", words::day_weekday(l, add_days(kHung, Days(day)))),
                 arg("what", words::measure(l, value, 1, "%"))});
  };
}

std::function<std::vector<TableRow>()> weeks(const words::Language& l, const figure::Series& series) {
  return [&l, series] {
    std::vector<TableRow> rows;
    for (int day = 0; day <= 42; day += 7) {
      rows.push_back({std::nullopt,
                      {words::day_month(l, add_days(kHung, Days(day))),
                       words::measure(l, 100.0 * figure::value_at(series.day, series.value, day), 1, "%")}});
    }
    return rows;
  };
}

ChartView drying_example(const words::Language& l) {
  figure::DryingChartInput in;
  in.hung = kHung;
  for (int d = 0; d <= 42; ++d) {
    const double m = 0.40 * (1.0 - std::exp(-d / 22.0));
    const double spread = d > 21 ? 0.0016 * (d - 21) : 0.0;
    in.day.push_back(d);
    in.median.push_back(m);
    in.low.push_back(m - spread);
    in.high.push_back(m + spread);
  }
  in.points = {{2.8, 0.04},   {3.0, 0.05},   {3.2, 0.058}, {7.0, 0.11},
               {10.0, 0.145}, {14.0, 0.185}, {21.0, 0.25}};
  in.wanted_loss = 0.30;
  in.today = 21.0;
  in.window_from = 27.0;
  in.window_to = 33.0;
  in.today_label = text(l, Say::chart_today).plain();
  in.expected_label = text(l, Say::chart_expected).plain();
  in.wanted_label = text(l, Say::chart_wanted, {arg("loss", words::measure(l, 30.0, 0, "%"))}).plain();
  in.day_month = [&l](Date date) { return words::day_month(l, date).plain(); };
  ChartView view;
  view.key = Key("gallery") / "drying";
  view.name = text(l, Say::gallery_chart);
  view.chart = figure::drying_chart(in);
  figure::Series median;
  median.day = in.day;
  median.value = in.median;
  view.reads = reads(l, median);
  view.columns = {{text(l, Say::gallery_day), false}, {text(l, Say::gallery_lost), true}};
  view.rows = weeks(l, median);
  return view;
}

// Two lines, what is wanted as a shaded band, and bars.
ChartView air_example(const words::Language& l) {
  figure::Series chamber;
  figure::Series cellar;
  figure::Series bars;
  bars.kind = figure::Series::Kind::bars;
  for (int d = 0; d <= 42; ++d) {
    chamber.day.push_back(d);
    cellar.day.push_back(d);
    chamber.value.push_back(0.765 + 0.02 * std::sin(d / 3.0) + 0.0006 * d);
    cellar.value.push_back(0.60 + 0.05 * std::sin(d / 5.0 + 1.0));
    if (d % 7 != 3) continue;
    bars.day.push_back(d);
    bars.value.push_back(0.12 + 0.004 * ((d * 5) % 13));
  }
  chamber.label = text(l, Say::gallery_chamber).plain();
  cellar.label = text(l, Say::gallery_cellar).plain();
  ChartView view;
  view.key = Key("gallery") / "air";
  view.name = text(l, Say::gallery_air_chart);
  view.chart.day0 = kHung;
  view.chart.to_day = 42.0;
  view.chart.today = 21.0;
  view.chart.today_label = text(l, Say::chart_today).plain();
  view.chart.series = {bars, chamber, cellar};
  view.chart.value_windows = {{0.74, 0.80, text(l, Say::gallery_wanted_air).plain()}};
  view.chart.value_text = [&l](double v) { return words::measure(l, 100.0 * v, 0, "%").plain(); };
  view.chart.day_month = [&l](Date date) { return words::day_month(l, date).plain(); };
  view.reads = reads(l, chamber);
  view.columns = {{text(l, Say::gallery_day), false}, {text(l, Say::gallery_chamber), true}};
  view.rows = weeks(l, chamber);
  return view;
}

void some_pictures(Page& page) {
  const words::Language& l = page.language();
  second_heading(page, text(l, Say::gallery_pictures));
  const std::vector<ChartView> charts = gallery_charts(l);
  chart(page, charts[0]);
  meat_strip(page, text(l, Say::gallery_strip), strip(), made("4 Nov"), made("7 Dec"), made("25 Nov"));
  figure::SectionInput section;
  section.diameter_mm = 180.0 * figure::kMmPerPx;
  section.radius_share = 0.87;
  for (int i = 0; i < 8; ++i) section.loss_over_wanted.push_back(0.3 + 0.07 * i);
  figure_view(page, figure::cross_section(section), text(l, Say::gallery_section));
  chart(page, charts[1]);
}

void the_rest(Page& page) {
  const words::Language& l = page.language();
  const Key key("gallery");
  second_heading(page, text(l, Say::gallery_composition), text(l, Say::gallery_long_words));
  composition_bar(
      page, text(l, Say::gallery_now),
      {{made("water 59"), 0.59}, {made("protein 16"), 0.16}, {made("fat 22"), 0.22}, {made("rest 3"), 0.03}});
  composition_bar(
      page, text(l, Say::gallery_finished),
      {{made("water 33"), 0.33}, {made("protein 26"), 0.26}, {made("fat 36"), 0.36}, {made("rest 5"), 0.05}});
  working(page, {key / "working",
                 text(l, Say::gallery_nitrite),
                 words::measure(l, 130.0, 0, "mg/kg"),
                 {made("8.7\u2009g × 6.25\u2009% ÷ 4.200\u2009kg"),
                  text(l, Say::working_source, {arg("what", "156"), arg("source", "9 CFR 424.21(c)")})}});
  progress(page, key / "progress", text(l, Say::gallery_work, {arg("done", "41")}), 41.0 / 60.0);
  notice(page, text(l, Say::gallery_notice), {Act{key / "notice", text(l, Say::undo), ActKind::bare, true, {}}});
  empty_state(page, text(l, Say::gallery_empty), text(l, Say::gallery_empty_do),
              Act{key / "go", text(l, Say::gallery_go), ActKind::other, true, {}});
  trouble(page, text(l, Say::error_storage_denied), text(l, Say::gallery_meanwhile),
          Act{key / "file", text(l, Say::gallery_to_file), ActKind::bare, true, {}});
  table(page,
        {{text(l, Say::gallery_piece), false},
         {text(l, Say::gallery_today), true},
         {text(l, Say::gallery_lost), true}},
        {{std::nullopt, {made("4"), made("393\u2009g"), made("27.2\u2009%")}},
         {key / "piece" / 2, {made("2"), made("411\u2009g"), made("25.0\u2009%")}},
         {std::nullopt, {made("5"), made("437\u2009g"), made("23.6\u2009%")}}},
        text(l, Say::gallery_order));
}

}  // namespace

std::vector<ChartView> gallery_charts(const words::Language& l) {
  return {drying_example(l), air_example(l)};
}

void gallery(Host& host, const words::Language& l) {
  PageSetup setup;
  setup.key = Key("gallery");
  setup.places = places(l);
  setup.current = 1;
  setup.status = text(l, Say::gallery_saved);
  setup.two_columns = true;
  Page page(host, l, setup);
  over_heading(page, text(l, Say::gallery_over));
  heading(page, made("Caraway salami"), text(l, Say::gallery_aside));
  lead(page, text(l, Say::gallery_lead, {arg("when", "1 and 7 December")}));
  some_acts(page);
  some_fields(page);
  some_rows(page);
  some_pictures(page);
  page.second_column();
  some_findings(page);
  the_rest(page);
}

}  // namespace saltrafter::parts
