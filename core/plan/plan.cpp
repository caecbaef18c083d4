#include "core/plan/plan.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace saltrafter::plan {
namespace {

constexpr double kPieceLengthM = 0.40;          // choice: hangs in a small chamber
constexpr double kStuffedDensityKgM3 = 1050.0;  // common practice, 1030..1070
constexpr double kMostPieces = 1000.0;          // choice: keeps the list finite for any input
constexpr double kMostGain = 1.5;               // times the weight at hanging

double piece_mass_g(double diameter_m) {
  return 1000.0 * kStuffedDensityKgM3 * kPieceLengthM * std::numbers::pi * diameter_m * diameter_m / 4.0;
}

// Of a batch in brine, the days that its cure lasted; nothing while it lasts. Left in longer than was meant, meat takes
// up more.
std::optional<double> days_in_brine(const Batch& batch) {
  if (batch.made_from.method != recipe::CureMethod::brine || !batch.made_from.brine) return std::nullopt;
  std::optional<double> days;
  for (const recipe::Stage& stage : batch.made_from.stages) {
    const safety::StageDone* done = stage_done(batch, stage.id);
    if (stage.kind != recipe::StageKind::cure || done == nullptr || !done->ended_utc_ms) continue;
    days = days.value_or(0.0) + static_cast<double>(*done->ended_utc_ms - done->began_utc_ms) / 86400000.0;
  }
  return days;
}

const Piece* find_piece(const Batch& batch, const Id& id) {
  for (const Piece& piece : batch.pieces) {
    if (piece.id == id) return &piece;
  }
  return nullptr;
}

}  // namespace

int piece_count(Grams mix, Metres diameter) {
  const double mix_g = std::isfinite(mix.value) ? std::max(0.0, mix.value) : 0.0;
  const double each_g = piece_mass_g(diameter.value);
  // Where the diameter says nothing the mix is one piece.
  const double wanted = each_g > 0.0 && std::isfinite(each_g) ? std::floor(mix_g / each_g + 0.5) : 1.0;
  return static_cast<int>(std::clamp(wanted, 1.0, kMostPieces));
}

std::vector<Piece> split_into_pieces(const Ports& ports, Grams mix, Metres diameter) {
  const double mix_g = std::isfinite(mix.value) ? std::max(0.0, mix.value) : 0.0;
  const int count = piece_count(mix, diameter);
  std::vector<Piece> pieces;
  pieces.reserve(static_cast<std::size_t>(count));
  for (int number = 1; number <= count; ++number) {
    Piece piece;
    piece.id = make_id(ports);
    piece.number = number;
    piece.hung = Grams(mix_g / count);
    piece.diameter = diameter;
    pieces.push_back(piece);
  }
  return pieces;
}

Result<recipe::Sheet> sheet_of(const Batch& batch, const recipe::Hands& hands, recipe::Working* working) {
  recipe::Hands own = hands;
  own.weighed = batch.weighed;
  const std::optional<double> in_brine_d = days_in_brine(batch);
  if (!in_brine_d || *in_brine_d <= batch.made_from.brine->days.value) {
    return recipe::scale(batch.made_from, batch.meat, working, own);
  }
  recipe::Recipe as_done = batch.made_from;
  as_done.brine->days = Days(*in_brine_d);
  return recipe::scale(as_done, batch.meat, working, own);
}

const drying::Weighing* last_weighing(const Batch& batch, const Id& piece, Date day) {
  const drying::Weighing* last = nullptr;
  for (const drying::Weighing& weighing : batch.weighings) {
    if (weighing.piece != piece || weighing.date > day) continue;
    // Of two on one day the one entered later counts: that is how a slip is put right.
    if (last == nullptr || weighing.date >= last->date) last = &weighing;
  }
  return last;
}

double loss_so_far(const Batch& batch, const Piece& piece, Date day) {
  const drying::Weighing* last = last_weighing(batch, piece.id, day);
  if (last == nullptr || !(piece.hung.value > 0.0)) return 0.0;
  const double loss = 1.0 - last->mass / piece.hung;
  return std::isfinite(loss) ? loss : 0.0;
}

Result<Done> check_weighing(const Batch& batch, const drying::Weighing& weighing, Date today) {
  if (!batch.hung) return Error{ErrorCode::missing, "hung_on", "", "", "", {}, {}};
  const Piece* piece = find_piece(batch, weighing.piece);
  if (piece == nullptr) {
    Error error;
    error.code = ErrorCode::not_found;
    error.field = "piece";
    error.found = weighing.piece.text;
    return error;
  }
  const double most_g = kMostGain * piece->hung.value;
  if (!(weighing.mass.value > 0.0) || !(weighing.mass.value <= most_g)) {
    return out_of_range("mass", weighing.mass.value, 0.0, most_g, "g");
  }
  const int day = days_between(batch.hung_on, weighing.date);
  const int last_day = days_between(batch.hung_on, today);
  if (day < 0 || day > last_day) return out_of_range("date", day, 0.0, std::max(0, last_day), "d");
  return Done{};
}

}  // namespace saltrafter::plan
