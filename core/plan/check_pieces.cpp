// What is typed of a piece and cannot be.
#include <algorithm>

#include "core/plan/checks.h"

namespace saltrafter::plan {
namespace {

constexpr double kMostGain = 1.5;  // times the weight at hanging; choice
constexpr int kMinutesOfDay = 24 * 60;

constexpr EventRule kEventRules[] = {
    {EventKind::cut, Touched::meat, true, false},      {EventKind::sampled, Touched::meat, true, false},
    {EventKind::trimmed, Touched::meat, true, false},  {EventKind::retied, Touched::tare, true, true},
    {EventKind::stripped, Touched::tare, true, false}, {EventKind::wetted, Touched::water, false, true},
};

std::vector<Id> pieces_of(const drying::Weighing& weighing) {
  return weighing.bunch.empty() ? std::vector<Id>{weighing.piece} : weighing.bunch;
}

bool share_a_piece(const drying::Weighing& a, const drying::Weighing& b) {
  const std::vector<Id> of_b = pieces_of(b);
  for (const Id& id : pieces_of(a)) {
    if (std::find(of_b.begin(), of_b.end(), id) != of_b.end()) return true;
  }
  return false;
}

// The pieces it is of.
Result<std::vector<const Piece*>> weighed_pieces(const Batch& batch, const drying::Weighing& weighing) {
  const std::size_t count = weighing.bunch.size();
  if (count == 1) return out_of_range("bunch", 1.0, 2.0, static_cast<double>(batch.pieces.size()), "");
  if (count > 0 && !weighing.piece.empty()) return about(ErrorCode::refused, "piece", weighing.piece);
  std::vector<const Piece*> pieces;
  for (const Id& id : pieces_of(weighing)) {
    const std::string field = count == 0 ? "piece" : "bunch/" + std::to_string(pieces.size());
    const Piece* piece = find_piece(batch, id);
    if (piece == nullptr) return about(ErrorCode::not_found, field, id);
    if (std::find(pieces.begin(), pieces.end(), piece) != pieces.end()) {
      return about(ErrorCode::duplicate_key, field, id);
    }
    pieces.push_back(piece);
  }
  return pieces;
}

}  // namespace

const EventRule& rule_of(EventKind kind) {
  for (const EventRule& rule : kEventRules) {
    if (rule.kind == kind) return rule;
  }
  return kEventRules[0];
}

Error about(ErrorCode code, std::string field, const Id& found) {
  return {code, std::move(field), found.text, "", "", {}, {}};
}

Result<Done> check_hangs(const Batch& batch) {
  if (!batch.hung) return about(ErrorCode::missing, "hung_on", {});
  return Done{};
}

Result<Done> check_date(const Batch& batch, const Id& piece, Date date, Date today) {
  const TakenDown* down = find_taken_down(batch, piece);
  const int day = days_between(batch.hung_on, date);
  const int last_day = days_between(batch.hung_on, down != nullptr ? std::min(today, down->date) : today);
  if (day < 0 || day > last_day) return out_of_range("date", day, 0.0, std::max(0, last_day), "d");
  return Done{};
}

Grams most_mass(const Base& base) { return base.equivalent_hung * kMostGain + base.tare; }

Result<Done> check_mass(std::string field, Grams mass, Grams least, Grams most) {
  if (mass > least && mass <= most) return Done{};
  return out_of_range(std::move(field), mass.value, least.value, most.value, "g");
}

Result<Done> check_weighing(const Batch& batch, const drying::Weighing& weighing, Date today) {
  if (const Result<Done> hangs = check_hangs(batch); !hangs.ok()) return hangs;
  const Result<std::vector<const Piece*>> pieces = weighed_pieces(batch, weighing);
  if (!pieces.ok()) return pieces.error();
  Grams most;
  for (const Piece* piece : pieces.value()) {
    // Something may be done to it later that day.
    const Base before = base_on(batch, *piece, weighing.date - std::chrono::days(1));
    most = most + std::max(most_mass(before), most_mass(base_on(batch, *piece, weighing.date)));
  }
  if (const Result<Done> mass = check_mass("mass", weighing.mass, Grams(0.0), most); !mass.ok()) return mass;
  if (!(weighing.tare >= Grams(0.0) && weighing.tare <= recipe::kMostMeat)) {
    return out_of_range("tare", weighing.tare.value, 0.0, recipe::kMostMeat.value, "g");
  }
  for (const Piece* piece : pieces.value()) {
    const Result<Done> date = check_date(batch, piece->id, weighing.date, today);
    if (!date.ok()) return date;
  }
  if (!weighing.minute) return Done{};
  if (*weighing.minute < 0 || *weighing.minute >= kMinutesOfDay) {
    return out_of_range("minute", *weighing.minute, 0.0, kMinutesOfDay - 1.0, "min");
  }
  for (const drying::Weighing& other : batch.weighings) {
    if (other.id == weighing.id || other.date != weighing.date || other.minute != weighing.minute) continue;
    if (share_a_piece(other, weighing)) return about(ErrorCode::duplicate_key, "piece", other.id);
  }
  return Done{};
}

Result<Done> check_event(const Batch& batch, const PieceEvent& event, Date today) {
  if (const Result<Done> hangs = check_hangs(batch); !hangs.ok()) return hangs;
  const Piece* piece = find_piece(batch, event.piece);
  if (piece == nullptr) return about(ErrorCode::not_found, "piece", event.piece);
  if (const Result<Done> date = check_date(batch, piece->id, event.date, today); !date.ok()) return date;
  const Base base = base_on(batch, *piece, event.date);
  const Grams tare = std::max(Grams(0.0), base.tare);  // what is on the scale beside it is meat
  const Grams most = most_mass(base);
  if (const Result<Done> before = check_mass("before", event.before, tare, most); !before.ok()) return before;
  const EventRule& rule = rule_of(event.kind);
  const Grams least = !rule.lighter ? event.before : rule.touched == Touched::meat ? tare : Grams(0.0);
  if (!rule.heavier && event.after >= event.before) {
    return out_of_range("after", event.after.value, least.value, event.before.value, "g");
  }
  return check_mass("after", event.after, least, most);
}

}  // namespace saltrafter::plan
