#include "core/plan/take_down.h"

#include <algorithm>

#include "core/plan/checks.h"

namespace saltrafter::plan {
namespace {

using safety::Reading;
using safety::ReadingKind;

const Reading* find_reading(const Batch& batch, const Id& id) {
  for (const Reading& reading : batch.evidence.readings) {
    if (reading.id == id) return &reading;
  }
  return nullptr;
}

bool tells_of_the_end(const Reading& reading) {
  return reading.kind != ReadingKind::chamber_air && reading.kind != ReadingKind::core;
}

// The day since hanging on which a piece had lost that much, on a line between its weights; it hung with 0.
std::optional<double> day_of_loss(const Batch& batch, const Piece& piece, double wanted) {
  double day_before = 0.0;
  double loss_before = 0.0;
  for (const PieceMass& mass : masses_of(batch, piece)) {
    if (mass.wet) continue;
    const double day = days_between(batch.hung_on, mass.date);
    if (mass.loss >= wanted) {
      const double gained = mass.loss - loss_before;
      const double part = gained > 0.0 ? std::max(0.0, wanted - loss_before) / gained : 1.0;
      return day_before + part * (day - day_before);
    }
    day_before = day;
    loss_before = mass.loss;
  }
  return std::nullopt;
}

std::optional<Beside> taught_activity(const Batch& batch, const TakenDown& down) {
  const Reading* newest = nullptr;
  const std::optional<WaterActivity>* estimate = nullptr;
  for (const Id& id : down.readings) {
    const Reading* reading = find_reading(batch, id);
    if (reading == nullptr || reading->kind != ReadingKind::water_activity) continue;
    if (reading->instrument == safety::InstrumentState::failed) continue;
    const std::optional<WaterActivity>* of_site = nullptr;
    if (reading->site == safety::Site::core) of_site = &down.foreseen->core;
    if (reading->site == safety::Site::mixed) of_site = &down.foreseen->mean;
    if (of_site == nullptr || !*of_site) continue;
    if (newest != nullptr && reading->at_utc_ms < newest->at_utc_ms) continue;
    newest = reading;
    estimate = of_site;
  }
  if (newest == nullptr) return std::nullopt;
  return Beside{(*estimate)->value, newest->value};
}

}  // namespace

std::optional<Foreseen> foresee(const drying::Forecast& forecast, const Id& piece, int day) {
  const auto at = static_cast<std::size_t>(std::max(0, day));
  for (std::size_t i = 0; i < forecast.pieces.size(); ++i) {
    const drying::PieceOutlook& outlook = forecast.pieces[i];
    if (outlook.piece != piece || day < 0 || at >= outlook.days.size()) continue;
    const drying::LossBand& band = outlook.days[at];
    Foreseen foreseen{band.low, band.likely, band.high, outlook.expected.likely, {}, {}, 0};
    foreseen.weighings = outlook.weighings_used;
    // Only the piece in the middle of a batch has its inside foreseen.
    if (i == forecast.middle && at < forecast.curve.size()) {
      foreseen.core = forecast.curve[at].state.aw_core;
      foreseen.mean = forecast.curve[at].state.aw_mean;
    }
    return foreseen;
  }
  return std::nullopt;
}

Result<Done> check_taken_down(const Batch& batch, const TakenDown& down, Date today) {
  if (const Result<Done> hangs = check_hangs(batch); !hangs.ok()) return hangs;
  const Piece* piece = find_piece(batch, down.piece);
  if (piece == nullptr) return about(ErrorCode::not_found, "piece", down.piece);
  const TakenDown* other = find_taken_down(batch, down.piece);
  if (other != nullptr && other->id != down.id) return about(ErrorCode::duplicate_key, "piece", other->id);
  int first_day = 0;
  for (const PieceMass& mass : masses_of(batch, *piece)) {
    if (mass.source != down.id) first_day = std::max(first_day, days_between(batch.hung_on, mass.date));
  }
  const int day = days_between(batch.hung_on, down.date);
  const int last_day = std::max(first_day, days_between(batch.hung_on, today));
  if (day < first_day || day > last_day) return out_of_range("date", day, first_day, last_day, "d");
  const Grams most = most_mass(base_on(batch, *piece, down.date));
  if (const Result<Done> mass = check_mass("mass", down.mass, Grams(0.0), most); !mass.ok()) return mass;
  if (down.usable && !(*down.usable >= Grams(0.0) && *down.usable <= down.mass)) {
    return out_of_range("usable", down.usable->value, 0.0, down.mass.value, "g");
  }
  for (std::size_t i = 0; i < down.readings.size(); ++i) {
    const std::string field = "readings/" + std::to_string(i);
    const Reading* reading = find_reading(batch, down.readings[i]);
    if (reading == nullptr) return about(ErrorCode::not_found, field, down.readings[i]);
    const bool its = reading->piece.empty() || reading->piece == down.piece;
    if (!its || !tells_of_the_end(*reading)) return about(ErrorCode::refused, field, down.readings[i]);
  }
  std::vector<Fault> faults = down.faults;
  std::sort(faults.begin(), faults.end());
  if (std::adjacent_find(faults.begin(), faults.end()) != faults.end()) {
    return about(ErrorCode::duplicate_key, "faults", {});
  }
  const bool other_fault = std::find(faults.begin(), faults.end(), Fault::other) != faults.end();
  if (other_fault && down.other.empty()) return about(ErrorCode::missing, "other", {});
  return Done{};
}

std::vector<Taught> taught(const Batch& batch) {
  std::vector<Taught> lessons;
  for (const TakenDown& down : batch.taken_down) {
    const Piece* piece = find_piece(batch, down.piece);
    if (piece == nullptr || !down.foreseen || !batch.hung) continue;
    const std::optional<double> loss = dried_loss(batch, *piece, down.date);
    if (!loss) continue;
    const Foreseen& foreseen = *down.foreseen;
    Taught lesson;
    lesson.piece = down.piece;
    lesson.day = days_between(batch.hung_on, down.date);
    lesson.loss = {foreseen.loss_likely, *loss};
    lesson.within = *loss >= foreseen.loss_low && *loss <= foreseen.loss_high;
    const Result<double> wanted = wanted_loss(batch, *piece);
    const std::optional<double> day = wanted.ok() ? day_of_loss(batch, *piece, wanted.value()) : std::nullopt;
    if (day && foreseen.day) lesson.reached = Beside{foreseen.day->value, *day};
    lesson.activity = taught_activity(batch, down);
    lessons.push_back(lesson);
  }
  return lessons;
}

}  // namespace saltrafter::plan
