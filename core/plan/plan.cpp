#include "core/plan/plan.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace saltrafter::plan {
namespace {

constexpr double kPieceLengthM = 0.40;          // choice: hangs in a small chamber
constexpr double kStuffedDensityKgM3 = 1050.0;  // common practice, 1030..1070
constexpr double kMostPieces = 1000.0;          // choice: keeps the list finite for any input

double piece_mass_g(double diameter_m) {
  return 1000.0 * kStuffedDensityKgM3 * kPieceLengthM * std::numbers::pi * diameter_m * diameter_m / 4.0;
}

// Of a batch in brine, the days that its cure lasted; nothing while it lasts.
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

// The meat of a piece when it was hung, or as the cure left it where it does not hang yet.
std::optional<Grams> cured(const Batch& batch, const Piece& piece) {
  if (batch.hung) return piece.hung - tare_of(piece);
  return piece.after_cure;
}

// How much heavier the meat came out of the cure than the sheet makes it, as a share of that: what cure and
// rinse gave beside the salts. Below 0: took. 0 where a piece was not weighed before or after.
double taken_up_in_cure(const Batch& batch, const recipe::Sheet& sheet) {
  double trimmed_g = 0.0;
  double cured_g = 0.0;
  for (const Piece& piece : batch.pieces) {
    const std::optional<Grams> after = cured(batch, piece);
    if (!piece.trimmed || !after) return 0.0;
    trimmed_g += piece.trimmed->value;
    cured_g += after->value;
  }
  // What the trimmed pieces would weigh, had they only taken up their salts.
  const double salted_g = trimmed_g * (sheet.composition.total_g() / sheet.meat.value);
  const double share = cured_g / salted_g - 1.0;
  return trimmed_g > 0.0 && cured_g > 0.0 && std::isfinite(share) ? share : 0.0;
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

Id add_piece(Batch& batch, const Ports& ports) {
  Piece piece;
  piece.id = make_id(ports);
  for (const Piece& other : batch.pieces) piece.number = std::max(piece.number, other.number + 1);
  piece.diameter = batch.made_from.casing_diameter;
  batch.pieces.push_back(piece);
  return piece.id;
}

Result<recipe::Sheet> sheet_of(const Batch& batch, const recipe::Hands& hands, recipe::Working* working) {
  recipe::Hands own = hands;
  own.weighed = batch.weighed;
  recipe::Recipe as_done = batch.made_from;
  // Left in longer than was meant, meat takes up more.
  if (const std::optional<double> in_brine_d = days_in_brine(batch)) {
    as_done.brine->days = std::max(as_done.brine->days, Days(*in_brine_d));
  }
  Result<recipe::Sheet> scaled = recipe::scale(as_done, batch.meat, working, own);
  if (!scaled.ok()) return scaled;
  recipe::Sheet sheet = std::move(scaled).value();
  recipe::Composition& parts = sheet.composition;
  parts.water_g = std::max(0.0, parts.water_g + taken_up_in_cure(batch, sheet) * parts.total_g());
  return sheet;
}

}  // namespace saltrafter::plan
