// Many pieces in one air: the set point that suits all, and what new wet ones do to those half dry.
#pragma once

#include <optional>
#include <vector>

#include "core/base/base.h"
#include "core/drying/advice.h"
#include "core/drying/hanging.h"
#include "core/drying/pace.h"
#include "core/drying/trials.h"

namespace saltrafter::drying {

inline constexpr Assumption kSearchedShared{"drying.searched_shared", 250.0, "d", "choice", 250.0, 250.0};

// How one piece fares at one set point, from today on.
struct Fare {
  std::optional<Days> days;    // until it has what is wanted; absent: not within kSearchedShared
  double daily_loss = 0.0;     // most, share of the weight at hanging
  double hardening = 0.0;      // most of the index
  std::optional<Bound> bound;  // the limit of action it goes beyond (pace.h)
};

struct SetPoint {
  RelativeHumidity humidity;
  std::vector<Fare> fares;     // in the order of the pieces
  std::size_t beyond = 0;      // pieces that go beyond a limit
  Days delay;                  // sum over the pieces, against each one's own best
};

struct Sufferer {
  Id piece;
  RelativeHumidity own_best;   // where it is done soonest within its limits; nowhere within: the dampest
  Days later;                  // than there; >= 0. What is not done within the days searched counts as done then
  std::optional<Bound> bound;  // at the shared set point
};

struct Together {
  std::vector<SetPoint> set_points;  // whole points, kDriest to kDampest
  std::size_t best = 0;              // fewest pieces beyond a limit, then least delay, then the damper
  std::vector<Sufferer> pieces;      // at the best, those first that suffer most
};

struct TogetherInput {
  std::vector<Hanging> pieces;       // each on its own day; new wet ones on day 0
  Celsius temperature{13.0};         // of the chamber, -5..45
  MetresPerSecond speed{0.05};       // 0..5
  Saturation saturation;
};

// Every piece through every whole point of humidity from today on, one air for good.
class TogetherTask final : public Trials {
 public:
  // Errors: those of check_hangings and, with field "air/...", check_stages.
  static Result<TogetherTask> make(TogetherInput input);

  // Complete once finished.
  const Together& result() const { return together_; }

 protected:
  std::vector<Trial> next_round(const std::vector<TrialCourse>& courses) override;

 private:
  TogetherTask(TogetherInput input, std::size_t set_points, std::uint64_t key);
  void choose();

  TogetherInput input_;
  Together together_;
};

// --- before new ones are hung ---

// So much damper is the air taken to get by new wet pieces, where nothing is known of what takes the water up.
inline constexpr Assumption kHumidityRise{"drying.humidity_rise", 0.03, "", "choice", 0.01, 0.06};

struct HangCheckInput {
  std::vector<Hanging> hanging;      // now
  std::vector<Hanging> fresh;        // wet ones to be hung beside them
  Celsius temperature{13.0};
  RelativeHumidity humidity{0.78};   // of the air now, 0..0.999
  MetresPerSecond speed{0.05};
  double humidity_rise = 0.0;        // that the chamber will let through, 0..0.5
  Saturation saturation;
};

struct PullChange {
  Id piece;
  // Pa: saturation pressure of the air's temperature times what the surface's water activity now is over the
  // air's humidity. Below 0 the piece takes water up, and its surface gets wet.
  double pull_before_pa = 0.0, pull_after_pa = 0.0;
  double daily_loss_before = 0.0, daily_loss_after = 0.0;  // the next day's, share of the weight at hanging
};

// What becomes of a piece: it goes on, hardly dries any more (kStalledShare of before, kStalledRate), or takes water up.
enum class Beside { goes_on, stalls, takes_up };
Beside beside_fresh(const PullChange& change);

struct HangCheck {
  double before_g_h = 0.0;  // what those that hang give off, mean of the next day
  double after_g_h = 0.0;   // all together, in air that is damper by the rise
  std::vector<PullChange> hanging;  // in the order of the input
};

class HangCheckTask final : public Trials {
 public:
  // Errors: those of check_hangings ("hanging", "fresh") and, with field "air/...", check_stages;
  // out_of_range "humidity_rise". `hanging` may be empty, `fresh` not.
  static Result<HangCheckTask> make(HangCheckInput input);

  // Complete once finished.
  const HangCheck& result() const { return check_; }

 protected:
  std::vector<Trial> next_round(const std::vector<TrialCourse>& courses) override;

 private:
  HangCheckTask(HangCheckInput input, std::uint64_t key);

  HangCheckInput input_;
  HangCheck check_;
};

}  // namespace saltrafter::drying
