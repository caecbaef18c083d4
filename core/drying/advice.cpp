#include "core/drying/advice.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

#include "core/drying/scale.h"

namespace saltrafter::drying {

namespace {

constexpr std::string_view kOurChoice = "chosen from what gentle and harsh programmes show in the model";
constexpr std::string_view kSpreadSource = "against the spread between pieces that the fit starts from";
constexpr double kLeastSpan = 5.0;      // days between two weighings whose loss is compared with the model's
constexpr double kLongestSpan = 14.0;
constexpr double kBeyondScale = 2.0;    // standard deviations of the scale
constexpr std::size_t kFewestToCompare = 3;

// The loss on a day between the course's days.
double loss_on(const TrialCourse& course, double day) {
  for (std::size_t i = 1; i < course.days.size(); ++i) {
    const DayState& before = course.days[i - 1];
    const DayState& after = course.days[i];
    if (day <= after.day.value) {
      const double part = (day - before.day.value) / (after.day.value - before.day.value);
      return before.loss + part * (after.loss - before.loss);
    }
  }
  return course.days.back().loss;
}

double loss_of(const ForecastPiece& piece, const PieceWeighing& weighing) {
  return 1.0 - weighing.mass.value / piece.hung.value;
}

std::vector<Stage> at_least(std::vector<Stage> stages, double humidity) {
  for (Stage& stage : stages) {
    stage.humidity = RelativeHumidity(std::max(stage.humidity.value, humidity));
  }
  return stages;
}

std::vector<Stage> at_most(std::vector<Stage> stages, double humidity) {
  for (Stage& stage : stages) {
    stage.humidity = RelativeHumidity(std::min(stage.humidity.value, humidity));
  }
  return stages;
}

// Whole points from one humidity to another, the start left out.
std::vector<double> points(double from, double to) {
  std::vector<double> out;
  const double way = to > from ? 1.0 : -1.0;
  const double start = way > 0.0 ? std::floor(from * 100.0 + 1e-9) : std::ceil(from * 100.0 - 1e-9);
  for (double point = start + way; way * (point - to * 100.0) < 1e-9; point += way) {
    out.push_back(point / 100.0);
  }
  return out;
}

}  // namespace

Result<AdviceTask> AdviceTask::make(ForecastInput input, Forecast forecast, Sealing sealing) {
  if (!(sealing.temperature.value >= -5.0 && sealing.temperature.value <= 45.0)) {
    return out_of_range("sealing/temperature", sealing.temperature.value, -5.0, 45.0, "°C");
  }
  StillHanging still = those_that_hang(std::move(input), std::move(forecast));
  input = std::move(still.input);
  forecast = std::move(still.forecast);
  Result<std::vector<Hanging>> pieces = hangings(input, forecast);
  if (!pieces.ok()) {
    return pieces.error();
  }
  if (Result<Done> checked = check_hangings(pieces.value(), input.saturation, "pieces"); !checked.ok()) {
    return checked.error();
  }
  std::uint64_t key = saltrafter::fold(kHashStart, sealing.allowed ? sealing.temperature.value : -100.0);
  for (std::size_t i = 0; i < pieces.value().size(); ++i) {
    key = fold(key, pieces.value()[i], input.saturation);
    for (const PieceWeighing& weighing : input.pieces[i].weighings) {
      key = saltrafter::fold(saltrafter::fold(key, weighing.day), weighing.mass.value);
    }
  }
  for (std::size_t k = 0; k < 2; ++k) {
    key = saltrafter::fold(saltrafter::fold(key, input.prior.piece_sd[k]), forecast.batch_ln_factor[k]);
  }
  return AdviceTask(std::move(input), std::move(forecast), std::move(pieces).value(), sealing, key);
}

AdviceTask::AdviceTask(ForecastInput input, Forecast forecast, std::vector<Hanging> pieces, Sealing sealing,
                       std::uint64_t key)
    : Trials(input.saturation, key, 2 * pieces.size() + 3 * 120),
      input_(std::move(input)),
      forecast_(std::move(forecast)),
      pieces_(std::move(pieces)),
      sealing_(sealing) {
  for (ForecastPiece& piece : input_.pieces) {
    std::stable_sort(piece.weighings.begin(), piece.weighings.end(),
                     [](const PieceWeighing& a, const PieceWeighing& b) { return a.day < b.day; });
  }
  for (std::size_t i = 0; i < pieces_.size(); ++i) {
    if (!taken_in(i).empty()) {
      compared_.push_back(i);
    }
  }
  if (compared_.size() < kFewestToCompare) {
    compared_.clear();
  }
}

// Weighings after hanging and up to now that the fit did not set aside.
std::vector<const PieceWeighing*> AdviceTask::taken_in(std::size_t piece) const {
  std::vector<const PieceWeighing*> out;
  for (const PieceWeighing& weighing : input_.pieces[piece].weighings) {
    const bool aside = std::any_of(
        forecast_.suspicions.begin(), forecast_.suspicions.end(), [&weighing](const Suspicion& suspicion) {
          return suspicion.doubt == Doubt::set_aside && suspicion.weighing == weighing.id;
        });
    if (!aside && weighing.day > 0.0 && weighing.day <= input_.now.value) {
      out.push_back(&weighing);
    }
  }
  return out;
}

Trial AdviceTask::trial_of(const Hanging& piece, std::vector<Stage> from_now, double days) const {
  return {piece.body, joined(cut(piece.stages, piece.now).before, from_now), piece.factors,
          whole_days(piece.now.value + days)};
}

std::vector<Trial> AdviceTask::next_round(const std::vector<TrialCourse>& courses) {
  switch (round_) {
    case Round::look:
      if (courses.empty()) {
        return look();
      }
      find(courses);
      break;
    case Round::humidity: {
      take_humidity(courses);
      std::vector<Trial> trials = try_days();
      if (!trials.empty()) {
        round_ = Round::days;
        return trials;
      }
      to_cure_.pop_back();
      break;
    }
    case Round::days:
      take_days(courses);
      to_cure_.pop_back();
      break;
  }
  round_ = Round::humidity;
  while (!to_cure_.empty()) {
    const Hanging& piece = pieces_[to_cure_.back().piece];
    const double present = cut(piece.stages, piece.now).after.front().humidity.value;
    const bool stalled = advice_[to_cure_.back().advice].trouble == Trouble::stalled;
    set_points_ = stalled ? points(present, std::min(kDriest.value, present))
                          : points(present, std::max(kDampest.value, present));
    std::vector<Trial> trials = try_humidity();
    if (!trials.empty()) {
      return trials;
    }
    to_cure_.pop_back();
  }
  return {};
}

// --- what is seen ---

// Each piece through the stages as planned; and those weighed as the batch's factors alone would have them.
std::vector<Trial> AdviceTask::look() const {
  std::vector<Trial> trials;
  for (const Hanging& piece : pieces_) {
    trials.push_back(trial_of(piece, cut(piece.stages, piece.now).after, kLookAhead.value));
  }
  const std::array<double, 2>& ln = forecast_.batch_ln_factor;
  for (const std::size_t i : compared_) {
    const Hanging& piece = pieces_[i];
    Trial trial{piece.body, piece.stages, {std::exp(ln[0]), std::exp(ln[1])}, {taken_in(i).back()->day}};
    trial.slopes = Slopes::carried;
    trials.push_back(std::move(trial));
  }
  return trials;
}

void AdviceTask::find(const std::vector<TrialCourse>& courses) {
  find_fast(courses);
  find_hardening(courses);
  find_stalled(courses);
  find_uneven(courses);
  if (advice_.size() > 1) {
    advice_.erase(advice_.begin());
    for (Worst& worst : to_cure_) {
      --worst.advice;
    }
  }
  std::reverse(to_cure_.begin(), to_cure_.end());
}

// Begins with a finding that all is fine; it goes where another comes.
void AdviceTask::find_fast(const std::vector<TrialCourse>& courses) {
  std::vector<std::pair<double, std::size_t>> fast;  // over the limit's high, worst first
  std::vector<Pace> paces;
  for (std::size_t i = 0; i < pieces_.size(); ++i) {
    const tables::DailyLoss& limit = daily_loss_limit(pieces_[i].kind, pieces_[i].geometry.diameter);
    paces.push_back(pace(courses[i], input_.now, Days(input_.now.value + kLookAhead.value + 1.0)));
    fast.push_back({paces.back().daily_loss / limit.high, i});
  }
  std::stable_sort(fast.begin(), fast.end(), [](const auto& a, const auto& b) { return a.first > b.first; });
  const std::size_t worst = fast.front().second;
  const tables::DailyLoss& limit = daily_loss_limit(pieces_[worst].kind, pieces_[worst].geometry.diameter);
  Advice advice;
  advice.found = paces[worst].daily_loss;
  advice.limit = limit.high;
  advice.unit = "1/d";
  advice.day = paces[worst].daily_loss_day;
  advice.source = limit.origin.source;
  advice.known = limit.origin.known;
  advice_.push_back(advice);
  if (!is_over(advice.found, limit.low)) {
    return;
  }
  advice.trouble = Trouble::too_fast;
  const bool act = is_over(advice.found, limit.high);
  advice.urgency = act ? Urgency::act : Urgency::watch;
  advice.limit = act ? limit.high : limit.low;
  for (const auto& [share, i] : fast) {
    if (is_over(paces[i].daily_loss, daily_loss_limit(pieces_[i].kind, pieces_[i].geometry.diameter).low)) {
      advice.pieces.push_back(pieces_[i].id);
    }
  }
  to_cure_.push_back({advice_.size(), worst});
  advice_.push_back(std::move(advice));
}

void AdviceTask::find_hardening(const std::vector<TrialCourse>& courses) {
  struct Hard {
    double index;
    std::size_t piece;
    Pace pace;
  };
  std::vector<Hard> hard;
  for (std::size_t i = 0; i < pieces_.size(); ++i) {
    const Days from(input_.now.value - 1.0);
    const Pace seen = pace(courses[i], from, Days(input_.now.value + kLookAhead.value + 1.0));
    if (is_over(seen.hardening, kCalmBelow) || seen.dry_rim) {
      hard.push_back({seen.hardening, i, seen});
    }
  }
  if (hard.empty()) {
    return;
  }
  // A dry rim is a reason to act; so it comes before an index that only asks to watch.
  const auto rank = [](const Hard& h) { return is_over(h.index, kActAbove) ? 2 : h.pace.dry_rim ? 1 : 0; };
  std::stable_sort(hard.begin(), hard.end(), [&rank](const Hard& a, const Hard& b) {
    return rank(a) != rank(b) ? rank(a) > rank(b) : a.index > b.index;
  });
  const Hard& worst = hard.front();
  Advice advice;
  advice.trouble = Trouble::hardening;
  advice.urgency = rank(worst) > 0 ? Urgency::act : Urgency::watch;
  if (rank(worst) == 1) {
    advice.found = worst.pace.dry_rim->value;
    advice.limit = kDryRim.value;
    advice.unit = "aw";
    advice.day = worst.pace.dry_rim_day;
  } else {
    advice.found = worst.index;
    advice.limit = rank(worst) == 2 ? kActAbove : kCalmBelow;
    advice.unit = "1";
    advice.day = worst.pace.hardening_day;
  }
  advice.source = kOurChoice;
  for (const Hard& h : hard) {
    advice.pieces.push_back(pieces_[h.piece].id);
  }
  to_cure_.push_back({advice_.size(), worst.piece});
  advice_.push_back(std::move(advice));
}

void AdviceTask::find_stalled(const std::vector<TrialCourse>& courses) {
  Advice advice;
  advice.trouble = Trouble::stalled;
  advice.unit = "1/d";
  advice.source = kOurChoice;
  advice.day = input_.now;
  double worst_share = 1.0;
  std::size_t worst = 0;
  const auto take = [&](double share, std::size_t piece, double found, double limit, Urgency urgency) {
    if (share < worst_share) {
      worst_share = share;
      worst = piece;
      advice.found = found;
      advice.limit = limit;
      advice.urgency = urgency;
      advice.pieces.insert(advice.pieces.begin(), pieces_[piece].id);
    } else {
      advice.pieces.push_back(pieces_[piece].id);
    }
  };
  for (std::size_t i = 0; i < pieces_.size(); ++i) {
    const double now = input_.now.value;
    const double lost = loss_on(courses[i], now);
    if (!(pieces_[i].needed_loss - lost > kFarFromWanted.value)) {
      continue;
    }
    const double ahead = (loss_on(courses[i], now + kLookAhead.value) - lost) / kLookAhead.value;
    if (is_over(kStalledRate.value, ahead)) {
      take(ahead / kStalledRate.value, i, ahead, kStalledRate.value, Urgency::act);
      continue;
    }
    const std::vector<const PieceWeighing*> weighings = taken_in(i);
    if (weighings.empty() || weighings.back()->day < now - kLookAhead.value) {
      continue;
    }
    const PieceWeighing& last = *weighings.back();
    double from_day = 0.0;
    double from_loss = 0.0;
    for (const PieceWeighing* weighing : weighings) {
      if (weighing->day <= last.day - kLeastSpan) {
        from_day = weighing->day;
        from_loss = loss_of(input_.pieces[i], *weighing);
      }
    }
    const double span = last.day - from_day;
    if (span < kLeastSpan || span > kLongestSpan) {
      continue;
    }
    const double seen = (loss_of(input_.pieces[i], last) - from_loss) / span;
    const double expected = (loss_on(courses[i], last.day) - loss_on(courses[i], from_day)) / span;
    const double short_g = (expected - seen) * span * pieces_[i].hung.value;
    const double scale_g = std::sqrt(2.0 * weighing_variance_g2(pieces_[i].hung));
    const double limit = kStalledShare.value * expected;
    if (is_over(limit, seen) && short_g > kBeyondScale * scale_g) {
      take(std::max(seen, 0.0) / limit, i, seen, limit, Urgency::watch);
    }
  }
  if (!advice.pieces.empty()) {
    to_cure_.push_back({advice_.size(), worst});
    advice_.push_back(std::move(advice));
  }
}

void AdviceTask::find_uneven(const std::vector<TrialCourse>& courses) {
  struct Apart {
    double loss;  // seen, less what the batch's factors make of the piece's size
    std::size_t piece;
  };
  std::vector<Apart> apart;
  double mean = 0.0;
  double expected = 0.0;  // variance
  const double n = static_cast<double>(compared_.size());
  for (std::size_t k = 0; k < compared_.size(); ++k) {
    const std::size_t i = compared_[k];
    const TrialCourse& course = courses[pieces_.size() + k];
    const double loss = loss_of(input_.pieces[i], *taken_in(i).back()) - course.days.back().loss;
    apart.push_back({loss, i});
    mean += loss / n;
    const double hung_g = pieces_[i].hung.value;
    expected += weighing_variance_g2(pieces_[i].hung) / (hung_g * hung_g) / n;
    for (std::size_t f = 0; f < 2; ++f) {
      const double by_factor = course.slopes.back()[f] * input_.prior.piece_sd[f];
      expected += by_factor * by_factor / n;
    }
  }
  if (apart.empty()) {
    return;
  }
  double spread = 0.0;  // variance
  for (const Apart& one : apart) {
    spread += (one.loss - mean) * (one.loss - mean) / (n - 1.0);
  }
  Advice advice;
  advice.trouble = Trouble::uneven;
  advice.found = std::sqrt(spread);
  advice.limit = kUnevenWatch.value * std::sqrt(expected);
  if (!is_over(advice.found, advice.limit)) {
    return;
  }
  const bool act = is_over(advice.found, kUnevenAct.value * std::sqrt(expected));
  advice.urgency = act ? Urgency::act : Urgency::watch;
  advice.limit = act ? kUnevenAct.value * std::sqrt(expected) : advice.limit;
  advice.unit = "1";
  advice.day = input_.now;
  advice.source = kSpreadSource;
  std::stable_sort(apart.begin(), apart.end(),
                   [](const Apart& a, const Apart& b) { return a.loss > b.loss; });
  for (const Apart& one : apart) {
    advice.pieces.push_back(pieces_[one.piece].id);
  }
  advice.remedies.push_back({Cure::swap_places, {}, {}, {}});
  advice_.push_back(std::move(advice));
}

// --- what to do ---

bool AdviceTask::is_within(const Advice& advice, const DayState& day) const {
  if (advice.trouble == Trouble::too_fast) {
    return !is_over(day.daily_loss, advice.limit);
  }
  if (advice.unit == "aw") {
    return !is_over(advice.limit, day.aw_surface.value) || day.loss >= kDryRimBefore.value;
  }
  return !is_over(day.case_hardening, advice.limit);
}

// Each set point kept for good; for a hardened rim, where a bag is allowed, also the bag.
std::vector<Trial> AdviceTask::try_humidity() const {
  const Hanging& piece = pieces_[to_cure_.back().piece];
  const Advice& advice = advice_[to_cure_.back().advice];
  const std::vector<Stage> planned = cut(piece.stages, piece.now).after;
  const bool stalled = advice.trouble == Trouble::stalled;
  std::vector<Trial> trials;
  for (const double humidity : set_points_) {
    trials.push_back(trial_of(piece, stalled ? at_most(planned, humidity) : at_least(planned, humidity),
                              kLongestRaise.value + kLookAhead.value));
    trials.back().enough_loss = std::max(piece.needed_loss, 1e-9);
    trials.back().not_before = piece.now.value;
  }
  if (advice.trouble == Trouble::hardening && sealing_.allowed) {
    Stage bag = planned.front();
    bag.duration = Days(kLongestSealed.value);
    bag.temperature = sealing_.temperature;
    bag.sealed = true;
    trials.push_back(trial_of(piece, {bag}, kLongestSealed.value));
  }
  return trials;
}

void AdviceTask::take_humidity(const std::vector<TrialCourse>& courses) {
  const Hanging& piece = pieces_[to_cure_.back().piece];
  Advice& advice = advice_[to_cure_.back().advice];
  const double now = piece.now.value;
  const tables::DailyLoss& limit = daily_loss_limit(piece.kind, piece.geometry.diameter);
  const auto helps = [&](const TrialCourse& course) {
    if (advice.trouble == Trouble::stalled) {
      const double rate = (loss_on(course, now + kLookAhead.value) - loss_on(course, now)) / kLookAhead.value;
      const Pace ahead = pace(course, piece.now, course.days.back().day);
      return !is_over(kMovingRate.value, rate) && !beyond(ahead, limit);
    }
    // A rate answers at once, a rim in its time: from some day on it must stay within.
    const double by = advice.trouble == Trouble::too_fast ? now : now + kLongestRaise.value;
    double last_outside = now;
    for (const DayState& day : course.days) {
      if (day.day.value > now && !is_within(advice, day)) {
        last_outside = day.day.value;
      }
    }
    return last_outside <= by && last_outside < course.days.back().day.value;
  };
  for (std::size_t k = 0; k < set_points_.size(); ++k) {
    if (helps(courses[k])) {
      const Cure cure = advice.trouble == Trouble::stalled ? Cure::lower_humidity : Cure::raise_humidity;
      advice.remedies.push_back({cure, RelativeHumidity(set_points_[k]), {}, {}});
      break;
    }
  }
  if (courses.size() > set_points_.size()) {
    double begun = -1.0;
    for (const DayState& day : courses.back().days) {
      begun = day.day.value <= now ? day.case_hardening : begun;
      if (day.day.value > now && begun >= kCalmBelow && day.case_hardening < kCalmBelow) {
        const Days days(std::ceil(day.day.value - now));
        advice.remedies.push_back({Cure::equalise, {}, days, sealing_.temperature});
        break;
      }
    }
  }
}

std::vector<Trial> AdviceTask::try_days() const {
  const Hanging& piece = pieces_[to_cure_.back().piece];
  const Advice& advice = advice_[to_cure_.back().advice];
  if (advice.remedies.empty() || advice.remedies.front().cure != Cure::raise_humidity) {
    return {};
  }
  const std::vector<Stage> planned = cut(piece.stages, piece.now).after;
  std::vector<Trial> trials;
  for (double days = 1.0; days <= kLongestRaise.value; days += 1.0) {
    const CutStages parts = cut(planned, Days(days));
    const std::vector<Stage> raised = at_least(parts.before, advice.remedies.front().humidity->value);
    trials.push_back(trial_of(piece, joined(raised, parts.after), days + kLookAhead.value));
  }
  return trials;
}

void AdviceTask::take_days(const std::vector<TrialCourse>& courses) {
  const Hanging& piece = pieces_[to_cure_.back().piece];
  Advice& advice = advice_[to_cure_.back().advice];
  for (std::size_t k = 0; k < courses.size(); ++k) {
    const double days = static_cast<double>(k + 1);
    const double from = piece.now.value + (advice.trouble == Trouble::too_fast ? 1e-9 : days);
    const bool stays = std::all_of(courses[k].days.begin(), courses[k].days.end(), [&](const DayState& day) {
      return day.day.value < from || is_within(advice, day);
    });
    if (stays) {
      advice.remedies.front().days = Days(days);
      return;
    }
  }
}

}  // namespace saltrafter::drying
