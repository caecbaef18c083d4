// The Rails: is it sour in time? Degree-hours so far, the course of pH, and every reading of the batch.
#include <algorithm>
#include <array>
#include <cmath>

#include "core/desk/batch_forms.h"

namespace saltrafter::desk {
namespace {

using Say = words::Id;
using safety::InstrumentState;
using safety::Reading;
using safety::ReadingKind;
using safety::Site;
using safety::SouringAdvice;

constexpr double kHour_ms = 3'600'000.0;

// What a piece feels like and how much water is in it is said on the page of the piece.
constexpr std::array<Named<ReadingKind>, 5> kKinds = {{{ReadingKind::ph_meter, Say::reading_ph_meter},
                                                       {ReadingKind::ph_strip, Say::reading_ph_strip},
                                                       {ReadingKind::chamber_air, Say::reading_chamber},
                                                       {ReadingKind::core, Say::reading_core},
                                                       {ReadingKind::water_activity, Say::reading_activity}}};
constexpr std::array<Named<SouringAdvice>, 8> kAdvice = {
    {{SouringAdvice::not_begun, Say::souring_not_begun},
     {SouringAdvice::goes_on, Say::souring_goes_on},
     {SouringAdvice::end_now, Say::souring_end_now},
     {SouringAdvice::reached_near, Say::souring_reached_near},
     {SouringAdvice::slow, Say::souring_slow},
     {SouringAdvice::stalled, Say::souring_stalled},
     {SouringAdvice::out_of_time, Say::souring_out_of_time},
     {SouringAdvice::nothing_logged, Say::souring_nothing_logged}}};

bool is_ph(ReadingKind kind) { return kind == ReadingKind::ph_meter || kind == ReadingKind::ph_strip; }

NumberRule rule_of(ReadingKind kind) {
  if (is_ph(kind)) return {"ph", NumberKind::plain, "", 3.5, 8.0};
  if (kind == ReadingKind::water_activity) return {"aw", NumberKind::plain, "", 0.4, 1.0};
  return {"temperature", NumberKind::temperature, "°C", -40.0, 60.0};
}

void tell_counts(Screen& s, const safety::Souring& souring) {
  const auto count = [&s](Say say, const safety::DegreeHours& dh, std::string_view unit) {
    if (!dh.above_base) return;
    parts::FindingRow row;
    row.rule = s.say(Say::rule_fermentation);
    row.found = s.say(say, {words::arg("count", words::measure(s.l, dh.count, 0, unit)),
                            words::arg("limit", words::measure(s.l, dh.limit, 0, unit))});
    row.level = static_cast<parts::Level>(dh.level);
    row.bar = parts::bar_from_zero(dh.count, dh.limit, true);
    parts::finding(s.page, row);
  };
  count(Say::souring_count_us, souring.us, "°F h");
  count(Say::souring_count_ca, souring.ca, "°C h");
  if (souring.gap) parts::reason(s.page, s.say(Say::souring_gap));
}

void draw_course(Screen& s, const OpenBatch& open, const safety::Souring& souring,
                 const safety::PhCourse& course) {
  if (course.points.size() < 2) return;
  const Ports& ports = s.session.book.ports();
  const std::int64_t began_ms = souring.began_utc_ms.value_or(ports.now_utc_ms());
  const Date day0 = day_at(ports, began_ms);
  const double first_day = static_cast<double>(minute_at(ports, began_ms)) / 1440.0;
  parts::ChartView view;
  view.key = key("souring") / open.id;
  view.name = s.say(Say::souring_chart);
  figure::Series band;
  band.kind = figure::Series::Kind::band;
  figure::Series line;
  for (const safety::PhPoint& point : course.points) {
    const double day = first_day + point.hours / 24.0;
    band.day.push_back(day);
    band.value.push_back(point.low);
    band.other.push_back(point.high);
    line.day.push_back(day);
    line.value.push_back(point.likely);
  }
  line.label = s.say(Say::souring_chart_expected).plain();
  figure::Series read;
  read.kind = figure::Series::Kind::points;
  std::vector<const Reading*> sorted;
  for (const Reading& reading : open.batch->evidence.readings) {
    if (is_ph(reading.kind)) sorted.push_back(&reading);
  }
  std::stable_sort(sorted.begin(), sorted.end(),
                   [](const Reading* a, const Reading* b) { return a->at_utc_ms < b->at_utc_ms; });
  for (const Reading* reading : sorted) {
    read.day.push_back(first_day + static_cast<double>(reading->at_utc_ms - began_ms) / kHour_ms / 24.0);
    read.value.push_back(reading->value);
  }
  view.chart.day0 = day0;
  view.chart.to_day = line.day.back();
  view.chart.series = {band, line, read};
  view.chart.targets = {{safety::kSafePh, s.say(Say::souring_chart_safe).plain()}};
  view.chart.today = first_day + static_cast<double>(ports.now_utc_ms() - began_ms) / kHour_ms / 24.0;
  view.chart.today_label = s.say(Say::clock_now).plain();
  const words::Language language = s.l;
  view.chart.value_text = [language](double v) { return words::number(language, v, 1).plain(); };
  view.chart.day_month = [language](Date day) { return words::day_month(language, day).plain(); };
  view.reads = [language, day0, band](int day) {
    const auto at = [&](const std::vector<double>& values) {
      return words::number(language, figure::value_at(band.day, values, day), 2);
    };
    return words::text(language, Say::souring_chart_reads,
                       {words::arg("day", words::day_month(language, day0 + std::chrono::days(day))),
                        words::arg("low", at(band.value)), words::arg("high", at(band.other))});
  };
  view.columns = {{s.say(Say::step_hours), true}, {s.say(Say::souring_chart_expected), true}};
  view.rows = [language, course] {
    std::vector<parts::TableRow> rows;
    constexpr std::size_t kEvery_h = 6;
    for (std::size_t i = 0; i < course.points.size(); i += kEvery_h) {
      const safety::PhPoint& point = course.points[i];
      rows.push_back(
          {std::nullopt,
           {words::number(language, point.hours, 0),
            words::join({words::number(language, point.low, 2), words::verbatim("\u2009\u2013\u2009"),
                         words::number(language, point.high, 2)})}});
    }
    return rows;
  };
  parts::chart(s.page, std::move(view));
}

void draw_new_reading(Screen& s, const OpenBatch& open) {
  Session& session = s.session;
  ReadingDraft& draft = session.drafts.batches[open.id].reading;
  const parts::Key here = key("reading") / open.id;
  parts::gap(s.page, 24.0);
  parts::second_heading(s.page, s.say(Say::reading_add));
  Reading& reading = draft.reading;
  if (const auto kind = choose(s, here / "kind", Say::reading_kind, kKinds, reading.kind)) {
    reading.kind = *kind;
    draft.value.clear();
  }
  if (reading.kind == ReadingKind::ph_strip) parts::reason(s.page, s.say(Say::reading_strip_what));
  const NumberRule rule = rule_of(reading.kind);
  parts::Field field;
  field.key = here / "value" / static_cast<int>(reading.kind);
  field.label = s.say(Say::reading_value);
  field.value = draft.value;
  field.unit = words::verbatim(rule.unit);
  field.large = true;
  field.judge = judge_number(s.l, rule);
  field.pad_act = s.say(Say::reading_keep);
  parts::gap(s.page, 24.0);
  const parts::Typed typed = parts::number_field(s.page, field);
  if (typed.committed) draft.value = *typed.committed;
  const Result<TypedNumber> value = parse_number(typed.editing ? typed.judged : draft.value, rule);

  if (reading.kind != ReadingKind::chamber_air && !open.batch->pieces.empty()) {
    std::vector<parts::Choice> pieces = {{here / "piece" / "batch", s.say(Say::reading_piece_whole), {}}};
    int chosen = 0;
    for (const plan::Piece& piece : open.batch->pieces) {
      if (piece.id == reading.piece) chosen = static_cast<int>(pieces.size());
      pieces.push_back({here / "piece" / piece.id, words::number(s.l, piece.number, 0), {}});
    }
    parts::gap(s.page, 24.0);
    if (const auto pressed = parts::one_of(s.page, s.say(Say::reading_piece), pieces, chosen))
      chosen = *pressed;
    reading.piece = chosen == 0 ? Id{} : open.batch->pieces[static_cast<std::size_t>(chosen) - 1].id;
  }
  if (reading.kind == ReadingKind::water_activity) {
    if (const auto site = choose(s, here / "site", Say::reading_site, kSites, reading.site))
      reading.site = *site;
  }
  if (reading.kind != ReadingKind::ph_strip) {
    if (const auto state =
            choose(s, here / "instrument", Say::reading_instrument, kInstruments, reading.instrument)) {
      reading.instrument = *state;
    }
    if (reading.instrument == InstrumentState::overdue || reading.instrument == InstrumentState::failed) {
      parts::reason(s.page, s.say(Say::reading_instrument_what));
    }
  }
  const auto at_ms = moment_entry(s, here, Say::reading_day, Say::reading_time, draft.day, draft.time);
  parts::gap(s.page, 24.0);
  if (!parts::act(s.page, {here / "keep", s.say(Say::reading_keep), parts::ActKind::main,
                           value.ok() && at_ms.has_value(),
                           s.say(value.ok() ? Say::time_wrong : Say::reading_value_first)})) {
    return;
  }
  Reading kept = reading;
  kept.id = make_id(session.book.ports());
  kept.value = value.value().value;
  kept.at_utc_ms = *at_ms;
  if (kept.kind == ReadingKind::chamber_air || open.batch->pieces.empty()) kept.piece = {};
  plan::Batch after = *open.batch;
  after.evidence.readings.push_back(kept);
  if (!session.change_batch(open.id, after, "edit_reading")) return;
  s.page.host().drop_field(field.key.value());
  draft.value.clear();
  draft.day.reset();
  draft.time.clear();
  session.tell_edit(s.say(Say::reading_kept, {words::arg("what", reading_name(s, kept.kind)),
                                              words::arg("value", reading_value(s, kept))}));
}

void draw_readings(Screen& s, const OpenBatch& open) {
  parts::gap(s.page, 24.0);
  parts::second_heading(s.page, s.say(Say::reading_title));
  std::vector<const Reading*> sorted;
  for (const Reading& reading : open.batch->evidence.readings) sorted.push_back(&reading);
  std::stable_sort(sorted.begin(), sorted.end(),
                   [](const Reading* a, const Reading* b) { return a->at_utc_ms > b->at_utc_ms; });
  if (sorted.empty()) parts::reason(s.page, s.say(Say::reading_none));
  for (const Reading* reading : sorted) {
    parts::Row row;
    row.key = key("reading") / reading->id;
    row.name = reading_name(s, reading->kind);
    const words::Arg day = words::arg("day", day_of(s, reading->at_utc_ms));
    const words::Arg time = words::arg("time", clock_time(s, reading->at_utc_ms));
    std::vector<words::Text> facts = {s.say(Say::reading_fact, {day, time})};
    for (const plan::Piece& piece : open.batch->pieces) {
      if (piece.id == reading->piece) facts.push_back(s.say(Say::piece_n, {words::count("n", piece.number)}));
    }
    if (reading->site != Site::not_said) facts.push_back(s.say(name_of(kSites, reading->site)));
    if (reading->instrument != InstrumentState::not_said)
      facts.push_back(s.say(name_of(kInstruments, reading->instrument)));
    row.fact = with_commas(facts);
    row.figure = reading_value(s, *reading);
    const bool in_hand = s.session.view.lot == reading->id;
    row.selected = in_hand;
    if (parts::row(s.page, row)) s.session.view.lot = in_hand ? Id{} : reading->id;
    if (!in_hand) continue;
    if (parts::act(s.page, {key("reading") / reading->id / "remove",
                            s.say(Say::reading_remove),
                            parts::ActKind::bare,
                            true,
                            {}})) {
      plan::Batch after = *open.batch;
      remove_reading(after, reading->id);
      s.session.change_batch(open.id, after, "edit_reading_removed");
      return;
    }
  }
}

}  // namespace

void draw_souring(Screen& s) {
  const auto open = open_batch(s, Say::souring_title);
  if (!open) return;
  const std::int64_t now_ms = s.session.book.ports().now_utc_ms();
  const safety::Souring souring =
      safety::souring(open->batch->evidence, s.session.chosen(), now_ms, open->batch->made_from.stages);
  if (open->batch->made_from.product_class != recipe::ProductClass::whole_muscle_dry) {
    const recipe::Recipe& recipe = open->batch->made_from;
    const safety::PhStart start = safety::ph_start(recipe, open->judged->sheet, open->batch->evidence);
    const safety::PhCourse course =
        safety::ph_course(start, open->batch->evidence.readings, souring.began_utc_ms.value_or(now_ms));
    const SouringAdvice advice =
        safety::souring_advice(recipe, souring, course, open->batch->evidence.readings, now_ms);
    const words::Text ph =
        souring.last_ph ? words::number(s.l, *souring.last_ph, 2) : words::verbatim("\u2013");
    parts::lead(s.page, s.say(name_of(kAdvice, advice), {words::arg("ph", ph)}));
    if (souring.act_by_utc_ms && souring.hours_left && !souring.reached_utc_ms) {
      const words::Arg day = words::arg("day", day_of(s, *souring.act_by_utc_ms));
      const words::Arg time = words::arg("time", clock_time(s, *souring.act_by_utc_ms));
      // Less is left than it is rounded to.
      const int hours = static_cast<int>(std::floor(std::max(0.0, *souring.hours_left)));
      parts::paragraph(
          s.page,
          *souring.hours_left < 0.0
              ? s.say(Say::souring_over, {day, time})
              : s.say(Say::souring_left,
                      {words::arg("hours", s.say(Say::hours_n, {words::count("n", hours)})), day, time}));
    }
    parts::paragraph(s.page, s.say(Say::souring_caution));
    tell_counts(s, souring);
    parts::gap(s.page, 16.0);
    parts::reason(s.page,
                  course.hours_to_safe
                      ? s.say(Say::souring_expected,
                              {words::arg("hours", s.say(Say::hours_n,
                                                         {words::count("n", static_cast<int>(std::ceil(
                                                                                *course.hours_to_safe)))}))})
                      : s.say(Say::souring_expected_not));
    draw_course(s, *open, souring, course);
  }
  draw_new_reading(s, *open);
  draw_readings(s, *open);
  draw_history(s);
}

}  // namespace saltrafter::desk
