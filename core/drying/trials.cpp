#include "core/drying/trials.h"

#include <algorithm>
#include <utility>

namespace saltrafter::drying {

namespace {

constexpr int kStepsASlice = 25;  // time steps of one run: well under a millisecond

void add_day(const Run& run, bool slopes, TrialCourse& course) {
  DayState state = run.state();
  if (!course.days.empty()) {
    const DayState& before = course.days.back();
    state.daily_loss = (state.loss - before.loss) / (state.day.value - before.day.value);
  }
  course.days.push_back(state);
  if (slopes) {
    course.slopes.push_back(run.loss_slopes());
  }
}

}  // namespace

std::vector<double> whole_days(double last) {
  std::vector<double> out;
  for (double day = 1.0; day < last + 1.0; day += 1.0) {
    out.push_back(day);
  }
  return out;
}

std::optional<Days> TrialCourse::day_of(double loss) const {
  if (days.empty()) {
    return std::nullopt;
  }
  if (!(loss > days.front().loss)) {
    return days.front().day;
  }
  for (std::size_t i = 1; i < days.size(); ++i) {
    if (days[i].loss >= loss) {
      const double part = (loss - days[i - 1].loss) / (days[i].loss - days[i - 1].loss);
      return Days(days[i - 1].day.value + part * (days[i].day.value - days[i - 1].day.value));
    }
  }
  return std::nullopt;
}

Progress Trials::progress() const {
  const int ran = static_cast<int>(ran_);
  return {ran, done_ ? ran : static_cast<int>(std::max(most_, ran_ + 1))};
}

void Trials::step() {
  if (done_) {
    return;
  }
  if (courses_.size() == trials_.size()) {
    trials_ = next_round(courses_);
    courses_.clear();
    done_ = trials_.empty();
    return;
  }
  const Trial& trial = trials_[courses_.size()];
  const bool slopes = trial.slopes == Slopes::carried;
  if (!run_) {
    run_ = std::make_unique<Run>(trial.body, trial.stages, trial.factors, saturation_, kForFit, trial.marks,
                                 trial.slopes);
    course_ = {};
    add_day(*run_, slopes, course_);
  }
  bool enough = false;
  for (int i = 0; i < kStepsASlice && !enough && !run_->finished(); ++i) {
    if (run_->step()) {
      add_day(*run_, slopes, course_);
      enough = run_->loss() >= trial.enough_loss && run_->day() >= trial.not_before;
    }
  }
  if (enough || run_->finished()) {
    run_.reset();
    courses_.push_back(std::move(course_));
    ++ran_;
  }
}

}  // namespace saltrafter::drying
