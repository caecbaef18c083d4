// What is seen of a batch while it dries, and what to do about it: each remedy is tried in the model first.
#pragma once

#include <optional>
#include <string_view>
#include <vector>

#include "core/base/base.h"
#include "core/drying/forecast.h"
#include "core/drying/hanging.h"
#include "core/drying/pace.h"
#include "core/drying/trials.h"

namespace saltrafter::drying {

inline constexpr Assumption kLookAhead{"drying.look_ahead", 7.0, "d", "choice", 3.0, 14.0};
inline constexpr Assumption kLongestRaise{"drying.longest_raise", 21.0, "d", "choice", 7.0, 28.0};
inline constexpr Assumption kLongestSealed{"drying.longest_sealed", 28.0, "d", "choice", 14.0, 42.0};
// Stalled: under this share of what the fitted model lost between two weighings, or slower than this a day,
// and still so far from what is wanted. Moving: the slower of the rates usual in the last weeks.
inline constexpr Assumption kStalledShare{"drying.stalled_share", 0.5, "", "choice", 0.3, 0.7};
inline constexpr Assumption kStalledRate{"drying.stalled_rate", 0.0005, "1/d", "choice", 0.0003, 0.001};
inline constexpr Assumption kFarFromWanted{"drying.far_from_wanted", 0.02, "", "choice", 0.01, 0.03};
inline constexpr Assumption kMovingRate{"drying.moving_rate", 0.002, "1/d", "practice", 0.002, 0.005};
// Uneven: so many times the spread between pieces that the fit expects.
inline constexpr Assumption kUnevenWatch{"drying.uneven_watch", 2.0, "", "choice", 1.5, 2.5};
inline constexpr Assumption kUnevenAct{"drying.uneven_act", 3.0, "", "choice", 2.5, 4.0};

enum class Trouble {
  too_fast,   // found, limit: daily loss ahead, share of the weight at hanging a day
  hardening,  // of the case-hardening index, now or ahead; of the rim's water activity (unit "aw", a least)
  stalled,    // of daily loss (a least), as weighed or ahead
  uneven,     // of the spread of loss between pieces about what each one's size explains
  fine,       // none of these; found and limit as for too_fast
};
enum class Urgency { none, watch, act };

enum class Cure {
  raise_humidity,  // to `humidity` for `days`; absent: for good
  lower_humidity,  // to `humidity`, for good
  equalise,        // sealed at `temperature` for `days`
  swap_places,     // of the first and the last of the finding's pieces
};
struct Remedy {
  Cure cure = Cure::raise_humidity;
  std::optional<RelativeHumidity> humidity;
  std::optional<Days> days;
  std::optional<Celsius> temperature;
};

struct Advice {
  Trouble trouble = Trouble::fine;
  Urgency urgency = Urgency::none;
  std::vector<Id> pieces;  // that show it, the worst first; uneven: all compared, the fastest first
  double found = 0.0, limit = 0.0;
  std::string_view unit;   // "1/d", "1", "aw"
  Days day;                // since hanging, on which it is so
  std::string_view source;
  tables::Known known = tables::Known::choice;
  std::vector<Remedy> remedies;  // computed for the worst piece; none where nothing within reach helps
};

// May a piece go into a bag now, and how cold: for the caller to ask of safety's gate.
struct Sealing {
  bool allowed = false;
  Celsius temperature{3.0};
};

// Looks from the forecast's day a week ahead through its stages. A raise is the smallest, in whole points, that
// brings the figure back within the limit named (a rim within kLongestRaise, and before the piece is done), and
// the shortest, in whole days, after which it stays there for a week in the air that was planned. With several
// pieces it is computed for the worst.
class AdviceTask final : public Trials {
 public:
  // Errors: those of hangings and check_hangings; out_of_range "sealing/temperature" (-5..45 °C).
  static Result<AdviceTask> make(ForecastInput input, Forecast forecast, Sealing sealing);

  // In the order of Trouble; complete once finished.
  const std::vector<Advice>& result() const { return advice_; }

 protected:
  std::vector<Trial> next_round(const std::vector<TrialCourse>& courses) override;

 private:
  enum class Round { look, humidity, days };
  struct Worst {  // the piece that a finding's remedies are computed for
    std::size_t advice = 0, piece = 0;
  };

  AdviceTask(ForecastInput input, Forecast forecast, std::vector<Hanging> pieces, Sealing sealing,
             std::uint64_t key);
  std::vector<Trial> look() const;
  void find(const std::vector<TrialCourse>& courses);
  void find_fast(const std::vector<TrialCourse>& courses);
  void find_hardening(const std::vector<TrialCourse>& courses);
  void find_stalled(const std::vector<TrialCourse>& courses);
  void find_uneven(const std::vector<TrialCourse>& courses);
  std::vector<Trial> try_humidity() const;
  void take_humidity(const std::vector<TrialCourse>& courses);
  std::vector<Trial> try_days() const;
  void take_days(const std::vector<TrialCourse>& courses);
  Trial trial_of(const Hanging& piece, std::vector<Stage> from_now, double days) const;
  bool is_within(const Advice& advice, const DayState& day) const;
  std::vector<const PieceWeighing*> taken_in(std::size_t piece) const;

  ForecastInput input_;
  Forecast forecast_;
  std::vector<Hanging> pieces_;
  Sealing sealing_;
  Round round_ = Round::look;
  std::vector<std::size_t> compared_;  // pieces whose evenness is looked at
  std::vector<double> set_points_;     // tried for the finding at hand, mildest first
  std::vector<Worst> to_cure_;         // findings left, the one at hand last
  std::vector<Advice> advice_;
};

}  // namespace saltrafter::drying
