// Runs of the model one after another, in slices: what every answer to "what if" stands on.
#pragma once

#include <array>
#include <cstdint>
#include <memory>
#include <optional>
#include <vector>

#include "core/base/base.h"
#include "core/drying/body.h"
#include "core/drying/run.h"

namespace saltrafter::drying {

struct Trial {
  Body body;
  std::vector<Stage> stages;
  Factors factors;
  std::vector<double> marks;   // days > 0, rising
  double enough_loss = 1.0;    // the run ends on the first mark with this loss
  double not_before = 0.0;     // but not before this day
  Slopes slopes = Slopes::left_out;
};

// 1, 2, ... up to the first not below `last`.
std::vector<double> whole_days(double last);

struct TrialCourse {
  std::vector<DayState> days;  // at hanging and on each mark; daily_loss is the mean since the one before
  std::vector<std::array<double, 2>> slopes;  // d loss / d ln factor, of the same days

  // The first day with this loss, between days on a line; nothing where it ends before.
  std::optional<Days> day_of(double loss) const;
};

// A task made of trials. Whoever derives from it says what to try, in rounds, on the grid of the fit.
class Trials : public Task {
 public:
  bool finished() const override { return done_; }
  void step() override;
  Progress progress() const override;
  std::uint64_t key() const override { return key_; }

 protected:
  // `most`: an upper estimate of how many trials there will be.
  Trials(Saturation saturation, std::uint64_t key, std::size_t most)
      : saturation_(saturation), key_(key), most_(most) {}

  // What to try next, now that the round before has run (no courses the first time); nothing ends the task.
  virtual std::vector<Trial> next_round(const std::vector<TrialCourse>& courses) = 0;
  const Saturation& saturation() const { return saturation_; }

 private:
  Saturation saturation_;
  std::uint64_t key_ = 0;
  std::size_t most_ = 0;
  std::size_t ran_ = 0;
  bool done_ = false;
  std::vector<Trial> trials_;
  std::vector<TrialCourse> courses_;  // of those that have run
  TrialCourse course_;                // of the one that runs
  std::unique_ptr<Run> run_;
};

}  // namespace saltrafter::drying
