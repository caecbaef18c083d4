#include "core/drying/wish.h"

#include <algorithm>
#include <cmath>
#include <string>

namespace saltrafter::drying {

namespace {

struct Range {
  double low, high;
};

Range range_of(WishKind kind) {
  switch (kind) {
    case WishKind::loss: break;
    case WishKind::moisture_protein_ratio: return {0.1, 10.0};
    case WishKind::moisture: return {0.05, 0.9};
    case WishKind::activity: return {0.3, 0.999};
    case WishKind::least_days: return {0.0, 3650.0};
  }
  return {0.01, 0.9};
}

// The loss at which one wish begins to hold, with the two unknowns moved by `by` from where the body stands.
double loss_of(const Wish& wish, const Body& body, double protein, const std::array<double, 2>& by) {
  const double before = body.x0 / (1.0 + body.x0);
  const double water = before + by[0];
  switch (wish.kind) {
    case WishKind::loss: return wish.value;
    case WishKind::moisture_protein_ratio: return water - wish.value * protein * (1.0 - water) / (1.0 - before);
    case WishKind::moisture: return (water - wish.value) / (1.0 - wish.value);
    case WishKind::activity:
      return water - body.content(WaterActivity(wish.value)) * std::exp(by[1]) * (1.0 - water);
    case WishKind::least_days: break;
  }
  return 0.0;
}

}  // namespace

Result<Done> check_wishes(const std::vector<Wish>& wishes) {
  for (std::size_t i = 0; i < wishes.size(); ++i) {
    const Range range = range_of(wishes[i].kind);
    if (!(wishes[i].value >= range.low && wishes[i].value <= range.high)) {
      const std::string_view unit = wishes[i].kind == WishKind::least_days ? "d" : "";
      return out_of_range("wishes/" + std::to_string(i) + "/value", wishes[i].value, range.low, range.high,
                          std::string(unit));
    }
  }
  return Done{};
}

NeededLoss needed_loss(const std::vector<Wish>& wishes, const Body& body, const recipe::Composition& composition,
                       const Offsets& offsets) {
  const double protein = composition.protein_g / composition.total_g();
  NeededLoss out;
  for (std::size_t i = 0; i < wishes.size(); ++i) {
    const Wish& wish = wishes[i];
    if (wish.kind == WishKind::least_days) {
      out.least_days = std::max(out.least_days, wish.value);
      out.each.push_back(0.0);
      continue;
    }
    const double loss = loss_of(wish, body, protein, {0.0, 0.0});
    out.each.push_back(loss);
    if (loss > out.loss) {
      constexpr double kNudge = 1e-4;
      const std::array<double, 2> slope{(loss_of(wish, body, protein, {kNudge, 0.0}) - loss) / kNudge,
                                        (loss_of(wish, body, protein, {0.0, kNudge}) - loss) / kNudge};
      out.loss = loss;
      out.sd = std::sqrt(offsets.along(slope));
      out.last = i;
    }
  }
  return out;
}

}  // namespace saltrafter::drying
