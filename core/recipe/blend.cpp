#include "core/recipe/blend.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "core/recipe/linear_program.h"

namespace saltrafter::recipe {
namespace {

constexpr double kNoise = 1e-9;
constexpr double kMostRatio = 100.0;  // water to protein; nothing that is eaten has more
constexpr double kMostPrice = 1e9;

// Also false where the value is no number.
bool within(double value, double low, double high) { return value >= low && value <= high; }

std::string path(std::size_t cut, const char* leaf) { return "cuts/" + std::to_string(cut) + "/" + leaf; }

Error fault(ErrorCode code, std::string field, std::string found) {
  Error error;
  error.code = code;
  error.field = std::move(field);
  error.found = std::move(found);
  return error;
}

Result<Done> check_bounds(const std::optional<Bounds>& bounds, double most, const char* field) {
  if (!bounds) return Done{};
  if (!within(bounds->low, 0.0, most)) return out_of_range(field, bounds->low, 0.0, most, "1");
  if (!within(bounds->high, bounds->low, most))
    return out_of_range(field, bounds->high, bounds->low, most, "1");
  return Done{};
}

Result<Done> check_cut(const BlendCut& cut, std::size_t i, bool needs_price) {
  const Composition& c = cut.parts;
  for (const double part : {c.water_g, c.protein_g, c.fat_g, c.salt_g, c.rest_g}) {
    if (!within(part, 0.0, 1e6)) return out_of_range(path(i, "parts"), part, 0.0, 1.0, "g");
  }
  if (!(c.total_g() > kNoise)) return out_of_range(path(i, "parts"), c.total_g(), 0.0, 1.0, "g");
  if (!within(cut.least, 0.0, 1.0)) return out_of_range(path(i, "least"), cut.least, 0.0, 1.0, "1");
  if (!within(cut.most, 0.0, 1.0)) return out_of_range(path(i, "most"), cut.most, 0.0, 1.0, "1");
  if (cut.least > cut.most) return out_of_range(path(i, "least"), cut.least, 0.0, cut.most, "1");
  if (cut.price && !within(*cut.price, 0.0, kMostPrice))
    return out_of_range(path(i, "price"), *cut.price, 0.0, kMostPrice, "");
  if (needs_price && !cut.price) return fault(ErrorCode::missing, path(i, "price"), cut.material);
  return Done{};
}

Result<Done> check(const std::vector<BlendCut>& cuts, const BlendWishes& wishes) {
  if (cuts.empty()) return fault(ErrorCode::missing, "cuts", "");
  if (cuts.size() > kMostBlendCuts)
    return out_of_range("cuts", static_cast<double>(cuts.size()), 1.0, static_cast<double>(kMostBlendCuts),
                        "");
  const bool needs_price = wishes.aim == BlendAim::least_cost || wishes.most_price.has_value();
  for (std::size_t i = 0; i < cuts.size(); ++i) {
    const Result<Done> cut = check_cut(cuts[i], i, needs_price);
    if (!cut.ok()) return cut.error();
    for (std::size_t k = 0; k < i; ++k) {
      if (cuts[k].material == cuts[i].material)
        return fault(ErrorCode::duplicate_key, path(i, "material"), cuts[i].material);
    }
  }
  const Result<Done> fat = check_bounds(wishes.fat, 1.0, "fat");
  if (!fat.ok()) return fat.error();
  const Result<Done> ratio =
      check_bounds(wishes.moisture_protein_ratio, kMostRatio, "moisture_protein_ratio");
  if (!ratio.ok()) return ratio.error();
  if (wishes.most_price && !within(*wishes.most_price, 0.0, kMostPrice))
    return out_of_range("price", *wishes.most_price, 0.0, kMostPrice, "");
  if (wishes.aim == BlendAim::nearest && !within(wishes.fat_aim, 0.0, 1.0))
    return out_of_range("fat_aim", wishes.fat_aim, 0.0, 1.0, "1");
  return Done{};
}

// One wish as rows over the shares. A row gives way by a column of its own, in `unit` of the wish.
struct Wished {
  std::string name;
  std::vector<LinearRow> rows;
  double unit = 1.0;
  bool is_ratio = false;
};

// A row with the factor of the column that lets it give way.
LinearRow giving_way(LinearRow row, std::size_t column) {
  row.of.resize(column, 0.0);
  row.of.push_back(row.sense == Sense::at_least ? 1.0 : -1.0);
  return row;
}

class Blending {
 public:
  Blending(const std::vector<BlendCut>& cuts, const BlendWishes& wishes) : wishes_(wishes), n_(cuts.size()) {
    order_.resize(n_);
    for (std::size_t i = 0; i < n_; ++i) order_[i] = i;
    std::sort(order_.begin(), order_.end(),
              [&cuts](std::size_t a, std::size_t b) { return cuts[a].material < cuts[b].material; });
    for (const std::size_t i : order_) {
      cuts_.push_back(cuts[i]);
      cuts_.back().parts = cuts[i].parts * (1.0 / cuts[i].parts.total_g());
    }
    for (const BlendCut& cut : cuts_) highest_price_ = std::max(highest_price_, cut.price.value_or(0.0));
    if (!(highest_price_ > 0.0)) highest_price_ = 1.0;
    state_wishes();
  }

  Result<BlendAnswer> answer() const {
    BlendAnswer out;
    const LinearAnswer best = solve(best_program());
    if (best.how == Solved::best) {
      const LinearAnswer even = solve(even_program(best.cost));
      out.blend = blend_of(even.how == Solved::best ? even.values : best.values);
      return out;
    }
    if (best.how != Solved::infeasible) return fault(ErrorCode::not_converged, "cuts", "");
    for (const Wished& wish : wished_) {
      const std::optional<double> by = least_giving_way(wish);
      if (by) out.conflicts.push_back({wish.name, *by});
    }
    if (out.conflicts.empty()) {
      out.together = true;
      out.conflicts = giving_way_together();
      if (out.conflicts.empty()) return fault(ErrorCode::not_converged, "cuts", "");
    }
    return out;
  }

 private:
  template <class Figure>
  std::vector<double> of_cuts(Figure figure) const {
    std::vector<double> out;
    for (const BlendCut& cut : cuts_) out.push_back(figure(cut));
    return out;
  }
  std::vector<double> fats() const {
    return of_cuts([](const BlendCut& cut) { return cut.parts.fat_g; });
  }
  std::vector<double> prices() const {
    return of_cuts([this](const BlendCut& cut) { return cut.price.value_or(0.0) / highest_price_; });
  }
  // Water above `ratio` times the protein.
  std::vector<double> water_above(double ratio) const {
    return of_cuts([ratio](const BlendCut& cut) { return cut.parts.water_g - ratio * cut.parts.protein_g; });
  }

  void state_wishes() {
    if (wishes_.fat) {
      wished_.push_back(
          {"fat",
           {{fats(), Sense::at_least, wishes_.fat->low}, {fats(), Sense::at_most, wishes_.fat->high}},
           1.0,
           false});
    }
    if (wishes_.moisture_protein_ratio) {
      const Bounds& ratio = *wishes_.moisture_protein_ratio;
      wished_.push_back(
          {"moisture_protein_ratio",
           {{water_above(ratio.low), Sense::at_least, 0.0}, {water_above(ratio.high), Sense::at_most, 0.0}},
           1.0,
           true});
    }
    if (wishes_.most_price) {
      const double most = *wishes_.most_price / highest_price_;
      wished_.push_back({"price", {{prices(), Sense::at_most, most}}, highest_price_, false});
    }
    for (std::size_t i = 0; i < n_; ++i) {
      Wished wish;
      wish.name = cuts_[i].material;
      std::vector<double> own(n_, 0.0);
      own[i] = 1.0;
      if (cuts_[i].least > 0.0) wish.rows.push_back({own, Sense::at_least, cuts_[i].least});
      if (cuts_[i].most < 1.0) wish.rows.push_back({own, Sense::at_most, cuts_[i].most});
      if (!wish.rows.empty()) wished_.push_back(wish);
    }
  }

  LinearRow whole() const { return {std::vector<double>(n_, 1.0), Sense::exactly, 1.0}; }

  // The shares under all wishes but one.
  std::vector<LinearRow> rows(const Wished* but = nullptr) const {
    std::vector<LinearRow> out{whole()};
    for (const Wished& wish : wished_) {
      if (&wish != but) out.insert(out.end(), wish.rows.begin(), wish.rows.end());
    }
    return out;
  }

  LinearProgram best_program() const {
    LinearProgram program;
    program.rows = rows();
    if (wishes_.aim == BlendAim::least_cost) {
      program.cost = prices();
      return program;
    }
    // Fat above the aim and below it, as two columns more.
    program.cost.assign(n_, 0.0);
    program.cost.insert(program.cost.end(), 2, 1.0);
    LinearRow aim{fats(), Sense::exactly, wishes_.fat_aim};
    aim.of.push_back(-1.0);
    aim.of.push_back(1.0);
    program.rows.push_back(aim);
    return program;
  }

  // Of the blends as good as the best: shares above and below an equal one, as two columns more a cut.
  LinearProgram even_program(double best) const {
    LinearProgram program;
    program.rows = rows();
    if (wishes_.aim == BlendAim::least_cost) {
      program.rows.push_back({prices(), Sense::at_most, best});
    } else {
      program.rows.push_back({fats(), Sense::at_most, wishes_.fat_aim + best});
      program.rows.push_back({fats(), Sense::at_least, wishes_.fat_aim - best});
    }
    program.cost.assign(n_, 0.0);
    program.cost.insert(program.cost.end(), 2 * n_, 1.0);
    for (std::size_t i = 0; i < n_; ++i) {
      LinearRow share{std::vector<double>(3 * n_, 0.0), Sense::exactly, 1.0 / static_cast<double>(n_)};
      share.of[i] = 1.0;
      share.of[n_ + 2 * i] = -1.0;
      share.of[n_ + 2 * i + 1] = 1.0;
      program.rows.push_back(share);
    }
    return program;
  }

  // Nothing where the others cannot be met whatever this wish is.
  std::optional<double> least_giving_way(const Wished& wish) const {
    const LinearAnswer answer = solve(wish.is_ratio ? ratio_program(wish) : giving_way_program(wish));
    if (answer.how != Solved::best) return std::nullopt;
    return answer.cost * wish.unit;
  }

  LinearProgram giving_way_program(const Wished& wish) const {
    LinearProgram program;
    program.rows = rows(&wish);
    for (const LinearRow& row : wish.rows) program.rows.push_back(giving_way(row, n_));
    program.cost.assign(n_, 0.0);
    program.cost.push_back(1.0);
    return program;
  }

  // A ratio is no linear figure of the shares, but water is one of shares counted per protein (Charnes and
  // Cooper): columns are share / protein, 1 / protein, and what the ratio gives way by.
  LinearProgram ratio_program(const Wished& wish) const {
    LinearProgram program;
    for (LinearRow row : rows(&wish)) {
      row.of.push_back(-row.bound);
      row.bound = 0.0;
      program.rows.push_back(row);
    }
    const auto water = of_cuts([](const BlendCut& cut) { return cut.parts.water_g; });
    const auto protein = of_cuts([](const BlendCut& cut) { return cut.parts.protein_g; });
    program.rows.push_back({protein, Sense::exactly, 1.0});
    const Bounds& ratio = *wishes_.moisture_protein_ratio;
    program.rows.push_back(giving_way({water, Sense::at_least, ratio.low}, n_ + 1));
    program.rows.push_back(giving_way({water, Sense::at_most, ratio.high}, n_ + 1));
    program.cost.assign(n_ + 1, 0.0);
    program.cost.push_back(1.0);
    return program;
  }

  std::vector<Conflict> giving_way_together() const {
    LinearProgram program;
    program.rows = {whole()};
    for (std::size_t w = 0; w < wished_.size(); ++w) {
      for (const LinearRow& row : wished_[w].rows) program.rows.push_back(giving_way(row, n_ + w));
    }
    program.cost.assign(n_, 0.0);
    program.cost.insert(program.cost.end(), wished_.size(), 1.0);
    const LinearAnswer answer = solve(program);
    if (answer.how != Solved::best) return {};
    std::vector<Conflict> out;
    for (std::size_t w = 0; w < wished_.size(); ++w) {
      const double gives_way = answer.values[n_ + w];
      if (!(gives_way > kNoise)) continue;
      const bool is_ratio = wished_[w].is_ratio;
      out.push_back({wished_[w].name, is_ratio ? ratio_missed(answer.values) : gives_way * wished_[w].unit});
    }
    return out;
  }

  // How far the ratio of a blend lies outside its bounds.
  double ratio_missed(const std::vector<double>& shares) const {
    Composition parts;
    for (std::size_t i = 0; i < n_; ++i) parts = parts + cuts_[i].parts * shares[i];
    const double ratio = moisture_protein_ratio(parts);
    const Bounds& wished = *wishes_.moisture_protein_ratio;
    return std::max({0.0, wished.low - ratio, ratio - wished.high});
  }

  Blend blend_of(const std::vector<double>& values) const {
    Blend out;
    out.shares.assign(n_, 0.0);
    double price = 0.0;
    bool priced = true;
    for (std::size_t i = 0; i < n_; ++i) {
      const double share = std::clamp(values[i], cuts_[i].least, cuts_[i].most);
      out.shares[order_[i]] = share;
      out.parts = out.parts + cuts_[i].parts * share;
      price += share * cuts_[i].price.value_or(0.0);
      if (share > kNoise && !cuts_[i].price) priced = false;
    }
    if (priced) out.price = price;
    return out;
  }

  BlendWishes wishes_;
  std::size_t n_;
  std::vector<BlendCut> cuts_;      // by key, of 1 g each
  std::vector<std::size_t> order_;  // their places as they were given
  std::vector<Wished> wished_;
  double highest_price_ = 0.0;
};

}  // namespace

Result<BlendAnswer> blend(const std::vector<BlendCut>& cuts, const BlendWishes& wishes) {
  const Result<Done> checked = check(cuts, wishes);
  if (!checked.ok()) return checked.error();
  return Blending(cuts, wishes).answer();
}

}  // namespace saltrafter::recipe
