#include <algorithm>
#include <cmath>

#include "core/plan/plan.h"

namespace saltrafter::plan {
namespace {

constexpr double kMsADay = 86400000.0;
constexpr double kLongestHang_d = 300.0;
constexpr double kLeastStage_d = 0.05;  // shorter ones say nothing

double ms_of(Date date) { return kMsADay * static_cast<double>(date.time_since_epoch().count()); }

// The surface in a stage: what it or the nearest one before it says; nothing: as the piece was hung.
std::optional<drying::Wrap> wrap_in(const std::vector<recipe::Stage>& stages, std::size_t i) {
  for (std::size_t k = i + 1; k-- > 0;) {
    if (!stages[k].surface) continue;
    switch (*stages[k].surface) {
      case recipe::Surface::naked: return drying::Wrap::naked;
      case recipe::Surface::cased: return drying::Wrap::cased;
      case recipe::Surface::larded: return drying::Wrap::waxed;
    }
  }
  return std::nullopt;
}

// A stage of the recipe as air: what it names, and the batch's own where it names nothing.
drying::Stage as_planned(const recipe::Stage& stage, const Air& air) {
  drying::Stage out;
  out.temperature = stage.temperature;
  out.humidity = stage.humidity.value_or(air.humidity);
  out.speed = air.speed;
  out.sealed = stage.sealed;
  return out;
}

drying::Stage as_hung(const Air& air) {
  drying::Stage out;
  out.temperature = air.temperature;
  out.humidity = air.humidity;
  out.speed = air.speed;
  return out;
}

// The mean of what was read of the air's temperature in a time, or nothing.
std::optional<Celsius> read_in(const safety::Evidence& evidence, double from_ms, double to_ms) {
  double sum_c = 0.0;
  int n = 0;
  for (const safety::Reading& reading : evidence.readings) {
    const double at_ms = static_cast<double>(reading.at_utc_ms);
    const bool counts = reading.kind == safety::ReadingKind::chamber_air &&
                        reading.instrument != safety::InstrumentState::failed && std::isfinite(reading.value);
    if (!counts || at_ms < from_ms || at_ms > to_ms) continue;
    sum_c += reading.value;
    ++n;
  }
  if (n == 0) return std::nullopt;
  return Celsius(sum_c / n);
}

bool same_air(drying::Stage a, const drying::Stage& b) {
  a.duration = b.duration;
  return a == b;
}

// A time cut at the edges of the log's holes; nothing of one that is empty.
std::vector<TimeSpan> parts_of(const ReadAir& read, TimeSpan time) {
  std::vector<double> edges;
  for (const TimeSpan& hole : read.holes()) {
    for (const double edge : {hole.from_ms, hole.to_ms}) {
      if (edge > time.from_ms && edge < time.to_ms) edges.push_back(edge);
    }
  }
  edges.push_back(time.to_ms);
  std::vector<TimeSpan> out;
  for (const double edge : edges) {
    if (edge > time.from_ms) out.push_back({time.from_ms, edge});
    time.from_ms = std::max(time.from_ms, edge);
  }
  return out;
}

}  // namespace

std::vector<Id> pieces_in_air(const Batch& batch) {
  const StagesNow now = stages_now(batch);
  const bool in_bag = now.on && batch.made_from.stages[*now.on].sealed;
  std::vector<Id> out;
  if (!batch.hung || in_bag) return out;
  for (const Piece& piece : batch.pieces) {
    const bool discarded = safety::stands(batch.evidence, {}, piece.id).standing == safety::Standing::discarded;
    if (!discarded && find_taken_down(batch, piece.id) == nullptr) out.push_back(piece.id);
  }
  return out;
}

bool ahead_and_open(const ProgrammeStage& stage) { return !stage.recorded && !stage.air.sealed; }

std::vector<ProgrammeStage> programme(const Batch& batch, Date today, const AirLog& log) {
  const std::vector<recipe::Stage>& stages = batch.made_from.stages;
  const double hung_ms = ms_of(batch.hung_on);
  const double now_ms = std::max(hung_ms, ms_of(today));
  std::vector<ProgrammeStage> out;
  double to_ms = hung_ms;
  const auto add = [&out, &to_ms](const Id& id, drying::Stage air, double end_ms, bool recorded,
                                  bool measured = false) {
    const double days = (end_ms - to_ms) / kMsADay;
    if (days < kLeastStage_d) return;
    air.duration = Days(days);
    if (!out.empty() && out.back().stage == id && out.back().recorded == recorded &&
        out.back().measured == measured && same_air(out.back().air, air)) {
      out.back().air.duration = out.back().air.duration + air.duration;
    } else {
      out.push_back({id, air, recorded, measured});
    }
    to_ms = end_ms;
  };
  const ReadAir read(log, {hung_ms, now_ms});
  const ReadAir unread({}, {hung_ms, now_ms});  // what a bag knows of it

  // What was: each stage from its beginning to the next one's. The one it was hung in has the air it was hung in.
  std::vector<safety::StageDone> done = batch.evidence.stages;
  std::sort(done.begin(), done.end(), [](const safety::StageDone& a, const safety::StageDone& b) {
    return a.began_utc_ms != b.began_utc_ms ? a.began_utc_ms < b.began_utc_ms : a.stage.text < b.stage.text;
  });
  std::size_t next = stages.size();  // first stage after the last that was begun
  Id last;
  drying::Stage air = as_hung(batch.air);
  double began_ms = hung_ms;
  double planned_d = kLongestHang_d;
  const auto close = [&](double end_ms) {
    const double end = std::min(end_ms, now_ms);
    for (const TimeSpan& part : parts_of(air.sealed ? unread : read, {to_ms, end})) {
      drying::Stage was = air;
      if (!air.sealed && !read.in_hole(part.from_ms)) {
        for (const TimeSpan& span : read.steady(part, hung_ms)) {
          const MeanAir mean = read.mean(span);
          was.temperature = mean.temperature;
          was.humidity = mean.humidity;
          add(last, was, span.to_ms, true, true);
        }
        continue;
      }
      was.temperature = read_in(batch.evidence, part.from_ms, part.to_ms).value_or(air.temperature);
      add(last, was, part.to_ms, true);
    }
  };
  bool hung_in = false;
  for (const safety::StageDone& one : done) {
    const auto at = std::find_if(stages.begin(), stages.end(),
                                 [&one](const recipe::Stage& stage) { return stage.id == one.stage; });
    if (at == stages.end()) continue;
    const double at_ms = static_cast<double>(one.began_utc_ms);
    // A day's hanging begins its stage at an hour of that day or of the next one by another zone's clock.
    const bool with_hanging = at_ms >= hung_ms - kMsADay && at_ms <= hung_ms + 2.0 * kMsADay && !hung_in;
    if (one.ended_utc_ms && static_cast<double>(*one.ended_utc_ms) <= hung_ms) continue;
    if (!with_hanging) close(at_ms);
    hung_in = true;
    last = one.stage;
    const std::size_t i = static_cast<std::size_t>(at - stages.begin());
    air = with_hanging ? as_hung(batch.air) : as_planned(*at, batch.air);
    air.sealed = at->sealed;
    air.wrap = wrap_in(stages, i);
    began_ms = std::max(hung_ms, with_hanging ? hung_ms : at_ms);
    planned_d = at->days.value;
    next = i + 1;
  }
  close(now_ms);

  // What is planned: the rest of the stage it is in, then those after it up to the store. The last goes on.
  const auto planned_to = [&](std::size_t i) { return i < stages.size() && stages[i].kind != recipe::StageKind::store; };
  if (!planned_to(next)) {
    add(last, air, std::max(to_ms, hung_ms) + kLongestHang_d * kMsADay, false);
    return out;
  }
  add(last, air, std::max(to_ms, began_ms + planned_d * kMsADay), false);
  for (std::size_t i = next; planned_to(i); ++i) {
    const double days = planned_to(i + 1) ? stages[i].days.value : kLongestHang_d;
    drying::Stage planned = as_planned(stages[i], batch.air);
    planned.wrap = wrap_in(stages, i);
    add(stages[i].id, planned, to_ms + days * kMsADay, false);
  }
  return out;
}

drying::Stage air_ahead(const Batch& batch, Date today) {
  const std::vector<ProgrammeStage> all = programme(batch, today);
  const auto open = std::find_if(all.begin(), all.end(), ahead_and_open);
  return open != all.end() ? open->air : as_hung(batch.air);
}

}  // namespace saltrafter::plan
