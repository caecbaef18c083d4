#include "core/plan/split.h"

#include <cmath>

namespace saltrafter::plan {
namespace {

constexpr double kAddsTo1 = 0.0005;  // as the meat lines of a recipe do

Batch part_of(const Batch& whole, double share) {
  Batch part = whole;
  part.meat = part.meat * share;
  for (recipe::WeighedIn& weighed : part.weighed) weighed.mass = weighed.mass * share;
  for (recipe::Line& line : part.made_from.lines) {
    const bool by_basis = line.kind == recipe::LineKind::additive || line.kind == recipe::LineKind::culture;
    if (by_basis && line.basis == recipe::Basis::fixed_g) line.amount *= share;
  }
  part.costs.trim = part.costs.trim * share;
  part.costs.energy_kwh *= share;
  return part;
}

}  // namespace

Result<std::vector<Batch>> split(const Batch& batch, const Id& id, const std::vector<double>& shares) {
  if (batch.hung || !batch.pieces.empty()) return Error{ErrorCode::refused, "hung", "", "", "", {}, {}};
  const double count = static_cast<double>(shares.size());
  if (shares.size() < 2) return out_of_range("shares", count, 2.0, 1000.0, "");
  double sum = 0.0;
  for (std::size_t i = 0; i < shares.size(); ++i) {
    if (!(shares[i] > 0.0 && shares[i] < 1.0)) {
      return out_of_range("shares/" + std::to_string(i), shares[i], 0.0, 1.0, "");
    }
    sum += shares[i];
  }
  if (!(std::abs(sum - 1.0) <= kAddsTo1)) return out_of_range("shares", sum, 1.0, 1.0, "");
  std::vector<Batch> parts;
  for (const double share : shares) {
    parts.push_back(part_of(batch, share / sum));
    if (parts.size() > 1) parts.back().from = id;
  }
  return parts;
}

}  // namespace saltrafter::plan
