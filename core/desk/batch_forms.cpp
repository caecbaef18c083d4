#include "core/desk/batch_forms.h"

#include <algorithm>

namespace saltrafter::desk {

using Say = words::Id;
using safety::ReadingKind;

namespace {

constexpr std::array<Named<ReadingKind>, 8> kReadingNames = {{{ReadingKind::ph_meter, Say::reading_ph_meter},
                                                              {ReadingKind::ph_strip, Say::reading_ph_strip},
                                                              {ReadingKind::chamber_air, Say::reading_chamber},
                                                              {ReadingKind::core, Say::reading_core},
                                                              {ReadingKind::water_activity, Say::reading_activity},
                                                              {ReadingKind::moisture, Say::reading_moisture},
                                                              {ReadingKind::firmness, Say::reading_firmness},
                                                              {ReadingKind::cut_look, Say::reading_cut}}};

}  // namespace

words::Text reading_name(const Screen& s, ReadingKind kind) { return s.say(name_of(kReadingNames, kind)); }

words::Text reading_value(const Screen& s, const safety::Reading& reading) {
  switch (reading.kind) {
    case ReadingKind::ph_meter:
    case ReadingKind::ph_strip: return words::join({words::verbatim("pH "), words::number(s.l, reading.value, 2)});
    case ReadingKind::water_activity: return words::number(s.l, reading.value, 3);
    case ReadingKind::moisture: return per_cent(s.l, reading.value, 1);
    case ReadingKind::firmness:
    case ReadingKind::cut_look: return s.say(name_of(kFeelNames, static_cast<int>(reading.value)));
    case ReadingKind::chamber_air:
    case ReadingKind::core: break;
  }
  return celsius(s.l, Celsius(reading.value));
}

void remove_reading(plan::Batch& batch, const Id& gone) {
  std::erase_if(batch.evidence.readings, [&gone](const safety::Reading& one) { return one.id == gone; });
  for (plan::TakenDown& down : batch.taken_down) std::erase(down.readings, gone);
}

std::optional<OpenBatch> open_batch(Screen& s, words::Id title) {
  Session& session = s.session;
  OpenBatch open;
  open.id = session.view.batch;
  open.batch = session.book.batch(open.id);
  if (!open.batch) {
    session.view.batch = {};
    session.open_rails(RailsLeaf::batch);
    return std::nullopt;
  }
  if (parts::way_back(s.page, {key("rails") / "up",
                               s.say(Say::back_to_batch, {words::arg("name", open.batch->name)}),
                               parts::ActKind::bare,
                               true,
                               {}})) {
    session.open_rails(RailsLeaf::batch);
  }
  parts::heading(s.page, s.say(title, {words::arg("name", open.batch->name)}));
  draw_notice(s);
  open.judged = session.judged(open.id);
  if (open.judged->error) {
    parts::trouble(s.page, s.say(Say::sheet_problem), words::sentence(s.l, *open.judged->error),
                   std::nullopt);
    return std::nullopt;
  }
  return open;
}

words::Text day_of(const Screen& s, std::int64_t utc_ms) {
  return words::day_weekday(s.l, day_at(s.session.book.ports(), utc_ms));
}

std::optional<std::int64_t> moment_entry(Screen& s, parts::Key at, words::Id day_label, words::Id time_label,
                                         std::optional<Date>& day, std::string& time) {
  const Ports& ports = s.session.book.ports();
  const std::int64_t now_ms = ports.now_utc_ms();
  parts::gap(s.page, 24.0);
  if (const auto chosen = parts::date_field(
          s.page,
          {at / "day", s.say(day_label), day.value_or(s.session.today()), s.session.today(), true, {}})) {
    day = *chosen;
  }
  parts::Field field;
  field.key = at / "time";
  field.label = s.say(time_label);
  field.value = time.empty() ? clock_text(minute_at(ports, now_ms)) : time;
  const words::Text wrong = s.say(Say::time_wrong);
  field.judge = [wrong](const std::string& typed) {
    parts::Judged judged;
    if (!parse_clock(typed).ok()) judged.error = wrong;
    return judged;
  };
  field.may_stay_empty = false;
  parts::gap(s.page, 24.0);
  const parts::Typed typed = parts::text_field(s.page, field);
  if (typed.committed) time = *typed.committed;
  // What was refused stands there as typed, and the day or time from before it is not meant.
  for (const std::string_view name : {"day", "time"}) {
    const parts::FieldState* state = s.page.host().field((at / name).value());
    if (state != nullptr && state->kept) return std::nullopt;
  }
  if (time.empty() && !day) return now_ms;
  const Result<int> minute = time.empty() ? Result<int>(minute_at(ports, now_ms)) : parse_clock(time);
  if (!minute.ok()) return std::nullopt;
  const std::int64_t at_ms = instant_of(ports, day.value_or(s.session.today()), minute.value());
  // The running minute has come.
  constexpr std::int64_t kMinute_ms = 60'000;
  if (at_ms <= now_ms + kMinute_ms) return std::min(at_ms, now_ms);
  parts::paragraph(s.page, s.say(Say::reading_future));
  return std::nullopt;
}

bool draw_stops(Screen& s, parts::Key at, const std::vector<safety::Finding>& stops, words::Id act,
                std::string& reason) {
  if (stops.empty()) return false;
  parts::gap(s.page, 24.0);
  parts::second_heading(s.page, s.say(Say::stage_stops, {words::count("n", static_cast<int>(stops.size()))}));
  bool outright = false;
  for (const safety::Finding& stop : stops) {
    parts::paragraph(s.page, finding_words(s, stop));
    outright = outright || stop.stop == safety::Stop::outright;
  }
  if (outright) {
    parts::paragraph(s.page, s.say(Say::standing_outright));
    return false;
  }
  if (const auto typed = words_entry(s, at / "reason", Say::reason_label, reason)) reason = *typed;
  parts::gap(s.page, 16.0);
  return parts::act(
      s.page, {at / "go_on", s.say(act), parts::ActKind::other, !reason.empty(), s.say(Say::reason_first)});
}

void acknowledge(const Screen& s, plan::Batch& batch, const std::vector<safety::Finding>& stops,
                 const std::string& reason) {
  for (const safety::Finding& stop : stops) {
    batch.evidence.acknowledged.push_back(
        {make_id(s.session.book.ports()), safety::name_of(stop), s.session.today(), reason});
  }
}

}  // namespace saltrafter::desk
