// The forecast as a task: runs of the model in a fixed order, a fixed number of time steps a slice.
#include "core/drying/forecast.h"

#include <algorithm>
#include <cmath>
#include <cstring>
#include <string>
#include <utility>

#include "core/drying/batch_odds.h"
#include "core/drying/scale.h"

namespace saltrafter::drying {

namespace {

constexpr int kStepsASlice = 25;         // time steps of one run: well under a millisecond
constexpr int kMostRounds = 8;           // of a fit, from the start or after a weighing was set aside
constexpr double kNearEnough = 0.05;     // of ln F: from here on Student's weights
constexpr double kStill = 0.003;         // of ln F: the fit is done
constexpr int kMostSetAside = 3;
constexpr double kEightyPercent = 1.2815515655446004;  // of a normal distribution, to each side
constexpr std::size_t kFewestToMark = 4;   // choice: of two or three weighings none can be told to be the odd one
constexpr double kSearchDays = 250.0;
constexpr double kLowestHumidity = 0.30;
constexpr int kHumidityTurns = 8;

std::uint64_t key_of(const ForecastInput& in) {
  std::uint64_t h = kHashStart;
  const auto add = [&h](double v) { h = fold(h, v); };
  const auto count = [&h](std::size_t n) { h = fold(h, static_cast<std::uint64_t>(n)); };
  const auto text = [&](const std::string& s) {
    count(s.size());
    for (const char c : s) {
      h = fold(h, static_cast<std::uint64_t>(static_cast<unsigned char>(c)));
    }
  };
  const recipe::Composition& c = in.composition;
  for (const double v : {c.water_g, c.protein_g, c.fat_g, c.salt_g, c.rest_g, in.geometry.diameter.value,
                         in.geometry.length ? in.geometry.length->value : -1.0, in.wanted_loss, in.now.value,
                         in.horizon.value}) {
    add(v);
  }
  for (std::size_t k = 0; k < 2; ++k) {
    add(in.prior.mean[k]);
    add(in.prior.batch_sd[k]);
    add(in.prior.piece_sd[k]);
  }
  for (const double v : {in.geometry.width ? in.geometry.width->value : -1.0, in.solutes.sugar_mol,
                         in.solutes.lactate_mol, in.solutes.curing_mol, in.figures.minced_m2_s,
                         in.figures.muscle_m2_s, in.figures.holding ? in.figures.holding->theta : -1.0,
                         in.figures.holding ? in.figures.holding->osmol_per_kg : -1.0}) {
    add(v);
  }
  count(in.wishes.size());
  for (const Wish& wish : in.wishes) {
    count(static_cast<std::size_t>(wish.kind));
    add(wish.value);
  }
  count(in.readings.size());
  for (const Reading& reading : in.readings) {
    count(static_cast<std::size_t>(reading.kind));
    for (const double v : {reading.loss, reading.value, reading.sd}) {
      add(v);
    }
  }
  count(static_cast<std::size_t>(in.geometry.form));
  count(static_cast<std::size_t>(in.kind));
  count(static_cast<std::size_t>(in.wrap));
  count(in.robust ? 1 : 0);
  count(in.stages.size());
  for (const Stage& s : in.stages) {
    for (const double v : {s.duration.value, s.temperature.value, s.humidity.value, s.speed.value,
                           s.sealed ? 1.0 : 0.0, s.wrap ? static_cast<double>(*s.wrap) : -1.0, in.saturation.psat_pa(s.temperature.value),
                           in.saturation.slope_pa_k(s.temperature.value)}) {
      add(v);
    }
  }
  count(in.pieces.size());
  for (const ForecastPiece& p : in.pieces) {
    text(p.id.text);
    add(p.hung.value);
    add(p.diameter ? p.diameter->value : -1.0);
    count(p.hangs ? 1 : 0);
    count(p.weighings.size());
    for (const PieceWeighing& w : p.weighings) {
      text(w.id.text);
      for (const double v : {w.day, w.mass.value, static_cast<double>(w.of), w.doubt.value}) {
        add(v);
      }
    }
  }
  return h;
}

Error missing(std::string field) {
  Error error;
  error.code = ErrorCode::missing;
  error.field = std::move(field);
  return error;
}

// Sorted by day, those of one day by id, so that the order of entry changes nothing.
void put_in_order(std::vector<PieceWeighing>& weighings) {
  std::stable_sort(weighings.begin(), weighings.end(), [](const PieceWeighing& a, const PieceWeighing& b) {
    return a.day != b.day ? a.day < b.day : a.id < b.id;
  });
}

Result<Done> check(const ForecastInput& in) {
  if (!in.saturation.psat_pa || !in.saturation.slope_pa_k) {
    return missing("saturation");
  }
  if (in.pieces.empty()) {
    return missing("pieces");
  }
  if (!(in.wanted_loss >= 0.01 && in.wanted_loss <= 0.9)) {
    return out_of_range("wanted_loss", in.wanted_loss, 0.01, 0.9, "");
  }
  if (!(in.now.value >= 0.0 && in.now.value <= 3650.0)) {
    return out_of_range("now", in.now.value, 0.0, 3650.0, "d");
  }
  if (!(in.horizon.value >= 1.0 && in.horizon.value <= 400.0)) {
    return out_of_range("horizon", in.horizon.value, 1.0, 400.0, "d");
  }
  for (std::size_t k = 0; k < 2; ++k) {
    if (!(in.prior.batch_sd[k] >= 0.05 && in.prior.batch_sd[k] <= 2.0)) {
      return out_of_range("prior/batch_sd", in.prior.batch_sd[k], 0.05, 2.0, "");
    }
    if (!(in.prior.piece_sd[k] >= 0.01 && in.prior.piece_sd[k] <= 1.0)) {
      return out_of_range("prior/piece_sd", in.prior.piece_sd[k], 0.01, 1.0, "");
    }
    if (!(std::abs(in.prior.mean[k]) <= 2.0)) {
      return out_of_range("prior/mean", in.prior.mean[k], -2.0, 2.0, "");
    }
  }
  for (std::size_t i = 0; i < in.pieces.size(); ++i) {
    const ForecastPiece& piece = in.pieces[i];
    const std::string at = "pieces/" + std::to_string(i) + "/";
    if (!(piece.hung.value > 0.0 && piece.hung.value <= 1e6)) {
      return out_of_range(at + "hung", piece.hung.value, 0.0, 1e6, "g");
    }
    for (std::size_t j = 0; j < piece.weighings.size(); ++j) {
      const PieceWeighing& w = piece.weighings[j];
      const std::string where = at + "weighings/" + std::to_string(j) + "/";
      if (!(w.day >= 0.0 && w.day <= 3650.0)) {
        return out_of_range(where + "day", w.day, 0.0, 3650.0, "d");
      }
      if (!(w.mass.value > 0.0 && w.mass.value <= 1e6)) {
        return out_of_range(where + "mass", w.mass.value, 0.0, 1e6, "g");
      }
      if (w.of < 1 || w.of > 1000) {
        return out_of_range(where + "of", w.of, 1.0, 1000.0, "");
      }
      if (!(w.doubt.value >= 0.0 && w.doubt.value <= 1e6)) {
        return out_of_range(where + "doubt", w.doubt.value, 0.0, 1e6, "g");
      }
    }
  }
  if (Result<Done> checked = check_wishes(in.wishes); !checked.ok()) {
    return checked;
  }
  return check_stages(in.stages);
}

}  // namespace

Result<ForecastTask> ForecastTask::make(ForecastInput input) {
  if (Result<Done> checked = check(input); !checked.ok()) {
    return checked.error();
  }
  if (input.wishes.empty()) {
    input.wishes.push_back({WishKind::loss, input.wanted_loss});
  }
  ForecastTask task(std::move(input));
  const ForecastInput& in = task.input_;
  Stuff stuff{in.composition, in.solutes, in.kind, in.wrap};
  Result<Body> made = make_body(stuff, in.geometry, in.figures);
  if (!made.ok()) {
    return made.error();
  }
  const Result<Offsets> offsets = learn_offsets(made.value(), in.readings);
  if (!offsets.ok()) {
    return offsets.error();
  }
  if (!in.readings.empty()) {
    stuff.composition = with_water(in.composition, offsets.value().mean[0]);
    made = make_body(stuff, in.geometry, in.figures);
    if (!made.ok()) {
      return made.error();
    }
  }
  Body body = std::move(made).value();
  body.holds = std::exp(offsets.value().mean[1]);
  task.forecast_.offsets = offsets.value();
  task.forecast_.composition = stuff.composition;
  for (const ForecastPiece& piece : in.pieces) {
    Geometry geometry = in.geometry;
    geometry.diameter = piece.diameter.value_or(geometry.diameter);
    Result<Body> sized = with_size(body, geometry);
    if (!sized.ok()) {
      return sized.error();
    }
    task.bodies_.push_back(std::move(sized).value());
  }
  task.forecast_.needed =
      needed_loss(in.wishes, task.bodies_.front(), stuff.composition, task.forecast_.offsets);
  return task;
}

ForecastTask::ForecastTask(ForecastInput input)
    : input_(std::move(input)), fit_(input_.pieces.size(), input_.prior) {
  key_ = key_of(input_);
  limit_ = std::max(kSearchDays, std::ceil(std::max(input_.horizon.value, input_.now.value)));
  forecast_.searched_days = Days(limit_);
  double most_lost = 0.0;
  double weighings = 0.0;  // a bunch is one
  for (std::size_t p = 0; p < input_.pieces.size(); ++p) {
    ForecastPiece& piece = input_.pieces[p];
    put_in_order(piece.weighings);
    std::vector<double> marks;
    for (std::size_t j = 0; j < piece.weighings.size(); ++j) {
      const PieceWeighing& w = piece.weighings[j];
      weighings += 1.0 / w.of;
      most_lost = std::max(most_lost, 1.0 - w.mass.value / piece.hung.value);
      if (!(w.day > 0.0)) {
        continue;  // the weight at hanging is taken as exact
      }
      if (marks.empty() || w.day > marks.back()) {
        marks.push_back(w.day);
      }
      seen_.push_back({p, j, marks.size() - 1, true});
    }
    marks_.push_back(std::move(marks));
  }
  forecast_.prior_only = weighings < kLeastWeighings - 1e-9 || most_lost < kTellsFrom;
  courses_.resize(input_.pieces.size());
  const int pieces = static_cast<int>(input_.pieces.size());
  runs_total_ = 1 + pieces * ((1 + kMostSetAside) * (kMostRounds + 1) + 1 + kHumidityTurns);
}

Progress ForecastTask::progress() const { return {runs_done_, finished() ? runs_done_ : runs_total_}; }

void ForecastTask::step() {
  if (finished()) {
    return;
  }
  if (!run_) {
    start_run();
  }
  for (int i = 0; i < kStepsASlice && !run_->finished(); ++i) {
    if (!run_->step()) {
      continue;
    }
    if (phase_ == Phase::curve) {
      add_curve_day();
      continue;
    }
    const double loss = run_->loss();
    Course& course = courses_[piece_];
    course.loss.push_back(loss);
    course.slope.push_back(run_->loss_slopes());
    if (phase_ == Phase::fit) {
      continue;
    }
    const double last_shown = std::ceil(std::max(input_.horizon.value, input_.now.value)) + 1.0;
    const bool shown = phase_ == Phase::humidity || run_->day() >= last_shown;
    if (loss >= forecast_.needed.loss && shown) {
      finish_run();
      return;
    }
  }
  if (run_->finished()) {
    finish_run();
  }
}

void ForecastTask::start_run() {
  const std::array<double, 2> ln = fit_.ln_factors(piece_);
  std::vector<Stage> stages = input_.stages;
  std::vector<double> marks;
  if (phase_ == Phase::fit) {
    marks = marks_[piece_];
  } else {
    const double last = phase_ == Phase::curve ? std::ceil(input_.horizon.value) : limit_ + 1.0;
    for (double day = 1.0; day <= last; day += 1.0) {
      marks.push_back(day);
    }
  }
  if (phase_ == Phase::humidity) {
    stages.back().humidity = RelativeHumidity(
        humid_turn_ == 0 ? kLowestHumidity : 0.5 * (humid_low_ + humid_high_));
  }
  courses_[piece_].loss.clear();
  courses_[piece_].slope.clear();
  const bool learns = phase_ == Phase::fit || phase_ == Phase::outlook;
  run_ = std::make_unique<Run>(bodies_[piece_], std::move(stages), Factors{std::exp(ln[0]), std::exp(ln[1])},
                               input_.saturation, phase_ == Phase::curve ? kForDisplay : kForFit, std::move(marks),
                               learns ? Slopes::carried : Slopes::left_out);
  if (phase_ == Phase::curve) {
    forecast_.curve.push_back({run_->state(), forecast_.pieces[piece_].days.front(), run_->layers()});
  }
}

void ForecastTask::finish_run() {
  run_.reset();
  ++runs_done_;
  switch (phase_) {
    case Phase::humidity: next_humidity(); return;
    case Phase::curve: phase_ = Phase::done; return;
    case Phase::outlook: look_out(piece_); break;
    case Phase::fit:
    case Phase::done: break;
  }
  if (++piece_ < input_.pieces.size()) {
    return;
  }
  piece_ = 0;
  if (phase_ == Phase::fit) {
    finish_fit_round();
  } else {
    finish_outlook();
  }
}

// g2, where the fit stands.
double ForecastTask::variance_of(const Seen& seen) const {
  const ForecastPiece& piece = input_.pieces[seen.piece];
  const PieceWeighing& weighing = piece.weighings[seen.weighing];
  const double doubt_g = weighing.doubt.value;
  return weighing_variance_g2(piece.hung) + doubt_g * doubt_g +
         share_variance_g2(piece.hung, weighing.of, courses_[seen.piece].slope[seen.mark], input_.prior.piece_sd);
}

std::vector<FitRow> ForecastTask::rows(bool robust) const {
  std::vector<FitRow> out;
  for (const Seen& s : seen_) {
    const ForecastPiece& piece = input_.pieces[s.piece];
    const double w0_g = piece.hung.value;
    const Course& course = courses_[s.piece];
    FitRow row;
    row.piece = s.piece;
    row.residual = piece.weighings[s.weighing].mass.value - w0_g * (1.0 - course.loss[s.mark]);
    row.slope = {-w0_g * course.slope[s.mark][0], -w0_g * course.slope[s.mark][1]};
    const double variance_g2 = variance_of(s);
    const double weight = robust ? student_weight(row.residual / std::sqrt(variance_g2)) : 1.0;
    row.precision = s.used && !forecast_.prior_only ? weight / variance_g2 : 0.0;
    out.push_back(row);
  }
  return out;
}

void ForecastTask::finish_fit_round() {
  const std::vector<FitRow> last = rows(student_);
  if (forecast_.prior_only) {
    fit_.measure(last);
  } else {
    // Plain steps first: from far away Student's weights would take every weighing for a slip.
    const double moved = fit_.update(last);
    const bool out_of_rounds = ++rounds_ >= kMostRounds;
    if (input_.robust && !student_) {
      student_ = moved < kNearEnough || 2 * rounds_ >= kMostRounds;
      return;
    }
    if (moved >= kStill && !out_of_rounds) {
      return;
    }
  }
  if (!forecast_.prior_only && set_aside_ < kMostSetAside) {
    double worst = 4.0;
    std::size_t which = seen_.size();
    std::size_t used = 0;
    Covariance own;
    for (std::size_t i = 0; i < seen_.size(); ++i) {
      used += seen_[i].used ? 1U : 0U;
      if (i == 0 || seen_[i].piece != seen_[i - 1].piece) {
        own = fit_.covariance(seen_[i].piece);
      }
      const double z = leave_one_out(last[i], own, variance_of(seen_[i]));
      if (seen_[i].used && std::abs(z) > worst) {
        worst = std::abs(z);
        which = i;
      }
    }
    if (which < seen_.size() && used > 2) {
      seen_[which].used = false;
      ++set_aside_;
      rounds_ = 0;
      return;
    }
  }
  find_doubts(last);
  begin_outlook();
}

void ForecastTask::find_doubts(const std::vector<FitRow>& last) {
  std::size_t row = 0;
  for (std::size_t p = 0; p < input_.pieces.size(); ++p) {
    const ForecastPiece& piece = input_.pieces[p];
    const double w0_g = piece.hung.value;
    double before_g = w0_g;
    double before_model_g = w0_g;
    const Covariance own = fit_.covariance(p);
    for (const PieceWeighing& w : piece.weighings) {
      const double mass_g = w.mass.value;
      const auto doubt = [&](Doubt what, double z) { forecast_.suspicions.push_back({piece.id, w.id, what, z}); };
      double model_g = w0_g;
      double z = 0.0;
      bool used = true;
      if (w.day > 0.0) {
        const Seen& s = seen_[row];
        model_g = w0_g * (1.0 - courses_[p].loss[s.mark]);
        used = s.used;
        z = forecast_.prior_only ? 0.0 : leave_one_out(last[row], own, variance_of(s));
        ++row;
      }
      if (mass_g <= 0.4 * w0_g) {
        doubt(Doubt::too_light, z);
      }
      if (mass_g > 1.02 * w0_g) {
        doubt(Doubt::too_heavy, z);
      }
      if (mass_g - before_g > std::max(3.0, 0.003 * w0_g)) {
        doubt(Doubt::gain, z);
      }
      const double fell_g = before_g - mass_g;
      if (fell_g > 3.0 * std::max(before_model_g - model_g, 0.0) && fell_g > std::max(5.0, 0.01 * w0_g)) {
        doubt(Doubt::too_fast, z);
      }
      if (!used) {
        doubt(Doubt::set_aside, z);
      } else if (std::abs(z) > 3.0 && piece.weighings.size() >= kFewestToMark) {
        doubt(Doubt::mark, z);
      }
      before_g = mass_g;
      before_model_g = model_g;
    }
  }
}

void ForecastTask::begin_outlook() {
  phase_ = Phase::outlook;
  const int pieces = static_cast<int>(input_.pieces.size());
  runs_total_ = runs_done_ + 1 + pieces * (1 + kHumidityTurns);
  forecast_.pieces.resize(input_.pieces.size());
  const Covariance batch = fit_.batch_covariance();
  forecast_.batch_ln_factor = fit_.ln_batch();
  forecast_.batch_sd = {std::sqrt(batch.inner), std::sqrt(batch.outer)};
}

// The day a course of daily losses (day 1 first) first has the needed loss; nothing when it has it nowhere.
std::optional<double> ForecastTask::crossing(const std::vector<double>& losses) const {
  if (!(forecast_.needed.loss > 0.0)) {
    return 0.0;
  }
  double before = 0.0;
  for (std::size_t i = 0; i < losses.size(); ++i) {
    if (losses[i] >= forecast_.needed.loss) {
      const double t = static_cast<double>(i) + (forecast_.needed.loss - before) / (losses[i] - before);
      return t <= limit_ ? std::optional<double>(t) : std::nullopt;
    }
    before = losses[i];
  }
  return std::nullopt;
}

void ForecastTask::look_out(std::size_t p) {
  PieceOutlook& out = forecast_.pieces[p];
  const Course& course = courses_[p];
  const Covariance c = fit_.covariance(p);
  out.piece = input_.pieces[p].id;
  out.hangs = input_.pieces[p].hangs;
  out.least = Days(forecast_.needed.least_days);
  out.ln_factor = fit_.ln_factors(p);
  out.sd = {std::sqrt(c.inner), std::sqrt(c.outer)};
  out.correlation = c.both / (out.sd[0] * out.sd[1]);
  out.weighings_used = 0;
  for (const Seen& s : seen_) {
    out.weighings_used += s.piece == p && s.used && !forecast_.prior_only ? 1 : 0;
  }

  // Beyond what was seen the model's own error grows: from the last weighing of the batch, or from the tenth
  // that shows more than the surface.
  const std::size_t length = course.loss.size();
  double seen_until = 1.0;
  for (const Seen& s : seen_) {
    if (s.used && !forecast_.prior_only) {
      seen_until = std::max(seen_until, marks_[s.piece][s.mark]);
    }
  }
  const auto early = std::find_if(course.loss.begin(), course.loss.end(),
                                  [](double loss) { return loss >= kTellsFrom; });
  seen_until = std::max(seen_until, static_cast<double>(early - course.loss.begin()) + 1.0);
  const auto ahead = [seen_until](double day) {
    return day > seen_until ? kAheadDiscrepancy.value * std::log(day / seen_until) : 0.0;
  };

  // The band of each day: the factors' spread through the loss, and the model's own error.
  const double most = bodies_[p].x0 / (1.0 + bodies_[p].x0);
  std::vector<LossBand> bands{LossBand{}};
  for (std::size_t i = 0; i < length; ++i) {
    const double loss = course.loss[i];
    LossBand band{loss, loss, loss};
    if (loss > 1e-9) {
      const std::array<double, 2> g{course.slope[i][0] / loss, course.slope[i][1] / loss};
      const double before = i > 0 ? course.loss[i - 1] : 0.0;
      const double after = i + 1 < length ? course.loss[i + 1] : loss;
      const double span = i + 1 < length ? 2.0 : 1.0;
      const double by_time = static_cast<double>(i + 1) * (after - before) / (span * loss);
      const double by_shift = kTimeDiscrepancy.value * by_time;
      const double by_ahead = ahead(static_cast<double>(i + 1));
      const double s = std::sqrt(c.along(g) + by_shift * by_shift + by_ahead * by_ahead);
      band.low = loss * std::exp(-kEightyPercent * s);
      band.high = std::min(loss * std::exp(kEightyPercent * s), most);
    }
    bands.push_back(band);
  }

  const double least = forecast_.needed.least_days;
  if (const std::optional<double> likely = crossing(course.loss)) {
    out.dried = Days(*likely);
    if (*likely > 0.0) {
      const std::size_t i = std::min(static_cast<std::size_t>(*likely), length - 1);
      const double part = *likely - static_cast<double>(i);
      const double rate = course.loss[i] - (i > 0 ? course.loss[i - 1] : 0.0);  // a day
      for (std::size_t k = 0; k < 2; ++k) {
        const double before = i > 0 ? course.slope[i - 1][k] : 0.0;
        out.window_slope[k] = -(before + part * (course.slope[i][k] - before)) / (rate * *likely);
      }
      // An error of the loss counts for more days where the curve is flat.
      out.day_model = {kTimeDiscrepancy.value, forecast_.needed.sd / (rate * *likely),
                       ahead(*likely) * forecast_.needed.loss / (rate * *likely)};
      double variance = c.along(out.window_slope);
      for (const double sd : out.day_model) {
        variance += sd * sd;
      }
      out.day_sd = std::sqrt(variance);
    }
    const double latest = *likely * std::exp(kEightyPercent * out.day_sd);
    out.expected.likely = Days(std::max(*likely, least));
    out.expected.earliest = Days(std::max(*likely * std::exp(-kEightyPercent * out.day_sd), least));
    if (latest <= limit_) {
      out.expected.latest = Days(std::max(latest, least));
    }
  } else {
    for (std::size_t day = 1; day < bands.size() && !out.expected.earliest; ++day) {
      if (bands[day].high >= forecast_.needed.loss) {
        out.expected.earliest = Days(std::max(static_cast<double>(day), least));
      }
    }
  }

  const auto at = [&bands](double day) {
    const std::size_t i = std::min(static_cast<std::size_t>(day), bands.size() - 1);
    const std::size_t j = std::min(i + 1, bands.size() - 1);
    const double t = day - static_cast<double>(i);
    return LossBand{bands[i].low + t * (bands[j].low - bands[i].low),
                    bands[i].likely + t * (bands[j].likely - bands[i].likely),
                    bands[i].high + t * (bands[j].high - bands[i].high)};
  };
  out.loss_now = at(std::min(input_.now.value, limit_));
  const std::size_t shown = static_cast<std::size_t>(std::ceil(input_.horizon.value)) + 1;
  bands.resize(std::min(bands.size(), shown));
  out.days = std::move(bands);
}

void ForecastTask::finish_outlook() {
  // The middle piece: by its likely day, those that never get there last and by what they lose; ties by id.
  std::vector<std::size_t> order;
  const bool none_hangs = std::none_of(forecast_.pieces.begin(), forecast_.pieces.end(),
                                       [](const PieceOutlook& piece) { return piece.hangs; });
  for (std::size_t i = 0; i < forecast_.pieces.size(); ++i) {
    if (none_hangs || forecast_.pieces[i].hangs) {
      order.push_back(i);
    }
  }
  std::sort(order.begin(), order.end(), [this](std::size_t a, std::size_t b) {
    const PieceOutlook& x = forecast_.pieces[a];
    const PieceOutlook& y = forecast_.pieces[b];
    const auto rank = [](double value) { return std::round(value * 1e9); };
    const double x_day = x.expected.likely ? x.expected.likely->value : 1e6 - rank(x.days.back().likely) * 1e-6;
    const double y_day = y.expected.likely ? y.expected.likely->value : 1e6 - rank(y.days.back().likely) * 1e-6;
    if (rank(x_day) != rank(y_day)) {
      return x_day < y_day;
    }
    return x.piece < y.piece || (!(y.piece < x.piece) && a < b);
  });
  forecast_.middle = order[(order.size() - 1) / 2];
  find_all();
  begin_humidity();
}

// How the days of those that hang go together: by the factors from the fit's own covariance of all of them, by the
// model's errors as one, since it is one model and one meat.
void ForecastTask::find_all() {
  std::vector<std::array<double, 2>> slope(forecast_.pieces.size());
  std::array<double, 3> model{};
  double apart = 0.0;  // what each piece has with itself
  std::size_t count = 0;
  for (std::size_t p = 0; p < forecast_.pieces.size(); ++p) {
    const PieceOutlook& piece = forecast_.pieces[p];
    if (!piece.hangs) {
      continue;
    }
    if (!piece.dried) {
      return;
    }
    ++count;
    if (!(piece.day_sd > 0.0)) {
      continue;
    }
    for (std::size_t k = 0; k < 2; ++k) {
      slope[p][k] = piece.window_slope[k] / piece.day_sd;
    }
    for (std::size_t k = 0; k < model.size(); ++k) {
      model[k] += piece.day_model[k] / piece.day_sd;
    }
    apart += 1.0;
  }
  if (count < 2) {
    return;
  }
  double sum = fit_.along_all(slope);
  for (const double part : model) {
    sum += part * part;
  }
  const double pairs = apart * (apart - 1.0);
  forecast_.together = pairs > 0.0 ? std::clamp((sum - apart) / pairs, 0.0, 1.0) : 0.0;
  forecast_.all = days_of_all(forecast_);
}

void ForecastTask::begin_humidity() {
  phase_ = Phase::humidity;
  humid_turn_ = 0;
  humid_low_ = -1.0;
  while (piece_ < forecast_.pieces.size() && forecast_.pieces[piece_].expected.likely) {
    ++piece_;
  }
  if (piece_ == forecast_.pieces.size()) {
    phase_ = Phase::curve;
    piece_ = forecast_.middle;
  }
}

void ForecastTask::add_curve_day() {
  const PieceOutlook& middle = forecast_.pieces[forecast_.middle];
  CurveDay point{run_->state(), middle.days[std::min(forecast_.curve.size(), middle.days.size() - 1)],
                 run_->layers()};
  point.state.daily_loss = point.state.loss - forecast_.curve.back().state.loss;
  forecast_.curve.push_back(std::move(point));
}

// After each run of the search: the first asks whether the driest air would do, the others halve.
void ForecastTask::next_humidity() {
  const bool reached = crossing(courses_[piece_].loss).has_value();
  const double tried = humid_turn_ == 0 ? kLowestHumidity : 0.5 * (humid_low_ + humid_high_);
  if (humid_turn_ == 0) {
    humid_high_ = input_.stages.back().humidity.value;
  }
  if (reached) {
    humid_low_ = tried;
  } else {
    humid_high_ = tried;
  }
  const bool hopeless = humid_turn_ == 0 && (!reached || humid_high_ <= kLowestHumidity);
  if (++humid_turn_ < kHumidityTurns && !hopeless) {
    return;
  }
  if (!hopeless) {
    forecast_.pieces[piece_].reaching_humidity = RelativeHumidity(round_down(humid_low_, 2));
  }
  ++piece_;
  begin_humidity();
}

std::optional<MassBand> expected_mass(const PieceOutlook& outlook, Grams hung, Days day) {
  if (!(day.value >= 0.0) || outlook.days.empty() ||
      day.value > static_cast<double>(outlook.days.size() - 1)) {
    return std::nullopt;
  }
  const std::size_t i = static_cast<std::size_t>(day.value);
  const std::size_t j = std::min(i + 1, outlook.days.size() - 1);
  const double t = day.value - static_cast<double>(i);
  const auto mass = [&](double LossBand::*part) {
    return hung * (1.0 - (outlook.days[i].*part * (1.0 - t) + outlook.days[j].*part * t));
  };
  return MassBand{mass(&LossBand::high), mass(&LossBand::likely), mass(&LossBand::low)};
}

std::optional<double> odds_by(const PieceOutlook& outlook, Days day) {
  if (!outlook.dried) {
    return std::nullopt;
  }
  const double likely = outlook.dried->value;
  if (day.value < outlook.least.value) {
    return 0.0;
  }
  if (!(day.value > 0.0) || !(outlook.day_sd > 0.0)) {
    return day.value >= likely ? 1.0 : 0.0;
  }
  return 0.5 * std::erfc(-std::log(day.value / likely) / (outlook.day_sd * std::sqrt(2.0)));
}

}  // namespace saltrafter::drying
