// What would bring a batch sooner or more gently: humidity, temperature, air, and for the next one its size.
#pragma once

#include <optional>
#include <vector>

#include "core/base/base.h"
#include "core/drying/hanging.h"
#include "core/drying/pace.h"
#include "core/drying/trials.h"

namespace saltrafter::drying {

enum class Lever {
  humidity,     // by whole points, of all that is left of the programme
  temperature,  // by whole kelvins, the same
  speed,        // one speed for all that is left
  size,         // of the next batch, from hanging
};

// How far the levers may be moved. Choice, by what chambers can do and meat bears.
struct LeverRange {
  RelativeHumidity driest{kDriest.value}, dampest{kDampest.value};
  Celsius coldest{2.0}, warmest{18.0};
};

struct LeverStep {
  double value = 0.0;            // 0..1, °C or m/s in the stage that is on; diameter, m
  std::optional<Days> expected;  // since hanging, of the middle piece; absent: not within the days searched
  double daily_loss = 0.0;       // most ahead, of the piece that comes nearest to its limit
  double hardening = 0.0;        // most ahead, of any piece
};

struct LeverWay {
  Lever lever = Lever::humidity;
  bool more = false;             // up
  std::vector<LeverStep> steps;  // from the nearest on
  std::optional<Bound> bound;    // what the next step would go beyond; absent: nothing, the range ends
};

struct Levers {
  LeverStep planned;             // value: the middle piece's diameter, m
  std::optional<Bound> bound;    // where even the programme as planned goes beyond
  std::vector<LeverWay> ways;    // in the order of Lever, less before more; none where no step is in range
};

struct LeversInput {
  std::vector<Hanging> pieces;   // of one batch
  std::size_t middle = 0;        // whose day is told
  LeverRange range;
  Days searched{250.0};          // since hanging, 1..3650
  Saturation saturation;
};

// A way ends before the first step that goes beyond a limit of action (pace.h) in any piece: no step that comes
// sooner does, and no other where the programme as planned does not.
class LeversTask final : public Trials {
 public:
  // Errors: those of check_hangings; out_of_range "middle", "searched" (d), "range/driest", "range/dampest",
  // "range/coldest", "range/warmest".
  static Result<LeversTask> make(LeversInput input);

  // Complete once finished.
  const Levers& result() const { return levers_; }

 protected:
  std::vector<Trial> next_round(const std::vector<TrialCourse>& courses) override;

 private:
  struct Judged {
    LeverStep step;
    std::optional<Bound> bound;
  };

  LeversTask(LeversInput input, std::uint64_t key);
  void plan_ways();
  std::vector<Trial> trials_of(const LeverWay& way, double value) const;
  Trial trial_of(const Hanging& piece) const;
  // Of one trial a piece from `first` on.
  Judged judge(const std::vector<TrialCourse>& courses, std::size_t first, const std::vector<Hanging>& pieces,
               std::size_t middle) const;
  void take(const std::vector<TrialCourse>& courses);
  std::vector<Hanging> next_batch(double diameter_m) const;

  LeversInput input_;
  bool planned_done_ = false;
  std::vector<LeverWay> to_try_;  // the one at hand last
  std::size_t step_ = 0;          // of the one at hand, a round each
  Judged next_planned_;           // the middle piece from hanging: what another size is held against
  Levers levers_;
};

}  // namespace saltrafter::drying
