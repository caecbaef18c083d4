#include "core/drying/weigh_which.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <string>
#include <utility>

#include "core/drying/pace.h"
#include "core/drying/scale.h"

namespace saltrafter::drying {

namespace {

constexpr double kEightyPercent = 1.2815515655446004;  // of a normal distribution, to each side

// The joint normal distribution of all pieces' ln factors, narrowed by one weighing at a time. The same as
// the fit's (fit.h), written for the pieces themselves, so that a weighing may be of several at once.
class Joint {
 public:
  struct Part {  // of one weighing, g: how it answers to one piece's ln factors
    std::size_t piece = 0;
    std::array<double, 2> slope{};
  };

  Joint(std::size_t pieces, const FactorPrior& prior) : size_(2 * pieces), c_(size_ * size_, 0.0) {
    for (std::size_t i = 0; i < size_; ++i) {
      for (std::size_t j = i % 2; j < size_; j += 2) {
        const double own = i == j && pieces > 1 ? prior.piece_sd[i % 2] : 0.0;
        c_[i * size_ + j] = prior.batch_sd[i % 2] * prior.batch_sd[i % 2] + own * own;
      }
    }
  }

  void weigh(const std::vector<Part>& parts, double variance_g2) {
    std::vector<double> by(size_, 0.0);  // covariance of each unknown with the weighing
    for (const Part& part : parts) {
      for (std::size_t i = 0; i < size_; ++i) {
        const double* row = &c_[i * size_ + 2 * part.piece];
        by[i] += row[0] * part.slope[0] + row[1] * part.slope[1];
      }
    }
    double variance = variance_g2;
    for (const Part& part : parts) {
      variance += by[2 * part.piece] * part.slope[0] + by[2 * part.piece + 1] * part.slope[1];
    }
    for (std::size_t i = 0; i < size_; ++i) {
      for (std::size_t j = 0; j < size_; ++j) {
        c_[i * size_ + j] -= by[i] * by[j] / variance;
      }
    }
  }

  double along(std::size_t piece, const std::array<double, 2>& g) const {
    const std::size_t i = 2 * piece;
    const Covariance own{c_[i * size_ + i], c_[(i + 1) * size_ + i + 1], c_[i * size_ + i + 1]};
    return std::max(own.along(g), 0.0);
  }

 private:
  std::size_t size_;
  std::vector<double> c_;
};

std::size_t index_of(const TrialCourse& course, double day) {
  std::size_t i = 0;
  while (i + 1 < course.days.size() && course.days[i].day.value < day) {
    ++i;
  }
  return i;
}

}  // namespace

Result<WeighWhichTask> WeighWhichTask::make(ForecastInput input, Forecast forecast,
                                            std::vector<std::vector<Id>> bunches, int at_most) {
  if (!(input.now.value > 0.0 && input.now.value <= 3650.0)) {
    return out_of_range("now", input.now.value, 0.0, 3650.0, "d");
  }
  if (at_most < 1 || at_most > 50) {
    return out_of_range("at_most", at_most, 1.0, 50.0, "");
  }
  Result<std::vector<Hanging>> pieces = hangings(input, forecast);
  if (!pieces.ok()) {
    return pieces.error();
  }
  if (Result<Done> checked = check_hangings(pieces.value(), input.saturation, "pieces"); !checked.ok()) {
    return checked.error();
  }
  const std::size_t count = pieces.value().size();
  std::uint64_t key = saltrafter::fold(kHashStart, static_cast<std::uint64_t>(at_most));
  for (std::size_t i = 0; i < count; ++i) {
    key = fold(key, pieces.value()[i], input.saturation);
    key = saltrafter::fold(key, forecast.pieces[i].day_sd);
    for (const PieceWeighing& weighing : input.pieces[i].weighings) {
      for (const double v :
           {weighing.day, weighing.mass.value, static_cast<double>(weighing.of), weighing.doubt.value}) {
        key = saltrafter::fold(key, v);
      }
    }
    key = saltrafter::fold(key, static_cast<std::uint64_t>(input.pieces[i].hangs ? 1 : 0));
  }
  std::vector<Unit> units;
  std::vector<bool> tied(count, false);
  for (std::size_t b = 0; b < bunches.size(); ++b) {
    Unit unit;
    for (const Id& id : bunches[b]) {
      std::size_t i = 0;
      while (i < count && (tied[i] || pieces.value()[i].id != id)) {
        ++i;
      }
      if (i == count) {
        Error error;
        error.code = ErrorCode::unknown_value;
        error.field = "bunches/" + std::to_string(b);
        error.found = id.text;
        return error;
      }
      tied[i] = true;
      unit.push_back(i);
      key = saltrafter::fold(key, static_cast<std::uint64_t>(count * (b + 1) + i));
    }
    if (!unit.empty()) {
      units.push_back(std::move(unit));
    }
  }
  for (std::size_t i = 0; i < count; ++i) {
    if (!tied[i]) {
      units.push_back({i});
    }
  }
  return WeighWhichTask(std::move(input), std::move(forecast), std::move(pieces).value(), std::move(units),
                        at_most, key);
}

WeighWhichTask::WeighWhichTask(ForecastInput input, Forecast forecast, std::vector<Hanging> pieces,
                               std::vector<Unit> units, int at_most, std::uint64_t key)
    : Trials(input.saturation, key, pieces.size()),
      input_(std::move(input)),
      forecast_(std::move(forecast)),
      pieces_(std::move(pieces)),
      units_(std::move(units)),
      unit_of_(pieces_.size()),
      at_most_(at_most) {
  for (std::size_t u = 0; u < units_.size(); ++u) {
    for (const std::size_t piece : units_[u]) {
      unit_of_[piece] = u;
    }
  }
}

std::vector<Trial> WeighWhichTask::next_round(const std::vector<TrialCourse>& courses) {
  if (!courses.empty()) {
    choose(courses);
    return {};
  }
  std::vector<Trial> trials;
  for (std::size_t p = 0; p < pieces_.size(); ++p) {
    std::vector<double> marks{input_.now.value};
    for (const PieceWeighing& weighing : input_.pieces[p].weighings) {
      if (weighing.day > 0.0) {
        marks.push_back(weighing.day);
      }
    }
    std::sort(marks.begin(), marks.end());
    marks.erase(std::unique(marks.begin(), marks.end()), marks.end());
    Trial trial{pieces_[p].body, pieces_[p].stages, pieces_[p].factors, std::move(marks)};
    trial.slopes = Slopes::carried;
    trials.push_back(std::move(trial));
  }
  return trials;
}

bool WeighWhichTask::is_aside(const PieceWeighing& weighing) const {
  const std::vector<Suspicion>& all = forecast_.suspicions;
  return std::any_of(all.begin(), all.end(), [&weighing](const Suspicion& one) {
    return one.doubt == Doubt::set_aside && one.weighing == weighing.id;
  });
}

// d ln(day) / d ln F of what is wanted; where that is not reached, d ln(loss) / d ln F now.
std::array<double, 2> WeighWhichTask::day_slope(std::size_t piece, const TrialCourse& course) const {
  if (forecast_.pieces[piece].expected.likely) {
    return forecast_.pieces[piece].window_slope;
  }
  const std::size_t now = index_of(course, input_.now.value);
  const double loss = std::max(course.days[now].loss, 1e-9);
  return {course.slopes[now][0] / loss, course.slopes[now][1] / loss};
}

// The variance of ln(day) beside the factors', once the batch was seen last on another day: what of it is an
// error of the loss goes with that of the loss at the likely day.
double WeighWhichTask::model_variance(std::size_t piece, double by_factors, double seen_before,
                                      double seen_after) const {
  const PieceOutlook& outlook = forecast_.pieces[piece];
  const double own = std::max(outlook.day_sd * outlook.day_sd - by_factors, 0.0);
  const double by_time = kTimeDiscrepancy.value * kTimeDiscrepancy.value;
  if (!outlook.expected.likely || !(forecast_.needed.loss > 0.0)) {
    return own;
  }
  // The day from which on a loss tells more than the surface's.
  double first_told = 1.0;
  while (first_told < static_cast<double>(outlook.days.size()) &&
         outlook.days[static_cast<std::size_t>(first_told)].likely < kTellsFrom) {
    first_told += 1.0;
  }
  const auto of_loss = [&](double seen) {  // relative variance of the loss at the likely day
    const double way = std::log(outlook.expected.likely->value / std::max(seen, first_told));
    const double by_ahead = kAheadDiscrepancy.value * std::max(way, 0.0);
    const double by_need = forecast_.needed.sd / forecast_.needed.loss;
    return by_ahead * by_ahead + by_need * by_need;
  };
  const double before = of_loss(seen_before);
  const double grows = std::max(own - by_time, 0.0);
  return before > 0.0 ? std::min(own, by_time) + grows * of_loss(seen_after) / before : own;
}

// The piece that hangs of the greatest value whose unit is open; of several the first.
std::optional<std::size_t> WeighWhichTask::most(const std::vector<double>& value,
                                                const std::vector<bool>& open) const {
  std::optional<std::size_t> best;
  for (std::size_t p = 0; p < value.size(); ++p) {
    if (input_.pieces[p].hangs && open[unit_of_[p]] && (!best || is_over(value[p], value[*best]))) {
      best = p;
    }
  }
  return best;
}

Window WeighWhichTask::window(std::size_t piece, double day_sd) const {
  const PieceOutlook& outlook = forecast_.pieces[piece];
  Window out = outlook.expected;
  if (!out.likely || !(outlook.day_sd > 0.0)) {
    return out;
  }
  const double least = forecast_.needed.least_days;
  const double latest = out.likely->value * std::exp(kEightyPercent * day_sd);
  out.earliest = Days(std::max(out.likely->value * std::exp(-kEightyPercent * day_sd), least));
  out.latest = latest <= forecast_.searched_days.value ? std::optional<Days>(Days(latest)) : std::nullopt;
  return out;
}

void WeighWhichTask::choose(const std::vector<TrialCourse>& courses) {
  const std::size_t count = pieces_.size();
  const double today = input_.now.value;
  Joint known(count, input_.prior);
  const Joint nothing = known;
  std::vector<bool> open(units_.size(), false);  // not weighed today in full
  double weighings = 0.0;  // a bunch is one
  double most_lost = 0.0;
  double seen_until = 1.0;
  for (std::size_t p = 0; p < count; ++p) {
    const double hung_g = pieces_[p].hung.value;
    bool weighed_today = false;
    std::array<double, 3> told{};  // what its weighings say of its factors: inner, both, outer; per variance
    for (const PieceWeighing& weighing : input_.pieces[p].weighings) {
      weighings += 1.0 / weighing.of;
      most_lost = std::max(most_lost, 1.0 - weighing.mass.value / hung_g);
      weighed_today = weighed_today || weighing.day == today;
      if (!(weighing.day > 0.0) || is_aside(weighing)) {
        continue;
      }
      const std::size_t at = index_of(courses[p], weighing.day);
      const double variance_g2 =
          weighing_variance_g2(pieces_[p].hung) + weighing.doubt.value * weighing.doubt.value +
          share_variance_g2(pieces_[p].hung, weighing.of, courses[p].slopes[at], input_.prior.piece_sd);
      const double residual_g = weighing.mass.value - hung_g * (1.0 - courses[p].days[at].loss);
      const bool far = forecast_.prior_only || !input_.robust;  // from afar Student's weights say nothing
      const double weight = far ? 1.0 : student_weight(residual_g / std::sqrt(variance_g2));
      seen_until = std::max(seen_until, weighing.day);
      const std::array<double, 2> by{-hung_g * courses[p].slopes[at][0], -hung_g * courses[p].slopes[at][1]};
      const double precision = weight / variance_g2;
      told[0] += precision * by[0] * by[0];
      told[1] += precision * by[0] * by[1];
      told[2] += precision * by[1] * by[1];
    }
    // However many there are, two of variance 1 say the same (Cholesky's factor).
    if (told[0] > 0.0) {
      const std::array<double, 2> first{std::sqrt(told[0]), told[1] / std::sqrt(told[0])};
      known.weigh({{p, first}}, 1.0);
      known.weigh({{p, {0.0, std::sqrt(std::max(told[2] - first[1] * first[1], 0.0))}}}, 1.0);
    }
    const bool waits = input_.pieces[p].hangs && !weighed_today;
    open[unit_of_[p]] = open[unit_of_[p]] || waits;
  }

  std::vector<std::array<double, 2>> slope;
  std::vector<double> own;  // variance of ln(day) beside the factors', once weighed today
  std::vector<double> thin, thick, apart;
  for (std::size_t p = 0; p < count; ++p) {
    const PieceOutlook& outlook = forecast_.pieces[p];
    slope.push_back(day_slope(p, courses[p]));
    const double by_factors = (forecast_.prior_only ? nothing : known).along(p, outlook.window_slope);
    const double seen_before = forecast_.prior_only ? 1.0 : seen_until;
    own.push_back(model_variance(p, by_factors, seen_before, std::max(seen_until, today)));
    thick.push_back(pieces_[p].geometry.diameter.value);
    thin.push_back(-thick.back());
    double effect = 0.0;
    for (std::size_t k = 0; k < 2; ++k) {
      effect += slope[p][k] * (outlook.ln_factor[k] - forecast_.batch_ln_factor[k]);
    }
    apart.push_back(std::abs(effect));
  }

  result_.before = forecast_.pieces[forecast_.middle].expected;
  result_.prior_only = forecast_.prior_only;
  const auto sd_after = [&](std::size_t p) {
    const PieceOutlook& outlook = forecast_.pieces[p];
    const bool learnt = !result_.picks.empty() && !result_.prior_only && outlook.day_sd > 0.0;
    return learnt ? std::sqrt(own[p] + known.along(p, outlook.window_slope)) : outlook.day_sd;
  };
  const auto pick = [&](std::size_t piece, Why why) {
    const Unit& unit = units_[unit_of_[piece]];
    open[unit_of_[piece]] = false;
    Pick out;
    out.why = why;
    std::vector<Joint::Part> parts;
    Grams hung(0.0);
    for (const std::size_t p : unit) {
      if (!input_.pieces[p].hangs) {
        continue;
      }
      const std::size_t now = index_of(courses[p], today);
      const double hung_g = pieces_[p].hung.value;
      out.pieces.push_back(pieces_[p].id);
      parts.push_back({p, {-hung_g * courses[p].slopes[now][0], -hung_g * courses[p].slopes[now][1]}});
      hung = hung + pieces_[p].hung;
      most_lost = std::max(most_lost, courses[p].days[now].loss);
    }
    known.weigh(parts, weighing_variance_g2(hung));
    weighings += 1.0;
    result_.prior_only = result_.prior_only && (weighings < kLeastWeighings - 1e-9 || most_lost < kTellsFrom);
    result_.picks.push_back(std::move(out));
    result_.picks.back().batch =
        result_.prior_only ? result_.before : window(forecast_.middle, sd_after(forecast_.middle));
  };

  const auto full = [this] { return result_.picks.size() >= static_cast<std::size_t>(at_most_); };
  double smallest = 1e9;
  double largest = 0.0;
  for (std::size_t p = 0; p < count; ++p) {
    if (input_.pieces[p].hangs) {
      smallest = std::min(smallest, thick[p]);
      largest = std::max(largest, thick[p]);
    }
  }
  struct Reason {
    Why why;
    const std::vector<double>& value;
    double least;  // of the value: else there is nothing to tell apart
  };
  const bool sizes_differ = is_over(largest, smallest);
  for (const Reason& reason : {Reason{Why::thinnest, thin, sizes_differ ? -smallest : 1.0},
                               Reason{Why::thickest, thick, sizes_differ ? largest : 1.0},
                               Reason{Why::place, apart, 1e-6}}) {
    const std::optional<std::size_t> piece = most(reason.value, open);
    if (!full() && piece && !is_over(reason.least, reason.value[*piece])) {
      pick(*piece, reason.why);
    }
  }
  while (!full()) {
    std::vector<double> uncertain;
    for (std::size_t p = 0; p < count; ++p) {
      uncertain.push_back(known.along(p, slope[p]));
    }
    const std::optional<std::size_t> piece = most(uncertain, open);
    if (!piece) {
      break;
    }
    pick(*piece, Why::most_uncertain);
  }
  for (std::size_t p = 0; p < count; ++p) {
    result_.pieces.push_back({pieces_[p].id, forecast_.pieces[p].day_sd, sd_after(p)});
  }
}

}  // namespace saltrafter::drying
