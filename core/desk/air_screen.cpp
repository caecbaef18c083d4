// The Air: what it is now and was, one humidity for all that hangs, and what was changed in the chamber.
#include <algorithm>
#include <array>
#include <cmath>

#include "core/air/air.h"
#include "core/desk/batch_forms.h"
#include "core/desk/chamber_view.h"

namespace saltrafter::desk {
namespace {

using Say = words::Id;
using plan::ChamberChangeKind;

constexpr std::size_t kShown = 7;       // readings, unless all are asked for
constexpr std::size_t kSuffering = 12;  // pieces that are named
constexpr double kMsADay = 86'400'000.0;

constexpr std::array<Named<ChamberChangeKind>, 5> kChanges = {
    {{ChamberChangeKind::fan, Say::change_fan, Say::change_fan_what},
     {ChamberChangeKind::cooler, Say::change_cooler, Say::change_cooler_what},
     {ChamberChangeKind::layout, Say::change_layout, Say::change_layout_what},
     {ChamberChangeKind::season, Say::change_season, Say::change_season_what},
     {ChamberChangeKind::other, Say::change_other}}};

// In whole points, where it is none of them with the digit that a meter shows.
words::Text humidity_of(const Screen& s, RelativeHumidity humidity) {
  const double points = 100.0 * humidity.value;
  return per_cent(s.l, humidity.value, std::abs(points - std::round(points)) < 0.05 ? 0 : 1);
}

words::Text reading_words(const Screen& s, Say say, const plan::AirReading& reading) {
  words::Text dew, pull;
  const auto air = air::moist_air(reading.temperature, reading.humidity, air::kSeaLevel, air::Over::water);
  if (air.ok()) {
    dew = celsius(s.l, air.value().dew_point);
    pull = pascal(s.l, air.value().deficit);
  }
  return s.say(say, {words::arg("temperature", celsius(s.l, reading.temperature)),
                     words::arg("humidity", humidity_of(s, reading.humidity)),
                     words::arg("day", day_of(s, reading.at_utc_ms)),
                     words::arg("time", clock_time(s, reading.at_utc_ms)), words::arg("dew", dew),
                     words::arg("pull", pull)});
}

std::vector<plan::AirReading> newest_first(plan::AirLog log) {
  std::stable_sort(log.begin(), log.end(), [](const plan::AirReading& a, const plan::AirReading& b) {
    return a.at_utc_ms > b.at_utc_ms;
  });
  return log;
}

// --- the air as it is and was ---

void draw_now(Screen& s, const plan::Chamber& chamber) {
  const std::int64_t now_ms = s.session.book.ports().now_utc_ms();
  if (chamber.air.empty()) return parts::lead(s.page, s.say(Say::air_is_unread));
  const plan::AirReading* now = plan::newest_reading(chamber.air, now_ms);
  parts::lead(s.page, now != nullptr ? reading_words(s, Say::air_is, *now)
                                     : reading_words(s, Say::air_is_old, newest_first(chamber.air).front()));
}

// A figure that is a draft until the reading is kept.
Result<TypedNumber> figure_entry(Screen& s, parts::Field field, const NumberRule& rule, std::string& draft) {
  field.value = draft;
  field.unit = words::verbatim(rule.unit);
  parts::gap(s.page, 24.0);
  const parts::Typed typed = parts::number_field(s.page, field);
  if (typed.committed) draft = *typed.committed;
  return parse_number(typed.editing ? typed.judged : draft, rule);
}

void draw_new_reading(Screen& s, const plan::Chamber& chamber) {
  Session& session = s.session;
  AirDraft& draft = session.drafts.air;
  const parts::Key here = key("air") / "read";
  parts::gap(s.page, 24.0);
  parts::second_heading(s.page, s.say(Say::air_read_title), s.say(Say::air_read_what));
  const NumberRule warm{"temperature", NumberKind::temperature, "°C", plan::kColdestRead.value,
                        plan::kWarmestRead.value};
  const NumberRule damp{"humidity", NumberKind::humidity, "%", 0.0, plan::kDampestRead.value};
  parts::Field t;
  t.key = here / "temperature";
  t.label = s.say(Say::temperature);
  t.units = {"°C", "°F"};
  t.judge = judge_number(s.l, warm);
  const Result<TypedNumber> temperature = figure_entry(s, t, warm, draft.temperature);
  parts::Field rh;
  rh.key = here / "humidity";
  rh.label = s.say(Say::humidity);
  rh.judge = [judge = judge_number(s.l, damp), damp,
              over = s.say(Say::air_read_over)](const std::string& typed) {
    parts::Judged judged = judge(typed);
    NumberRule any = damp;
    any.high = 100.0;
    const Result<TypedNumber> number = parse_number(typed, any);
    if (number.ok() && number.value().value > damp.high) judged.error = over;
    return judged;
  };
  const Result<TypedNumber> humidity = figure_entry(s, rh, damp, draft.humidity);
  const auto at_ms = moment_entry(s, here, Say::reading_day, Say::reading_time, draft.day, draft.time);
  const bool typed = temperature.ok() && humidity.ok();
  plan::AirReading reading;
  if (typed && at_ms) {
    reading = {{}, *at_ms, Celsius(temperature.value().value), RelativeHumidity(humidity.value().value)};
  }
  const Result<Done> sound = plan::check_air_reading(chamber.air, reading, session.book.ports().now_utc_ms());
  words::Text wrong = s.say(typed ? Say::time_wrong : Say::air_read_first);
  if (typed && at_ms && !sound.ok()) {
    wrong = words::sentence(s.l, sound.error());
    for (const plan::AirReading& other : chamber.air) {
      if (sound.error().code == ErrorCode::duplicate_key && other.id.text == sound.error().found)
        wrong = reading_words(s, Say::air_read_twice, other);
    }
    parts::gap(s.page, 16.0);
    parts::paragraph(s.page, wrong);
  }
  parts::gap(s.page, 24.0);
  if (!parts::act(s.page, {here / "keep", s.say(Say::air_read_keep), parts::ActKind::main,
                           typed && at_ms && sound.ok(), wrong})) {
    return;
  }
  reading.id = make_id(session.book.ports());
  plan::Chamber after = chamber;
  after.air.push_back(reading);
  if (!session.change_chamber(after, "edit_air_read")) return;
  s.page.host().drop_field(t.key.value());
  s.page.host().drop_field(rh.key.value());
  draft.temperature.clear();
  draft.humidity.clear();
  draft.day.reset();
  draft.time.clear();
  session.tell_edit(reading_words(s, Say::air_read_kept, reading));
}

// Of the time since the first batch that hangs was hung.
void draw_holes(Screen& s, const plan::Chamber& chamber, const HangsTogether& all) {
  std::optional<Date> since;
  for (const auto& [id, batch] : all.batches)
    since = std::min(since.value_or(batch->hung_on), batch->hung_on);
  if (!since) return;
  const Ports& ports = s.session.book.ports();
  const auto now_ms = static_cast<double>(ports.now_utc_ms());
  const double from_ms = kMsADay * static_cast<double>(since->time_since_epoch().count());
  const auto day = [&](double ms) {
    return words::day_month(s.l, day_at(ports, static_cast<std::int64_t>(ms)));
  };
  const plan::ReadAir read(chamber.air, {from_ms, now_ms});
  for (const plan::TimeSpan& hole : read.holes()) {
    const words::Arg from = words::arg("from", day(hole.from_ms));
    parts::paragraph(s.page, hole.to_ms < now_ms
                                 ? s.say(Say::air_hole, {from, words::arg("to", day(hole.to_ms))})
                                 : s.say(Say::air_hole_open, {from}));
    parts::gap(s.page, 8.0);
  }
}

// A row that opens to be removed; true when it was.
bool removable(Screen& s, parts::Row row, const Id& id, parts::Key at) {
  Id& open = s.session.drafts.air.open;
  row.key = at / id;
  row.selected = open == id;
  if (parts::row(s.page, row)) open = row.selected ? Id{} : id;
  if (!row.selected) return false;
  return parts::act(s.page, {at / id / "remove", s.say(Say::reading_remove), parts::ActKind::bare, true, {}});
}

void draw_readings(Screen& s, const plan::Chamber& chamber, const HangsTogether& all) {
  Session& session = s.session;
  parts::gap(s.page, 36.0);
  parts::second_heading(s.page, s.say(Say::air_readings));
  draw_holes(s, chamber, all);
  const std::vector<plan::AirReading> log = newest_first(chamber.air);
  if (log.empty()) return parts::reason(s.page, s.say(Say::air_readings_none));
  const std::size_t shown = session.drafts.air.show_all ? log.size() : std::min(kShown, log.size());
  parts::list_rule(s.page);
  for (std::size_t i = 0; i < shown; ++i) {
    parts::Row row;
    row.name = s.say(Say::reading_fact, {words::arg("day", day_of(s, log[i].at_utc_ms)),
                                         words::arg("time", clock_time(s, log[i].at_utc_ms))});
    row.figure = reading_words(s, Say::air_row_figure, log[i]);
    if (!removable(s, row, log[i].id, key("air") / "log")) continue;
    plan::Chamber after = chamber;
    std::erase_if(after.air, [&](const plan::AirReading& one) { return one.id == log[i].id; });
    if (session.change_chamber(after, "edit_air_removed")) session.tell_edit(s.say(Say::air_read_gone));
    return;
  }
  if (shown == log.size()) return;
  parts::gap(s.page, 8.0);
  if (parts::act(s.page,
                 {key("air") / "older",
                  s.say(Say::air_readings_older, {words::count("n", static_cast<int>(log.size() - shown))}),
                  parts::ActKind::bare,
                  true,
                  {}})) {
    session.drafts.air.show_all = true;
  }
}

// --- one humidity for all ---

words::Text bound_words(const Screen& s, const std::optional<drying::Bound>& bound) {
  if (!bound) return {};
  return s.say(*bound == drying::Bound::daily_loss ? Say::set_point_loss : Say::set_point_hard);
}

void draw_sufferers(Screen& s, const HangsTogether& all, const drying::Together& found) {
  std::vector<parts::TableRow> rows;
  int more = 0;
  for (const drying::Sufferer& piece : found.pieces) {
    const int days = static_cast<int>(std::lround(piece.later.value));
    if (days == 0 && !piece.bound) continue;
    if (rows.size() == kSuffering) {
      ++more;
      continue;
    }
    rows.push_back(
        {std::nullopt,
         {piece_and_batch(s, all, piece.piece),
          days == 0 ? s.say(Say::set_point_no_days) : s.say(Say::set_point_days, {words::count("n", days)}),
          humidity_of(s, piece.own_best), bound_words(s, piece.bound)}});
  }
  if (rows.empty()) return parts::paragraph(s.page, s.say(Say::set_point_nobody));
  parts::paragraph(s.page,
                   s.say(Say::set_point_waits, {words::count("n", static_cast<int>(rows.size()) + more)}));
  parts::gap(s.page, 8.0);
  parts::table(s.page,
               {{s.say(Say::set_point_piece), false},
                {s.say(Say::set_point_later), true},
                {s.say(Say::set_point_best), true},
                {s.say(Say::set_point_limit), false}},
               rows, s.say(Say::set_point_order));
  if (more > 0) parts::reason(s.page, s.say(Say::set_point_more, {words::count("n", more)}));
}

void draw_found(Screen& s, const HangsTogether& all, const drying::Together& found) {
  const drying::SetPoint& best = found.set_points[found.best];
  const bool read =
      plan::newest_reading(s.session.chamber()->air, s.session.book.ports().now_utc_ms()) != nullptr;
  const words::Text now = s.say(read ? Say::set_point_read : Say::set_point_planned,
                                {words::arg("humidity", humidity_of(s, all.air.humidity))});
  // In whole points, as all of it is said.
  const long off = std::lround(100.0 * best.humidity.value) - std::lround(100.0 * all.air.humidity.value);
  const Say says = std::abs(off) <= 1 ? Say::set_point_keep
                   : off > 0          ? Say::set_point_raise
                                      : Say::set_point_lower;
  parts::lead(s.page,
              s.say(says, {words::arg("best", humidity_of(s, best.humidity)), words::arg("now", now)}));
  parts::reason(s.page,
                s.say(Say::set_point_at, {words::arg("temperature", celsius(s.l, all.air.temperature))}));
  parts::gap(s.page, 8.0);
  if (best.beyond > 0)
    parts::paragraph(s.page,
                     s.say(Say::set_point_beyond, {words::count("n", static_cast<int>(best.beyond))}));
  draw_sufferers(s, all, found);
}

void draw_set_point(Screen& s, const HangsTogether& all) {
  Session& session = s.session;
  parts::gap(s.page, 36.0);
  parts::second_heading(s.page, s.say(Say::set_point_title));
  if (all.batches.empty()) {
    parts::paragraph(s.page, s.say(Say::air_nothing));
    parts::gap(s.page, 16.0);
    if (parts::act(s.page, {key("air") / "bench", s.say(Say::go_to_bench), parts::ActKind::other, true, {}}))
      session.go_to(Place::bench);
    return;
  }
  const auto answer = session.forecasts.together(all, session.hands());
  const words::Text trying =
      s.say(Say::set_point_trying, {words::arg("low", per_cent(s.l, drying::kDriest.value, 0)),
                                    words::arg("high", per_cent(s.l, drying::kDampest.value, 0))});
  if (!draw_under_way(s, key("air") / "together", answer.stopped, answer.progress,
                        answer.forecasting ? s.say(Say::set_point_forecasting) : trying)) {
    return;
  }
  if (answer.result != nullptr) draw_found(s, all, *answer.result);
  std::vector<words::Text> left_out;
  for (const Id& id : answer.left_out) left_out.push_back(words::verbatim(session.book.batch(id)->name));
  if (!left_out.empty()) {
    parts::gap(s.page, 8.0);
    parts::paragraph(s.page, s.say(Say::set_point_left_out, {words::arg("names", with_commas(left_out))}));
  }
}

void draw_asked(Screen& s, const HangsTogether& all) {
  if (all.batches.empty()) return;
  parts::gap(s.page, 36.0);
  parts::second_heading(s.page, s.say(Say::air_asked));
  parts::list_rule(s.page);
  for (const auto& [id, batch] : all.batches) {
    const drying::Stage ahead = plan::air_ahead(*batch, all.today);
    const auto air = air::moist_air(ahead.temperature, ahead.humidity, air::kSeaLevel, air::Over::water);
    if (!air.ok()) continue;
    parts::Row row;
    row.key = key("air") / id;
    row.name = words::verbatim(batch->name);
    row.fact = s.say(Say::air_row_fact, {words::arg("dew", celsius(s.l, air.value().dew_point)),
                                         words::arg("pull", pascal(s.l, air.value().deficit))});
    row.fact = with_standing(s, id, row.fact);
    row.figure = s.say(Say::air_row_figure, {words::arg("temperature", celsius(s.l, ahead.temperature)),
                                             words::arg("humidity", humidity_of(s, ahead.humidity))});
    if (parts::row(s.page, row)) s.session.go_to_batch(id);
  }
}

// --- what was changed ---

void draw_changes(Screen& s, const plan::Chamber& chamber) {
  Session& session = s.session;
  AirDraft& draft = session.drafts.air;
  const parts::Key here = key("air") / "change";
  parts::gap(s.page, 36.0);
  parts::second_heading(s.page, s.say(Say::changes_title), s.say(Say::changes_why));
  std::vector<plan::ChamberChange> changes = chamber.changes;
  std::stable_sort(changes.begin(), changes.end(),
                   [](const plan::ChamberChange& a, const plan::ChamberChange& b) { return a.on > b.on; });
  if (!changes.empty()) parts::list_rule(s.page);
  for (const plan::ChamberChange& change : changes) {
    parts::Row row;
    row.name = s.say(name_of(kChanges, change.kind));
    row.fact = words::verbatim(change.note);
    row.figure = words::day_month(s.l, change.on);
    if (!removable(s, row, change.id, here)) continue;
    plan::Chamber after = chamber;
    const Id gone = change.id;
    std::erase_if(after.changes, [&gone](const plan::ChamberChange& one) { return one.id == gone; });
    if (session.change_chamber(after, "edit_chamber_removed")) session.tell_edit(s.say(Say::change_gone));
    return;
  }
  if (const auto kind = choose(s, here / "kind", Say::change_kind, kChanges, draft.kind)) draft.kind = *kind;
  const Date today = session.today();
  parts::gap(s.page, 24.0);
  if (const auto day = parts::date_field(
          s.page, {here / "day", s.say(Say::change_on), draft.changed_on.value_or(today), today, true, {}})) {
    draft.changed_on = *day;
  }
  if (const auto note = words_entry(s, here / "note", Say::change_note, draft.note)) draft.note = *note;
  parts::gap(s.page, 24.0);
  if (!parts::act(s.page, {here / "keep", s.say(Say::change_keep), parts::ActKind::other, true, {}})) return;
  plan::Chamber after = chamber;
  after.changes.push_back(
      {make_id(session.book.ports()), draft.changed_on.value_or(today), draft.kind, draft.note});
  const plan::ChamberChange& kept = after.changes.back();
  if (!session.change_chamber(after, "edit_chamber")) return;
  draft.changed_on.reset();
  draft.note.clear();
  session.tell_edit(s.say(Say::change_kept, {words::arg("what", s.say(name_of(kChanges, kept.kind))),
                                             words::arg("date", words::day_month(s.l, kept.on))}));
}

}  // namespace

void draw_air(Screen& s) {
  const std::shared_ptr<const plan::Chamber> chamber = s.session.chamber();
  const HangsTogether all = s.session.hangs_together();
  parts::heading(s.page, s.say(Say::air_title));
  draw_notice(s);
  draw_now(s, *chamber);
  draw_set_point(s, all);
  draw_new_reading(s, *chamber);
  draw_readings(s, *chamber, all);
  draw_asked(s, all);
  draw_changes(s, *chamber);
  parts::gap(s.page, 24.0);
  parts::reason(s.page, s.say(Say::air_later));
  draw_history(s);
}

}  // namespace saltrafter::desk
